"""What the work uses up: clips, fluid, sealant, dust caps."""

import pytest

from fitcheck.bom.consumables import consumables
from fitcheck.bom.need import Use
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.clips import clips_along
from fitcheck.build.load import load
from fitcheck.making.make import sheets
from tests.bom.needs_house import DEMO, car, line, work

CLIP_WORDS = "clips: one for each 300 mm of line, none on 150 mm or less: common practice, no source"
CAP_WORDS = "dust caps: 2 for each line: common practice, no source"
BIG_TUBE = "  big-pipe: {kind: tube, description: Big pipe, od: 6 mm, wall: 1 mm}\n"
MORE_CLIPS = """\
  zip-clip: {kind: clip, description: Zip clip, inside: 4.75 mm}
  any-clip: {kind: clip, description: Any clip}
  fat-clip: {kind: clip, description: Fat clip, inside: 6 mm}
"""


@pytest.mark.parametrize(
    ("length", "clips"), [(0, 0), (150, 0), (150.1, 1), (300, 1), (300.1, 2), (600, 2), (900.0000000001, 3), (901, 4)]
)
def test_clips_along_a_line(length, clips):
    """One clip for each begun 300 mm, none on a line of half that; the last digits of binary fractions do not count."""
    assert clips_along(length) == clips


def test_clips_are_never_further_apart_than_the_spacing():
    """Each clip stands in the middle of its stretch: no gap is over the spacing, no end over half of it."""
    for length in range(1, 3000):
        clips = clips_along(length, 250.0)
        assert length <= 250.0 * clips or (clips == 0 and length <= 125.0)
        assert clips == 0 or length > 250.0 * (clips - 1)


def test_clips_of_lines(tmp_path):
    """Clips are counted along the run, line by line; of the generic ones for a tube it is the P-clip."""
    need = work(tmp_path, car(line("one", "700 mm") + line("two", "300 mm") + line("three", "100 mm")))["clip-3-16"]
    assert need.uses == (Use("one", 3, "work"), Use("two", 1, "work"))
    assert (need.kind, need.unit, need.why) == ("clip", "each", (CLIP_WORDS,))


def test_own_clip_before_the_generic_one(tmp_path):
    """A clip of the builder's own catalog comes first, whatever its name."""
    found = work(tmp_path, car(line("one", "700 mm")), MORE_CLIPS)
    assert found["zip-clip"].quantity == 3
    assert "clip-3-16" not in found


def test_stated_clip_and_spacing(tmp_path):
    """The clip and the spacing that the build states are used."""
    top = "consumables:\n  clips: {part: any-clip, spacing: 200 mm}\n"
    need = work(tmp_path, car(line("one", "700 mm"), top), MORE_CLIPS)["any-clip"]
    assert need.quantity == 4
    assert need.why == ("clips: one for each 200 mm of line, none on 100 mm or less: consumables.clips.spacing",)


def test_stated_clip_that_does_not_fit(tmp_path):
    """A stated clip is for the tubes that it fits; another tube gets one from the catalogs, and that is said."""
    top = "consumables:\n  clips: {part: fat-clip}\n"
    found = work(tmp_path, car(line("one", "400 mm") + line("two", "400 mm", "big-pipe"), top), MORE_CLIPS + BIG_TUBE)
    assert found["fat-clip"].uses == (Use("two", 2, "work"),)
    assert found["zip-clip"].uses == (Use("one", 2, "work"),)
    assert found["zip-clip"].why == ("fat-clip does not fit 4.75 mm tube", CLIP_WORDS)


def test_hose_clip_is_no_clip_for_a_line(tmp_path):
    """A clip that clamps a hose holds no line, even if it is stated."""
    top = "consumables:\n  clips: {part: hose-clip-8mm}\n"
    need = work(tmp_path, car(line("one", "400 mm"), top))["clip-3-16"]
    assert need.why == ("hose-clip-8mm does not fit 4.75 mm tube", CLIP_WORDS)


@pytest.mark.parametrize(
    ("stated", "reason"),
    [("zzzz", "no catalog has a part 'zzzz'"), ("pipe-nut", "pipe-nut is a nut, not a clip")],
)
def test_stated_clip_that_means_nothing(tmp_path, stated, reason):
    """A stated id that no catalog has, or that is no clip, stays what is needed, marked and with the reason."""
    need = work(tmp_path, car(line("one", "400 mm"), f"consumables:\n  clips: {{part: {stated}}}\n"))[stated]
    assert (need.part, need.kind, need.description, need.unlisted) == (stated, "clip", reason, True)
    assert need.quantity == 2


def test_no_clip_for_a_tube(tmp_path):
    """Where no catalog has a clip for the tube, what would do is said in words."""
    found = work(tmp_path, car(line("one", "400 mm", "big-pipe")), BIG_TUBE)
    assert (found["clip for 6 mm tube"].part, found["clip for 6 mm tube"].quantity) == (None, 2)


def test_line_of_unknown_length(tmp_path):
    """A line whose length is not known is named with the missing field, and no number covers it."""
    need = work(tmp_path, car(line("one", "400 mm") + line("two", None)))["clip-3-16"]
    assert need.uses == (Use("one", 2, "work"),)
    assert need.unknown == (("two", "lines.two.route or lines.two.length is not given"),)


def test_line_of_unknown_tube(tmp_path):
    """A line whose tube no catalog has asks for a clip of unknown size, and for two caps."""
    found = work(tmp_path, car(line("one", "400 mm", "zzzz")))
    assert found["clip for tube of unknown size"].unknown == (("one", "no catalog has the tube zzzz"),)
    assert found["dust cap for tube of unknown size"].uses == (Use("one", 2, "work"),)


def test_run_is_enough_where_a_flare_is_unknown(tmp_path):
    """An end that nobody knows the flare of does not hide how long the line is."""
    lines = line("one", "400 mm").replace("fl.pipe", "fl.bare")
    assert work(tmp_path, car(lines))["clip-3-16"].uses == (Use("one", 2, "work"),)


def test_clips_that_the_build_lists(tmp_path):
    """Clips that are components are in the bill already: they are taken off, as far as they fit the tube."""
    listed = "".join(f"  c{number}: {{part: clip-3-16}}\n" for number in range(3)) + "  f1: {part: fat-clip}\n"
    body = car(line("one", "400 mm") + line("two", "700 mm")).replace("lines:\n", listed + "lines:\n")
    need = work(tmp_path, body, MORE_CLIPS.replace("zip", "zig").replace("inside: 4.75 mm", "inside: 10 mm"))
    assert need["clip-3-16"].uses == (Use("two", 2, "work"),)
    assert need["clip-3-16"].why == (CLIP_WORDS, "clips: less those that the build has as components")


def test_clips_that_the_build_places(tmp_path):
    """A line that placed clips hold gets only what hangs free between them; what is bought is what is proposed."""
    route = "  run: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[600, 0, 0]]}\n  two: {from: b.b, to: c.a, tube:"
    body = (
        "components:\n  a: {part: union-3-16-inverted, at: [0, 0, 0]}\n"
        "  b: {part: union-3-16-inverted, at: [1200, 0, 0]}\n  c: {part: union-3-16-inverted}\n"
        "  c1: {part: clip-3-16, at: [300, 5, 0]}\n  c2: {part: clip-3-16, at: [1000, 0, 0]}\n"
        f"  c3: {{part: clip-3-16}}\nlines:\n{route} tube-3-16-cuni, length: 900 mm}}\n"
    )
    need = work(tmp_path, body)["clip-3-16"]
    assert need.uses == (Use("run", 2, "work"), Use("two", 2, "work"))
    assert need.why == (
        CLIP_WORDS,
        "clips: only where those that the build places leave a line free",
        "clips: less those that the build has as components",
    )


@pytest.mark.parametrize("variant", [None, "as_corrected"])
def test_clips_bought_are_those_of_the_sheets(variant):
    """For every line of the demo as many clips are bought as its bench sheet has places for."""
    graph = assemble(load(DEMO, variant))
    lengths = {piece.tag: piece.length for row in take_off(graph).rows for piece in row.pieces}
    clips = [need for need in consumables(graph, lengths) if need.kind == "clip"]
    bought = {use.place: use.quantity for need in clips for use in need.uses}
    made = {sheet.tag: sheet.clips for sheet in sheets(graph).sheets if not sheet.faults}
    assert made
    for tag, told in made.items():
        assert told is not None
        assert len(told.clips) == bought.get(tag, 0)


FLUID = "fluid: DOT 4\n"
FILLED = """\
  full-pump:
    kind: master cylinder
    description: Full pump
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    outlets: [out]
    volume: 10 cm3
    reservoir_volume: 90 cm3
  full-brake:
    kind: caliper
    description: Full brake
    ports:
      pipe: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    volume: 40 cm3
"""
FILLED_CAR = """\
components:
  mc: {part: full-pump}
  fl: {part: full-brake}
  cl: {part: full-pump}
  slave: {part: full-brake}
"""


def test_fluid_by_what_the_build_holds(tmp_path):
    """Two and a half times what all circuits hold, in whole millilitres: 2.5 x 280 ml is 700 ml."""
    need = work(tmp_path, FLUID + FILLED_CAR, FILLED)["fluid-dot-4"]
    assert (need.kind, need.unit, need.uses, need.unknown) == ("fluid", "ml", (Use("", 700, "work"),), ())
    assert need.why == (
        "fluid: 2.5 times the 280 ml that it takes to fill, for bleeding and flushing: "
        "guides to bleeding brakes, two to three times",
        "fluid: mc.out 100 ml; cl.out 100 ml; in no circuit 80 ml",
    )


def test_fluid_is_rounded(tmp_path):
    """A metre of 4.75 x 0.7 mm tube holds 8.814 ml (8.814 mm2 by hand): with 280 ml, times 2.5, that is 722.03 ml.

    The usual factor is a rule of thumb: its figure is rounded to 10 ml. With a factor of its own it is rounded up.
    """
    body = FLUID + FILLED_CAR + "lines:\n  run: {from: mc.out, to: fl.pipe, tube: pipe, length: 1 m}\n"
    need = work(tmp_path, body, FILLED)["fluid-dot-4"]
    assert need.quantity == 720
    own = "consumables: {fluid: {fills: 2.5}}\n"
    assert work(tmp_path, body + own, FILLED)["fluid-dot-4"].quantity == 723


def test_fluid_of_each_circuit(tmp_path):
    """Fluids are not mixed: a clutch on mineral oil asks for its own; the stated part is for the build's own."""
    circuits = "circuits:\n  clutch: {from: cl.out, feeds: [slave.pipe], fluid: mineral}\n"
    lines = "lines:\n  run: {from: mc.out, to: fl.pipe, tube: pipe, length: 1 m}\n"
    lines += "  cl_run: {from: cl.out, to: slave.pipe, tube: pipe, length: 2 m}\n"
    own = "  shop-dot-4: {kind: fluid, description: Shop fluid, fluid_families: [glycol]}\n"
    top = FLUID + "consumables:\n  fluid: {part: shop-dot-4, fills: 1}\n"
    found = work(tmp_path, top + FILLED_CAR + lines + circuits, FILLED + own)
    assert {key: need.quantity for key, need in found.items() if need.unit == "ml"} == {
        "fluid-mineral": 158,
        "shop-dot-4": 149,
    }
    assert found["fluid-mineral"].why == (
        "fluid: 1 times the 157.6 ml that it takes to fill, for bleeding and flushing: consumables.fluid.fills",
        "fluid: clutch 157.6 ml",
    )


def test_own_fluid_is_known_by_its_id(tmp_path):
    """A fluid of the builder's own catalog whose id says the grade comes before the generic one."""
    own = "  dot-4: {kind: fluid, description: Own fluid, fluid_families: [glycol]}\n"
    assert "dot-4" in work(tmp_path, FLUID + FILLED_CAR, FILLED + own)


def test_fluid_whose_family_is_another(tmp_path):
    """An id that says a grade does not help a fluid of another family; a stated one is kept, and the clash is said."""
    wrong = "  dot-4: {kind: fluid, description: Wrong, fluid_families: [silicone]}\n"
    assert "fluid-dot-4" in work(tmp_path, FLUID + FILLED_CAR, FILLED + wrong)
    top = FLUID + "consumables:\n  fluid: {part: dot-4}\n"
    assert work(tmp_path, top + FILLED_CAR, FILLED + wrong)["dot-4"].why[0] == "dot-4 is silicone, DOT 4 is glycol"


@pytest.mark.parametrize(
    ("fluid", "words"),
    [
        ("", "fluid, which one the build does not say: fluid is not given"),
        ("fluid: ISO class 6\n", "fluid, ISO 4925 class 6"),
    ],
)
def test_fluid_that_no_catalog_has(tmp_path, fluid, words):
    """Where the build does not say its fluid, or no catalog has it, the need has no part but still its amount."""
    need = work(tmp_path, fluid + FILLED_CAR, FILLED)[words]
    assert (need.part, need.kind, need.quantity) == (None, "fluid", 700)


def test_stated_volume(tmp_path):
    """A stated volume is bought as it is, and nothing is unknown then."""
    top = FLUID + "consumables:\n  fluid: {volume: 1 l}\n"
    need = work(tmp_path, top + car(line("one", None)))["fluid-dot-4"]
    assert (need.uses, need.unknown, need.why) == ((Use("", 1000, "work"),), (), ("fluid: consumables.fluid.volume",))


def test_unknown_volumes_are_named(tmp_path):
    """Parts of unknown volume are named with the missing field, and the words say that the figure is without them."""
    need = work(tmp_path, FLUID + car(line("one", None)))["fluid-dot-4"]
    assert need.uses == ()
    assert need.unknown == (
        ("mc", "parts.pump.bore and parts.pump.stroke are not given"),
        ("mc", "parts.pump.reservoir_volume or parts.pump.feeds is not given"),
        ("fl", "parts.brake.volume is not given"),
        ("one", "lines.one.length is not given"),
    )
    assert need.why[-1] == "fluid: without what 3 of the parts hold, which is not known"


def test_nothing_to_fill(tmp_path):
    """A build that holds no fluid asks for none."""
    assert work(tmp_path, FLUID + "components:\n  p: {part: pedal-box-single}\n") == {}


TAPER = (
    "components:\n  gauge: {part: pressure-switch-1-8-npt}\n  tee: {part: boss}\njoints:\n  - [gauge.port, tee.top]\n"
)
BOSS = "  boss: {kind: tee, description: Boss, ports: {top: {thread: 1/8-27 NPT, gender: internal, seat: taper}}}\n"
SAFE = "sealant: what the makers of the parts and the local code say of taper joints comes first"


def test_sealant_for_taper_joints(tmp_path):
    """One piece of sealant if any joint seals on a taper thread, with the words that others come first."""
    need = work(tmp_path, TAPER, BOSS)["sealant-taper"]
    assert (need.kind, need.unit, need.uses) == ("sealant", "each", (Use("", 1, "work"),))
    assert need.why == ("sealant: one for up to 50 taper joints, here 1: common practice, no source", SAFE)


def test_more_joints_than_one_sealant_is_for(tmp_path):
    """The fifty-first taper joint asks for a second piece."""
    tees = "".join(f"  g{n}: {{part: pressure-switch-1-8-npt}}\n  t{n}: {{part: boss}}\n" for n in range(51))
    joints = "".join(f"  - [g{n}.port, t{n}.top]\n" for n in range(51))
    assert work(tmp_path, f"components:\n{tees}joints:\n{joints}", BOSS)["sealant-taper"].quantity == 2


def test_no_sealant_without_taper_joints(tmp_path):
    """A joint of which one side seals otherwise, and a build without any, ask for no sealant."""
    flat = BOSS.replace("seat: taper", "seat: washer-face")
    assert "sealant-taper" not in work(tmp_path, TAPER, flat)
    assert "sealant-taper" not in work(tmp_path, car(line("one", "400 mm")))


def test_sealant_stands_the_fluids(tmp_path):
    """A sealant of the builder's own that does not stand the build's fluid is passed over."""
    own = BOSS + "  a-paste: {kind: sealant, description: Paste, fluid_families: [mineral]}\n"
    assert "sealant-taper" in work(tmp_path, FLUID + TAPER, own)
    assert "a-paste" in work(tmp_path, "fluid: mineral\n" + TAPER, own)


def test_stated_sealant(tmp_path):
    """A stated part and quantity are used, whatever the joints; 0 is none; a stated part alone asks for nothing."""
    own = BOSS + "  paste: {kind: sealant, description: Paste}\n"
    lines = car(line("one", "400 mm"))
    need = work(tmp_path, "consumables:\n  sealant: {part: paste, quantity: 3}\n" + lines, own)["paste"]
    assert (need.quantity, need.why) == (3, ("sealant: consumables.sealant.quantity", SAFE))
    assert "sealant-taper" not in work(tmp_path, "consumables:\n  sealant: {quantity: 0}\n" + TAPER, BOSS)
    assert "paste" not in work(tmp_path, "consumables:\n  sealant: {part: paste}\n" + lines, own)


def test_two_caps_for_each_line(tmp_path):
    """Each line gets two caps of its tube's size."""
    found = work(tmp_path, car(line("one", "400 mm") + line("two", None) + line("six", "1 m", "big-pipe")), BIG_TUBE)
    assert found["dust-cap-3-16"].uses == (Use("one", 2, "work"), Use("two", 2, "work"))
    assert found["dust-cap-3-16"].why == (CAP_WORDS,)
    assert found["dust cap for 6 mm tube"].uses == (Use("six", 2, "work"),)


def test_stated_caps(tmp_path):
    """A stated number of caps is for the whole build, of each size; 0 is none."""
    lines = line("one", "400 mm") + line("two", "400 mm")
    need = work(tmp_path, car(lines, "consumables:\n  caps: {quantity: 5}\n"))["dust-cap-3-16"]
    assert (need.uses, need.why) == ((Use("", 5, "work"),), ("dust caps: consumables.caps.quantity",))
    lines += line("six", "1 m", "big-pipe")
    found = work(tmp_path, car(lines, "consumables:\n  caps: {quantity: 5}\n"), BIG_TUBE)
    assert [need.quantity for need in found.values() if need.kind == "dust cap"] == [5, 5]
    assert found["dust-cap-3-16"].why == ("dust caps: consumables.caps.quantity, of each size",)
    none = work(tmp_path, car(lines, "consumables:\n  caps: {quantity: 0}\n"), BIG_TUBE)
    assert [need for need in none.values() if need.kind == "dust cap"] == []


def test_stated_caps_without_lines(tmp_path):
    """Caps that the build asks for are needed even where there is no line yet."""
    top = "consumables:\n  caps: {part: dust-cap-1-4, quantity: 6}\n"
    assert work(tmp_path, top + TAPER, BOSS)["dust-cap-1-4"].uses == (Use("", 6, "work"),)

"""What could replace a part: what is compared, what counts, and that fitting it does what was said."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.catalog.money import Money
from fitcheck.checks.context import Context
from fitcheck.remedies.replacements import like_for_like, pricing, replacements, unjudged
from tests.remedies.replacement_house import CAR, by_id, context_of

DEMO = Path(__file__).parents[2] / "demo_vehicle"


def ids(context: Context, tag: str) -> list[str]:
    """Return the like-for-like parts, best first, that the test's own catalog has."""
    return [found.part.id for found in like_for_like(context, tag) if found.part.catalog != "generic"]


@pytest.fixture
def demo() -> Context:
    """The demo car, ready to be asked."""
    return Context(assemble(load(DEMO)))


@pytest.fixture
def car(tmp_path: Path) -> Context:
    """A car with one of everything from the house catalog."""
    return context_of(tmp_path)


def test_the_demo_bracket_is_put_right_by_the_other_union(demo: Context) -> None:
    """The bulkhead union on the other side fits both joints, and the line to it needs another flare and nut."""
    best = replacements(demo, "bracket_fr")[0]
    assert (best.part.id, best.fits, best.joints, best.wrong) == ("bulkhead-union-3-16-inverted", 2, 2, 0)
    (refit,) = best.refits
    assert refit.refs == ("bracket_fr.inside", "front_right.to")
    assert (refit.now.flare, refit.then.flare) == ("bubble", "double-45")
    assert [item.part.id for item in refit.then.items if item.part] == ["nut-3-8-24-inverted"]


def test_the_demo_axle_tee_is_put_right_by_the_bubble_tee(demo: Context) -> None:
    """All three joints fit the tee that the corrected variant of the demo has, which comes first."""
    assert [found.part.id for found in like_for_like(demo, "tee_axle")] == ["tee-axle-bubble", "tee-m10x1-bubble"]


def test_a_joint_says_what_is_wrong_with_the_new_part(demo: Context) -> None:
    """A misfit carries the verdict now and then, in words that name this part and not another of its form."""
    found = by_id(demo, "mc_front")["mc-3-8-24-inverted"]
    (misfit,) = found.misfits
    assert misfit.refs == ("pedals.rod_front", "mc_front.pushrod")
    assert (misfit.now.rule, misfit.now.unchecked) == (None, ())
    assert misfit.then.unchecked == (("seat-mismatch", "parts.pedal-box-bar.ports.rod_front.pattern"),)
    assert misfit.then.joint.ends[1].fitted.part_id == "mc-3-8-24-inverted"


def test_parts_of_one_form_are_each_named_by_themselves(tmp_path: Path) -> None:
    """Two parts that differ in their id only get the same verdict, each with its own id in the missing field."""
    more = "".join(
        f"  bare-{n}: {{kind: caliper, description: Bare, ports: {{in: {{thread: M10x1, gender: internal}}}}}}\n"
        for n in (1, 2)
    )
    found = by_id(context_of(tmp_path, more=more), "fl")
    missing = [[gap for _, gap in found[f"bare-{n}"].misfits[0].then.unchecked] for n in (1, 2)]
    assert missing == [["parts.bare-1.ports.in.seat"], ["parts.bare-2.ports.in.seat"]]


def test_a_fault_that_is_there_already_is_not_the_parts(demo: Context) -> None:
    """The one washer too few is there with any caliper: the one with that fault only comes before all others."""
    first, *others = replacements(demo, "caliper_fl")
    assert first.part.id == "caliper-m10x1-washer"
    assert (len(first.misfits), first.spoilt) == (1, 0)
    assert all(other.spoilt for other in others)


def test_never_the_part_itself_and_only_its_kind(demo: Context) -> None:
    """Hoses are replaced by hoses, tubes by tubes, tees by tees, and nothing by itself."""
    for tag, kinds in (
        ("hose_fl", {"hose"}),
        ("feed_front", {"feed hose"}),
        ("front_feed", {"tube"}),
        ("tee_front", {"tee"}),
        ("caliper_fl", {"caliper"}),
        ("bracket_fl", {"union", "bulkhead union", "adapter", "elbow"}),
    ):
        found = replacements(demo, tag)
        assert {each.part.kind for each in found} == kinds
        assert demo.graph.fitted[tag].part_id not in {each.part.id for each in found}


def test_all_kinds_looks_wider(demo: Context) -> None:
    """With all kinds asked for a tee can stand in for a union; a hose can still only be a hose."""
    assert "tee-3-16-inverted" in {each.part.id for each in replacements(demo, "bracket_fl", all_kinds=True)}
    assert {each.part.kind for each in replacements(demo, "hose_fl", all_kinds=True)} == {"hose", "feed hose"}


@pytest.mark.parametrize(
    ("part", "differs", "same_work"),
    [
        ("brake-twin", (), True),
        ("brake-weak", (("max_pressure", 14.0, 9.0),), False),
        ("brake-unrated", (("max_pressure", 14.0, None),), True),
        ("brake-dry", (("bleeder", "M8x1.25", "none"),), False),
        ("brake-unsaid", (("displacement", 18000.0, None),), True),
        ("brake-small", (("displacement", 18000.0, 12000.0),), False),
    ],
)
def test_what_a_caliper_does_otherwise(
    car: Context, part: str, differs: tuple[tuple[str, object, object], ...], same_work: bool
) -> None:
    """A lower rating, a lost bleed screw and another displacement matter; what is not stated is named."""
    found = by_id(car, "fl")[part]
    assert (found.differs, found.matters) == (differs, not same_work)
    assert (part in ids(car, "fl")) is same_work


def test_unknown_against_unknown_is_no_equality(demo: Context) -> None:
    """Where neither part's stroke is stated that is said, because nobody can tell that they are equal."""
    plain = Context(assemble(load(DEMO, swaps={"mc_front": "mc-3-8-24-inverted"})))
    differs = by_id(plain, "mc_front")["mc-3-8-24-inverted-bore-1"].differs
    assert differs == (("bore", None, 25.4), ("stroke", None, None))


def test_a_figure_rounded_otherwise_is_the_same(car: Context) -> None:
    """A bore of 15.99 mm is the 16 mm of another data sheet; 19 mm is not."""
    found = by_id(car, "mc")
    assert found["pump-turned"].differs == ()
    assert found["pump-bigger"].differs == (("bore", 16.0, 19.0),)
    assert ids(car, "mc") == ["pump-turned"]


def test_ports_keep_their_duty_whatever_they_are_called(car: Context) -> None:
    """The outlet goes to the outlet even where the new part gives its name to the feed."""
    assert by_id(car, "mc")["pump-turned"].renamed == (("out", "in"), ("feed", "out"))


SWAPPED = """\
  pump-swapped:
    kind: master cylinder
    description: Pump, both ports alike
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {same as: out}
    outlets: [feed]
    feeds: [out]
"""


def test_duty_goes_before_the_name(tmp_path: Path) -> None:
    """Where both ports have one form the outlet still goes to the outlet, though the names say otherwise."""
    found = by_id(context_of(tmp_path, more=SWAPPED), "mc")["pump-swapped"]
    assert found.renamed == (("out", "feed"), ("feed", "out"))


def test_equal_names_go_before_other_ways_that_fit_as_well(car: Context) -> None:
    """Of two ways round for a union with two like ends the one is taken that leaves the file as it is."""
    assert by_id(car, "mid")["union-m10x1-bubble"].renamed == ()


CHAMBERS = """\
  tank-odd:
    kind: reservoir
    description: Tank with two chambers and three barbs
    ports:
      x: {seat: push-on, gender: external, hose: 8 mm}
      y: {same as: x}
      z: {same as: x}
    passages: [[x, y], [z]]
"""


def test_circuits_that_are_apart_go_to_chambers_that_are_apart(tmp_path: Path) -> None:
    """Of three barbs alike those are taken that share no fluid, and the third is told to be open."""
    text = CAR.replace("tank: {part: barb-tank}", "tank: {part: reservoir-2-outlet}\n  more: {part: pump}")
    text = text.replace("from: tank.outlet", "from: tank.front")
    text += "  feed_2: {part: feed-hose-8mm, from: tank.rear, to: more.feed, length: 200 mm}\n"
    found = by_id(context_of(tmp_path, text, CHAMBERS), "tank")["tank-odd"]
    assert found.renamed == (("front", "x"), ("rear", "z"))
    assert (found.spare_ports, found.matters) == (("y",), False)


def test_lost_and_spare_ports_have_to_be_dealt_with(car: Context) -> None:
    """A feed that is in use and not there is lost; an outlet more than is in use would be open."""
    found = by_id(car, "mc")
    assert (found["pump-blind"].lost_ports, found["pump-blind"].wrong) == (("feed",), 1)
    assert (found["pump-double"].spare_ports, found["pump-double"].wrong) == (("two",), 1)


def test_other_names_for_the_same_ports(car: Context) -> None:
    """A union whose ports have other names is like for like, with the names to be written."""
    found = by_id(car, "mid")["joiner-named"]
    assert (found.renamed, found.wrong) == ((("a", "left"), ("b", "right")), 0)
    assert ids(car, "mid") == ["joiner-named"]


def test_a_seat_that_bears_no_pressure_is_no_fit(car: Context) -> None:
    """A 45 degree joint, for which flare and nut could be had, is refused on a line that an outlet feeds."""
    found = by_id(car, "mid")["joiner-air"]
    assert [fit.then.rule for fit in found.misfits] == ["nut-mismatch", "unpressurised-part"]
    assert found.misfits[1].then.message == "a cone-45 joint under pressure from mc.out"


def test_too_little_thread_is_no_fit(car: Context) -> None:
    """A port that gives the stated nut 1 mm of thread is refused, as `check` would."""
    misfits = by_id(car, "mid")["joiner-short"].misfits
    assert [(fit.refs, fit.then.rule) for fit in misfits] == [
        (("mid.a", "one.to"), "short-engagement"),
        (("mid.b", "two.from"), "short-engagement"),
    ]


def test_valves_are_alike_only_if_the_catalog_says_so(car: Context) -> None:
    """What a valve is set to is in no field: only `equivalent_to` makes two of them do the same."""
    assert ids(car, "keep") == ["valve-same", "valve-turned"]
    assert by_id(car, "keep")["valve-other"].differs == (("setting", None, None),)


def test_the_way_through_a_valve_stays(car: Context) -> None:
    """Of two ways to fit a valve whose ports are alike the one is taken in which fluid passes as before."""
    assert by_id(car, "keep")["valve-turned"].renamed == (("in", "out"), ("out", "in"))


def test_chambers_stay_apart(demo: Context) -> None:
    """A reservoir whose outlets share one chamber differs from one that keeps the circuits apart."""
    found = by_id(demo, "tank")
    fields = {name: {field for field, *_ in each.differs} for name, each in found.items()}
    assert "passages" not in fields["reservoir-2-outlet"]
    assert "passages" in fields["reservoir-2-outlet-shared"]


def test_a_hose_may_be_a_tenth_longer(demo: Context) -> None:
    """400 mm does for 380 mm, 350 mm for 380 mm too, 300 mm does not."""
    found = by_id(demo, "hose_fl")
    name = "hose-braided-{}-3-8-24-inverted-male-banjo-10mm"
    assert [found[name.format(length)].matters for length in (400, 350, 300, 500)] == [False, False, True, True]


def test_a_tube_keeps_its_size_and_is_of_a_metal_that_is_allowed(demo: Context) -> None:
    """For a steel line under pressure copper is never offered, nor any other outside diameter."""
    steel = Context(assemble(load(DEMO, swaps={"front_run": "tube-3-16-steel"})))
    found = [each.part for each in like_for_like(steel, "front_run")]
    assert "tube-3-16-cuni" in {part.id for part in found}
    assert {part.material for part in found} <= {"steel", "stainless", "stainless steel", "cuni", "copper-nickel"}
    assert all(part.od is not None and abs(part.od - 4.76) < 0.1 for part in found)


def test_nothing_is_like_a_part_that_nobody_knows(tmp_path: Path) -> None:
    """In place of an unknown part whatever fits is listed, but nothing is said to do the same work."""
    context = context_of(tmp_path, CAR.replace("fl: {part: brake}", "fl: {part: break}"))
    assert list(like_for_like(context, "fl")) == []
    found = by_id(context, "fl")["brake"]
    assert (found.fits, found.joints, found.differs) == (1, 1, ())


def test_a_joint_with_something_unknown_is_not_counted(tmp_path: Path) -> None:
    """A joint whose other part no catalog has is told apart, and keeps every part from being like for like."""
    context = context_of(tmp_path, CAR.replace("keep: {part: valve}", "keep: {part: valv}"))
    assert unjudged(context, "two") == (("keep.in", "two.to"),)
    assert {found.joints for found in replacements(context, "two")} == {1}
    assert list(like_for_like(context, "two")) == []


OFFERS = """\
offers: 1
suppliers:
  shed: {name: Shed, currency: GBP}
prices:
  - {part: brake, supplier: shed, price: 40.00 GBP}
  - {part: brake-twin, supplier: shed, price: 52.50 GBP}
  - {part: brake-coarse, supplier: shed, price: 12.00 GBP, valid_until: 2026-01-31}
  - {part: tube-4-75mm-cuni, supplier: shed, price: 30.00 GBP, per: 7.5 m}
  - {part: tube-4-75mm-steel, supplier: shed, price: 15.00 GBP, per: 7.5 m}
"""


def test_cost_of_both_where_offers_say(tmp_path: Path) -> None:
    """The cost of both parts stands beside each other; an offer that has run out is none; no offers, no prices."""
    assert pricing(context_of(tmp_path), "fl") is None
    (tmp_path / "offers.yaml").write_text(OFFERS, encoding="utf-8")
    context = context_of(tmp_path, CAR + "offers: [offers.yaml]\n")
    prices = pricing(context, "fl", date(2026, 6, 1))
    found = {each.part.id: each for each in replacements(context, "fl", pricing=prices)}
    assert found["brake-twin"].cost_now == Money(Decimal("40.00"), "GBP")
    assert found["brake-twin"].cost == Money(Decimal("52.50"), "GBP")
    assert found["brake-coarse"].cost is None
    tubes = {each.part.id: each for each in replacements(context, "two", pricing=pricing(context, "two"))}
    steel = tubes["tube-4-75mm-steel"]
    assert steel.cost_now is not None
    assert steel.cost is not None
    assert steel.cost_now.amount > steel.cost.amount > 0


def test_of_equals_the_cheaper_comes_first(tmp_path: Path) -> None:
    """Between parts that fit alike and do the same the least rise in cost decides, then the id."""
    port = "{{thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}"
    twin = f"  {{}}: {{{{kind: union, description: Twin, ports: {{{{a: {port}, b: {port}}}}}}}}}\n"
    more = "".join(twin.format(name) for name in ("a-dear", "b-cheap", "c-unpriced"))
    prices = "".join(
        f"  - {{part: {part}, supplier: shed, price: {price} GBP}}\n"
        for part, price in (("joiner", "5.00"), ("a-dear", "6.00"), ("b-cheap", "4.00"))
    )
    (tmp_path / "offers.yaml").write_text(OFFERS + prices, encoding="utf-8")
    context = context_of(tmp_path, CAR + "offers: [offers.yaml]\n", more)
    found = replacements(context, "mid", pricing=pricing(context, "mid"))
    assert [each.part.id for each in found if each.part.description == "Twin"] == ["b-cheap", "a-dear", "c-unpriced"]


def test_many_ports_go_by_name(tmp_path: Path) -> None:
    """With more than four ports in use equal names are kept, and the others are taken in order."""
    names = ["p1", "p2", "p3", "p4", "p5"]
    port = "{thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}"
    more = "".join(
        f"  {tee}: {{kind: tee, description: Star, ports: {{{', '.join(f'{name}: {port}' for name in each)}}}}}\n"
        for tee, each in (("star", names), ("star-other", [*names[:4], "last"]))
    )
    plugs = "".join(f"  plug_{name}: {{part: plug-m10x1-bubble}}\n" for name in names)
    joints = "".join(f"  - [plug_{name}.end, hub.{name}]\n" for name in names)
    text = CAR.replace("components:\n", f"components:\n  hub: {{part: star}}\n{plugs}") + f"joints:\n{joints}"
    found = by_id(context_of(tmp_path, text, more), "hub")["star-other"]
    assert (found.fits, found.joints, found.renamed) == (5, 5, (("p5", "last"),))


def test_a_tag_that_is_not_there(demo: Context) -> None:
    """To ask about nothing is the caller's mistake, and raises."""
    with pytest.raises(KeyError, match="nothing_here"):
        replacements(demo, "nothing_here")

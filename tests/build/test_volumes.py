"""How much fluid a build holds, circuit by circuit."""

from math import pi
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.build.volumes import Held, volumes

DEMO = Path(__file__).parents[2] / "demo_vehicle"

CATALOG = """\
catalog: 1
parts:
  tube-a: {kind: tube, od: 3/16 in, wall: 0.028 in}
  tube-b: {kind: tube, od: 1/4 in, wall: 0.028 in}
  pump:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    bore: 16 mm
    stroke: 30 mm
  bare-pump: {kind: master cylinder, ports: {out: {thread: M10x1}, feed: {hose: 8 mm}}, outlets: [out]}
  topped-pump:
    kind: master cylinder
    ports: {out: {thread: M10x1}}
    outlets: [out]
    volume: 9 cm3
    reservoir_volume: 60 cm3
  sealed-pump: {kind: master cylinder, ports: {out: {thread: M10x1}}, outlets: [out], volume: 9 cm3}
  twin:
    kind: master cylinder
    ports: {one: {thread: M10x1}, two: {thread: M10x1}, feed_one: {hose: 8 mm}, feed_two: {hose: 8 mm}}
    outlets: [one, two]
    bore: 20 mm
    stroke: 30 mm
  tank: {kind: reservoir, ports: {a: {hose: 8 mm}, b: {hose: 8 mm}}, passages: [[a], [b]], reservoir_volume: 100 cm3}
  plain-tank: {kind: reservoir, ports: {a: {hose: 8 mm}}}
  older-tank: {kind: reservoir, ports: {a: {hose: 8 mm}}, volume: 70 cm3}
  brake: {kind: caliper, ports: {in: {thread: M10x1}}, volume: 40 cm3, displacement: 20 cm3}
  bare-brake: {kind: caliper, ports: {in: {thread: M10x1}}, displacement: 20 cm3}
  tee: {kind: tee, ports: {a: {thread: M10x1}, b: {thread: M10x1}}}
  big-tee: {kind: tee, ports: {a: {thread: M10x1}, b: {thread: M10x1}}, volume: 3 cm3}
  drip: {kind: feed hose, ports: {from: {hose: 8 mm}, to: {hose: 8 mm}}, inside: 8 mm}
  whip: {kind: hose, ports: {from: {thread: M10x1}, to: {thread: M10x1}}, inside: 3 mm, length: 400 mm}
  loose-whip: {kind: hose, ports: {from: {thread: M10x1}, to: {thread: M10x1}}, inside: 3 mm}
  blank-whip: {kind: hose, ports: {from: {thread: M10x1}, to: {thread: M10x1}}, length: 400 mm}
  told-whip: {kind: hose, ports: {from: {thread: M10x1}, to: {thread: M10x1}}, volume: 5 cm3}
"""
CAR = """\
components:
  mc: {part: pump}
  fl: {part: brake}
lines:
  run: {from: mc.out, to: fl.in, tube: tube-a}
"""


def graph_of(tmp_path, body):
    """Return the graph of a build with the catalog above."""
    (tmp_path / "house.yaml").write_text(CATALOG, encoding="utf-8")
    (tmp_path / "build.yaml").write_text(f"build: 1\ncatalogs: [house.yaml]\n{body}", encoding="utf-8")
    return assemble(load(tmp_path / "build.yaml"))


def held(tmp_path, body, lengths=None):
    """Return what each part of a build holds, by tag; a part that holds twice has its last."""
    return {part.tag: part for one in volumes(graph_of(tmp_path, body), lengths or {}) for part in one.parts}


@pytest.mark.parametrize(("tube", "mm3_per_m"), [("tube-a", 8760), ("tube-b", 19070)])
def test_tube_per_metre(tmp_path, tube, mm3_per_m):
    """A metre of 3/16 x 0.028 in tube holds 8.76 cm3, one of 1/4 x 0.028 in 19.07 cm3.

    Source: tube sizes of SAE J526; the bores, 0.1315 in and 0.194 in, worked by hand to three figures.
    """
    part = held(tmp_path, CAR.replace("tube-a", tube), {"run": 1000.0})["run"]
    assert part.mm3 == pytest.approx(mm3_per_m, abs=5)


def test_words_of_a_line(tmp_path):
    """A line's figure says what bore of which part it is, over what length."""
    assert held(tmp_path, CAR, {"run": 812.4})["run"].words == "bore 3.34 mm of tube-a over 812 mm"


def test_line_of_unknown_length(tmp_path):
    """A line whose length nobody knows holds an unknown volume and names the field; it is in no sum."""
    (one,) = volumes(graph_of(tmp_path, CAR), {"run": None})
    assert ("run", "lines.run.length is not given") in one.unknown
    assert one.mm3 == pytest.approx(40000 + pi / 4 * 16**2 * 30)


def test_caliper_with_new_linings(tmp_path):
    """A caliper holds its volume; its displacement comes out of the reservoir later and is not in it."""
    assert held(tmp_path, CAR)["fl"] == Held("fl", 40000.0, "parts.brake.volume")


def test_caliper_of_unknown_volume(tmp_path):
    """A displacement is no volume: a caliper without one is unknown, and the field is named."""
    part = held(tmp_path, CAR.replace("part: brake", "part: bare-brake"))["fl"]
    assert part == Held("fl", None, "parts.bare-brake.volume is not given")


def test_master_cylinder_by_bore_and_stroke(tmp_path):
    """16 mm bore over 30 mm stroke is 6.03 cm3 (201.06 mm2 x 30 mm, by hand)."""
    part = held(tmp_path, CAR)["mc"]
    assert part.mm3 == pytest.approx(6031.9, abs=0.1)
    assert part.words == "bore 16.00 mm of pump over its stroke of 30 mm"


def test_master_cylinder_without_figures(tmp_path):
    """A master cylinder that says neither bore nor stroke is unknown, and both fields are named."""
    part = held(tmp_path, CAR.replace("part: pump", "part: bare-pump"))["mc"]
    assert part == Held("mc", None, "parts.bare-pump.bore and parts.bare-pump.stroke are not given")


def test_master_cylinder_with_its_own_reservoir(tmp_path):
    """A built-in reservoir is held on top of the cylinder's own volume."""
    (one,) = volumes(graph_of(tmp_path, CAR.replace("part: pump", "part: topped-pump")), {})
    figures = [(part.mm3, part.words) for part in one.parts if part.tag == "mc"]
    assert figures == [(9000.0, "parts.topped-pump.volume"), (60000.0, "parts.topped-pump.reservoir_volume")]


def test_master_cylinder_fed_by_nothing_known(tmp_path):
    """A master cylinder without feeds has a reservoir built in: if its volume is not given, that is said."""
    (one,) = volumes(graph_of(tmp_path, CAR.replace("part: pump", "part: sealed-pump")), {"run": 1.0})
    reason = "parts.sealed-pump.reservoir_volume or parts.sealed-pump.feeds is not given"
    assert one.unknown == (("mc", reason),)


@pytest.mark.parametrize(
    ("tank", "mm3", "words"),
    [
        ("tank", 100000.0, "parts.tank.reservoir_volume"),
        ("older-tank", 70000.0, "parts.older-tank.volume"),
        ("plain-tank", None, "parts.plain-tank.reservoir_volume is not given"),
    ],
)
def test_reservoir(tmp_path, tank, mm3, words):
    """A reservoir holds its reservoir volume, else its volume, else it is unknown."""
    car = CAR + "hoses:\n  feed: {part: drip, from: t.a, to: mc.feed}\n"
    car = car.replace("components:\n", f"components:\n  t: {{part: {tank}}}\n")
    assert held(tmp_path, car)["t"] == Held("t", mm3, words)


@pytest.mark.parametrize(
    ("hose", "mm3", "words"),
    [
        ("whip", pi / 4 * 9 * 400, "bore 3.00 mm of whip over 400 mm"),
        ("told-whip", 5000.0, "parts.told-whip.volume"),
        ("blank-whip", None, "parts.blank-whip.inside is not given"),
        ("loose-whip", None, "parts.loose-whip.length is not given"),
        ("drip", None, "hoses.h.length is not given"),
    ],
)
def test_hose(tmp_path, hose, mm3, words):
    """A hose holds the volume that is given, else its bore over its length; what is missing is named."""
    part = held(tmp_path, CAR + f"hoses:\n  h: {{part: {hose}, from: mc.feed, to: fl.in}}\n")["h"]
    assert (part.mm3, part.words) == (pytest.approx(mm3) if mm3 is not None else None, words)


def test_hose_cut_to_length(tmp_path):
    """A hose that is cut holds its bore over the length that the caller passes: 8 mm over 200 mm is 10.05 cm3."""
    car = CAR + "hoses:\n  h: {part: drip, from: mc.feed, to: fl.in}\n"
    assert held(tmp_path, car, {"h": 200.0})["h"].mm3 == pytest.approx(10053, abs=1)


def test_fittings(tmp_path):
    """A fitting holds nothing that is counted unless its catalog says a volume."""
    car = CAR.replace("lines:", "  t: {part: tee}\n  b: {part: big-tee}\njoints:\n  - [t.a, b.a]\nlines:")
    found = held(tmp_path, car)
    assert "t" not in found
    assert found["b"].mm3 == 3000.0


def test_unknown_part(tmp_path):
    """A part that no catalog has is unknown, with the reason that the bill gives."""
    part = held(tmp_path, CAR.replace("part: brake", "part: zzz"))["fl"]
    assert part == Held("fl", None, "no catalog has a part 'zzz'")


def test_mechanical_parts_hold_nothing(tmp_path):
    """A pedal box carries force: it is in no circuit and nothing about it is unknown."""
    assert "p" not in held(tmp_path, CAR.replace("lines:", "  p: {part: pedal-box-single}\nlines:"))


TWO = """\
components:
  t: {part: tank}
  mc: {part: twin}
  fl: {part: brake}
  rl: {part: brake}
lines:
  run_f: {from: mc.one, to: fl.in, tube: tube-a}
  run_r: {from: mc.two, to: rl.in, tube: tube-a}
hoses:
  feed_1: {part: drip, from: t.a, to: mc.feed_one}
  feed_2: {part: drip, from: t.b, to: mc.feed_two}
"""
LENGTHS = {"run_f": 1000.0, "run_r": 2000.0, "feed_1": 100.0, "feed_2": 100.0}


def test_what_two_circuits_share(tmp_path):
    """A tandem cylinder, its reservoir and feeds are held for both circuits together, and everything just once."""
    circuits = "circuits:\n  back: {from: mc.two, feeds: [rl.in]}\n  front: {from: mc.one, feeds: [fl.in]}\n"
    found = volumes(graph_of(tmp_path, "fluid: dot4\n" + TWO + circuits), LENGTHS)
    assert [(one.circuits, one.fluid, [part.tag for part in one.parts]) for one in found] == [
        (("back",), "DOT 4", ["rl", "run_r"]),
        (("back", "front"), "DOT 4", ["t", "mc", "feed_1", "feed_2"]),
        (("front",), "DOT 4", ["fl", "run_f"]),
    ]


def test_circuits_without_names(tmp_path):
    """Where the build names no circuit its outlet stands for it, and a fluid that nobody states is None."""
    found = volumes(graph_of(tmp_path, TWO), LENGTHS)
    assert [(one.circuits, one.fluid) for one in found] == [
        (("mc.one",), None),
        (("mc.one", "mc.two"), None),
        (("mc.two",), None),
    ]


def test_part_in_no_circuit(tmp_path):
    """A brake that no outlet reaches still holds fluid, in no circuit, and stands last."""
    found = volumes(graph_of(tmp_path, CAR.replace("lines:", "  spare_brake: {part: brake}\nlines:")), {"run": 1.0})
    assert [one.circuits for one in found] == [("mc.out",), ()]
    assert found[1].mm3 == 40000.0


def test_another_fluid_in_one_circuit(tmp_path):
    """A tank from which circuits of two fluids are fed counts in full for each, and says so."""
    car = "fluid: DOT 4\n" + TWO.replace("mc: {part: twin}", "mc: {part: pump}\n  cl: {part: pump}")
    car = car.replace("mc.one", "mc.out").replace("mc.two", "cl.out").replace("mc.feed_one", "mc.feed")
    car = car.replace("mc.feed_two", "cl.feed")
    car += "circuits:\n  clutch: {from: cl.out, feeds: [], fluid: mineral}\n"
    found = volumes(graph_of(tmp_path, car), LENGTHS)
    assert [(one.circuits, one.fluid, [(part.tag, part.shared) for part in one.parts]) for one in found] == [
        (
            ("clutch",),
            "mineral oil",
            [("t", True), ("cl", False), ("rl", False), ("run_r", False), ("feed_2", False)],
        ),
        (("mc.out",), "DOT 4", [("t", True), ("mc", False), ("fl", False), ("run_f", False), ("feed_1", False)]),
    ]


def test_chamber_that_feeds_nothing(tmp_path):
    """A chamber that nothing is joined to does not bring the build's own fluid into a tank of another."""
    car = "fluid: DOT 4\n" + CAR.replace("lines:", "  t: {part: tank}\nlines:")
    car += "hoses:\n  feed: {part: drip, from: t.a, to: mc.feed}\n"
    car += "circuits:\n  clutch: {from: mc.out, feeds: [], fluid: mineral}\n"
    found = volumes(graph_of(tmp_path, car), {"run": 1.0, "feed": 1.0})
    assert [one.fluid for one in found] == ["mineral oil"]


def test_demo_vehicle():
    """The demo's circuits hold what their bores and its catalog say, by hand; a run of no known length is named."""
    graph = assemble(load(DEMO, "as_corrected"))
    found = {one.circuits: one for one in volumes(graph, {"clutch_run": 500.0, "feed_clutch": 190.0})}
    assert found[("front", "rear", "clutch")].mm3 == 240000.0
    # 16 mm x 30 mm: 6032; slave: 7000; tube 8.762 mm2 x 500: 4381; hose 8.042 mm2 x 300: 2413; feed 50.265 x 190: 9550
    assert found[("clutch",)].mm3 == pytest.approx(6032 + 7000 + 4381 + 2413 + 9550, abs=2)
    assert found[("rear",)].unknown[0] == ("rear_feed", "lines.rear_feed.length is not given")

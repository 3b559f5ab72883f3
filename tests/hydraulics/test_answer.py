"""Everything put together: one answer at a push of the foot, what it lacks, two of them side by side."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load
from fitcheck.hydraulics.answer import answer, has_pedal
from fitcheck.hydraulics.change import changed, compare
from fitcheck.hydraulics.contribution import runs, saved
from fitcheck.hydraulics.record import Answer, Gap
from fitcheck.measures import Units
from fitcheck.quantities import parse
from tests.hydraulics import house, plumbed

RULED = house.DRIVEN.replace("tyre_friction: 0.9}", "tyre_friction: 0.9, rules: [ece-r13h]}")


def graph_of(folder: Path, text: str, catalog: str = plumbed.CATALOG) -> PortGraph:
    """Return the graph of a build of which this is the text."""
    (folder / "parts.yaml").write_text(catalog, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return assemble(load(folder / "build.yaml"))


def bar(folder: Path, rest: str = RULED) -> Answer:
    """Return the answer for the car with a balance bar."""
    text = house.BAR
    for word, part in (("FRONT", "pump-16"), ("REAR", "pump-19"), ("VALVE", "holder"), ("DISC", "disc-fixed")):
        text = text.replace(word, part)
    return answer(graph_of(folder, text + rest, house.CATALOG))


def trailer(folder: Path, text: str = plumbed.TRAILER, foot_n: float | None = None) -> Answer:
    """Return the answer for the trailer with one brake."""
    return answer(graph_of(folder, text), foot_n)


def test_all_of_it_is_at_one_push(tmp_path: Path) -> None:
    """Pressure, stroke, travel and a corner of the trailer are those of its 400 N, by hand from the figures stated."""
    found = trailer(tmp_path)
    area = 3.141592653589793 / 4 * 20.0**2
    assert found.pushes[0].pressures_mpa == {"mc.out": pytest.approx(400.0 * 5.0 / area)}
    assert found.strokes[0].pressure_mpa == found.pushes[0].pressures_mpa["mc.out"]
    assert found.travels[0].foot_mm == pytest.approx(5.0 + 5.0 * found.strokes[0].used_mm)
    assert found.corners[0].clamp_n == pytest.approx(400.0 * 5.0 / area * 3.141592653589793 / 4 * 40.0**2)


def test_another_push_than_the_stated_one(tmp_path: Path) -> None:
    """Half the push is half the pressure; the clutch keeps its own push."""
    whole, half = trailer(tmp_path), trailer(tmp_path, foot_n=200.0)
    assert half.pushes[0].pressures_mpa["mc.out"] == pytest.approx(whole.pushes[0].pressures_mpa["mc.out"] / 2.0)
    assert answer(graph_of(tmp_path, plumbed.CLUTCH), 999.0).pushes[0].foot_n == 150.0


def test_curve_runs_in_whole_steps_past_the_push(tmp_path: Path) -> None:
    """A curve has 20 points at multiples of 10 N, from nothing to 500 N or the push, whichever is more."""
    for foot, last in ((400.0, 570.0), (571.0, 760.0)):
        points = trailer(tmp_path, foot_n=foot).curves["mc.out"]
        assert (len(points), points[0][0], points[-1][0]) == (20, 0.0, last)
        assert all(force % 10.0 == 0.0 for force, _, _ in points)


def test_friction_that_nobody_measured(tmp_path: Path) -> None:
    """Where friction is assumed the pressures at its worst stand beside; where it is stated nothing does."""
    assert trailer(tmp_path).weakest == ()
    found = bar(tmp_path)
    assert {push.drives for push in found.weakest} == {"brake", "clutch"}
    for full, weak in zip(found.pushes, found.weakest, strict=True):
        assert {ref: mpa * 0.8 for ref, mpa in full.pressures_mpa.items()} == pytest.approx(dict(weak.pressures_mpa))
    assert found.weakest_stop is not None
    assert found.stop is not None
    assert found.weakest_stop.asked_g == pytest.approx(0.8 * found.stop.asked_g)


def test_push_for_a_deceleration_reaches_it(tmp_path: Path) -> None:
    """At the push that is told for 0.3 g the car reaches 0.3 g; what the tyres cannot hold has none."""
    found = bar(tmp_path)
    feet = dict(found.feet)
    foot = feet[0.3]
    assert foot is not None
    again = answer(assemble(load(tmp_path / "build.yaml")), foot).stop
    assert again is not None
    assert again.reached_g == pytest.approx(0.3)
    slippery = bar(tmp_path, RULED.replace("tyre_friction: 0.9", "tyre_friction: 0.5"))
    assert dict(slippery.feet)[0.6] is None


def test_figures_and_gaps_stand_once(tmp_path: Path) -> None:
    """However many parts of the answer rest on a figure or lack a field, it is told once."""
    found = bar(tmp_path)
    assert len(set(found.figures)) == len(found.figures)
    assert len(set(found.gaps)) == len(found.gaps)
    assert [one.key for one in found.figures if one.key == "pedal.share_left"] == ["pedal.share_left"] * 2
    assert Gap("pedal", "pedal.bar") in found.gaps
    assert Gap("clutch", "clutch.needs_force") in found.gaps


@pytest.mark.parametrize(
    ("text", "gap"),
    [
        (plumbed.TRAILER.replace("force: 400 N, ", ""), Gap("pedal", "pedal.force")),
        (plumbed.TRAILER.replace("ratio: 5, ", ""), Gap("pedal", "pedal.ratio")),
        (plumbed.TRAILER.replace("travel: 150 mm, ", ""), Gap("pedal", "pedal.travel")),
        (plumbed.TRAILER, Gap("brake", "brakes.brake.friction")),
        (plumbed.TRAILER + "car: {mass: 500 kg}\n", Gap("car", "car.rules")),
        (plumbed.CLUTCH, Gap("pedal", "a master cylinder that feeds a brake")),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, text: str, gap: Gap) -> None:
    """Each field that is left out is a gap, and nothing is computed in its place."""
    assert gap in trailer(tmp_path, text).gaps


def test_without_a_push_there_is_no_pressure(tmp_path: Path) -> None:
    """Nothing is computed for a push that nobody states."""
    found = trailer(tmp_path, plumbed.TRAILER.replace("force: 400 N, ", ""))
    assert (found.pushes, found.strokes, found.corners, found.stop, dict(found.curves)) == ((), (), (), None, {})


def test_units_follow_the_user(tmp_path: Path) -> None:
    """Pounds on the pedal bring psi, newtons MPa; lengths follow `coordinates`."""
    assert trailer(tmp_path).units == Units("mm", "400 N", "1 MPa")
    pounds = plumbed.TRAILER.replace("400 N", "90 lbf").replace("build: 1", "build: 1\ncoordinates: in")
    assert trailer(tmp_path, pounds).units == Units("in", "90 lbf", "1 psi")
    assert trailer(tmp_path, foot_n=parse("80 lbf", "force")).units == Units("mm", "80 lbf", "1 psi")


def test_hose_and_line_by_themselves(tmp_path: Path) -> None:
    """The run of line and the hose of the trailer are told with length and take, and what a hard line would save."""
    found = trailer(tmp_path)
    line, hose = runs(found)
    assert [(run.tag, run.hose, run.length_mm) for run in (line, hose)] == [
        ("run", False, 2000.0),
        ("hose", True, 300.0),
    ]
    takes = {tag: sum(t.mm3 for t in found.strokes[0].takes if t.tag == tag) for tag in ("run", "hose")}
    assert (line.mm3, hose.mm3) == (pytest.approx(takes["run"]), pytest.approx(takes["hose"]))
    (one,) = saved(found)
    assert one.saves_mm3 == pytest.approx(hose.mm3 - line.mm3 * 300.0 / 2000.0)
    assert one.stroke_mm == pytest.approx(one.saves_mm3 / (3.141592653589793 * 100.0))
    assert one.foot_mm == pytest.approx(5.0 * one.saves_mm3 / (3.141592653589793 * 100.0))
    assert not one.at_most


def test_a_saving_by_a_limit_is_at_most(tmp_path: Path) -> None:
    """A hose without its maker's figures may swell as far as its limit: the saving is worked out from that."""
    catalog = plumbed.CATALOG.replace("    expansion: [{at: 70 bar, swelling: 0.5 cm3/m}]\n", "")
    (one,) = saved(answer(graph_of(tmp_path, plumbed.TRAILER, catalog)))
    assert one.at_most
    assert one.most_mm3 > one.hoses_mm3
    assert one.saves_mm3 == pytest.approx(one.most_mm3 - one.lines_mm3 * 300.0 / 2000.0)


def test_an_answer_against_itself(tmp_path: Path) -> None:
    """Nothing differs between an answer and itself, and every row has both sides."""
    found = bar(tmp_path)
    assert changed(found, found).rows == ()
    assert all(row.before == row.after for row in compare(found, found))


def test_a_larger_master_cylinder(tmp_path: Path) -> None:
    """A larger bore in front lowers its pressure and its stroke; the rear's pressure stays, and is not told."""
    before = bar(tmp_path)
    text = (
        (tmp_path / "build.yaml")
        .read_text(encoding="utf-8")
        .replace("mc_front: {part: pump-16}", "mc_front: {part: pump-19}")
    )
    after = answer(graph_of(tmp_path, text, house.CATALOG))
    rows = {(row.what, row.at): row for row in changed(before, after).rows}
    pressure = rows["pressure", "mc_front.out"]
    assert isinstance(pressure.before, float)
    assert pressure.after == pytest.approx(pressure.before * (16.0 / 19.0) ** 2)
    assert ("pressure", "mc_rear.out") not in rows


def test_one_side_knows_nothing(tmp_path: Path) -> None:
    """What only one of two answers knows stands beside None."""
    before = trailer(tmp_path)
    after = trailer(tmp_path, plumbed.TRAILER.replace("ratio: 5, ", ""))
    rows = changed(before, after).rows
    assert rows[0].what == "pressure"
    assert all(row.after is None for row in rows)
    assert compare(after, after) == ()


def test_outlets_of_one_name_are_told_apart(tmp_path: Path) -> None:
    """Two outlets that press into one named circuit keep their ports in their names."""
    found = trailer(tmp_path)
    twice = found._replace(outlets=(found.outlets[0]._replace(circuits=("a",)),) * 1)
    assert twice.names == {"mc.out": "a"}
    other = twice.outlets[0]._replace(ref="mc2.out")
    assert found._replace(outlets=(*twice.outlets, other)).names == {"mc.out": "a (mc.out)", "mc2.out": "a (mc2.out)"}


def test_whether_a_build_says_anything_of_a_pedal(tmp_path: Path) -> None:
    """A brake pedal or a clutch pedal is enough; a build with neither has nothing to compare."""
    told = [graph_of(tmp_path, text).build.file for text in (plumbed.TRAILER, plumbed.CLUTCH)]
    bare = plumbed.TRAILER[: plumbed.TRAILER.index("pedal:")]
    assert [has_pedal(file) for file in (*told, graph_of(tmp_path, bare).build.file)] == [True, True, False]


def test_a_part_that_no_catalog_has_is_named_first(tmp_path: Path) -> None:
    """Where a brake's part has a slip in its id, the answer says so before what is missing only for that."""
    text = (
        "build: 1\ncomponents: {mc: {part: mc-m10x1-bubble}, brake: {part: calliper-x}}\n"
        "lines: {run: {from: mc.outlet, to: brake.inlet, tube: tube-3-16-cuni, length: 900 mm}}\n"
        "pedal: {force: 400 N, ratio: 5}\n"
    )
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    found = answer(assemble(load(tmp_path)))
    assert found.gaps[0] == Gap("brake", "parts.calliper-x")

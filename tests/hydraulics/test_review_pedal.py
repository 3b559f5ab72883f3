"""What a hostile reading of the pedals found: rules met on the floor, who is pushed by what, pistons nobody counted."""

from math import isclose, pi
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.stroke_words import released
from fitcheck.hydraulics.answer import answer
from fitcheck.hydraulics.contribution import knocked
from fitcheck.hydraulics.record import Answer, Clutch, Failure, Gap
from fitcheck.measures import Units
from fitcheck.remedies.proof import working_pressure
from fitcheck.reports.pedal_concerns import concerns
from fitcheck.reports.pedal_text import pedal_text
from tests.hydraulics import house
from tests.hydraulics.house import BAR_BRAKES, CAR, CATALOG, DRIVEN, PEDAL, TANDEM_BRAKES

RULED = DRIVEN.replace("tyre_friction: 0.9}", "tyre_friction: 0.9, rules: [ece-r13h]}")
MOUNTED = """\
  box:
    kind: pedal box
    ports: {rod: {thread: M8x1.25, gender: external, reach: 40 mm}}
"""
ROD = "      rod: {thread: M8x1.25, gender: internal, reach: 40 mm}\n"


def bar(folder: Path, rest: str = RULED, **parts: str) -> Answer:
    """Return the answer for the car with a bar, each of its lines 900 mm long."""
    text = house.BAR.replace("DISC", parts.get("disc", "disc-fixed")).replace("VALVE", "holder")
    text = text.replace("FRONT", "pump-16").replace("REAR", "pump-19").replace("-cuni}", "-cuni, length: 900 mm}")
    house.read(folder, text + rest)
    return answer(assemble(load(folder)))


def tandem(folder: Path, rest: str, split: str = "axles") -> Answer:
    """Return the answer for the car with a tandem cylinder."""
    house.tandem_car(folder, rest, split=split)
    return answer(assemble(load(folder)))


def lost(found: Answer, ref: str) -> Failure:
    """Return the failure of one outlet."""
    return next(one for one in found.failures if one.lost == ref)


def words(found: Answer) -> list[str]:
    """Return what is told to look at."""
    return [f"{each.level}: {each.words}" for each in concerns(found)]


def test_no_rule_is_met_on_the_floor(tmp_path: Path) -> None:
    """What is left with the rear lost would do, but 60 mm of pedal are used up before: not met, and it says why."""
    found = bar(tmp_path, RULED.replace("ratio: 5,", "ratio: 5, travel: 60 mm,"))
    asked = lost(found, "mc_rear.out").against[0]
    assert asked.reached_g is not None
    assert asked.reached_g > asked.required_g
    assert (asked.met, asked.travel_left) == (False, False)
    assert (
        "error: mc_rear.out lost: ece-r13h, Annex 3, 2.2 (one circuit lost), asks 0.25 g at 500 N: 0.55 g, but pedal or"
        " piston comes to its end before, not met"
    ) in words(found)


def test_a_rule_is_judged_where_it_is_reached(tmp_path: Path) -> None:
    """A clause allows up to 500 N: where less reaches what it asks before the floor, it is met."""
    for travel, met in (("90 mm", True), ("80 mm", False)):
        found = bar(tmp_path, RULED.replace("ratio: 5,", f"ratio: 5, free_play: 0 mm, travel: {travel},"))
        failure = lost(found, "mc_rear.out")
        assert failure.travel_left is False  # at the stated 400 N
        assert failure.against[0].met is met


def test_a_rule_met_by_an_ideal_pedal_alone_is_told(tmp_path: Path) -> None:
    """With the most friction that is assumed too little is left: a warning; a stated efficiency leaves no doubt."""
    found = bar(tmp_path, RULED.replace("ratio: 5,", "ratio: 4.5,"))
    asked = found.service[0]
    assert asked.reached_g is not None
    assert asked.least_g is not None
    assert asked.least_g < asked.required_g < asked.reached_g
    told = "asks 0.66 g at 500 N: 0.76 g, met; 0.64 g, not met with the most friction that is assumed in the pedal"
    assert any(each.startswith("warning: ece-r13h, Annex 3, 2.1.1") and told in each for each in words(found))
    sure = bar(tmp_path, RULED.replace("ratio: 5,", "ratio: 4.5, efficiency: 1,"))
    assert sure.service[0].least_g == sure.service[0].reached_g
    assert not any("most friction" in each and "2.1.1" in each for each in words(sure))


def test_a_failure_near_the_floor_is_doubted(tmp_path: Path) -> None:
    """The foot stays off the floor at the usual figures, not at the worst of them: a warning."""
    for travel, doubtful in (("150 mm", False), ("110 mm", True)):
        found = bar(tmp_path, RULED.replace("ratio: 5,", f"ratio: 5, travel: {travel},"))
        failure = lost(found, "mc_front.out")
        assert (failure.travel_left, failure.doubtful) == (True, doubtful)
    told = "may come to its end before the rest brakes as told, by what is assumed"
    assert f"warning: mc_front.out lost: pedal or piston {told}" in words(found)


def test_a_way_that_is_not_all_known_is_not_called_enough(tmp_path: Path) -> None:
    """Where a line has no length the foot goes further than told: neither off the floor nor on it."""
    house.bar_car(tmp_path, RULED.replace("ratio: 5,", "ratio: 5, travel: 300 mm,"))
    found = answer(assemble(load(tmp_path)))
    assert [(one.travel_left, one.complete) for one in found.failures] == [(None, False)] * 2
    assert "the foot goes more than" in " ".join(pedal_text(found).split())


def test_the_piston_that_is_left_may_come_to_its_end(tmp_path: Path) -> None:
    """With all of the push on what is left its piston wants more than its stroke: that is no braking left."""
    huge = RULED.replace("400 N", "40 kN").replace("balance: 0.6", "balance: 0.6, travel: 900 mm, share_left: 1")
    assert lost(bar(tmp_path, huge), "mc_rear.out").travel_left is False


def test_a_stop_beyond_the_stroke_says_so(tmp_path: Path) -> None:
    """Deceleration is told as if there were way enough, and says that there is not."""
    found = bar(tmp_path, RULED.replace("ratio: 5,", "ratio: 5, travel: 20 mm,"))
    said = "as if pedal and pistons had way enough, which they have not: see LOOK AT"
    assert said in pedal_text(found)
    assert said not in pedal_text(bar(tmp_path))


def test_a_balance_without_a_bar_is_told(tmp_path: Path) -> None:
    """A tandem cylinder gets all of the push whatever `balance` says; that it is not used is said."""
    found = tandem(tmp_path, PEDAL + TANDEM_BRAKES + CAR)
    assert set(found.pushes[0].forces_n.values()) == {2000.0}
    assert Gap("pedal", "a second master cylinder for pedal.balance or pedal.bar to share with") in found.gaps


DIAGONAL = house.BAR.replace("VALVE", "holder").replace("DISC", "disc-fixed").replace("FRONT", "pump-16")
DIAGONAL = DIAGONAL.replace("REAR", "pump-19").replace("to: disc_r.in", "to: drum_x.in")
DIAGONAL = DIAGONAL.replace("to: drum_r.in", "to: disc_r.in").replace("drum_x", "drum_r")


def test_two_cylinders_on_diagonals(tmp_path: Path) -> None:
    """Each feeds both axles: neither is the front one, which is told as that; an even bar needs none."""
    found = house.read(tmp_path, DIAGONAL + DRIVEN)
    assert [gap for gap in found.outlets.gaps if gap.at == "pedal"] == [
        Gap(
            "pedal",
            "circuits called front and rear, to say which of mc_front and mc_rear is the front master cylinder",
        )
    ]
    even = house.read(tmp_path, DIAGONAL + DRIVEN.replace("balance: 0.6", "balance: 0.5"))
    assert [one.share for one in even.outlets.of("brake")] == [0.5, 0.5]
    assert even.stop(400.0) is not None


HAND = """\
components:
  pedals: {part: box}
  hand: {part: pump-16}
  hl: {part: disc-fixed}
"""


def by_hand(folder: Path, joints: str) -> Answer:
    """Return the answer for a tandem car with a hand lever's own cylinder and caliper beside it."""
    catalog = CATALOG.replace("  tandem-20:\n    kind: master cylinder\n    ports:\n", "  tandem-20:\n    kind: master"
                              " cylinder\n    ports:\n" + ROD) + MOUNTED  # fmt: skip
    text = house.TANDEM.replace("DISC", "disc-fixed")
    for name, end in zip(("ONE_B", "ONE_C", "TWO_B", "TWO_C"), ("fl.in", "fr.in", "rl.in", "rr.in"), strict=True):
        text = text.replace(name, end)
    text = text.replace("components:\n", HAND).replace(
        "lines:\n", "lines:\n  h: {from: hand.out, to: hl.in, tube: tube-3-16-cuni}\n"
    )
    house.read(folder, text + "pedal: {force: 400 N, ratio: 5}\n" + TANDEM_BRAKES + CAR + joints, catalog)
    return answer(assemble(load(folder)))


def test_what_the_pedal_does_not_push_takes_no_share(tmp_path: Path) -> None:
    """The pedal's rod is joined to the tandem: the hand lever's cylinder gets nothing and brakes nothing, told so."""
    found = by_hand(tmp_path, "joints:\n  - [pedals.rod, mc.rod]\n")
    assert {one.ref: one.drives for one in found.outlets} == {"mc.one": "brake", "mc.two": "brake", "hand.out": None}
    assert set(found.pushes[0].forces_n.items()) == {("mc", 2000.0)}
    assert [one.tag for one in found.corners] == ["fl", "fr", "rl", "rr"]
    assert found.stop is not None
    missing = "a joint of the pedal with the pushrod of hand: without one it is not pressed"
    assert Gap("hand.out", missing) in found.gaps
    silent = by_hand(tmp_path, "")
    assert silent.stop is None  # nobody says which of them the pedal pushes
    missing = "pedal.balance or pedal.bar, or a joint of the pedal with the one pushrod that it pushes"
    assert Gap("pedal", missing) in silent.gaps


def test_a_wheel_cylinder_by_its_bore_has_two_pistons(tmp_path: Path) -> None:
    """Pressure, clamp and stroke rest on the same pistons: two of the bore, perhaps one, and told as an assumption."""
    found = bar(tmp_path, DRIVEN)
    assert not [gap for gap in found.gaps if gap.missing.endswith("drum-20.pistons")]
    figure = next(one for one in found.figures if one.key == "parts.drum-20.pistons")
    assert (figure.value, figure.low, figure.high, figure.known) == (2.0, 1.0, 2.0, "assumed")
    rear = next(one for one in found.strokes if one.outlet == "mc_rear.out")
    gap = next(take for take in rear.takes if take.tag == "drum_l" and take.cause == "gap")
    area = pi / 4 * 20**2
    expected = (2 * area * 0.5, area * 0.2, 2 * area * 1.0)
    assert [gap.mm3, gap.low_mm3, gap.high_mm3] == pytest.approx(list(expected))


def test_half_of_a_caliper_on_each_circuit_is_a_figure(tmp_path: Path) -> None:
    """A caliper that two circuits feed is shared evenly between them, from one of its four pistons up to three."""
    found = tandem(tmp_path, "pedal: {force: 400 N, ratio: 5}\n" + TANDEM_BRAKES + CAR, split="twice")
    figure = next(one for one in found.figures if one.key == "part of the pistons of fl")
    assert (figure.value, figure.low, figure.high, figure.known) == (0.5, 0.25, 0.75, "assumed")
    gaps = [take for one in found.strokes for take in one.takes if take.tag == "fl" and take.cause == "gap"]
    assert sum(take.mm3 for take in gaps) == pytest.approx(4 * pi / 4 * 40**2 * 0.1)
    assert gaps[0].high_mm3 == pytest.approx(0.75 * 4 * pi / 4 * 40**2 * 0.3)


def test_a_clutch_that_friction_holds_is_warned_of() -> None:
    """Enough by an ideal pedal and too little by the most friction that is assumed: a warning with both figures."""
    clutch = Clutch("slave", 1180.0, 12.6, 950.0, 10.0, (12.0, 12.6), least_n=944.0)
    least = "down to 944 N with the most friction that is assumed in the pedal"
    assert released(clutch, Units()) == ("warning", f"slave pushes with 1180 N, {least}; the clutch needs 950 N")
    assert released(clutch._replace(least_n=950.0), Units()) is None
    both = released(clutch._replace(spread_mm=(9.0, 12.6)), Units())
    assert both is not None
    assert both[1] == (
        "slave travels 12.6 mm, down to 9.0 mm by what is assumed; the clutch needs 10.0 mm;"
        f" slave pushes with 1180 N, {least}; the clutch needs 950 N"
    )


@pytest.mark.parametrize(
    ("pedal", "expected"),
    [(PEDAL, 1200 / (pi / 4 * 16**2)), (PEDAL.replace("0.6", "0.6, share_left: 0.9"), 1800 / (pi / 4 * 16**2)),
     (PEDAL.replace("400 N", "40 N"), 600 / (pi / 4 * 16**2))],
)  # fmt: skip
def test_remedies_are_held_against_what_the_pedals_make(tmp_path: Path, pedal: str, expected: float) -> None:
    """The greater share on the smaller bore, more with a circuit lost if the build says so, or the clutch's."""
    house.bar_car(tmp_path, pedal + BAR_BRAKES)
    assert isclose(working_pressure(assemble(load(tmp_path))), expected, rel_tol=1e-12)


def test_a_tandem_gets_all_of_the_push_in_remedies_too(tmp_path: Path) -> None:
    """A stated balance does not halve the push on a tandem cylinder."""
    house.tandem_car(tmp_path, PEDAL + TANDEM_BRAKES)
    assert isclose(working_pressure(assemble(load(tmp_path))), 2000 / (pi / 4 * 20**2), rel_tol=1e-12)


def test_knock_back_that_nobody_states_is_told_beside(tmp_path: Path) -> None:
    """0.5 mm at the calipers' two pistons each, through ratio and bar: 5 x 0.6 x 4 x 1257 x 0.5 / 201 = 37.5 mm."""
    found = bar(tmp_path, DRIVEN)
    back = knocked(found)
    assert back is not None
    area = pi / 4 * 40**2
    assert back.foot_mm == pytest.approx(5 * 0.6 * 4 * area * 0.5 / (pi / 4 * 16**2))
    told = "0.5 mm of knock-back at every caliper, which is not counted, would add 37.5 mm (from memory: 0.2 to 0.5 mm"
    assert told in " ".join(pedal_text(found).split())
    stated = DRIVEN.replace("friction: 0.4,", "friction: 0.4, knock_back: 0 mm,")
    assert knocked(bar(tmp_path, stated)) is None


def test_a_cylinder_of_no_size_is_asked_for_one_field(tmp_path: Path) -> None:
    """Clamp and stroke ask for the same field of a wheel cylinder: its pistons."""
    catalog = CATALOG.replace("  drum-20:\n", "  drum-bare:\n").replace("bore: 20 mm\n  slave", "note: bare\n  slave")
    text = house.BAR.replace("DISC", "disc-fixed").replace("VALVE", "holder").replace("drum-20", "drum-bare")
    house.read(tmp_path, text.replace("FRONT", "pump-16").replace("REAR", "pump-19") + DRIVEN, catalog)
    found = answer(assemble(load(tmp_path)))
    assert {gap.missing for gap in found.gaps if gap.missing.startswith("parts.drum-bare")} == {
        "parts.drum-bare.pistons"
    }

"""Nuts, things that ride and formed ends that have to pass something and cannot."""

from pathlib import Path

import pytest

from tests.checks.place.bench import CUNI, car, found, missing, report_of, said

RULE = "fixing-trapped"
ROUTE = "route: [{at: [200, 0, 0], through: wall}, {at: [400, 0, 0], bend: 20 mm}]"
BOTH = "ends: {from: {formed: true%s}, to: {formed: true%s}}"
GRIP = "tools: {flaring: {grip: 25 mm}}\n"
BLOCK = "{hole: 7 mm, thickness: 20 mm, grommet: grommet-3-16}"
Z = "route: [{at: [40, 0, 0], bend: 15 mm}, {at: [40, 100, 0], through: wall}, {at: [40, 200, 0], bend: 15 mm}]"


def wall(hole: str = "hole: 12 mm, grommet: grommet-3-16", more: str = "") -> str:
    """Return a panel section with one hole, and other sections."""
    return f"panels: {{wall: {{thickness: 1.5 mm, {hole}}}}}\n{more}"


def both(across: str = "") -> str:
    """Return a line that was bought with both ends formed."""
    measured = f", across: {across}" if across else ""
    return f"{CUNI}, {ROUTE}, {BOTH % (measured, measured)}"


def trapped(text: str) -> list[tuple[str, str]]:
    """Return level and message of what the rule says, whatever others say."""
    return [(one.level, one.message) for one in report_of(text).findings if one.rule == RULE]


def test_a_ready_made_line_that_does_not_pass() -> None:
    """Measured nuts larger than the hole are an error; the place is the formed end, the witness names each way out."""
    (finding,) = found(car(both("12.8 mm"), wall()), RULE)
    assert (finding.level, finding.at) == ("error", ("run.to", "wall"))
    assert finding.message == (
        "nut-3-8-24-inverted of run.to is 12.8 mm across, wall is 12 mm, and both ends are formed"
    )
    assert finding.evidence["in_the_way"] == [
        ["lines.run.ends.from.formed"],
        ["lines.run.ends.to.formed"],
        ["panels.wall.hole"],
    ]
    assert (finding.place.line, finding.evidence["across_mm"]) == (10, {"run.from": 12.8, "run.to": 12.8})


def test_each_way_out_is_one() -> None:
    """Each thing named as in the way, taken away by itself, lets the line go together."""
    text = car(both("12.8 mm"), wall())
    assert trapped(text.replace("from: {formed: true,", "from: {formed: false,")) == []
    assert trapped(text.replace("to: {formed: true,", "to: {formed: false,")) == []
    wide = text.replace("hole: 12 mm", "hole: 13 mm")
    assert [level for level, _ in trapped(wide)] == ["warning"]  # the grommet, told below


def test_a_usual_size_is_a_warning() -> None:
    """A nut of which nobody has said how large it is stops nothing for certain."""
    message = (
        "nut-3-8-24-inverted of run.to is 12.8 mm across, wall is 12 mm, and both ends are formed, by the usual figures"
    )
    assert said(car(both(), wall()), RULE) == [("warning", message, ("run.to", "wall"))]


def test_a_thread_is_no_smaller_than_its_core() -> None:
    """A hole that not even the nut's thread goes into is certain."""
    assert trapped(car(both(), wall("hole: 8 mm"))) == [
        ("error", "nut-3-8-24-inverted of run.to is at least 8.6 mm across, wall is 8 mm, and both ends are formed")
    ]


def test_a_grommet_over_formed_ends_is_slit() -> None:
    """Where the ends pass, the grommet still does not go over them whole."""
    message = "grommet-3-16 of wall goes onto run only if it is slit: both ends are formed"
    assert said(car(both("11 mm"), wall()), RULE) == [("warning", message, ("run", "wall"))]
    assert said(car(f"{CUNI}, {ROUTE}, ends: {{from: {{formed: true}}}}", wall()), RULE) == []


def test_a_hole_of_unknown_size_is_asked_for() -> None:
    """What would decide is named, and nothing is passed in silence."""
    open_hole = wall("grommet: grommet-3-16")
    assert missing(car(both("12.8 mm"), open_hole), RULE) == [(("run",), "panels.wall.hole")]
    assert trapped(car(f"{CUNI}, {ROUTE}", open_hole)) == []
    assert missing(car(f"{CUNI}, {ROUTE}", open_hole), RULE) == []


def test_a_nut_of_unknown_size_is_asked_for() -> None:
    """Where tables have no hexagon, the measured size is missing."""
    odd = car(both(), wall()).replace("{formed: true}", "{formed: true, nut: nut-m12x1-25-inverted-for-3-16}")
    assert "lines.run.ends.from.across" in [field for _, field in missing(odd, RULE)]


def test_things_that_ride_need_a_bare_end() -> None:
    """Nothing goes on over two formed ends, hole or none; over one bare end it does."""
    text = car(f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}], slides: [grommet-3-16], {BOTH % ('', '')}")
    message = "grommet-3-16 cannot go onto run: both its ends are formed"
    (finding,) = found(text, RULE)
    assert (finding.level, finding.message, finding.at) == ("error", message, ("run",))
    assert trapped(text.replace("to: {formed: true}", "to: {}")) == []


@pytest.mark.parametrize(("part", "reason"), [
    ("grommet-3-61", "no catalog has a part 'grommet-3-61'; nearest is grommet-3-16"),
    ("union-3-16-inverted", "union-3-16-inverted is a union, not a thing that slides onto a tube"),
])  # fmt: skip
def test_things_that_do_not_ride(part: str, reason: str) -> None:
    """What rides is looked up like every part, and has to be of a kind that can."""
    text = car(f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}], slides: [{part}]")
    assert [one.message for one in found(text, "part-unknown")] == [reason]


def test_no_room_for_the_tool_in_the_car() -> None:
    """A stated grip that neither end has room for is an error, a usual one a warning."""
    text = car(f"{CUNI}, {Z}", wall("hole: 8 mm", GRIP), end="[80, 200, 0]")
    assert trapped(text) == [
        (
            "error",
            "run.from has to be formed in the car, as wall is 8 mm: behind its nut there are 15.5 mm of straight, the"
            " flaring tool needs 25 mm",
        )
    ]
    usual = trapped(text.replace(GRIP, ""))
    assert [level for level, _ in usual] == ["warning"]
    assert usual[0][1].endswith(
        "behind its nut there are 5.9 mm of straight, the flaring tool needs 25 mm, by the usual figures"
    )


def test_a_bend_in_a_thick_panel() -> None:
    """Bends on both sides of a thick block: neither goes through its hole."""
    text = car(f"{CUNI}, {Z}", f"panels: {{wall: {BLOCK}}}\n", end="[150, 200, 0]")
    ((level, message),) = trapped(text)
    assert level == "error"
    assert message == "a bend of run needs a hole of 9.5 mm in 20 mm of panel, wall is 7 mm"
    assert trapped(text.replace("hole: 7 mm", "hole: 9.6 mm")) == []


@pytest.mark.parametrize(("inside", "length", "goes"), [(5, 100, True), (5, 390, False), (193, 390, True)])
def test_a_stiff_thing_needs_a_straight(inside: int, length: int, goes: bool, tmp_path: Path) -> None:
    """A thing that rides lies on one straight, or is wide enough to slide past the bend; else it is in the way."""
    part = f"{{kind: clip, description: Long clip, inside: {inside} mm, length: {length} mm}}"
    (tmp_path / "house.yaml").write_text(f"catalog: 1\nparts:\n  long-clip: {part}\n", encoding="utf-8")
    route = "route: [{at: [400, 0, 0], bend: 20 mm}]"
    text = car(f"{CUNI}, {route}, slides: [long-clip]", "catalogs: [house.yaml]\n")
    messages = [one.message for one in report_of(text, tmp_path).findings if one.rule == RULE]
    stuck = "long-clip slides past no bend of run and is longer than its straights, of 380 mm"
    assert messages == ([] if goes else [stuck])


def test_a_line_that_passes_nothing_is_looked_at() -> None:
    """Every line with a tube is looked at once, and a length alone is enough for that."""
    report = report_of(car(f"{CUNI}, length: 600 mm"))
    assert report.checked[RULE] == 1

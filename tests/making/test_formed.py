"""Lines that are half made or ready made, and things that ride on the tube; sheets and rule agree."""

from hypothesis import given
from hypothesis import strategies as st

from fitcheck.bom.lengths import line_length
from fitcheck.checks.run import check
from fitcheck.making.make import sheet
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_words import concern_text, fault_text
from tests.making.benches import SAME_EVERY_TIME, made, one_line
from tests.making.test_sheets import WALL, Z, acts

END = "[320, 200, 0]"
TRIM = "tools: {trim: 4 mm, flaring: {grip: 25 mm}, benders: {lever: {radius: 15 mm, clamp: 20 mm, offset: 0 mm}}}"


def formed(*ends):
    """Return what a line states whose ends are formed."""
    stated = {"from": "{}", "to": "{}"} | dict.fromkeys(ends, "{formed: true}")
    return f", ends: {{from: {stated['from']}, to: {stated['to']}}}"


def told(one, act):
    """Return the steps of one kind in words."""
    return [step_text(one, step, "mm") for step in one.steps if step.act == act]


def test_a_half_made_line_is_measured_from_its_finished_end():
    """The formed end is end A: nothing is squared, slid on or flared there, and the cut is measured from its face."""
    one = made(Z, line=formed("to"), tools=TRIM)
    assert (one.ends[0].name, one.ends[0].formed, one.ends[0].allowance_mm) == ("to", True, 0.0)
    assert acts(one) == ["cut", "mark A", "bend 1", "turn 2", "bend 2", "trim B 2", "slide B", "flare B", "check"]
    assert one.cut_mm == one.run_mm + 3.0 + 4.0
    assert told(one, "cut") == [
        "End A is formed already. Cut the tube to 494 mm from its face (finished 487 mm, used up by the flare 3 mm,"
        " trimmed off end B 4 mm)."
    ]


def test_a_ready_made_line_is_only_bent():
    """With both ends formed there is nothing to cut: what length it has to have is said instead."""
    one = made(Z, line=formed("from", "to"))
    assert one.flare_b == "ready"
    assert acts(one) == ["measure", "mark A", "bend 1", "turn 2", "bend 2", "check"]
    assert told(one, "measure") == [
        "Both ends are formed already: nothing can be cut. Straight, it has to be 487 mm long from face to face."
    ]


def test_the_bare_end_goes_through():
    """The end that is formed already stays on its side; the other goes through bare and is formed in the car."""
    panel = "panels: {wall: {hole: 10 mm, grommet: grommet-3-16}}"
    for name, bare in (("from", "to"), ("to", "from")):
        one = made(WALL, end=END, more=panel, line=formed(name))
        assert [end.name for end in one.ends] == [name, bare]
        assert acts(one)[-5:] == ["check", "guard", "pass B", "slide B", "flare B"]


def test_ready_made_ends_through_a_hole_that_lets_them():
    """A finished end goes through with its nut; its grommet has to be slit, and doubts of size are told."""
    panel = "panels: {wall: {hole: 12 mm, grommet: grommet-3-16}}"
    one = made(WALL, end=END, more=panel, line=formed("from", "to"))
    assert acts(one)[-3:] == ["check", "pass A", "guard"]
    assert [concern_text(concern, "mm") for concern in one.concerns][-3:] == [
        "Both ends are formed: grommet-3-16 of wall goes on only if it is slit.",
        "Offer run.from, nut and all, to the hole first: the build does not say whether it passes.",
        "By its usual size nut-3-8-24-inverted of run.from, 12.83 mm across, does not pass wall (12 mm): measure it"
        " first.",
    ]


def test_ready_made_line_that_cannot_go_in():
    """A line that goes together in no order has no steps, and says what is in the way."""
    one = made(WALL, end=END, more="panels: {wall: {hole: 8 mm}}", line=formed("from", "to"))
    assert [fault_text(fault, "mm") for fault in one.faults] == [
        "nut-3-8-24-inverted of run.from is at least 8.57 mm across, the hole wall is 8 mm, and the end is formed"
        " already"
    ]
    rides = made(Z, line=f", slides: [grommet-3-16]{formed('from', 'to')}")
    assert [fault_text(fault, "mm") for fault in rides.faults] == [
        "grommet-3-16 does not go onto run: both its ends are formed already"
    ]


def test_things_that_ride_go_on_first():
    """What rides goes on while the tube is straight, what belongs near the far end before the rest."""
    slides = ", slides: [grommet-3-16, grommet-1-4]"
    first = next(step for step in made(Z, line=slides).steps if step.act == "slide")
    assert [item.part for item in first.items] == ["grommet-1-4", "grommet-3-16", "nut-3-8-24-inverted"]
    half = made(Z, line=slides + formed("to"))
    assert acts(half)[:3] == ["cut", "slide B", "mark A"]
    assert told(half, "slide")[0] == "Slide on from end B: grommet-1-4; then grommet-3-16."
    other = made(Z, line=slides + formed("from"))
    assert told(other, "slide")[0] == "Slide on from end B: grommet-3-16; then grommet-1-4."


def test_each_end_through_its_own_panel():
    """Where bends lie between two thick panels that no bend passes, each end leads through its own."""
    route = "[{at: [60, 0, 0], through: one}, [150, 0, 0], [150, 200, 0], {at: [240, 200, 0], through: two}]"
    panel = "{hole: 14 mm, thickness: 60 mm}"
    one = made(route, more=f"panels: {{one: {panel}, two: {panel}}}")
    passes = [(step.end, [hole.panel for hole in step.holes]) for step in one.steps if step.act == "pass"]
    assert (one.ends[0].name, passes) == ("from", [("A", ["one"]), ("B", ["two"])])


def test_bill_and_sheet_cut_alike():
    """The length on the bill is that of the sheet, formed ends left out of both."""
    for ends in ((), ("from",), ("to",), ("from", "to")):
        graph = one_line(Z, line=formed(*ends), tools=TRIM)
        cut = line_length(graph, graph.fitted["run"], {"run.from": "double-45", "run.to": "double-45"})
        assert cut.mm is not None
        assert abs(cut.mm - (sheet(graph, "run").cut_mm or 0.0)) < 1e-9


HOLES = st.sampled_from(["5 mm", "8 mm", "9 mm", "12 mm", "14 mm", ""])
PLACES = st.sampled_from([30, 45, 60, 150])
ENDS = st.sampled_from(["{}", "{}", "{formed: true}", "{across: 10 mm}", "{formed: true, across: 10 mm}"])


@SAME_EVERY_TIME
@given(
    st.tuples(PLACES, PLACES, PLACES),
    st.tuples(HOLES, HOLES),
    st.tuples(ENDS, ENDS),
    st.sampled_from(["", ", slides: [grommet-3-16]"]),
    st.sampled_from(["1.5 mm", "20 mm"]),
    st.sampled_from(["flaring: {grip: 25 mm}, ", ""]),
)
def test_rule_and_sheet_agree(legs, holes, ends, slides, thick, grip):
    """What the rule calls trapped at level error has no sheet, and what it does not is refused for no such reason."""
    first, middle, last = legs
    route = (
        f"[[{first}, 0, 0], {{at: [{first}, {middle}, 0], through: one}}, [{first}, {2 * middle}, 0],"
        f" {{at: [{first + 60}, {2 * middle}, 0], through: two}}, [{first + 120}, {2 * middle}, 0]]"
    )
    panels = [
        f"{name}: {{thickness: {thick}{f', hole: {hole}' if hole else ''}}}"
        for name, hole in zip(("one", "two"), holes, strict=True)
    ]
    graph = one_line(
        route,
        end=f"[{first + 120}, {2 * middle + last}, 0]",
        more=f"panels: {{{', '.join(panels)}}}",
        line=f", ends: {{from: {ends[0]}, to: {ends[1]}}}{slides}",
        tools=f"tools: {{{grip}benders: {{lever: {{radius: 15 mm, clamp: 20 mm, offset: 0 mm}}}}}}",
    )
    words = {"end-too-large", "thing-off", "thing-long", "no-room-to-flare", "bend-stuck"}
    faults = {fault.word for fault in sheet(graph, "run").faults}
    trapped = [one for one in check(graph.build).findings if one.rule == "fixing-trapped" and one.level == "error"]
    if not faults - words:
        assert bool(faults & words) is bool(trapped)

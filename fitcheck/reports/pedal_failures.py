"""Each circuit lost in turn, what published rules ask, and what the clutch does."""

from collections.abc import Iterator

from fitcheck.hydraulics.record import Answer, Clutch, Failure, Required
from fitcheck.reports.pedal_concerns import clause, nothing_left, too_short, weak
from fitcheck.reports.pedal_words import UNKNOWN, Shown, gravity, heading, outlet_name
from fitcheck.reports.plain import paragraph

NO_APPROVAL = (
    "compared at the push that the clause allows, with what is computed: no type approval, which tests on a road"
)


def failure_lines(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    """Yield what is left with each circuit lost to a leak anywhere in it."""
    if not found.failures:
        return
    yield from heading("ONE CIRCUIT LOST, A LEAK ANYWHERE IN IT", width)
    foot = next(push.foot_n for push in found.pushes if push.drives == "brake")
    for failure in found.failures:
        yield from paragraph(_left(found, failure, foot, shown), width, "  ", "    ")
        for asked in failure.against:
            yield from paragraph(_asked(asked, shown), width, "    ", "      ")
    if any(failure.against for failure in found.failures):
        yield from paragraph(NO_APPROVAL, width, "  ", "    ")


def _left(found: Answer, failure: Failure, foot: float, shown: Shown) -> str:
    lost = outlet_name(found, failure.lost)
    if nothing_left(found, failure):
        return f"{lost}: nothing is left to brake with"
    goes = "travel not known"
    if failure.travel_mm is not None:
        more = "" if failure.complete else "more than "
        goes = f"the foot goes {more}{shown.length(failure.travel_mm)} before the rest makes pressure"
    stays = ", and stays off the floor" + (", but may not by what is assumed" if failure.doubtful else "")
    floor = {True: stays, False: ", and PEDAL OR PISTON COMES TO ITS END", None: ""}[failure.travel_left]
    reached = f"{gravity(failure.reached_g)} left" if failure.reached_g is not None else f"what is left {UNKNOWN}"
    return f"{lost}: {reached} at {shown.force(foot)}; {goes}{floor}"


def _asked(asked: Required, shown: Shown) -> str:
    met = {True: "met", False: "NOT MET", None: UNKNOWN}[asked.met]
    reached = f"{gravity(asked.reached_g)}, " if asked.reached_g is not None else ""
    less = f"; {weak(asked)}" if asked.met and weak(asked) else ""
    return f"{clause(asked, shown)}: {reached}{met}{too_short(asked)}{less} ({asked.source})"


def service_lines(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    """Yield what the rules that the build names ask with nothing lost."""
    if not found.service:
        return
    yield from heading("RULES, NOTHING LOST", width)
    for asked in found.service:
        yield from paragraph(_asked(asked, shown), width, "  ", "    ")


def clutch_lines(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    """Yield what each slave cylinder does with its pedal right down."""
    if not found.clutches:
        return
    yield from heading("CLUTCH, PEDAL RIGHT DOWN", width)
    for clutch in found.clutches:
        yield from paragraph(f"{_slave(clutch, shown)}{_weak(clutch, shown)}", width, "  ", "    ")


def _slave(clutch: Clutch, shown: Shown) -> str:
    travels = shown.length(clutch.travel_mm)
    if clutch.travel_mm is not None and not clutch.complete:
        travels = f"less than {travels}"
    spread = f" ({shown.lengths(clutch.spread_mm)} over all assumptions)" if clutch.spread_mm is not None else ""
    needs = f", needs {shown.length(clutch.needs_travel_mm)}" if clutch.needs_travel_mm is not None else ""
    asks = f", needs {shown.force(clutch.needs_force_n)}" if clutch.needs_force_n is not None else ""
    return f"{clutch.tag}: travels {travels}{spread}{needs}; can push {shown.force(clutch.force_n)}{asks}"


def _weak(clutch: Clutch, shown: Shown) -> str:
    """Return how hard it pushes with the most friction that is assumed in the pedal."""
    if clutch.least_n is None or clutch.least_n == clutch.force_n:
        return ""
    return f"; {shown.force(clutch.least_n)} with the most friction that is assumed in the pedal"

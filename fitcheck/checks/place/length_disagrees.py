"""`length-disagrees`: what was measured along a line does not go with where it runs.

What it finds
-------------
A line with both `length` and `route` whose two lengths differ by more than 5 mm and by more than 2 % (warning). And a
`length` that is shorter than the straight way between the line's ends: an error where the places of both ends are
stated to the face (by `ends`, or by a component's `at` and its port's `offset`), else a warning. And a `route` in
words, with a heading, whose far end comes out more than 5 mm and more than 2 % of its length from where the build has
it (warning); 25 mm more are allowed for each end that is not stated to the face. Any other line without `length` has
nothing to disagree.

Why it matters
--------------
The tube is cut and bent to the `route`. If the `length` that was measured differs, one of the two is wrong, and the
last bend or the second flare shows which.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[300, 0, 0]], length: 520 mm}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[300, 0, 0]], length: 495 mm}

Source
------
5 mm and 2 %: common practice, no source; so near can one measure with welding wire, and 2 % is a heading wrong by 1.1
degrees. 25 mm: from the middle of a fitting to its face, common practice, no source. That no tube is shorter than the
straight way: geometry.
"""

from collections.abc import Iterator
from math import dist

from fitcheck.build.model import RouteWords
from fitcheck.build.positions import end_position
from fitcheck.build.routes import developed_length
from fitcheck.build.runs import Run, missing_places
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.measures import fine

RULE = "length-disagrees"
ALLOWED_MM = 5.0
ALLOWED_SHARE = 0.02
"""Both must be passed. Common practice, no source."""
FITTING_MM = 25.0
"""From where a part is said to be to the face of its port, where nobody has said. Common practice, no source."""
ROUNDING_MM = 0.5
"""A length in whole mm may be so much short of the straight way."""
_SOURCE = "common practice, no source"


def find(context: Context) -> Iterator[Said]:
    """Yield every line whose stated length is not that of its route, or less than the straight way."""
    for run in context.runs.values():
        stated = context.file.lines[run.tag].length
        if stated is not None:
            yield from _of_line(context, run, float(stated))
        if isinstance(context.file.lines[run.tag].route, RouteWords) and run.fault is None:
            yield from _of_words(context, run)


def _of_line(context: Context, run: Run, stated: float) -> Iterator[Said]:
    places = missing_places(context.graph, run.tag)
    short = None if places else _shorter_than_straight(context, run, stated)
    if short is None and run.fault is not None:
        yield Unchecked(RULE, (run.tag,), f"lines.{run.tag}.route")
    elif run.route is None and places:
        yield from (Unchecked(RULE, (run.tag,), field) for field in places)
    else:
        yield Looked()
        if short is not None:
            yield short
        elif run.route is not None:
            yield from _against_route(context, run, stated, developed_length(run.route))


def _shorter_than_straight(context: Context, run: Run, stated: float) -> Finding | None:
    """Return the finding, or None if the length is no shorter than the straight way."""
    refs = (f"{run.tag}.from", f"{run.tag}.to")
    first, last = (end_position(context.graph, ref) for ref in refs)
    assert first is not None  # both places are known, the caller has looked
    assert last is not None
    straight = dist(first, last)
    if stated >= straight - ROUNDING_MM:
        return None
    unit = context.unit
    message = f"{run.tag} is said to be {fine(stated, unit)} long, its ends are {fine(straight, unit)} apart"
    evidence = {"length_mm": stated, "ends_mm": (first, last), "apart_mm": straight, "source": "geometry"}
    level: Level = "error" if all(_to_the_face(context, ref) for ref in refs) else "warning"
    return context.finding(RULE, level, message, (run.tag,), ("lines", run.tag, "length"), evidence)


def _against_route(context: Context, run: Run, stated: float, run_mm: float) -> Iterator[Finding]:
    apart = abs(stated - run_mm)
    if apart <= max(ALLOWED_MM, ALLOWED_SHARE * max(stated, run_mm)):
        return
    unit = context.unit
    message = f"{run.tag} is said to be {fine(stated, unit)} long, its route comes to {fine(run_mm, unit)}"
    evidence = {
        "length_mm": stated,
        "route_mm": run_mm,
        "apart_mm": apart,
        "allowed": [ALLOWED_MM, ALLOWED_SHARE],
        "source": _SOURCE,
    }
    yield context.finding(RULE, "warning", message, (run.tag,), ("lines", run.tag, "length"), evidence)


def _of_words(context: Context, run: Run) -> Iterator[Said]:
    """Yield a route told in words whose far end is not where the build has it."""
    places = run.missing or missing_places(context.graph, run.tag)
    if run.misses_mm is None or run.route is None:
        yield from (Unchecked(RULE, (run.tag,), field) for field in places or (f"lines.{run.tag}.route",))
        return
    yield Looked()
    refs = (f"{run.tag}.from", f"{run.tag}.to")
    run_mm = developed_length(run.route)
    loose = sum(not _to_the_face(context, ref) for ref in refs)
    if run.misses_mm <= max(ALLOWED_MM, ALLOWED_SHARE * run_mm) + loose * FITTING_MM:
        return
    message = f"the route of {run.tag} in words ends {fine(run.misses_mm, context.unit)} from {refs[1]}"
    evidence = {
        "misses_mm": run.misses_mm,
        "route_mm": run_mm,
        "points_mm": run.points,
        "ends_mm": tuple(end_position(context.graph, ref) for ref in refs),
        "allowed": [ALLOWED_MM, ALLOWED_SHARE, loose * FITTING_MM],
        "source": _SOURCE,
    }
    yield context.finding(RULE, "warning", message, (run.tag,), ("lines", run.tag, "route"), evidence)


def _to_the_face(context: Context, ref: str) -> bool:
    """Return whether the file says where the face is that an end seals on, and not just where its part is."""
    end = context.graph.ends[ref]
    if end.stated is not None and end.stated.at is not None:
        return True
    others = (other for joint in context.graph.joints_at.get(ref, ()) for other in joint.ends if other.ref != ref)
    return any(other.port is not None and other.port.offset is not None for other in others)

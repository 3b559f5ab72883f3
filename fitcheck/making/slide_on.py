"""What goes on the tube before which flare, and which end can be flared only after it went through a panel.

A nut, a sleeve or a formed end that is larger than a hole cannot pass it: then the bare end goes through first. The
order is searched by `fitcheck.build.assembly`, as for the rule `fixing-trapped`. Limits: those of that search; grommets
are fitted after nuts passed.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from fitcheck.build.assemblies import ENDS, Assembly, formed_in_car, holes_passed
from fitcheck.build.assembly import FROM, TO, Job, Move, Side, order, parked
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import run_of
from fitcheck.making.sheet import EndName, EndPlan, Fitting, Hole, Remark


class Passing(NamedTuple):
    """How a line goes through its holes: the end that leads, and whether that end is flared only afterwards.

    `unsure` says that the build lacks what would decide it. `leads` has, by the end that is flared last, which end goes
    through each hole, in the order of the route; an end that is not in it cannot be the last.
    """

    lead: EndName
    in_car: bool
    leads: Mapping[EndName, tuple[EndName, ...]]
    unsure: bool = False


def holes_of(graph: PortGraph, tag: str) -> tuple[Hole, ...]:
    """Return the holes that a line's corners lie in, in the order of its route."""
    found = holes_passed(graph, tag, run_of(graph, tag))
    return tuple(
        Hole(hole.panel, hole.hole_mm, hole.thickness_mm, hole.grommet, hole.corner, hole.before) for hole in found
    )


def passing(found: Assembly, ends: tuple[EndPlan, EndPlan]) -> Passing | None:
    """Return how a line goes through its holes, None if it has none; `ends` are `from` and `to`.

    What is known alone decides if by that no end is flared in the car; else the usual figures; else what is certain. If
    nothing goes, the answer is that of a line whose bare end leads, so that a sheet can say what is short.
    """
    if not found.holes or found.jobs is None:
        return None
    known, usual, certain = found.known, found.usual, found.certain
    if known is not None and not formed_in_car(known):
        return _way(found.jobs[2], known, False)
    if usual is not None:
        return _way(found.jobs[1], usual, not formed_in_car(usual))
    if certain is not None:
        return _way(found.jobs[0], certain, not formed_in_car(certain))
    bare = [end.name for end in ends if not end.formed] or [end.name for end in ends]
    return Passing(bare[0], True, {name: (name,) * len(found.holes) for name in bare})


def _way(job: Job, moves: tuple[Move, ...], unsure: bool) -> Passing:
    lead = ENDS[next(move.end for move in moves if move.act == "pass") or FROM]
    if not formed_in_car(moves):
        return Passing(lead, False, dict.fromkeys(ENDS, _leads(moves)), unsure)
    leads = {ENDS[last]: found for last in (FROM, TO) if (found := _flared_last(job, last)) is not None}
    return Passing(lead, True, leads, unsure)


def _flared_last(job: Job, last: Side) -> tuple[EndName, ...] | None:
    """Return which end goes through each hole if all but one end is finished on the bench, None if nothing goes."""
    if job.tips[last].formed:
        return None
    tips = [tip._replace(formed=tip.formed or side != last) for side, tip in enumerate(job.tips)]
    moves = order(job._replace(tips=(tips[0], tips[1])))
    return _leads(moves) if moves is not None else None


def _leads(moves: Sequence[Move]) -> tuple[EndName, ...]:
    passed = sorted((move.which or 0, move.end or FROM) for move in moves if move.act == "pass")
    return tuple(ENDS[end] for _, end in passed)


def with_room(found: Assembly, ends: tuple[EndPlan, EndPlan]) -> tuple[EndPlan, EndPlan]:
    """Return both ends with what the usual nut and parked things take of their straights."""
    if found.jobs is None:
        return ends
    job = found.jobs[1]
    taken = (job.tips[0].nut_mm + (parked(job, FROM) or 0.0), job.tips[1].nut_mm + (parked(job, TO) or 0.0))
    return ends[0]._replace(taken_mm=taken[0]), ends[1]._replace(taken_mm=taken[1])


def too_small(holes: Sequence[Hole], od_mm: float) -> Iterator[Remark]:
    """Yield the holes that not even the bare tube [mm] passes."""
    for hole in holes:
        if hole.hole_mm is not None and hole.hole_mm <= od_mm:
            yield Remark("hole-too-small", {"panel": hole.panel, "hole": hole.hole_mm, "od": od_mm})


def end_fittings(end: EndPlan) -> tuple[Fitting, ...]:
    """Return what goes on at an end before its flare, in the order of sliding on: the nut, then the sleeve."""
    return tuple(item for item in (end.nut, end.sleeve) if item is not None)


def rides(parts: Sequence[str], first: EndName) -> tuple[Fitting, ...]:
    """Return what rides on a tube, in the order of sliding on from the end `first`; `parts` are in order from `from`.

    What belongs near the other end goes on first.
    """
    ordered = parts[::-1] if first == "from" else parts
    return tuple(Fitting("ride", part, part) for part in ordered)


def grommets(holes: Sequence[Hole]) -> tuple[Fitting, ...]:
    """Return the grommets of the holes that have one, in the order of the holes."""
    return tuple(Fitting("grommet", hole.grommet, "", None, hole.panel) for hole in holes if hole.grommet is not None)

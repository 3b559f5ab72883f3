"""How each line of a build can be put together, by what is certain, by the usual figures, and by what is known alone.

Three questions, so that no figure that was only taken to be the usual one condemns a line: with every unknown figure in
the line's favour (`certain`); with the usual figures (`usual`); with everything unknown against it (`known`).
"""

from collections.abc import Iterator, Sequence
from math import inf
from typing import Literal, NamedTuple

from fitcheck.build.assembly import FROM, TO, Block, Job, Move, Opening, Ring, Side, Tip, in_the_way, order
from fitcheck.build.benders import STATED, straights_needed
from fitcheck.build.bores import bore_needed
from fitcheck.build.end_sizes import Across, NutSize, nut_bore
from fitcheck.build.graph import PortGraph
from fitcheck.build.model import Corner
from fitcheck.build.runs import Run
from fitcheck.build.tube_ends import tube_end
from fitcheck.catalog.part import Part

Figures = Literal["certain", "usual", "known"]
ENDS: tuple[Literal["from"], Literal["to"]] = ("from", "to")


class EndFacts(NamedTuple):
    """What is known of one end of a line: its nut's part and name, both sizes, and what would say more.

    `rides_up`: the nut's hole is known, and large enough to slide onto the bend behind it. `missing` is the field that
    would say how large the end is; None if that is known. `joined` is the port that it goes into, if any.
    """

    ref: str
    formed: bool
    nut: Part | None
    size: NutSize
    across: Across
    rides_up: bool
    missing: str | None
    joined: str = ""


class HoleFacts(NamedTuple):
    """A hole that a line passes [mm]: `corner` counts the route's entries from 1, `before` the bends on the way to it.

    `at` says whether the bend at the corner itself lies in the hole. What the build does not give is None.
    """

    panel: str
    hole_mm: float | None
    thickness_mm: float | None
    grommet: str | None
    corner: int
    before: int
    at: bool


class Assembly(NamedTuple):
    """How a line can be put together.

    Attributes:
        ends, holes, rings: what it is made of; a ring is the id of a part.
        certain, usual, known: an order of work by each kind of figure, None if there is none.
        blocks: what is in the way: by what is certain if there is no such order, else by the usual figures.
        missing: the fields that would decide, where there is an order by the usual figures only.
        grip_mm: straight that the flaring tool is taken to need; `grip_stated` if the build says so.
        bores_mm: the bore that each bend needs in each hole.
        jobs: the three problems, by what is certain, usual and known; None only while it is being put together.
    """

    ends: tuple[EndFacts, EndFacts]
    holes: tuple[HoleFacts, ...]
    rings: tuple[str, ...]
    straights_mm: tuple[float, ...]
    certain: tuple[Move, ...] | None
    usual: tuple[Move, ...] | None
    known: tuple[Move, ...] | None
    blocks: tuple[tuple[Block, ...], ...] = ()
    missing: tuple[str, ...] = ()
    grip_mm: float = 0.0
    grip_stated: bool = False
    bores_mm: tuple[tuple[float, ...], ...] = ()
    jobs: tuple[Job, Job, Job] | None = None


def goes_together(graph: PortGraph, run: Run) -> bool:
    """Return whether a line is certain to go together: its tube is known, passes no hole, and nothing rides on it."""
    if run.od_mm is None or run.fault is not None:
        return False
    line = graph.build.file.lines[run.tag]
    return not line.slides and not any(isinstance(one, Corner) and one.through is not None for one in line.route or ())


def assembly_of(graph: PortGraph, tag: str, run: Run) -> Assembly | None:
    """Return how a line can be put together; None if its tube is not known or cannot follow its route."""
    od = run.od_mm
    if od is None or run.fault is not None:
        return None
    needed = straights_needed(graph.build, tag, run.tube)
    stated = needed.grip_source == STATED
    facts = _facts(graph, tag, run, od)._replace(grip_mm=needed.grip_hand_mm, grip_stated=stated)
    job = _job(graph, tag, run, facts, "known")
    found = order(job)
    if found is not None and not formed_in_car(found):  # what is against the line here only gets easier
        return facts._replace(certain=found, usual=found, known=found, jobs=(job, job, job))
    jobs = (_job(graph, tag, run, facts, "certain"), _job(graph, tag, run, facts, "usual"), job)
    facts = facts._replace(certain=order(jobs[0]), usual=order(jobs[1]), known=found, jobs=jobs)
    if facts.usual is not None:
        return facts._replace(missing=tuple(_missing(tag, run, facts)) if found is None else ())
    return facts._replace(blocks=in_the_way(jobs[1 if facts.certain is not None else 0]))


def formed_in_car(moves: Sequence[Move]) -> bool:
    """Return whether an order of work forms an end after the tube went through a hole."""
    return any(move.act == "form" and move.in_car for move in moves)


def holes_passed(graph: PortGraph, tag: str, run: Run | None) -> tuple[HoleFacts, ...]:
    """Return the holes that a line's corners lie in, in the order of its route."""
    file = graph.build.file
    bends = run.route.bends if run is not None and run.route is not None else ()
    found = []
    for index, entry in enumerate(file.lines[tag].route or (), start=1):
        if isinstance(entry, Corner) and entry.through is not None:
            panel = file.panels[entry.through]
            found.append(
                HoleFacts(
                    entry.through,
                    float(panel.hole) if panel.hole is not None else None,
                    float(panel.thickness) if panel.thickness is not None else None,
                    panel.grommet,
                    index,
                    sum(bend.corner < index for bend in bends),
                    any(bend.corner == index for bend in bends),
                )
            )
    return tuple(found)


def _facts(graph: PortGraph, tag: str, run: Run, od: float) -> Assembly:
    holes = holes_passed(graph, tag, run)
    bends = run.route.bends if run.route is not None else ()
    ends = (_end(graph, tag, FROM, run, od), _end(graph, tag, TO, run, od))
    bores = tuple(
        tuple(bore_needed(od, bend.radius_mm, bend.angle_deg, hole.thickness_mm or 0.0) for bend in bends)
        for hole in holes
    )
    slides = tuple(graph.build.file.lines[tag].slides)
    return Assembly(ends, holes, slides, run.straights_mm, None, None, None, bores_mm=bores)


def _end(graph: PortGraph, tag: str, side: Side, run: Run, od: float) -> EndFacts:
    end = tube_end(graph, f"{tag}.{ENDS[side]}", od)
    nut = end.nut.part if end.nut is not None else None
    field = None if end.across.known else f"lines.{tag}.ends.{ENDS[side]}.across"
    rides_up = _rides_up(nut, end.size, run, side, od)
    others = [other for other in end.joint.refs if other != end.own.ref] if end.joint is not None else []
    joined = others[0] if others else ""
    return EndFacts(end.own.ref, end.formed, nut, end.size, end.across, rides_up, field, joined)


def _rides_up(nut: Part | None, size: NutSize, run: Run, side: Side, od: float) -> bool:
    """Return whether a nut slides onto the bend behind it: only one whose hole is known to be large enough does."""
    bore = nut_bore(nut, od)
    if bore is None or run.route is None or not run.route.bends:
        return False
    bend = run.route.bends[0 if side == FROM else -1]
    return bore_needed(od, bend.radius_mm, bend.angle_deg, size.least_mm) <= bore


def _job(graph: PortGraph, tag: str, run: Run, facts: Assembly, kind: Figures) -> Job:
    straights = run.straights_mm if run.route is not None else _unlaid(graph, tag, kind)
    first, last = (straights[0], straights[-1]) if straights else (inf, inf)
    return Job(
        (_tip(facts.ends[0], first, kind), _tip(facts.ends[1], last, kind)),
        tuple(_ring(graph, run, part_id, kind) for part_id in facts.rings),
        tuple(_opening(hole, bores, run, kind) for hole, bores in zip(facts.holes, facts.bores_mm, strict=True)),
        straights,
        facts.grip_mm if facts.grip_stated or kind != "certain" else 0.0,
    )


def _unlaid(graph: PortGraph, tag: str, kind: Figures) -> tuple[float, ...]:
    """Return the straights of a line whose places are not known: of any length, or none at all."""
    return () if not graph.build.file.lines[tag].route else ((0.0, 0.0) if kind == "known" else (inf, inf))


def _tip(end: EndFacts, straight: float, kind: Figures) -> Tip:
    wide = end.across.least_mm if kind == "certain" else end.across.mm
    if kind == "known" and not end.across.known:
        wide = inf
    nut = end.size.least_mm if kind == "certain" else end.size.mm
    return Tip(end.formed, wide, straight, 0.0 if end.rides_up else nut)


def _ring(graph: PortGraph, run: Run, part_id: str, kind: Figures) -> Ring:
    """Return what a thing that rides takes up: nothing if it slides past the bends, or nobody says how long it is.

    By what is certain it has to be stopped by every bend to be parked, by the usual figures by one of them.
    """
    part = graph.build.shelf.get(part_id)
    od, bends = run.od_mm or 0.0, run.route.bends if run.route is not None else ()
    if part is None or part.length is None or part.inside is None or part.kind == "spring guard" or not bends:
        return Ring(part_id)
    length, bore = float(part.length), float(part.inside)
    stops = [bore_needed(od, bend.radius_mm, bend.angle_deg, length) > bore for bend in bends]
    stopped = all(stops) if kind == "certain" else any(stops)
    return Ring(part_id, length if stopped else 0.0)


def _opening(hole: HoleFacts, bores: tuple[float, ...], run: Run, kind: Figures) -> Opening:
    od = run.od_mm or 0.0
    width = hole.hole_mm
    if width is None:
        width = od if kind == "known" else inf
    elif width <= od:
        return Opening(hole.panel, inf)  # not even the tube passes: that is another fault
    sides = bores[: hole.before + hole.at], bores[hole.before :]
    needs = (max(sides[0], default=0.0), max(sides[1], default=0.0))
    if hole.hole_mm is None:
        needs = (0.0, 0.0)
    return Opening(hole.panel, width, needs, (hole.before, len(bores) - hole.before))


def _missing(tag: str, run: Run, facts: Assembly) -> Iterator[str]:
    """Yield the fields that would say whether a line goes together."""
    yield from (f"panels.{hole.panel}.hole" for hole in facts.holes if hole.hole_mm is None)
    yield from dict.fromkeys(end.missing for end in facts.ends if end.missing is not None)
    yield from run.missing

"""Panel holes: a grommet for the tube and the hole, and a hole that is drilled out; none was ever made smaller."""

from collections.abc import Iterator

from fitcheck.build.panel_holes import play_mm
from fitcheck.catalog.part import Part
from fitcheck.changes import Change, Put
from fitcheck.checks.findings import Finding
from fitcheck.checks.panel_holes import Hole, holes
from fitcheck.checks.place.panel_misfit import BORE_MM, THICKER_MM
from fitcheck.measures import at_least, given
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy


def grommet(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit a grommet that goes with tube and hole; only where there is none, one for which the hole is drilled out."""
    hole = _hole(bench, finding)
    if hole is not None:
        yield from _guarded(bench, hole, hole.name)


def to_suit(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Drill the hole out to what its part needs, or fit another grommet."""
    hole = _hole(bench, finding)
    evidence = finding.evidence
    if hole is None or not {"needed_mm", "bore_mm", "grip_mm", "od_mm"} & evidence.keys():
        return
    tag = finding.at[-1]
    part = next((part for name, part in (*hole.guards, *hole.bulkheads) if name == tag), None)
    if "needed_mm" in evidence and evidence["needed_mm"] > evidence["hole_mm"]:
        yield Remedy("hole", (_drilled(bench, hole, evidence["needed_mm"]),), tags=(hole.name,), notes=_drill(hole))
    if part is not None and part.kind == "grommet":
        yield from _guarded(bench, hole, tag)
    elif part is None:  # the tube itself does not go through
        yield from _for_the_tube(bench, hole)


def _for_the_tube(bench: Bench, hole: Hole) -> Iterator[Remedy]:
    needs = [part.panel[0] for _, part in hole.guards if part.panel is not None and part.panel[0] is not None]
    for need in needs[:1]:
        yield Remedy("hole", (_drilled(bench, hole, need),), tags=(hole.name,), notes=_drill(hole))
    if not hole.guards:
        yield from _guarded(bench, hole, hole.name)


def _guarded(bench: Bench, hole: Hole, tag: str) -> Iterator[Remedy]:
    """Yield the grommets that can go where `tag` is one, or is the panel; of those for the hole as it is, if any."""
    path = ("panels", hole.name, "grommet") if tag == hole.name else ("components", tag, "part")
    width, unit = hole.panel.hole, bench.graph.unit
    there = {part.id for name, part in hole.guards if name == tag}
    others = (part for part in bench.shelf.of_kind("grommet") if part.id not in there)
    fitting = [part for part in others if _suits(hole, part)]
    as_it_is = [part for part in fitting if width is None or _holds(part, float(width))]
    for part in as_it_is:
        need = given(_need(part), unit)
        notes = (f"whether the hole is {need} wide: the file does not say",) if width is None else ()
        yield Remedy("grommet", (Put(path, part.id),), (part.id,), (hole.name,), notes=notes)
    for part in fitting if not as_it_is else ():
        if width is not None and _need(part) > width:
            changes: tuple[Change, ...] = (Put(path, part.id), _drilled(bench, hole, _need(part)))
            yield Remedy("grommet", changes, (part.id,), (hole.name,), notes=_drill(hole))


def _suits(hole: Hole, part: Part) -> bool:
    """Return whether a grommet is known to be for every tube in a hole, and for so thick a sheet."""
    if part.inside is None or part.panel is None or part.panel[0] is None:
        return False
    ods = [item.part.od if item.part is not None else None for item in hole.lines]
    bores = all(od is not None and BORE_MM[0] <= part.inside - od <= BORE_MM[1] for od in ods)
    grip, thick = part.panel[1], hole.panel.thickness
    return bores and (grip is None or thick is None or thick <= grip + THICKER_MM)


def _holds(part: Part, width_mm: float) -> bool:
    least, most = play_mm(part)
    return least <= width_mm - _need(part) <= most


def _need(part: Part) -> float:
    assert part.panel is not None  # `_suits` has looked
    return part.panel[0] or 0.0


def _drilled(bench: Bench, hole: Hole, need_mm: float) -> Change:
    return Put(("panels", hole.name, "hole"), at_least(need_mm, bench.graph.unit))


def _drill(hole: Hole) -> tuple[str, ...]:
    return (f"whether there is sheet enough around {hole.name} to drill it out",)


def _hole(bench: Bench, finding: Finding) -> Hole | None:
    return next((hole for hole in holes(bench.context) if hole.name == finding.at[0]), None)

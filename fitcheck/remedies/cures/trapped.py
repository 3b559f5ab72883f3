"""Ends that are formed too soon, and holes that are too small for them."""

from collections.abc import Iterator
from math import ceil
from typing import Final

from fitcheck.build.assemblies import assembly_of
from fitcheck.build.refs import tag_of
from fitcheck.changes import Put
from fitcheck.checks.findings import Finding
from fitcheck.measures import LengthUnit
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy
from fitcheck.standards.drill_sizes import nearest_drill

_HALVES: Final = 2.0
"""Holes are drilled to half a mm: common practice, no source."""


def freed(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Form one end only when the tube is in its place; or drill the hole out to what has to pass."""
    tag = tag_of(finding.at[0])
    for end in finding.evidence.get("formed", ()):
        note = f"whether {tag} is long enough if {end} is cut off and formed anew"
        yield Remedy("form", tuple(bench.unstated(end, ("formed",))), tags=(tag,), notes=(note,))
    yield from _drilled(bench, tag, finding)


def _drilled(bench: Bench, tag: str, finding: Finding) -> Iterator[Remedy]:
    holes = finding.evidence.get("holes_mm", {})
    run = bench.context.runs.get(tag)
    found = assembly_of(bench.graph, tag, run) if run is not None else None
    if found is None:
        return
    sizes = {mm for end in found.ends for mm in (end.across.least_mm, end.across.mm) if mm is not None}
    for panel in finding.at[1:]:
        for mm in sorted(sizes):
            hole, size = _hole(mm, bench.graph.unit)
            if panel in holes and (holes[panel] is None or hole > holes[panel]):
                note = f"whether there is sheet enough around {panel} to drill it out"
                yield Remedy("hole", (Put(("panels", panel, "hole"), size),), tags=(panel,), notes=(note,))


def _hole(mm: float, unit: LengthUnit) -> tuple[float, str]:
    """Return the least hole for something [mm], as drills go: to half a mm, or to 1/64 in; and how it is written."""
    if unit == "in":
        drill = nearest_drill(mm, "in", at_least=True)
        return drill.mm, drill.name
    hole = ceil(mm * _HALVES - 1e-9) / _HALVES
    return hole, f"{hole:g} mm"

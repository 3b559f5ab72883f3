"""Which finding is marked where on the diagram."""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.build.graph import PortGraph
from fitcheck.checks.findings import Finding, Report

PinKey = tuple[str, int | None]
"""An end and the number of its joint, None if it has none."""


class Marks(NamedTuple):
    """Numbers of findings, from 1 in the order of the report: at which pins, at which tags, and which find no place."""

    findings: tuple[Finding, ...]
    pins: dict[PinKey, list[int]]
    tags: dict[str, list[int]]
    nowhere: tuple[int, ...]


def marks(graph: PortGraph, report: Report | None) -> Marks:
    """Return where each standing finding is marked: at the first of its places that is drawn.

    A place is an end, which is marked at its joint, a tag, or a circuit, which is marked at its outlet.
    """
    found = Marks(report.findings if report is not None else (), {}, {}, ())
    joints = {id(joint): index for index, joint in enumerate(graph.joints)}
    nowhere = []
    for number, finding in enumerate(found.findings, 1):
        place = next(_places(graph, finding, joints), None)
        if place is None:
            nowhere.append(number)
        elif isinstance(place, str):
            found.tags.setdefault(place, []).append(number)
        else:
            found.pins.setdefault(place, []).append(number)
    return found._replace(nowhere=tuple(nowhere))


def _places(graph: PortGraph, finding: Finding, joints: dict[int, int]) -> Iterator[PinKey | str]:
    """Yield the places of a finding that the diagram has, the one to look at first in front."""
    circuits = graph.build.file.circuits
    for name in finding.at:
        ref = circuits[name].from_ if name in circuits and name not in graph.fitted else name
        if ref in graph.ends:
            at = graph.joints_at.get(ref, [])
            meant = max(at, key=lambda joint: len(set(joint.refs) & set(finding.at)), default=None)
            yield ref, (joints[id(meant)] if meant is not None else None)
        elif ref in graph.fitted:
            yield ref

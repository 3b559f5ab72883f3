"""Parts that are too weak, and residual valves that hold too much or too little: another of the same ports."""

from collections.abc import Callable, Iterator
from itertools import islice
from typing import Final

from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import Part
from fitcheck.changes import Change, Put
from fitcheck.checks.findings import Finding
from fitcheck.hydraulics.part_rating import rating
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy
from fitcheck.remedies.replacements import Replacement, like_for_like
from fitcheck.standards.tube_rating import near_share

_MOST: Final = 8


def stronger(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit a part of the same ports that is rated for the pressure, or tube of another wall or material.

    Ratings that rest on assumed strength do not count. Nuts, bolts and washers are left to the builder.
    """
    tag, pressure = finding.at[0], float(finding.evidence["pressure_mpa"])
    if tag in bench.graph.fitted:
        yield from _others(bench, tag, (), lambda part: _holds(part, pressure))


def other_valve(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit a residual valve of the same ports that holds what the brakes behind it want."""
    usual, head = finding.evidence["usual_mpa"], finding.evidence["head_mpa"] or 0.0
    least = max(usual["low_mpa"], head)
    for tag in dict.fromkeys(map(tag_of, finding.at)):
        item = bench.graph.fitted.get(tag)
        if item is not None and item.part is not None and item.part.kind == "residual valve":
            yield from _others(bench, tag, ("setting",), lambda part: least <= (part.setting or 0) <= usual["high_mpa"])


def _others(bench: Bench, tag: str, apart_from: tuple[str, ...], wanted: Callable[[Part], bool]) -> Iterator[Remedy]:
    for each in islice(like_for_like(bench.context, tag, apart_from, wanted), _MOST):
        yield _fitted(bench, tag, each)


def _fitted(bench: Bench, tag: str, found: Replacement) -> Remedy:
    section = bench.graph.fitted[tag].section
    changes: list[Change] = [Put((section, tag, "tube" if section == "lines" else "part"), found.part.id)]
    changes += bench.renamed({f"{tag}.{old}": f"{tag}.{new}" for old, new in found.renamed})
    return Remedy("part", tuple(changes), (found.part.id,), (tag,))


def _holds(part: Part, pressure: float) -> bool:
    known = rating(part)
    return known is not None and not known.assumed and pressure <= near_share().value * known.mpa

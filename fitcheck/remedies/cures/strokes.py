"""Strokes that are too short: a master cylinder that moves more fluid, or one of the same bore that goes further."""

from collections.abc import Iterator
from functools import partial
from itertools import islice
from typing import Final

from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import Part
from fitcheck.changes import Change, Put
from fitcheck.checks.findings import Finding
from fitcheck.hydraulics.outlets import outlets
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy
from fitcheck.remedies.replacements import Replacement, like_for_like

_MOST: Final = 8
_FREE: Final = ("bore", "stroke", "chambers")


def other_cylinder(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit another master cylinder in the place of each that the finding blames, that of the nearest bore first.

    A larger bore gives less pressure for the same push of the foot, which is told. One that a slave cylinder blames may
    have a smaller bore too: what it lacks may be force.
    """
    clutch = "needs_travel_mm" in finding.evidence
    for tag in _cylinders(bench, finding):
        part = bench.graph.fitted[tag].part
        if part is None or part.bore is None:
            continue
        found = like_for_like(bench.context, tag, _FREE, partial(_moves, part, smaller=clutch))
        for each in islice(sorted(found, key=lambda each: _further(part, each.part)), _MOST):
            yield _fitted(bench, tag, part, each)


def _cylinders(bench: Bench, finding: Finding) -> tuple[str, ...]:
    """Return the master cylinders that a finding names, or that feed the slave cylinder it names."""
    named = {tag_of(ref) for ref in finding.at}
    feeding = (one.tag for one in outlets(bench.graph, bench.context.circuits).outlets if named & set(one.consumers))
    masters = (tag for tag in map(tag_of, finding.at) if _is_master(bench, tag))
    return tuple(dict.fromkeys((*masters, *feeding)))


def _is_master(bench: Bench, tag: str) -> bool:
    item = bench.graph.fitted.get(tag)
    return item is not None and item.part is not None and item.part.kind == "master cylinder"


def _moves(old: Part, new: Part, smaller: bool) -> bool:
    """Return whether another cylinder may do better: a larger bore, or the same and a longer stroke."""
    if new.bore is None or old.bore is None or new.stroke is None:
        return False
    longer = old.stroke is None or new.stroke > old.stroke
    return new.bore > old.bore or (new.bore == old.bore and longer) or (smaller and new.bore < old.bore)


def _further(old: Part, new: Part) -> tuple[float, float]:
    return abs((new.bore or 0.0) - (old.bore or 0.0)), new.stroke or 0.0


def _fitted(bench: Bench, tag: str, old: Part, found: Replacement) -> Remedy:
    changes: list[Change] = [Put(("components", tag, "part"), found.part.id)]
    changes += bench.renamed({f"{tag}.{name}": f"{tag}.{new}" for name, new in found.renamed})
    return Remedy("part", tuple(changes), (found.part.id,), (tag,), notes=tuple(_notes(tag, old, found.part)))


def _notes(tag: str, old: Part, new: Part) -> Iterator[str]:
    if old.bore is None or new.bore is None or new.bore == old.bore:
        return
    share = (old.bore / new.bore) ** 2
    word, by = ("less", 1.0 - share) if share < 1.0 else ("more", share - 1.0)
    yield f"whether the foot is strong enough: {tag} then makes {100 * by:.0f} % {word} pressure for the same push"

"""How many clips hold a line, and which of them the build has as components."""

from collections import Counter
from math import ceil
from typing import Final

from fitcheck.build.graph import PortGraph
from fitcheck.catalog.part import Part
from fitcheck.standards.sizes import same_tube

SPACING_MM: Final = 300.0
"""From one clip to the next: common practice, no source; `fitcheck.bom.consumables` says what print has."""
_DUST: Final = 1e-9


def clips_along(length_mm: float, spacing_mm: float = SPACING_MM) -> int:
    """Return how many clips hold a line of this length [mm] with this spacing [mm].

    >>> [clips_along(mm) for mm in (150, 151, 300, 301, 1000)]
    [0, 1, 1, 2, 4]
    """
    return ceil(length_mm / spacing_mm - _DUST) if length_mm > spacing_mm / 2 else 0


def clips_fitted(graph: PortGraph) -> dict[str, Part]:
    """Return the clips for tube that the build has as components, by tag."""
    items = (item for item in graph.fitted.values() if item.section == "components")
    parts = ((item.tag, item.part) for item in items)
    return {tag: part for tag, part in parts if part is not None and part.kind == "clip" and part.for_hose is None}


def take_clips(there: Counter[str], parts: dict[str, Part], od: float | None, quantity: int) -> int:
    """Take up to `quantity` clips that fit a tube [mm] out of `there`, and return how many there were.

    `there` counts clips by part; `parts` are those parts by their ids.
    """
    taken = 0
    for part_id, left in there.items():
        if left and fits_tube(parts[part_id], od):
            there[part_id] -= min(left, quantity - taken)
            taken += min(left, quantity - taken)
    return taken


def fits_tube(part: Part, od: float | None) -> bool:
    """Return whether a clip or cap goes on a tube [mm]; nothing speaks against it where a size is not known."""
    return part.for_hose is None and (part.inside is None or od is None or same_tube(part.inside, od))

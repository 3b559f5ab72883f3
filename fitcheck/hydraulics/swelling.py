"""How far a hose swells: by its maker's figures, else no more than 49 CFR 571.106 lets it.

Between the pressures of a table the figure runs in a straight line, and so it does from nothing to the first of them.
Above the last it goes on as between the last two, and that is told.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from fitcheck.catalog.part import Part
from fitcheck.hydraulics.record import Figure, Known
from fitcheck.hydraulics.spread import Amount
from fitcheck.measures import METRIC, Units, pressure_text
from fitcheck.standards.hoses import Kind, expansion_limits


class Swelling(NamedTuple):
    """Swelling at one pressure [mm3 for each mm of free length].

    `next_mm3` is the figure at the table's next pressure: swelling never falls as pressure rises, so a limit there is
    one here. `beyond` says that the table ends below this pressure; `next_mm3` is then no more than the figure itself.
    """

    mm3_per_mm: float
    next_mm3: float
    beyond: bool


def swelling(pairs: Sequence[tuple[float, float]], pressure_mpa: float) -> Swelling:
    """Return the swelling at a pressure from pairs of pressure [MPa] and swelling, in any order; one pair is enough.

    >>> swelling([(7.0, 2.0), (10.0, 2.6)], 8.5).mm3_per_mm, swelling([(7.0, 2.0)], 3.5).mm3_per_mm
    (2.3, 1.0)
    """
    known = sorted({0.0: 0.0, **dict(pairs)}.items())
    for (p_1, e_1), (p_2, e_2) in pairwise(known):
        last = p_2 == known[-1][0]
        if pressure_mpa <= p_2 or last:
            value = e_1 + (e_2 - e_1) * (pressure_mpa - p_1) / (p_2 - p_1)
            beyond = pressure_mpa > p_2
            return Swelling(value, value if beyond else e_2, beyond)
    return Swelling(0.0, 0.0, True)


class Hose(NamedTuple):
    """How a hose swells: the table, who says so, and whether it is only a limit."""

    key: str
    pairs: tuple[tuple[float, float], ...]
    limit: Kind | None
    stated: bool
    source: str

    def at(self, pressure_mpa: float) -> Amount:
        """Return the swelling at a pressure [mm3/mm]; of a limit the whole range from nothing up."""
        found = swelling(self.pairs, pressure_mpa)
        if self.limit is None:
            return Amount(found.mm3_per_mm, found.mm3_per_mm, found.mm3_per_mm)
        return Amount(found.mm3_per_mm, 0.0, found.next_mm3 if pressure_mpa > 0.0 else 0.0, upper_bound=True)

    def figure(self, pressure_mpa: float, units: Units = METRIC) -> Figure:
        """Return the swelling at a pressure as a figure that an answer rests on."""
        value, low, high, _ = self.at(pressure_mpa)
        beyond = swelling(self.pairs, pressure_mpa).beyond
        words = f"{self.source}; extrapolated above {_told(max(self.pairs)[0], 1, units)}" if beyond else self.source
        by: Known = "catalog" if self.limit is None else "standard" if self.stated else "assumed"
        return Figure(self.key, value, "mm3/mm", by, f"{words}; at {_told(pressure_mpa, 2, units)}", low, high)


def _told(mpa: float, places: int, units: Units) -> str:
    return pressure_text(mpa, units) if units.pounds else f"{mpa:.{places}f} MPa"


def hose_swelling(part: Part) -> Hose | None:
    """Return how a hose swells; None if its catalog gives neither its `expansion` nor its `inside`.

    Without the maker's figures it is the limit that the part is made to, as an upper bound; where the part does not
    say which limit, the wider one, as an assumption. Source: 49 CFR 571.106, as `fitcheck.standards.hoses` has it.
    """
    key = f"parts.{part.id}.expansion"
    if part.expansion:
        return Hose(key, part.expansion, None, True, "the maker's figures")
    if part.inside is None or part.kind != "hose":
        return None
    kind: Kind = "low" if part.expansion_limit == "low" else "regular"
    limits = expansion_limits(part.inside, kind)
    stated = part.expansion_limit is not None
    taken = "" if stated else ", taken as made to it"
    source = f"upper bound: 49 CFR 571.106, {kind} expansion{taken}; {limits[0].mark}"
    return Hose(key, tuple((limit.pressure_mpa, limit.mm3_per_mm) for limit in limits), kind, stated, source)

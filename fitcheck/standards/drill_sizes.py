"""Which drill makes a hole: before tapping a thread, for a screw to pass, and the nearest one that is sold."""

from collections.abc import Mapping
from functools import lru_cache
from math import ceil, floor, gcd
from typing import Any, Final, Literal, NamedTuple

from fitcheck.standards.figures import INCH_MM, measure, measure_if
from fitcheck.standards.threads import Thread, parse

DrillUnit = Literal["mm", "in"]
STEP_MM: Final = 0.1
"""Metric drills are sold in steps of this (common practice, no source)."""
PARTS_OF_INCH: Final = 64
"""Inch drills are sold in steps of 1/64 in (common practice, no source)."""
_DUST: Final = 1e-6
_STRAIGHT: Final = ("UN", "UNJ", "M", "MJ")


class Drill(NamedTuple):
    """A drill: its diameter [mm] and what it is called in the shop: `4.2 mm`, `letter Q (0.332 in)`."""

    mm: float
    name: str


class Printed(NamedTuple):
    """A drill that a source prints, and that source."""

    drill: Drill
    mark: str


class TapDrill(NamedTuple):
    """What to drill before tapping a thread.

    Attributes:
        thread: the thread's designation.
        drill: the one to use.
        mark: where it comes from.
        others: what other sources print for the same thread.
        reamed: of a taper thread, the drill where the hole is reamed to the taper before tapping.
    """

    thread: str
    drill: Drill
    mark: str
    others: tuple[Printed, ...] = ()
    reamed: Drill | None = None


class Clearance(NamedTuple):
    """Holes that a screw passes: the `fine` (close) and the `medium` (free) one, and where they come from."""

    thread: str
    fine: Drill
    medium: Drill
    mark: str


@lru_cache(maxsize=1)
def tap_drills() -> tuple[TapDrill, ...]:
    """Return every tap drill that the table holds."""
    from fitcheck.standards.tables import load

    return tuple(_tap_drill(row) for row in load("drill_sizes")["tap_drills"])


@lru_cache(maxsize=1)
def _taps_by_key() -> dict[tuple[str, float, float], TapDrill]:
    return {parse(found.thread).key: found for found in tap_drills()}


def _tap_drill(row: Mapping[str, Any]) -> TapDrill:
    reamed = measure_if(row.get("reamed"))
    return TapDrill(
        row["thread"],
        _printed(row),
        row["mark"],
        tuple(Printed(_printed(other), other["mark"]) for other in row.get("others", ())),
        _called(reamed, row["reamed"]) if reamed is not None else None,
    )


def _printed(row: Mapping[str, Any]) -> Drill:
    return _called(measure(row["drill"]), row["drill"], row.get("name"))


def _called(mm: float, printed: str, name: str | None = None) -> Drill:
    """Return a drill by the name of its size; a decimal inch gets its leading zero."""
    shown = f"0{printed}" if printed.startswith(".") else printed
    if shown.endswith(" mm"):
        shown = f"{mm:g} mm"
    return Drill(mm, f"{name} ({shown})" if name else shown)


def tap_drill(thread: Thread, unit: DrillUnit = "mm") -> TapDrill | None:
    """Return what to drill before tapping `thread`; None if nobody says.

    A thread that the table lacks gets its nominal diameter less its pitch, to the nearest drill sold in `unit`, if it
    is a straight unified or metric one. Source: the table's own marks.

    >>> tap_drill(parse("3/8-24")).drill.name, tap_drill(parse("M5")).drill.mm
    ('letter Q (0.332 in)', 4.2)
    """
    family, nominal, pitch = thread.key
    found = _taps_by_key().get(thread.key) or _taps_by_key().get((family.replace("J", ""), nominal, pitch))
    if found is not None:
        return found._replace(thread=thread.designation)
    if thread.family not in _STRAIGHT:
        return None
    return TapDrill(
        thread.designation, nearest_drill(thread.nominal_mm - thread.pitch_mm, unit), f"derived (D - P); {_rule()}"
    )


def _rule() -> str:
    from fitcheck.standards.tables import load

    mark: str = load("drill_sizes")["rule"]["mark"]
    return mark


def clearance_drill(thread: Thread) -> Clearance | None:
    """Return the holes that a screw with `thread` passes; None if the table has none.

    >>> clearance_drill(parse("M5")).fine.mm
    5.3
    """
    return _clearances().get((thread.family, round(thread.nominal_mm, 4)))


@lru_cache(maxsize=1)
def _clearances() -> dict[tuple[str, float], Clearance]:
    from fitcheck.standards.tables import load

    table = load("drill_sizes")
    found = {}
    for row in table["clearance"]:
        thread = parse(row["thread"])
        fine, medium = (_called(measure(row[fit], table["unit"]), _with_unit(row[fit])) for fit in ("fine", "medium"))
        found[thread.family, round(thread.nominal_mm, 4)] = Clearance(row["thread"], fine, medium, row["mark"])
    return found


def _with_unit(figure: str) -> str:
    return figure if figure[-1].isalpha() else f"{figure} mm"


def nearest_drill(mm: float, unit: DrillUnit = "mm", *, at_least: bool = False) -> Drill:
    """Return the twist drill sold in `unit` that is nearest to a diameter [mm], or the smallest that is no less.

    >>> nearest_drill(12.0).name, nearest_drill(12.0, "in").name, nearest_drill(12.0, "in", at_least=True).name
    ('12 mm', '15/32 in', '31/64 in')
    """
    return _of_steps(mm, 1, unit, at_least)


def sheet_tool(mm: float, unit: DrillUnit = "mm", *, at_least: bool = False) -> Drill:
    """Return the size of step drill or hole saw nearest to a diameter [mm], or the smallest that is no less.

    They come in whole millimetres, or in steps of 1/32 in (common practice, no source).

    >>> sheet_tool(14.6).name, sheet_tool(14.0, "in", at_least=True).name
    ('15 mm', '9/16 in')
    """
    return _of_steps(mm, 2 if unit == "in" else 10, unit, at_least)


def _of_steps(mm: float, many: int, unit: DrillUnit, at_least: bool) -> Drill:
    """Return a size of so many steps of a twist drill, or a whole number of times as many."""
    step = many * (INCH_MM / PARTS_OF_INCH if unit == "in" else STEP_MM)
    count = max(ceil(mm / step - _DUST) if at_least else floor(mm / step + 0.5), 1) * many
    if unit == "in":
        return Drill(count * INCH_MM / PARTS_OF_INCH, _fraction(count))
    size = round(count * STEP_MM, 1)
    return Drill(size, f"{size:g} mm")


def _fraction(parts: int) -> str:
    """Return 64ths of an inch as people write them: `1 1/4 in`."""
    whole, rest = divmod(parts, PARTS_OF_INCH)
    shared = gcd(rest, PARTS_OF_INCH)
    words = [str(whole)] if whole else []
    if rest:
        words.append(f"{rest // shared}/{PARTS_OF_INCH // shared}")
    return f"{' '.join(words)} in"

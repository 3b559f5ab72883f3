"""When each circuit can be finished, and what can be made now: the last sections of the purchase plan as text."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from fitcheck.bom.ordering.record import CircuitReady, Doable, Readiness
from fitcheck.reports.order_words import column_width, ready_day
from fitcheck.reports.plain import columns, count_of, first_few, paragraph, visible

_MOST: Final = 12
"""Places whose lack is said; the rest is counted."""
_LEAST_CELL: Final = 20
_HEADERS: Final = ("circuit", "first day", "here", "coming", "short", "held up by")


def ready_lines(readiness: Readiness, on: date, width: int, errors: int = 0) -> Iterator[str]:
    """Yield the table of circuits and what can be made now, as of the day `on`; `errors` stand in the build."""
    if readiness.circuits:
        yield from ("", *paragraph(f"READY{_as_far(errors)}: each circuit, if it is made before all others", width), "")
        yield from _circuits(readiness.circuits, on, width)
    yield from ("", *paragraph("WHAT CAN BE MADE NOW, with what is on the shelf alone", width), "")
    yield from _doable(readiness.doable, width)


def _as_far(errors: int) -> str:
    return f" as far as parts go ({count_of(errors, 'error')} in this build)" if errors else ""


def circuit_name(ready: CircuitReady) -> str:
    """Return the circuit's name, or that its parts are for no circuit."""
    return ready.circuit or "(no circuit)"


def gate_text(ready: CircuitReady, most: int = 4) -> str:
    """Return what holds a circuit up, the first few: `tee-3-16 (hall), nut-m10 (shed)`."""
    return first_few((f"{part} ({why})" for part, why in ready.gate), most) or "nothing"


def _circuits(circuits: Sequence[CircuitReady], on: date, width: int) -> list[str]:
    rows = [
        [visible(circuit_name(each)), ready_day(each, on), str(each.here), str(each.coming), str(each.short)]
        for each in circuits
    ]
    gates = [gate_text(each) for each in circuits]
    taken = sum(2 + column_width(*cells) for cells in zip(_HEADERS, *rows, strict=False))
    longest = max((columns(visible(part)) for each in circuits for part, _ in each.gate), default=0)
    if width - taken < max(_LEAST_CELL, longest):  # a part id that is broken cannot be copied
        return [line for row, gate in zip(rows, gates, strict=True) for line in _listed(row, gate, width)]
    whole = [[*row, "\n".join(paragraph(gate, width - taken))] for row, gate in zip(rows, gates, strict=True)]
    from tabulate import tabulate  # 10 ms to import, needed here only

    align = ("left", "left", "right", "right", "right", "left")
    made = tabulate(whole, _HEADERS, tablefmt="simple", disable_numparse=True, colalign=align)
    return [line.rstrip() for line in made.split("\n")]


def _listed(row: list[str], gate: str, width: int) -> Iterator[str]:
    name, when, here, coming, short = row
    text = f"{name}: {when}; {here} here, {coming} coming, {short} short; held up by {gate}"
    return iter(paragraph(text, width, "  ", "    "))


def _doable(doable: Doable, width: int) -> Iterator[str]:
    yield from paragraph(f"whole circuits: {', '.join(doable.circuits) or 'none'}", width, "  ", "    ")
    yield from paragraph(f"by themselves: {', '.join(doable.places) or 'none'}", width, "  ", "    ")
    for place, parts in doable.lacking[:_MOST]:
        yield from paragraph(f"{place} lacks {', '.join(parts)}", width, "  ", "    ")
    if len(doable.lacking) > _MOST:
        yield from paragraph(f"and {len(doable.lacking) - _MOST} more that lack something", width, "  ", "    ")

"""What the reports of `fitcheck pedal` share: figures in the user's units, names, tables of bounded width."""

from collections.abc import Iterator, Sequence
from typing import Final

from fitcheck.hydraulics.record import Answer, Cause, Figure
from fitcheck.measures import INCH_MM, Units, number
from fitcheck.quantities import render
from fitcheck.reports.plain import columns, paragraph, visible

UNKNOWN: Final = "not known"
_LEAST_CELL: Final = 12
_PADDING: Final = 2
"""What the library that draws tables adds to every heading."""
CAUSES: Final[dict[Cause, str]] = {
    "gap": "gap",
    "knock-back": "knock-back",
    "give": "give",
    "swelling": "swelling",
    "stretch": "stretch",
    "squeeze": "fluid squeezed",
    "air": "free air in all of it",
    "cut-off": "cut-off",
    "travel": "travel",
}
"""What takes fluid, in words."""
LIMITS: Final = (
    "Quasi-static, one stop from cold: no heat, fade, wear or vacuum is computed. What no standard gives of stiffness"
    " is assumed, each with its range."
)


class Shown:
    """Figures in the units that the user measures in; None is `not known`."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def force(self, newton: float | None) -> str:
        """Return a force with its unit."""
        return UNKNOWN if newton is None else render(round(newton, 2), "force", self.units.force)

    def pressure(self, mpa: float | None) -> str:
        """Return a pressure with its unit."""
        return UNKNOWN if mpa is None else render(round(mpa, 4), "pressure", self.units.pressure)

    def torque(self, nmm: float | None) -> str:
        """Return a torque in newton metres, or pound feet where forces are in pounds."""
        if nmm is None:
            return UNKNOWN
        return render(round(nmm), "torque", self.units.torque)

    def length(self, mm: float | None) -> str:
        """Return a length to 0.1 mm, or to a hundredth of an inch."""
        if mm is None:
            return UNKNOWN
        return f"{number(mm, 1)} mm" if self.units.length == "mm" else f"{number(mm / INCH_MM, 2)} in"

    def lengths(self, ends: tuple[float, float]) -> str:
        """Return a range of lengths: `34 to 98.7 mm`."""
        low, high = (self.length(end) for end in ends)
        return low if low == high else f"{low.rpartition(' ')[0]} to {high}"


def volume(mm3: float) -> str:
    """Return a volume in mm3, without its unit: whole, or to a tenth if it is small."""
    return number(mm3, 0 if abs(mm3) >= 9.95 else 1)


def share(part: float | None) -> str:
    """Return a share in percent."""
    return UNKNOWN if part is None else f"{number(100.0 * part, 1)} %"


def gravity(part: float | None) -> str:
    """Return a deceleration as a part of standard gravity."""
    return UNKNOWN if part is None else f"{part:.2f} g"


def outlet_name(found: Answer, ref: str) -> str:
    """Return what an outlet is called, with its port: `front (mc_front.outlet)`."""
    name = found.names[ref]
    return name if ref in name else f"{name} ({ref})"


def is_open(figure: Figure) -> bool:
    """Return whether an input is assumed, or only known to be no more than its value."""
    return figure.known == "assumed" or figure.low < figure.high


def heading(words: str, width: int) -> Iterator[str]:
    """Yield the heading of a section."""
    yield from ("", *paragraph(words, width), "")


def table(headers: Sequence[str], rows: Sequence[Sequence[str]], width: int, align: str = "") -> Iterator[str]:
    """Yield a table, indented by two; its first column is wrapped to what the others leave.

    `align` has a letter for each further column: `l` left, `r` right; right if left out. Where the others leave less
    than 12 columns, or characters are of more than one width, each row is written below its first cell.
    """
    from tabulate import tabulate  # 10 ms to import, needed here only

    shown = [[visible(cell) for cell in row] for row in rows]
    taken = sum(
        2 + max(columns(headers[at]) + _PADDING, *(columns(row[at]) for row in shown)) for at in range(1, len(headers))
    )
    room = width - 2 - taken
    wide = any(columns(cell) != len(cell) for row in shown for cell in row)  # which the library counts as one each
    if wide or room < max(_LEAST_CELL, columns(headers[0]) + _PADDING):
        yield from _listed(headers, shown, width)
        return
    cells = [["\n".join(paragraph(row[0], room, "", "  ")), *row[1:]] for row in shown]
    sides = ["left", *("left" if side == "l" else "right" for side in align.ljust(len(headers) - 1, "r"))]
    made = tabulate(cells, headers, tablefmt="simple", disable_numparse=True, colalign=sides)
    yield from (f"  {line}".rstrip() for line in made.split("\n"))


def _listed(headers: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> Iterator[str]:
    for row in rows:
        yield from paragraph(row[0], width, "  ", "    ")
        told = "; ".join(f"{header} {cell}" for header, cell in zip(headers[1:], row[1:], strict=True) if cell)
        yield from paragraph(told, width, "    ", "      ")

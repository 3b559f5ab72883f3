"""What an answer about pedals rests on that nobody stated, with its mark and range, and what was not computed."""

from collections.abc import Iterator

from fitcheck.hydraulics.record import Answer, Figure, Gap
from fitcheck.measures import INCH_MM, PSI_MPA, Units, number
from fitcheck.reports.pedal_words import heading, is_open
from fitcheck.reports.plain import first_few, paragraph


def figure_lines(found: Answer, width: int) -> Iterator[str]:
    """Yield every input that is assumed or only known within limits: value, range, mark, then the fields."""
    grouped: dict[tuple[str, str], list[Figure]] = {}
    for figure in found.figures:
        if is_open(figure):
            grouped.setdefault((amount(figure, found.units), figure.source), []).append(figure)
    if not grouped:
        return
    total = sum(map(len, grouped.values()))
    yield from heading(f"ASSUMED, OR KNOWN WITHIN LIMITS ({total}): state these for a better answer", width)
    for (value, source), figures in grouped.items():
        keys = "; ".join(figure.key for figure in figures)
        yield from paragraph(f"{keys}: {value}; {source}", width, "  ", "    ")
    stated = sum(not is_open(figure) for figure in found.figures)
    if stated:
        yield from paragraph(f"{stated} further figures are stated; --format json lists them all", width, "  ", "    ")


def amount(figure: Figure, units: Units) -> str:
    """Return a figure with its range and unit, lengths and pressures as the user measures: `0.1 mm (0.05 to 0.3)`."""
    unit, per, places = _shown(figure.unit, units)
    value, low, high = (number(each / per, places) for each in (figure.value, figure.low, figure.high))
    return f"{value}{unit}" if low == high else f"{value}{unit} ({low} to {high})"


def _shown(unit: str, units: Units) -> tuple[str, float, int]:
    """Return the unit that a figure is shown in, how much of the working unit it is, and with how many decimals."""
    if unit == "mm" and units.length == "in":
        return " in", INCH_MM, 4
    if unit == "MPa" and units.pounds:
        return " psi", PSI_MPA, 0
    return (f" {unit}" if unit else ""), 1.0, 4


def gap_lines(found: Answer, width: int) -> Iterator[str]:
    """Yield what was not computed, by the field that is missing."""
    if not found.gaps:
        return
    grouped: dict[str, list[Gap]] = {}
    for gap in found.gaps:
        grouped.setdefault(gap.missing, []).append(gap)
    yield from heading(f"NOT COMPUTED ({len(grouped)}): what is missing", width)
    for missing, gaps in grouped.items():
        at = first_few([gap.at for gap in gaps], len(gaps))
        yield from paragraph(f"{missing}: for {at}", width, "  ", "    ")

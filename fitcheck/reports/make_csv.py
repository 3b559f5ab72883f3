"""Bend data as CSV (RFC 4180): one bend in each row, exact figures in mm and degrees."""

from collections.abc import Iterator
from typing import Final

from fitcheck.making.sheet import Sheet, Sheets
from fitcheck.reports.cells import record, text_cell
from fitcheck.reports.make_words import fault_text

COLUMNS: Final = (
    "line",
    "tube",
    "end_a",
    "cut_length_mm",
    "bend",
    "straight_before_mm",
    "mark_mm",
    "angle_deg",
    "pull_deg",
    "rotation_deg",
    "radius_mm",
    "start_mm",
    "corner_mm",
    "middle_mm",
    "straight_after_mm",
    "bender",
    "by_hand",
    "cannot_be_made",
)


def make_csv(made: Sheets) -> str:
    """Return the bend data under a row of column names.

    A line without bends has one row without a bend; one that cannot be made has one row that says why. An empty cell is
    not known or does not apply. `straight_after_mm` is filled in the last row of a line.
    """
    rows = [cells for sheet in made.sheets for cells in _rows(sheet, made.unit)]
    return "".join(record(cells) for cells in (COLUMNS, *rows))


def _rows(sheet: Sheet, unit: str) -> Iterator[tuple[str, ...]]:
    head = (
        text_cell(sheet.tag),
        text_cell(sheet.tube.part),
        sheet.ends[0].name if sheet.ends is not None and not sheet.faults else "",
        _number(sheet.cut_mm) if not sheet.faults else "",
    )
    why = text_cell("; ".join(fault_text(fault, unit) for fault in sheet.faults))
    if sheet.faults or not sheet.bends:
        straight = sheet.straights_mm[0] if sheet.straights_mm and not sheet.faults else None
        yield (*head, "", _number(straight), *[""] * 11, why)
        return
    for index, bend in enumerate(sheet.bends):
        last = index == len(sheet.bends) - 1
        yield (
            *head,
            str(index + 1),
            _number(sheet.straights_mm[index]),
            *map(_number, (bend.mark_mm, bend.angle_deg, bend.pull_deg, bend.rotation_deg, bend.radius_mm)),
            *map(_number, (bend.start_mm, bend.corner_mm, bend.middle_mm)),
            _number(sheet.straights_mm[-1]) if last else "",
            text_cell(bend.tool or ""),
            "yes" if bend.hand else "",
            "",
        )


def _number(value: float | None) -> str:
    if value is None:
        return ""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text

"""A build and a variant of it side by side: pressure, stroke, feel and balance. Text and JSON."""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.hydraulics.change import compare
from fitcheck.hydraulics.record import Answer
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.pedal_change import cells, row_value
from fitcheck.reports.pedal_concerns import concerns
from fitcheck.reports.pedal_json import answer_value
from fitcheck.reports.pedal_text import title
from fitcheck.reports.pedal_words import LIMITS, Shown, heading, is_open, table
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph
from fitcheck.reports.plain_json import json_text


class Sides(NamedTuple):
    """Two answers and what they are called."""

    first: str
    second: str
    before: Answer
    after: Answer


def beside_text(sides: Sides, *, width: int = WIDTH) -> str:
    """Return both for people, in lines of at most `width` columns; what differs is marked."""
    shown = Shown(sides.before.units)
    lines = paragraph(title(sides.before), width)
    lines += paragraph(f"side by side: {sides.first}, {sides.second}; * differs", width)
    rows = [cells(row, shown) for row in compare(sides.before, sides.after)]
    marked = [[*row, "*" if row[1] != row[2] else ""] for row in rows]
    if marked:
        lines += ["", *table(["", sides.first, sides.second, ""], marked, width)]
    lines += _told(sides.first, sides.before, width)
    lines += _told(sides.second, sides.after, width)
    lines += ["", *paragraph(f"LIMITS: {LIMITS}", width)]
    return "\n".join([*lines, *caution_lines(width)])


def _told(name: str, found: Answer, width: int) -> Iterator[str]:
    """Yield what is wrong with one of them, what it assumes and what it lacks."""
    yield from heading(f"{name}:", width)
    for each in concerns(found):
        yield from paragraph(f"{each.level}: {each.words}", width, "  ", "    ")
    assumed = count_of(sum(map(is_open, found.figures)), "figure")
    yield from paragraph(
        f"{assumed} assumed, or known within limits: the answer for one lists them", width, "  ", "    "
    )
    missing = dict.fromkeys(gap.missing for gap in found.gaps)
    if missing:
        yield from paragraph(f"not computed for want of {', '.join(missing)}", width, "  ", "    ")


def beside_json(sides: Sides) -> str:
    """Return both as JSON text."""
    before, after = answer_value(sides.before), answer_value(sides.after)
    for value in (before, after):
        del value["caution"]
    rows = [row_value(row) | {"differs": row.differs} for row in compare(sides.before, sides.after)]
    return json_text(
        {
            "build": sides.before.build,
            "names": [sides.first, sides.second],
            "rows": rows,
            "before": before,
            "after": after,
            "caution": CAUTION,
        }
    )

"""What became of a supplier's price list. Text and JSON."""

from collections.abc import Iterator
from typing import Final

from fitcheck.catalog.take_in.rows import REASONS
from fitcheck.catalog.take_in.run import TakenIn
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, first_few, paragraph, visible
from fitcheck.reports.plain_json import json_text

_SEPARATORS: Final = {"\t": "tabs", ";": "semicolons", ",": "commas", "|": "bars"}
_CONFIDENCE: Final = {
    "high": "wording understood",
    "medium": "wording understood in part: look at each before you buy",
    "known": "part named in the list",
}
_TO_LENGTH: Final = (
    "priced by the metre or foot: taken as cut to length off a reel; if it is in pieces, say to_length: no in --columns"
)
_INDENT: Final = "  "
_HANG: Final = "      "


def take_in_text(found: TakenIn, width: int = WIDTH) -> str:
    """Return the report for people."""
    return "\n".join(_lines(found, width))


def _lines(found: TakenIn, width: int) -> Iterator[str]:
    yield from paragraph(f"{found.file}: {_how_read(found)}", width, hang=_HANG)
    yield from paragraph(f"columns: {_columns(found)}", width, _INDENT, _HANG)
    if found.unused:
        yield from paragraph(f"not used: {', '.join(map(_header, found.unused))}", width, _INDENT, _HANG)
    if found.above:
        yield from paragraph(f"above the header: {count_of(found.above, 'row')}, not read", width, _INDENT, _HANG)
    yield ""
    yield from paragraph(_sum(found), width)
    for key, what in _CONFIDENCE.items():
        if found.counts[key]:
            yield from paragraph(f"{found.counts[key]} taken: {what}", width, _INDENT, _HANG)
    for code, count in found.reasons.items():
        yield from paragraph(f"{count} rejected: {REASONS[code]}", width, _INDENT, _HANG)
    if found.repeats:
        pairs = first_few((f"row {row} says what row {first} says" for row, first in found.repeats), 3)
        yield from paragraph(f"{found.repeated} repeated: {pairs}", width, _INDENT, _HANG)
    yield ""
    yield f"{count_of(found.parts, 'part')} and {count_of(found.offers, 'offer')} of {found.supplier}"
    if found.to_length:
        yield from paragraph(f"{found.to_length} {_TO_LENGTH}", width, _INDENT, _HANG)
    for path, state in found.files:
        yield visible(f"{_INDENT}{state:<9}  {path.as_posix()}")
    yield from caution_lines(width)


def _how_read(found: TakenIn) -> str:
    sign = f"decimal {found.decimal}" if found.decimal else "decimal sign not shown"
    money = f", prices in {found.currency}" if found.currency else ", no prices"
    return f"{found.encoding}, {_SEPARATORS[found.separator]}, {sign}{money}"


def _columns(found: TakenIn) -> str:
    return ", ".join(
        f"{field.replace('_', ' ')} from {' and '.join(map(_header, headers))}"
        for field, headers in found.columns.items()
    )


def _header(text: str) -> str:
    return f"'{' '.join(text.split())}'"


def _sum(found: TakenIn) -> str:
    blank = f"; {count_of(found.blank, 'blank line')} besides" if found.blank else ""
    return (
        f"{count_of(found.rows, 'row')}: {found.taken} taken + {found.rejected} rejected + {found.repeated} repeated"
        f" = {found.rows}{blank}"
    )


def take_in_json(found: TakenIn) -> str:
    """Return the report for programs."""
    value = found._asdict()
    value["files"] = [{"path": path.as_posix(), "state": state} for path, state in found.files]
    value["reasons"] = {code: {"count": count, "meaning": REASONS[code]} for code, count in found.reasons.items()}
    value["repeats"] = [{"row": row, "first": first} for row, first in found.repeats]
    return json_text(value | {"caution": CAUTION})

"""A workbook (Office Open XML) in which text stays text and every computed cell holds its value.

Names, notes and descriptions are other people's text: they go in as strings only, each marked to be taken as typed
(`quotePrefix`), so that none is a formula, a link or a number, not even after somebody edits the cell. Formulas are
made of cell addresses alone. The same content makes the same bytes.
"""

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from io import BytesIO
from textwrap import wrap
from typing import Any, Final
from unicodedata import normalize

from fitcheck.errors import FitcheckError
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import columns, visible

_MOST_UNITS: Final = 32_000
"""Of a cell's text, in UTF-16 units; the format allows 32,767."""
_MOST_NAME: Final = 31
"""UTF-16 units of a sheet's name."""
_NOT_IN_NAMES: Final = re.compile(r"[\[\]:*?/\\]")
_ESCAPES: Final = re.compile("(_x[0-9a-fA-F]{4}_)(?=x[0-9a-fA-F]{4}_)")
"""Two escapes of the format that share an underscore: the writer defuses the first only."""
_FIRST_DAY: Final = date(1901, 1, 1)
"""Spreadsheets count days from 1900, and that year wrongly."""
MONEY: Final = "#,##0.00"
"""How an amount of money is shown."""
_POINTS: Final = 15.0
"""Height of a line of text."""
_MOST_POINTS: Final = 400.0
"""Height of a row; the format allows 409."""
_FONT: Final = 11
"""Size of the usual letters, in which columns are measured."""

Address = tuple[int, int]
"""Row and column of a cell, from 0 on."""


class NoPrintError(FitcheckError, ImportError):
    """The library that writes workbooks is not installed. `extra` names what installs it."""

    def __init__(self, extra: str = "print") -> None:
        self.extra = extra
        super().__init__(extra)

    def __str__(self) -> str:
        return f'this report needs a library that is not installed: pip install "fitcheck[{self.extra}]"'


class Book:
    """A workbook in memory. `on` is the day that it says it was made on.

    Raises:
        NoPrintError: the library is not installed.
    """

    def __init__(self, title: str, on: date) -> None:
        try:
            from xlsxwriter import Workbook  # type: ignore[import-untyped]  # 67 ms to import, needed here only
        except ImportError:
            raise NoPrintError from None
        self._bytes = BytesIO()
        options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
        self._book: Any = Workbook(self._bytes, {**options, "strings_to_numbers": False})
        self._book.set_properties({"title": shown(title, 200), "created": datetime(on.year, on.month, on.day)})
        self._styles: dict[tuple[tuple[str, Any], ...], Any] = {}

    def page(self, name: str, widths: Sequence[float]) -> "Page":
        """Return a new sheet whose columns have these widths, in characters. The name must be legal and new."""
        sheet = self._book.add_worksheet(name)
        for place, width in enumerate(widths):
            sheet.set_column(place, place, width)
        return Page(self, sheet, name, widths)

    def style(self, **properties: Any) -> Any:
        """Return a format with these properties, made once."""
        key = tuple(sorted(properties.items()))
        if key not in self._styles:
            self._styles[key] = self._book.add_format({"valign": "top", **properties})
        return self._styles[key]

    def content(self) -> bytes:
        """Return the finished workbook; nothing can be added after that."""
        self._book.close()
        return self._bytes.getvalue()


class Page:
    """One sheet, filled from the top. `row` is the next free one."""

    def __init__(self, book: Book, sheet: Any, name: str, widths: Sequence[float]) -> None:
        self.name = name
        self.row = 0
        self._book = book
        self._sheet = sheet
        self._widths = tuple(widths)
        self._points: dict[int, float] = {}

    def text(self, at: Address, text: str, over: int = 1, **style: Any) -> None:
        """Write text, wrapped in its cell, or in so many columns that it goes `over`; the row grows to show it."""
        row, first = at
        side = {"align": "left", "indent": 1} if first and "align" not in style else {}
        look = self._book.style(text_wrap=True, quote_prefix=True, **side, **style)
        if over > 1:
            self._sheet.merge_range(row, first, row, first + over - 1, "", look)
        self._sheet.write_string(row, first, shown(text), look)
        scale = style.get("font_size", _FONT) / _FONT
        room = int(sum(self._widths[first : first + over]) / scale)
        points = _lines(shown(text), room) * scale * _POINTS
        self._points[row] = max(self._points.get(row, _POINTS), min(points, _MOST_POINTS))

    def number(self, at: Address, value: Decimal | int, form: str = "0", **style: Any) -> None:
        """Write a number, shown in the given form: exactly, for a decimal is written as such and not as a float."""
        self._sheet.write_number(*at, Decimal(value), self._book.style(num_format=form, **style))

    def formula(self, at: Address, formula: str | None, value: Decimal, form: str = MONEY, **style: Any) -> None:
        """Write a formula with the value that it has; the value alone if there is no formula for it."""
        if formula is None:
            self.number(at, value, form, **style)
        else:
            look = self._book.style(num_format=form, **style)
            self._sheet.write_formula(*at, f"={formula}", look, float(value))

    def day(self, at: Address, day: date | None, unknown: str = "") -> None:
        """Write a day, in words if it is not known or before a spreadsheet's calendar."""
        if day is not None and day >= _FIRST_DAY:
            look = self._book.style(num_format="yyyy-mm-dd", align="left", indent=1)
            self._sheet.write_datetime(*at, datetime(day.year, day.month, day.day), look)
        else:
            self.text(at, date.isoformat(day)[:10] if day is not None else unknown)

    def header(self, names: Sequence[str], numbers: Iterable[int] = ()) -> None:
        """Write a row of column names, the last one over what is left, and go to the next; `numbers` stand right."""
        for place, name in enumerate(names):
            over = len(self._widths) - place if place == len(names) - 1 else 1
            side = {"align": "right"} if place in set(numbers) else {}
            self.text((self.row, place), name, over, bold=True, bottom=1, bg_color="#E7E6E6", **side)
        self.row += 1

    def wide(self, text: str, first: int = 0, **style: Any) -> None:
        """Write text over all columns from `first` on, and go to the next row."""
        self.text((self.row, first), text, len(self._widths) - first, **style)
        self.row += 1

    def finish(self, headers: int) -> None:
        """Write the caution below everything and set the sheet up for paper: A4 across, one page wide.

        The row `headers` and those above it stay in view; the row itself is repeated on every printed page.
        """
        self.row += 1
        self.wide(CAUTION, italic=True)
        sheet = self._sheet
        for row, points in self._points.items():
            sheet.set_row(row, points)
        sheet.freeze_panes(headers + 1, 0)
        sheet.repeat_rows(headers)
        sheet.set_landscape()
        sheet.set_paper(9)
        sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
        sheet.fit_to_pages(1, 0)
        sheet.print_area(0, 0, self.row - 1, len(self._widths) - 1)
        sheet.set_footer("&R&P / &N")


def shown(text: str, most: int = _MOST_UNITS) -> str:
    """Return text for a cell: controls as escapes, cut where the format ends, nothing in it that the writer reads."""
    whole = _ESCAPES.sub(r"\1 ", _cut(visible(text), most))
    return f"{whole} " if whole.startswith("<r>") and whole.endswith("</r>") else whole  # else written as raw markup


def sheet_names(wanted: Iterable[str], taken: Iterable[str] = ()) -> list[str]:
    """Return a legal name for each wanted one, none like another or like those `taken`, whatever the case."""
    seen = {_alike(name) for name in ("History", *taken)}
    names = []
    for name in wanted:
        legal = _legal(name, _MOST_NAME)
        number = 1
        while _alike(legal) in seen:
            number += 1
            legal = f"{_legal(name, _MOST_NAME - len(f' ({number})'))} ({number})"
        seen.add(_alike(legal))
        names.append(legal)
    return names


def cell(at: Address, page: Page | None = None) -> str:
    """Return the address of a cell, of another `page` if one is given: `K9`, `'It''s'!K9`."""
    row, column = at
    letters = ""
    left = column + 1
    while left:
        left, digit = divmod(left - 1, 26)
        letters = chr(65 + digit) + letters
    name = page.name.replace("'", "''") if page is not None else ""
    return f"'{name}'!{letters}{row + 1}" if page is not None else f"{letters}{row + 1}"


def rounded_as(inner: str, exact: Fraction, wanted: Decimal) -> str | None:
    """Return a formula around `inner`, which comes to `exact`, that comes to `wanted`; None if no rounding does.

    Rounding is half up to the cent, to four places, or to these and then to the cent, as amounts are rounded.
    """
    ways = ((inner, ()), (f"ROUND({inner},2)", (2,)), (f"ROUND({inner},4)", (4,)))
    both = (f"ROUND(ROUND({inner},4),2)", (4, 2))
    return next((formula for formula, places in (*ways, both) if _rounded(exact, places) == Fraction(wanted)), None)


def _rounded(exact: Fraction, places: Iterable[int]) -> Fraction:
    for place in places:
        scaled = exact * 10**place + Fraction(1, 2)
        exact = Fraction(scaled.numerator // scaled.denominator, 10**place)
    return exact


def _lines(text: str, room: int) -> int:
    """Return how many lines of so many columns a text takes: as its words fall, or wide letters fill them."""
    fallen = wrap(text, max(room - 1, 1), break_on_hyphens=False)  # a column for what sets the text in
    return max(len(fallen), -(-columns(text) // max(room, 1)), 1)


def _legal(name: str, most: int) -> str:
    return _cut(_NOT_IN_NAMES.sub("-", visible(name)), most, "").strip("' ") or "Supplier"


def _alike(name: str) -> str:
    return normalize("NFKC", name.lower()).casefold()


def _cut(text: str, most: int, end: str = "...") -> str:
    """Return text of at most so many UTF-16 units, with `end` where something is left out."""
    if len(text.encode("utf-16-le")) <= 2 * most:
        return text
    whole = text.encode("utf-16-le")[: 2 * (most - len(end))].decode("utf-16-le", "ignore")
    return f"{whole}{end}"

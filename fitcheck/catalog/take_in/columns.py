"""Which column of a price list holds what: by a mapping file, or by headers that everybody knows."""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Annotated, Any, ClassVar, Final, Literal, NamedTuple

from pydantic import BeforeValidator, Field

from fitcheck.catalog.entries import Entry, Note, Version
from fitcheck.catalog.money_fields import Currency, YesNo
from fitcheck.catalog.take_in.currencies import CODES
from fitcheck.catalog.take_in.spreadsheet import REJECT_COLUMNS, is_rejects
from fitcheck.catalog.take_in.table import SEPARATORS, Row
from fitcheck.catalog.take_in.text_file import ENCODINGS, fault
from fitcheck.naming import hint
from fitcheck.sources import Document, InputError, Problem, read

HEADER_WITHIN: Final = 20
"""The header is looked for in this many rows: lists like to begin with an address and a date."""
_FOLDED: Final = (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("ß", "ss"))
_IN_PRICE: Final = re.compile(r"\(?\b([A-Z]{3})\b\)?|([€£])")
_SIGNS: Final = {"€": "EUR", "£": "GBP"}


def _separator(value: Any) -> Any:
    if isinstance(value, str) and value not in SEPARATORS:
        known = ", ".join(map(repr, SEPARATORS))
        raise ValueError(f"expected one of {known}, got {value!r}")
    return value


def _encoding(value: Any) -> Any:
    if isinstance(value, str) and value not in ENCODINGS:
        raise ValueError(f"{value!r} is no encoding taken here{hint(value, ENCODINGS)}; known: {', '.join(ENCODINGS)}")
    return value


def _names(value: Any) -> Any:
    return [value] if isinstance(value, str) else value


Headers = Annotated[list[str], BeforeValidator(_names), Field(min_length=1)]
"""One header, or several whose cells are joined by a space."""


class ColumnsEntry(Entry):
    """The headers of the columns that hold each thing."""

    what: ClassVar[str] = "the columns"
    part: Headers | None = None
    number: Headers | None = None
    description: Headers | None = None
    price: Headers | None = None
    currency: Headers | None = None
    pack: Headers | None = None
    price_unit: Headers | None = None
    unit: Headers | None = None
    lead_time: Headers | None = None
    valid_until: Headers | None = None


class ColumnsFile(Entry):
    """A mapping file: how one supplier writes price lists. Whatever it leaves out is found in the list itself."""

    what: ClassVar[str] = "a mapping file"
    take_in: Version
    columns: ColumnsEntry | None = Field(None, description="Header of each column, where it is not a usual one.")
    separator: Annotated[str, BeforeValidator(_separator)] | None = Field(None, description="Between cells.")
    encoding: Annotated[str, BeforeValidator(_encoding)] | None = Field(None, description="Of the text.")
    decimal: Literal["comma", "point"] | None = Field(None, description="The sign before decimals.")
    currency: Currency | None = None
    price_for: Literal["piece", "pack"] | None = Field(None, description="What a price is for, if packs are sold.")
    to_length: YesNo = Field(
        True, description="False if a price for 1 m or 1 ft is for pieces of that length, not cut off a reel."
    )
    note: Note = None


class Columns(NamedTuple):
    """Where everything stands.

    Attributes:
        header: every header, as written.
        width: how many columns there are, blank headers at the end left out.
        at: positions of the columns of each field, first column 0.
        row: number of the header's row.
        above: how many rows that are not blank stand above it.
        unused: the headers of columns that nothing is read from.
        currency: the currency that the price's header names, or None.
        price_for: what the price's header says it is for, or None.
        rejects: whether the list is a file of rejects, whose last two columns are no part of the list.
    """

    header: tuple[str, ...]
    width: int
    at: Mapping[str, tuple[int, ...]]
    row: int
    above: int
    unused: tuple[str, ...]
    currency: str | None
    price_for: str | None
    rejects: bool

    def text(self, cells: Sequence[str], field: str) -> str:
        """Return what a row says in a field, without blanks around it; empty if nothing."""
        at = self.at.get(field)
        if at is None:
            return ""
        if len(at) == 1:
            return cells[at[0]].strip() if at[0] < len(cells) else ""
        return " ".join(filter(None, (cells[index].strip() for index in at if index < len(cells))))


def read_mapping(path: Path) -> tuple[Document, ColumnsFile]:
    """Read a mapping file.

    Raises:
        InputError: it cannot be read or is no mapping file; every problem has its place.
    """
    from fitcheck.validation import validate

    document = read(path)
    return document, validate(ColumnsFile, document)


def folded(text: str) -> str:
    """Return a header or word in small letters, umlauts as two letters, one space between words."""
    text = " ".join(text.casefold().split())
    if not text.isascii():
        for sign, letters in _FOLDED:
            text = text.replace(sign, letters)
    return text


@cache
def _table() -> Mapping[str, Mapping[str, Sequence[str]]]:
    root: Any = read(Path(__file__).with_name("headers.yaml")).root
    return {key: root[key] for key in ("headers", "price_for")}


@cache
def known_headers() -> Mapping[str, str]:
    """Return the field of each header that is recognised, by the header in small letters."""
    return {folded(text): field for field, texts in _table()["headers"].items() for text in texts}


def every_header(mapping: ColumnsFile | None) -> Iterator[str]:
    """Yield each header that could be met, in small letters: with and without umlauts, and those of the mapping."""
    for text in known_headers():
        yield text
        yield text.replace("ae", "ä").replace("oe", "ö").replace("ue", "ü")
    for _, names in _mapped(mapping):
        yield from (name.strip().casefold() for name in names)


def _mapped(mapping: ColumnsFile | None) -> Iterator[tuple[str, list[str]]]:
    if mapping is not None and mapping.columns is not None:
        for field, names in mapping.columns:
            if names is not None:
                yield field, names


def find_columns(
    path: Path, rows: Sequence[Row], mapping: ColumnsFile | None = None, document: Document | None = None
) -> Columns:
    """Return the columns of a list: the header is the row, among the first, with most headers that are known.

    Args:
        path: the list, for messages.
        rows: its first rows.
        mapping: the mapping file, if one is given; its headers come before those that are recognised.
        document: where the mapping file's keys stand, for messages.

    Raises:
        InputError: no row has two known headers, a header of the mapping is not there, two columns have the
            same known header, or there is neither a description nor a part.
    """
    best = max(rows[:HEADER_WITHIN], key=lambda row: (_named(row.cells, mapping), -row.number), default=None)
    if best is None or all(row.blank for row in rows):
        raise fault(path, 1, "the list is empty")
    if _named(best.cells, mapping) < 2:
        raise fault(path, 1, _no_header(mapping))
    rejects = is_rejects(best.cells)
    header = best.cells[: -len(REJECT_COLUMNS)] if rejects else best.cells
    at = _positions(path, best.number, header, mapping, document)
    if "description" not in at and "part" not in at:
        raise fault(path, best.number, "no column holds a description or a part; name one in a mapping file")
    used = {index for indexes in at.values() for index in indexes}
    unused = tuple(text for index, text in enumerate(header) if index not in used and text.strip())
    above = sum(not row.blank for row in rows if row.number < best.number)
    price = header[at["price"][0]] if "price" in at else ""
    width = max((index + 1 for index, text in enumerate(header) if text.strip()), default=0)
    return Columns(header, width, at, best.number, above, unused, _currency_in(price), _price_for(price), rejects)


def _no_header(mapping: ColumnsFile | None) -> str:
    if mapping is not None and mapping.columns is not None:
        return f"none of the first {HEADER_WITHIN} rows has the headers of the mapping file"
    return (
        f"none of the first {HEADER_WITHIN} rows is a header with two that are known, such as description and price; "
        "name the columns in a mapping file (--columns)"
    )


def _named(cells: Sequence[str], mapping: ColumnsFile | None) -> int:
    own = {folded(name) for _, names in _mapped(mapping) for name in names}
    known = known_headers()
    return sum(text in own or _field_of(text, known) is not None for text in map(folded, cells))


def _field_of(text: str, known: Mapping[str, str]) -> str | None:
    """Return what a header stands for; what a price's header says in brackets or behind it is its currency."""
    if text in known:
        return known[text]
    bare = re.sub(r"\s*[(\[]?(?:\b[a-z]{3}|[€£])[)\]]?$", "", text)
    return "price" if known.get(bare) == "price" and bare != text else None


def _positions(
    path: Path, row: int, header: Sequence[str], mapping: ColumnsFile | None, document: Document | None
) -> dict[str, tuple[int, ...]]:
    texts = list(map(folded, header))
    at: dict[str, tuple[int, ...]] = {}
    problems: list[Problem] = []
    for field, names in _mapped(mapping):
        missing = [name for name in names if folded(name) not in texts]
        if missing and document is not None:
            message = f"the list has no column {missing[0]!r}{hint(missing[0], header)}"
            problems.append(document.problem(("columns", field), message))
        at[field] = tuple(texts.index(folded(name)) for name in names if folded(name) in texts)
    if problems:
        raise InputError(tuple(problems))
    taken = {index for indexes in at.values() for index in indexes}
    for index, text in enumerate(texts):
        found = _field_of(text, known_headers())
        if found is None or found in dict(_mapped(mapping)) or index in taken:
            continue
        if found in at:
            both = f"{header[at[found][0]]!r} and {header[index]!r}"
            raise fault(path, row, f"both columns {both} could hold the {found}; say which in a mapping file")
        at[found] = (index,)
    return at


def _currency_in(header: str) -> str | None:
    if folded(header) in known_headers():  # PRICE EX VAT names no currency
        return None
    codes = (match[1] or _SIGNS[match[2]] for match in _IN_PRICE.finditer(header))
    return next((code for code in codes if code in CODES), None)


def _price_for(header: str) -> str | None:
    text = folded(re.sub(r"\s*[(\[]?(?:\b[A-Z]{3}|[€£])[)\]]?\s*$", "", header))
    return next((what for what, texts in _table()["price_for"].items() if text in map(folded, texts)), None)

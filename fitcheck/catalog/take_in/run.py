"""A whole price list taken in: looked through once for what it is, and once for its rows."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Final, NamedTuple

from fitcheck.catalog.formulas import defused, restored
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.take_in import figures
from fitcheck.catalog.take_in.columns import (
    HEADER_WITHIN,
    Columns,
    ColumnsFile,
    every_header,
    find_columns,
    read_mapping,
)
from fitcheck.catalog.take_in.currencies import CODES
from fitcheck.catalog.take_in.figures import FigureError
from fitcheck.catalog.take_in.rows import Outcome, Rejected, Repeated, Settings, slug, take
from fitcheck.catalog.take_in.seen import Seen
from fitcheck.catalog.take_in.spreadsheet import REJECT_COLUMNS, writer
from fitcheck.catalog.take_in.table import Row, rows, separator_of
from fitcheck.catalog.take_in.text_file import encoding_of, fault
from fitcheck.catalog.take_in.writing import (
    Output,
    Series,
    Written,
    file_hash,
    flow,
    numbered,
    place_all,
    rejects_hash,
    untouched,
)
from fitcheck.progress import task
from fitcheck.trees import Document

_MOST_REPEATS: Final = 5


class Request(NamedTuple):
    """What is asked for.

    Attributes:
        file: the price list.
        supplier: who wrote it; None takes the file's name.
        mapping: a mapping file, or None.
        out: folder to write to; None is the list's own.
        currency: of the prices, before all that the list says.
        also_likely: make parts of wording that is understood in part, too.
        write_over: replace files that take-in did not write.
    """

    file: Path
    supplier: str | None = None
    mapping: Path | None = None
    out: Path | None = None
    currency: str | None = None
    also_likely: bool = False
    write_over: bool = False


class TakenIn(NamedTuple):
    """What became of a list: `taken`, `rejected` and `repeated` add up to `rows`.

    Attributes:
        supplier: short name, as the offers have it.
        header_row: number of the header's row; `above` rows that are not blank stand over it.
        columns: the headers of each field.
        unused: headers of columns that nothing is read from.
        decimal: sign before decimals, None if the list does not show it.
        counts: rows taken, by `high`, `medium` and `known`.
        parts, offers: how many were written.
        to_length: offers with a price for 1 m or 1 ft, taken as cut to length off a reel.
        reasons: rejections by the keys of `rows.REASONS`.
        repeats: the first few repeated rows, each with the row that it repeats.
        files: the files and what became of them.
    """

    file: str
    supplier: str
    encoding: str
    separator: str
    header_row: int
    above: int
    columns: Mapping[str, tuple[str, ...]]
    unused: tuple[str, ...]
    decimal: str | None
    currency: str | None
    rows: int
    taken: int
    rejected: int
    repeated: int
    blank: int
    counts: Mapping[str, int]
    parts: int
    offers: int
    to_length: int
    reasons: Mapping[str, int]
    repeats: tuple[tuple[int, int], ...]
    files: tuple[Written, ...]


class _List(NamedTuple):
    """A list that can be gone through again and again."""

    path: Path
    encoding: str
    separator: str
    columns: Columns

    def rows(self) -> Iterator[Row]:
        """Yield the rows below the header as their writer meant them."""
        for row in rows(self.path, self.encoding, self.separator):
            if row.number > self.columns.row:
                yield _original(row, len(self.columns.header)) if self.columns.rejects else row


def _original(row: Row, width: int) -> Row:
    """Return a row of a file of rejects as it was in the list."""
    return row._replace(cells=tuple(map(restored, row.cells[:width])))


class _Survey(NamedTuple):
    """What only the whole list shows."""

    decimal: str | None
    currency: str | None
    width: int


def take_in(request: Request, shelf: Shelf) -> TakenIn:
    """Take a price list in and write its parts, its offers and its rejects.

    Args:
        request: what is asked for.
        shelf: the catalogs whose parts a column may name.

    Raises:
        InputError: the list or the mapping file cannot be read, the header or the currency is not found, or a file
            that take-in did not write would have to be replaced. Nothing is written then.
    """
    document, mapping = read_mapping(request.mapping) if request.mapping is not None else (None, None)
    found = _open(request.file, mapping, document)
    tag = slug(request.supplier if request.supplier is not None else request.file.stem)
    if not tag:
        raise fault(request.file, 1, "the supplier needs a name with letters or digits; give --supplier")
    with task(f"looking through {request.file.name}"):
        survey = _survey(found, request.currency or (mapping.currency if mapping else None))
    if "price" in found.columns.at and survey.currency is None:
        raise fault(request.file, found.columns.row, "no price says its currency; give --currency, such as EUR")
    settings = Settings(
        found.columns,
        tag,
        request.file.name,
        survey.currency if "price" in found.columns.at else None,
        (mapping.decimal if mapping else None) or survey.decimal,
        (mapping.price_for if mapping else None) or found.columns.price_for,
        request.also_likely,
        mapping.to_length if mapping else True,
        shelf,
        Shelf.generic(),
    )
    return _Run(request, found, settings, survey.width).taken_in()


def _open(path: Path, mapping: ColumnsFile | None, document: Document | None) -> _List:
    encoding = (mapping.encoding if mapping else None) or encoding_of(path)
    separator = (mapping.separator if mapping else None) or separator_of(path, encoding, every_header(mapping))
    first = list(islice(rows(path, encoding, separator), HEADER_WITHIN))
    return _List(path, encoding, separator, find_columns(path, first, mapping, document))


def _survey(found: _List, currency: str | None) -> _Survey:
    columns = found.columns
    signs: set[str | None] = set()
    codes: Counter[str] = Counter()
    width = len(columns.header)
    for row in found.rows():
        width = max(width, len(row.cells))
        if row.fault is not None:
            continue
        text = columns.text(row.cells, "price")
        signs.add(figures.decimal_sign(text))
        code = figures.currency_code(columns.text(row.cells, "currency")) or _code_of(text)
        if code in CODES:
            codes[code] += 1
    usual = min(codes, key=lambda code: (-codes[code], code), default=None)
    return _Survey(figures.voted_sign(signs), currency or columns.currency or usual, width)


def _code_of(price: str) -> str:
    if not price or (price[-1].isdigit() and price[0].isdigit()):
        return ""
    try:
        return figures.price(price, "point").currency or ""
    except FigureError:
        return ""


class _Run:
    """The second look: every row becomes something, and that is written at once."""

    def __init__(self, request: Request, found: _List, settings: Settings, width: int) -> None:
        self.request = request
        self.found = found
        self.settings = settings
        self.width = width
        self.counts: Counter[str] = Counter()
        self.reasons: Counter[str] = Counter()
        self.repeats: list[tuple[int, int]] = []
        self.outputs: list[Output] = []
        folder = request.out if request.out is not None else request.file.parent
        self.parts_path = folder / f"{settings.supplier}-parts.yaml"
        self.offers_path = folder / f"{settings.supplier}-offers.yaml"
        self.rejects_path = folder / f"{request.file.stem}-rejects.csv"
        name = request.file.name.encode("unicode_escape").decode()
        self.first_line = f"# Written by `fitcheck parts take-in` from {name} for {settings.supplier}; edit a copy.\n"

    def taken_in(self) -> TakenIn:
        """Write the files and return what became of the list."""
        folder = self.parts_path.parent
        try:
            folder.mkdir(parents=True, exist_ok=True)
            self._write()
            files = place_all(self.outputs, self._mine, self.request.write_over)
            files += self._remove_later()
        except OSError as error:
            raise fault(folder, 1, f"cannot be written: {(error.strerror or str(error)).lower()}") from error
        finally:
            for output in self.outputs:
                output.drop()
        return self._answer(tuple(files))

    def _write(self) -> None:
        parts = Series(self.parts_path, f"{self.first_line}catalog: 1\nparts:", " {}", self.outputs.append)
        offers = None
        if self.settings.currency is not None:
            offers = Series(self.offers_path, self._offers_head(), " []", self.outputs.append)
        rejects = Output(self.rejects_path)
        self.outputs.append(rejects)
        reject = self._reject_writer(rejects)
        with Seen() as seen, task(f"taking in {self.request.file.name}"):
            for row in self.found.rows():
                if row.blank:
                    self.counts["blank"] += 1
                else:
                    self._one(row, take(row, self.settings, seen), parts, offers, reject)
        rejects.close()
        if offers is not None:
            offers.finish()
        parts.finish(rejects.hash.hexdigest())

    def _one(
        self, row: Row, outcome: Outcome, parts: Series, offers: Series | None, reject: Callable[[list[str]], object]
    ) -> None:
        self.counts["rows"] += 1
        if isinstance(outcome, Repeated):
            self.counts["repeated"] += 1
            if len(self.repeats) < _MOST_REPEATS:
                self.repeats.append((row.number, outcome.first))
        elif isinstance(outcome, Rejected):
            self.counts["rejected"] += 1
            self.reasons[outcome.code] += 1
            padding = [""] * (self.width - len(row.cells))
            reject([*map(defused, row.cells), *padding, str(row.number), defused(outcome.reason)])
        else:
            self.counts["taken"] += 1
            self.counts[outcome.confidence] += 1
            if outcome.part is not None:
                self.counts["parts"] += 1
                parts.add(f"  {outcome.part_id}: {flow(outcome.part)}")
            if outcome.offer is not None and offers is not None:
                self.counts["offers"] += 1
                self.counts["to_length"] += "to_length" in outcome.offer
                offers.add(f"  - {flow(outcome.offer)}")

    def _offers_head(self) -> str:
        supplier = self.request.supplier if self.request.supplier is not None else self.request.file.stem
        its = flow({"name": supplier, "currency": self.settings.currency})
        return f"{self.first_line}offers: 1\nsuppliers:\n  {self.settings.supplier}: {its}\nprices:"

    def _reject_writer(self, output: Output) -> Callable[[list[str]], object]:
        output.write("\ufeff")  # spreadsheets take a file without a mark for something else than UTF-8
        write: Callable[[list[str]], object] = writer(output, self.found.separator).writerow  # type: ignore[arg-type]  # csv asks for no more than write()
        header = self.found.columns.header
        write([*map(defused, header), *[""] * (self.width - len(header)), *REJECT_COLUMNS])
        return write

    def _mine(self, output: Output) -> bool:
        if output.path == self.rejects_path:
            return file_hash(output.target) == rejects_hash(self.parts_path)
        return untouched(output.target, self.first_line)

    def _remove_later(self) -> list[Written]:
        """Remove the further files of an earlier, longer list, so that none of its parts stay behind."""
        gone = []
        for path in (self.parts_path, self.offers_path):
            number = 1 + sum(output.path.stem.startswith(path.stem) for output in self.outputs)
            while untouched(numbered(path, number), self.first_line):
                numbered(path, number).unlink()
                gone.append(Written(numbered(path, number), "removed"))
                number += 1
        return gone

    def _answer(self, files: tuple[Written, ...]) -> TakenIn:
        columns, counts = self.found.columns, self.counts
        return TakenIn(
            file=self.request.file.as_posix(),
            supplier=self.settings.supplier,
            encoding=self.found.encoding,
            separator=self.found.separator,
            header_row=columns.row,
            above=columns.above,
            columns={field: tuple(columns.header[index] for index in at) for field, at in columns.at.items()},
            unused=columns.unused,
            decimal=self.settings.decimal,
            currency=self.settings.currency,
            rows=counts["rows"],
            taken=counts["taken"],
            rejected=counts["rejected"],
            repeated=counts["repeated"],
            blank=counts["blank"],
            counts={key: counts[key] for key in ("high", "medium", "known")},
            parts=counts["parts"],
            offers=counts["offers"],
            to_length=counts["to_length"],
            reasons=dict(sorted(self.reasons.items(), key=lambda pair: (-pair[1], pair[0]))),
            repeats=tuple(self.repeats),
            files=files,
        )

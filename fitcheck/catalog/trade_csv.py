"""CSV files that users write: one row of column names, then one entry in each row, every cell with its place.

Encoding, separator and lines are found as they are for suppliers' price lists. What a row says becomes the same tree
as that of a YAML file, so that one set of models checks both, in the same sentences.
"""

import re
from collections.abc import Iterable, Iterator
from io import StringIO
from itertools import chain
from pathlib import Path
from typing import Final, TypeVar

from pydantic import BaseModel

from fitcheck.catalog.csv_rows import Row, Rows
from fitcheck.catalog.take_in.table import separator_of
from fitcheck.catalog.take_in.text_file import encoding_of, fault, lines
from fitcheck.files import AnyPath
from fitcheck.naming import hint
from fitcheck.sources import MOST_BYTES, MOST_VALUES
from fitcheck.trees import Document, InputError, Mapping, Problem, Sequence, short
from fitcheck.validation import MOST_PROBLEMS, validate

_FORBIDDEN: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")
"""What no file may hold: as in `sources`."""
_MANY: Final = f"more than {MOST_VALUES}"
MOST_ITEMS: Final = 1000
"""Most that one cell may list."""
_ITEM: Final = re.compile(r"[^;]++")
_Model = TypeVar("_Model", bound=BaseModel)


def keys_of(model: type[BaseModel]) -> dict[str, bool]:
    """Return the keys of a model, as users write them, and whether each is needed."""
    return {field.alias or name: field.is_required() for name, field in model.model_fields.items()}


class Problems:
    """Problems as they are found; those past the first `MOST_PROBLEMS` are counted."""

    def __init__(self) -> None:
        self.found: list[Problem] = []
        self.first_more: Problem | None = None
        self.more = 0

    def add(self, problem: Problem) -> None:
        """Take one more problem down."""
        if len(self.found) < MOST_PROBLEMS:
            self.found.append(problem)
            return
        self.first_more = self.first_more or problem
        self.more += 1

    def error(self) -> InputError:
        """Return the error that tells them, in the order of the file."""
        told = sorted(set(self.found), key=lambda problem: (problem.line, problem.column, problem.message))
        if self.first_more is not None:
            told.append(self.first_more._replace(message=f"{self.more} more problems from here on"))
        return InputError(tuple(told))


class Table:
    """A CSV file whose header has been read: `columns` says at which place of a row each key stands.

    `document` is the file with the tree of what has been read of it, as a YAML file would have it.
    """

    def __init__(self, name: str, text: str, encoding: str, separator: str, keys: dict[str, bool]) -> None:
        self.root = Mapping(0)
        self.document = Document(name, text, self.root, (0, 0, len(text), None))
        self.text = text
        self.encoding = encoding
        self.separator = separator
        self.keys = keys
        self.problems = Problems()
        self._rows = Rows(text, separator)
        self._check_characters()
        self.header = self._header()
        self.columns = self._columns()
        self._whole = not any(needed and key not in self.columns for key, needed in keys.items())

    @property
    def name(self) -> str:
        """The file's name, for messages."""
        return self.document.name

    def changed(self, text: str) -> "Table":
        """Return the same table with another text, read anew."""
        return Table(self.name, text, self.encoding, self.separator, self.keys)

    def problem(self, offset: int, message: str) -> None:
        """Take down what is wrong at an offset."""
        mark = self.document.at(offset)
        self.problems.add(Problem(self.name, mark.line, mark.column, message))

    def rows(self) -> Iterator[Row]:
        """Yield the rows below the header, but for blank ones.

        Raises:
            InputError: there are more than `MOST_VALUES` cells.
        """
        return self._filled(self._rows.after(self.next_line(self.header)))

    def _filled(self, rows: Iterable[Row]) -> Iterator[Row]:
        left = MOST_VALUES
        for row in rows:
            left -= max(len(row.cells), 1)
            if left < 0:
                raise fault(Path(self.name), self.document.at(row.start).line, f"{_MANY} cells; split the file")
            if not row.blank:
                yield row

    def next_line(self, row: Row) -> int:
        """Return where the line below a row begins."""
        return self._rows.next_line(row.end)

    def entry(self, row: Row) -> Mapping:
        """Return what a row says, by key, with the place of each cell; take down what has no key."""
        entry = Mapping(row.start)
        if row.fault is not None:
            self.problem(*row.fault)
            return entry
        first_line = self._rows.line_end(row.start)
        names = self.header.cells
        for key, index in self.columns.items():
            if index < len(row.cells) and row.cells[index].text:
                cell = row.cells[index]
                at = cell.start if cell.start <= first_line else row.start
                entry[key], entry.spots[key] = cell.text, (at, at, cell.end, "")
        for index, cell in enumerate(row.cells):
            if cell.text and (index >= len(names) or not names[index].text):
                at = cell.start if cell.start <= first_line else row.start
                self.problem(at, f"{short(cell.text)} stands in a column without a name")
                break
        return entry

    def items(self, entry: Mapping, key: str) -> list[tuple[str, int]]:
        """Return what a cell lists between semicolons, each with its place; nothing, and why, if it is too much."""
        text = entry.get(key)
        if text is None:
            return []
        start, _, end, _ = entry.spots[key]
        if text.count(";") >= MOST_ITEMS:
            self.problem(start, f"more than {MOST_ITEMS} {key} in one cell")
            return []
        raw = self.text[start:end]
        written = -1 if "\n" in raw or "\r" in raw else raw.find(text)  # nor is it there if quotes are doubled in it
        found = []
        for match in _ITEM.finditer(text):
            if item := match[0].strip():
                inner = match.start() + len(match[0]) - len(match[0].lstrip())
                found.append((item, start if written < 0 else start + written + inner))
        return found

    def held(self, model: type[_Model], section: str, row: Row, entry: Mapping) -> _Model | None:
        """Put the entry of a row into a section of the tree, and return the model that it holds.

        None if it holds none, with its problems taken down, or if every row lacks a column.
        """
        if not self._whole:
            return None
        entries = self.root.setdefault(section, Sequence(self.header.start))
        self.root.spots[section] = (self.header.start, self.header.start, row.end, None)
        entries.append(entry)
        entries.spots.append((row.start, row.start, row.end, None))
        try:
            return validate(model, self.document, base=(section, len(entries) - 1), node=entry)
        except InputError as error:
            for problem in error.problems:
                self.problems.add(problem)
            return None

    def refuse(self) -> None:
        """Raise InputError if a problem was taken down."""
        if self.problems.found:
            raise self.problems.error()

    def _check_characters(self) -> None:
        if found := _FORBIDDEN.search(self.text):
            self.problem(found.start(), f"the character U+{ord(found[0]):04X} is not taken in a file; delete it")
            raise self.problems.error()

    def _header(self) -> Row:
        header = next(self._filled(self._rows), None)
        if header is None:
            raise fault(Path(self.name), 1, "the file is empty: expected a row of column names")
        if header.fault is not None:
            self.problem(*header.fault)
            raise self.problems.error()
        return header

    def _columns(self) -> dict[str, int]:
        columns: dict[str, int] = {}
        for index, cell in enumerate(self.header.cells):
            key = "_".join(cell.text.lower().split())
            if len(self.problems.found) == MOST_PROBLEMS:
                break  # nearest words for all that one line can hold would take minutes
            if key in columns:
                self.problem(cell.start, f"the column {short(cell.text)} is column {columns[key] + 1} already")
            elif key in self.keys:
                columns[key] = index
            elif key:
                near = hint(key, self.keys) or f"; known: {', '.join(self.keys)}"
                self.problem(cell.start, f"unknown column {short(cell.text)}{near}")
        for key, needed in self.keys.items():
            if needed and key not in columns:
                self.problem(self.header.start, f"there is no column {key!r}")
        return columns


def read_table(path: AnyPath, keys: dict[str, bool]) -> Table:
    """Read a CSV file whose columns are `keys`, each of which may be needed. Capitals in its header do not matter.

    Raises:
        InputError: the file cannot be read, is too large, holds a control character, or has no header. Wrong columns
            are taken down in the table's `problems`.
    """
    try:
        size = path.stat().st_size
    except (OSError, ValueError):
        size = 0  # the reader says what is wrong
    if size > MOST_BYTES:
        raise fault(path, 1, f"the file is larger than {MOST_BYTES // 1024 // 1024} MiB; split it")
    encoding = encoding_of(path)
    text = StringIO(newline="")
    for number, line in enumerate(lines(path, encoding), start=1):
        if number > MOST_VALUES:
            raise fault(path, number, f"{_MANY} lines; split the file")
        text.write(line)
    separator = separator_of(path, encoding, chain(keys, (key.replace("_", " ") for key in keys)))
    return Table(path.as_posix(), text.getvalue(), encoding, separator, keys)

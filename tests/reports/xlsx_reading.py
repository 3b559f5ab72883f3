"""A workbook read without the library that wrote it, and its formulas worked out exactly."""

import io
import re
import zipfile
from fractions import Fraction
from math import floor
from typing import NamedTuple
from xml.etree import ElementTree

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_SHEET = r"'(?:[^']|'')+'!"
_CELL = r"[A-Z]{1,2}[1-9][0-9]*"
_SUM = rf"SUM\({_CELL}:{_CELL}\)"
_TERM = rf"(?:{_SUM}|(?:{_SHEET})?{_CELL})"
_PLAIN = rf"{_TERM}(?:[*/+]{_TERM})*"
_ONCE = rf"(?:{_PLAIN}|ROUND\({_PLAIN},[24]\))"
GRAMMAR = re.compile(rf"{_ONCE}|ROUND\({_ONCE},2\)")
"""All that a formula of ours may be: addresses, sums, products and rounding. No text in it but names of sheets."""


class Cell(NamedTuple):
    """One cell. `text` for strings; `value` is the number, or what a formula was said to come to."""

    text: str | None
    value: Fraction | None
    formula: str | None
    quoted: bool


class Workbook(NamedTuple):
    """The sheets by name, each with its filled cells by address, and the names of the files in the package."""

    sheets: dict[str, dict[str, Cell]]
    files: tuple[str, ...]


def read(content: bytes) -> Workbook:
    """Return a workbook's cells."""
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    shared = ElementTree.fromstring(parts["xl/sharedStrings.xml"])
    texts = ["".join(node.text or "" for node in entry.iter(f"{_MAIN}t")) for entry in shared.iter(f"{_MAIN}si")]
    formats = ElementTree.fromstring(parts["xl/styles.xml"]).find(f"{_MAIN}cellXfs")
    assert formats is not None
    quoted = [entry.get("quotePrefix") == "1" for entry in formats]
    names = [node.attrib["name"] for node in ElementTree.fromstring(parts["xl/workbook.xml"]).iter(f"{_MAIN}sheet")]
    sheets = {
        name: {
            node.attrib["r"]: _cell(node, texts, quoted)
            for node in ElementTree.fromstring(parts[f"xl/worksheets/sheet{place}.xml"]).iter(f"{_MAIN}c")
            if node.find(f"{_MAIN}v") is not None
        }
        for place, name in enumerate(names, 1)
    }
    return Workbook(sheets, tuple(parts))


def _cell(node: ElementTree.Element, texts: list[str], quoted: list[bool]) -> Cell:
    value = node.findtext(f"{_MAIN}v") or ""
    formula = node.findtext(f"{_MAIN}f")
    marked = quoted[int(node.get("s", "0"))]
    if node.get("t") == "s":
        return Cell(texts[int(value)], None, formula, marked)
    assert node.get("t") in (None, "n"), "neither text nor a number"
    return Cell(None, Fraction(value), formula, marked)


def worked_out(book: Workbook, sheet: str, address: str) -> Fraction:
    """Return what a cell comes to, worked out from the numbers that were written and nothing else."""
    cell = book.sheets[sheet][address]
    if cell.formula is None:
        assert cell.value is not None
        return cell.value
    return _come_to(book, sheet, cell.formula)


def _come_to(book: Workbook, sheet: str, formula: str) -> Fraction:
    if rounding := re.fullmatch(r"ROUND\((.*),([24])\)", formula):
        scale = 10 ** int(rounding[2])
        return Fraction(floor(_come_to(book, sheet, rounding[1]) * scale + Fraction(1, 2)), scale)
    parts = re.findall(rf"([*/+]|^)({_TERM})", formula)
    assert "".join(sign + term for sign, term in parts) == formula, formula
    total = Fraction(0)
    for sign, term in parts:
        value = _term(book, sheet, term)
        total = total * value if sign == "*" else total / value if sign == "/" else total + value
    return total


def _term(book: Workbook, sheet: str, term: str) -> Fraction:
    if span := re.fullmatch(r"SUM\(([A-Z]+)([0-9]+):\1([0-9]+)\)", term):
        rows = range(int(span[2]), int(span[3]) + 1)
        return sum((worked_out(book, sheet, f"{span[1]}{row}") for row in rows), Fraction(0))
    name, _, address = term.rpartition("!")
    return worked_out(book, name[1:-1].replace("''", "'") if name else sheet, address)

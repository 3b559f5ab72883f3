"""What an answer must be, whatever text the files hold: read by parsers that are none of ours, by its form."""

import csv
import io
import json
import re
import zipfile
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from xml.etree import ElementTree

import openpyxl
import pymupdf

from fitcheck.catalog.formulas import restored
from fitcheck.reports.plain import visible
from tests.hostile.answers import Answer
from tests.hostile.texts import MARK, packed, quoted
from tests.reports.test_check_junit import faults as junit_faults

_SHOWN = {"title", "aria-label", "alt", "value", "content", "placeholder", "data-words"}
"""Attributes that hold words for the reader; others hold names, addresses and numbers of our own."""
_NAMED = re.compile(r"data-[a-z]+|id|for|name|href|action|class|aria-[a-z]+")
_ALIVE = re.compile(r"\s*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]")
_SHEET = re.compile(r"'(?:[^']|'')+'!")
_FORMULA = re.compile(r"=(?:ROUND|SUM|[A-Z]{1,2}[0-9]+|[0-9]+|[-+*/:,()])+")
"""The sums of our own, once names of sheets are out of them."""
_QUOTED = re.compile(r'"(?:[^"\\\n]|\\[^\n])*"')
"""Text in a style sheet: the edge of a printed page names the build."""
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
_PLACE = re.compile(r"^\S.*:\d+:\d+: \S")


def faults(answer: Answer) -> list[str]:
    """Return what is wrong with an answer, whatever it is about."""
    found = [f"standard error drives the terminal: {word!r}" for word in _driving(answer.said)]
    found += ["a traceback"] * ("Traceback" in answer.said)
    if answer.code == 2:
        told = [line for line in answer.said.splitlines() if not re.match(r"\d+ problems?; ", line)]
        good = told and all(_PLACE.match(line) or line.startswith("fitcheck") for line in told)
        return found if good else [*found, f"refused without a place: {answer.said!r}"]
    return [*found, *_FORMS[answer.form](answer)]


def shown(answer: Answer) -> str:
    """Return the words of an answer as a reader finds them, without blanks."""
    return packed(_WORDS[answer.form](answer))


def lost(answer: Answer, words: dict[str, str]) -> list[str]:
    """Return which words are not whole where there is room: as they are, made visible, or as a file quotes them."""
    if answer.form not in ("json", "csv", "xlsx", "html") or answer.code == 2:
        return []
    there = shown(answer)
    return [f"cuts {text!r:.60}" for text in words.values() if not any(way in there for way in _ways(text))]


def _ways(text: str) -> tuple[str, ...]:
    seen = "".join(char if char.isprintable() or char == "\n" else ascii(char)[1:-1] for char in text)
    return packed(text), packed(seen), packed(visible(text)), packed(quoted(text)[1:-1])


def _driving(text: str) -> list[str]:
    return [char for char in dict.fromkeys(text) if char != "\n" and not char.isprintable()][:5]


def _text(answer: Answer) -> Iterator[str]:
    for char in _driving(answer.text):
        yield f"drives the terminal: {char!r}"


def _json(answer: Answer) -> Iterator[str]:
    json.loads(answer.text, parse_constant=lambda word: f"no JSON: {word}")
    yield from (f"drives the terminal: {char!r}" for char in _driving(answer.text) if char < "\xa0")


def _json_words(answer: Answer) -> str:
    words: list[str] = []
    json.loads(answer.text, object_pairs_hook=lambda pairs: words.extend(_strings(pairs)))
    return " ".join(words)


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _strings(inner)


def _junit(answer: Answer) -> Iterator[str]:
    yield from junit_faults(answer.text)


def _csv(answer: Answer) -> Iterator[str]:
    for row in csv.reader(io.StringIO(answer.text, newline="")):
        for cell in row:
            for piece in re.split(r"[;\n]", cell):
                if _ALIVE.match(piece) and not _NUMBER.fullmatch(piece):
                    yield f"a spreadsheet computes {cell[:60]!r}"
    yield from (f"drives the terminal: {char!r}" for char in _driving(answer.text) if char < " " and char not in "\r\t")


def _csv_words(answer: Answer) -> str:
    return " ".join(restored(cell) for row in csv.reader(io.StringIO(answer.text, newline="")) for cell in row)


def _xlsx(answer: Answer) -> Iterator[str]:
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        for name in archive.namelist():
            ElementTree.fromstring(archive.read(name))
            if re.search(rb"<hyperlink|oleObject|externalLink|TargetMode=.External", archive.read(name)):
                yield f"{name} has a link"
    for cell in _cells(answer):
        if cell.data_type == "f" and not _FORMULA.fullmatch(_SHEET.sub("", str(cell.value))):
            yield f"{cell.coordinate} computes {str(cell.value)[:60]!r}"
        elif isinstance(cell.value, str) and cell.data_type not in ("s", "inlineStr", "f"):
            yield f"{cell.coordinate} is of type {cell.data_type}: {cell.value[:60]!r}"


def _cells(answer: Answer) -> Iterator["openpyxl.cell.Cell"]:
    for sheet in openpyxl.load_workbook(io.BytesIO(answer.content)):
        for row in sheet.iter_rows():
            yield from row


def _xlsx_words(answer: Answer) -> str:
    names = openpyxl.load_workbook(io.BytesIO(answer.content)).sheetnames
    return " ".join([*names, *(str(cell.value) for cell in _cells(answer) if cell.value is not None)])


class _Page(HTMLParser):
    """Reads a page as browsers do, and notes where a mark is that should be text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.wrong: list[str] = []
        self.words: list[str] = []
        self.within: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element that holds a mark in its name or in what is no place for words."""
        self.within.append(tag)
        if MARK in tag:
            self.wrong.append(f"the element {tag[:40]}")
        for name, value in attrs:
            self.words.append(value or "")
            if MARK in name or name.startswith("on"):
                self.wrong.append(f"the attribute {name[:40]} of {tag}")
            elif name in ("src", "style") or (name == "href" and not re.match(r"[/#?]", value or "")):
                if MARK in (value or ""):
                    self.wrong.append(f"{name} of {tag} is {(value or '')[:60]!r}")
            elif MARK in (value or "") and name not in _SHOWN and not _NAMED.fullmatch(name):
                self.wrong.append(f"{name} of {tag} holds {(value or '')[:60]!r}")

    def handle_endtag(self, tag: str) -> None:
        """Note that an element ends."""
        if tag in self.within:
            del self.within[len(self.within) - 1 - self.within[::-1].index(tag) :]

    def handle_data(self, data: str) -> None:
        """Note text, and where it is no text but a script or a style."""
        self.words.append(data)
        if self.within[-1:] in (["script"], ["style"]) and MARK in _QUOTED.sub("", data):
            self.wrong.append(f"{self.within[-1]} holds {data[:60]!r}")

    def handle_comment(self, data: str) -> None:
        """Note a comment that holds a mark."""
        if MARK in data:
            self.wrong.append(f"a comment holds {data[:60]!r}")

    def handle_decl(self, decl: str) -> None:
        """Note a declaration that is none of ours."""
        if MARK in decl or "ENTITY" in decl:
            self.wrong.append(f"a declaration {decl[:60]!r}")

    def handle_pi(self, data: str) -> None:
        """Note an instruction that holds a mark."""
        if MARK in data:
            self.wrong.append(f"an instruction {data[:60]!r}")


def page_faults(text: str) -> list[str]:
    """Return what of the texts has become more than text in HTML or SVG."""
    page = _Page()
    page.feed(text)
    page.close()
    return page.wrong


def page_words(text: str) -> str:
    """Return the words of a page and of the attributes that are read to people."""
    page = _Page()
    page.feed(text)
    page.close()
    return " ".join(page.words)


def _html(answer: Answer) -> Iterator[str]:
    yield from page_faults(answer.text)
    yield from _well_formed(answer)


def _well_formed(answer: Answer) -> Iterator[str]:
    """As XML too, which drawings and bodies of pages are: what is text to one reader is to the other."""
    body = answer.text[answer.text.find("<body") : answer.text.rfind("</body>") + 7]
    root = ElementTree.fromstring(body if answer.form == "html" else answer.text)
    for element in root.iter():
        if MARK in element.tag or any(MARK in name for name in element.attrib):
            yield f"the element {element.tag}"
    yield from (f"drives the terminal: {char!r}" for char in _driving(answer.text))


def _pdf(answer: Answer) -> Iterator[str]:
    with pymupdf.open(stream=answer.content, filetype="pdf") as document:
        for page in document:
            for link in page.get_links():
                if link.get("uri"):
                    yield f"a link to {link['uri'][:60]!r}"
    for word in (b"/JavaScript", b"/Launch", b"/EmbeddedFile", b"/SubmitForm"):
        if word in answer.content:
            yield f"{word.decode()} in the PDF"


def _pdf_words(answer: Answer) -> str:
    with pymupdf.open(stream=answer.content, filetype="pdf") as document:
        title = document.metadata["title"] or ""
        return title + " ".join(page.get_text() for page in document)


def _dxf(answer: Answer) -> Iterator[str]:
    import ezdxf

    drawing = ezdxf.read(io.StringIO(answer.text))  # type: ignore[attr-defined]
    for error in drawing.audit().errors:
        yield f"the drawing has an error: {error.message}"


_FORMS: dict[str, Callable[[Answer], Iterator[str]]] = {
    "text": _text,
    "json": _json,
    "junit": _junit,
    "csv": _csv,
    "xlsx": _xlsx,
    "html": _html,
    "svg": _html,
    "pdf": _pdf,
    "dxf": _dxf,
}
_WORDS: dict[str, Callable[[Answer], str]] = {
    "text": lambda answer: answer.text,
    "json": _json_words,
    "junit": lambda answer: page_words(answer.text),
    "csv": _csv_words,
    "xlsx": _xlsx_words,
    "html": lambda answer: page_words(answer.text),
    "svg": lambda answer: page_words(answer.text),
    "pdf": _pdf_words,
    "dxf": lambda answer: answer.text,
}

"""What is wrong with a file as it is being typed: its errors, and of a build the findings of every rule."""

import re
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Final, Literal, NamedTuple

from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build, Place
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check_context
from fitcheck.reports.evidence_words import evidence_lines
from fitcheck.reports.plain import count_of, visible
from fitcheck.service.editor.texts import Kind, Open, Shelves, kind_of, kind_of_text, line_starts
from fitcheck.sources import parse
from fitcheck.trees import BOM, Document, InputError, Problem

Severity = Literal["error", "warning", "note", "hint"]
MOST: Final = 1000
"""Most that is said of one file: no editor shows more."""
_THING: Final = re.compile(r"\[[^\[\]\r\n]*\]|\{[^{}\r\n]*\}|[^\s,\[\]{}#]+")


class Span(NamedTuple):
    """A stretch of a file's text, from its first character to behind its last."""

    file: Path
    start: int
    end: int


class Said(NamedTuple):
    """One thing to show in a file. `rule` is empty for what makes a file unusable; `related` are its other places."""

    span: Span
    severity: Severity
    message: str
    rule: str = ""
    related: tuple[tuple[Span, str], ...] = ()


class Diagnosis(NamedTuple):
    """What was found by looking at one file: what to show, by file, and which other files that depends on."""

    kind: Kind | None
    said: dict[Path, tuple[Said, ...]]
    named: frozenset[Path] = frozenset()


def diagnose(files: Open, path: Path, shelves: Shelves) -> Diagnosis:
    """Return what is to be shown of an open file. Nothing is said of a file that is none of ours."""
    text = files.texts[path]
    try:
        document = parse(text, path.as_posix())
    except InputError as error:
        kind = kind_of_text(text)
        return Diagnosis(kind, _by_file(path, _problems(files, path, error.problems) if kind else ()))
    kind = kind_of(document.root)
    if kind is None:
        return Diagnosis(None, {path: ()})
    try:
        said = _build(files, path, document, shelves) if kind == "build" else _other(kind, document)
        shown = _by_file(path, said)
    except InputError as error:
        shown = _by_file(path, _problems(files, path, error.problems))
    return Diagnosis(kind, shown, frozenset(_named(files, path, document) if kind == "build" else ()))


def _by_file(path: Path, said: Iterable[Said]) -> dict[Path, tuple[Said, ...]]:
    found: dict[Path, list[Said]] = {path: []}
    for one in said:
        found.setdefault(one.span.file, []).append(one)
    return {file: tuple(dict.fromkeys(islice(several, MOST))) for file, several in found.items()}


def _named(files: Open, path: Path, document: Document) -> Iterator[Path]:
    from fitcheck.build.files import named_files

    for named in named_files(document, path.parent):
        yield files.whole((files.folder(path) / named.as_posix()).path, path)


def _other(kind: Kind, document: Document) -> tuple[Said, ...]:
    """Refuse what is no catalog, offers or stock file; there is nothing to say of one that is."""
    from fitcheck.catalog.entries import CatalogFile
    from fitcheck.catalog.offer_file import OfferFile
    from fitcheck.catalog.stock_file import StockFile
    from fitcheck.validation import validate

    if kind == "catalog":
        validate(CatalogFile, document)
    else:
        validate(OfferFile if kind == "offers" else StockFile, document)
    return ()


def _build(files: Open, path: Path, document: Document, shelves: Shelves) -> Iterator[Said]:
    build = shelves.build(files, path, document)
    context = Context(assemble(build))
    report = check_context(context)
    yield from _unchecked(path, document, report)
    for finding in (*report.findings, *report.accepted):
        yield _finding(path, build, context, finding)
    for read in (build.offers, build.stock):
        try:
            read()
        except InputError as error:
            yield from _problems(files, path, error.problems)


def _unchecked(path: Path, document: Document, report: Report) -> Iterator[Said]:
    """Say on the first line how much was not checked: silence must not look like a pass."""
    if report.unchecked:
        words = f"{count_of(len(report.unchecked), 'check')} not made: fitcheck check says which field each lacks"
        yield Said(_span(path, document.text, document.root_spot[0]), "note", words)


def _finding(path: Path, build: Build, context: Context, finding: Finding) -> Said:
    document = build.document
    lines = [finding.message, *evidence_lines(finding)]
    if finding.accepted is not None:
        lines.append(f"accepted: {finding.accepted}")
    others = dict.fromkeys(finding.at[1:])
    related = tuple(
        (_span(path, document.text, document.mark(where, key=True).offset), ref)
        for ref in islice(others, 8)
        if (where := context.graph.path_of(ref))
    )
    span = _span(path, document.text, offset_of(document.text, finding.place))
    severity: Severity = "hint" if finding.accepted is not None else finding.level
    return Said(span, severity, "\n".join(map(visible, lines)), finding.rule, related)


def _problems(files: Open, path: Path, problems: Iterable[Problem]) -> Iterator[Said]:
    for problem in problems:
        file = files.whole(problem.file, path)
        text = files.text(file)
        offset = offset_of(text, Place(problem.file, problem.line, problem.column))
        yield Said(_span(file, text, offset), "error", visible(problem.message))


def offset_of(text: str, place: Place) -> int:
    """Return the offset of a place into a text; the nearest there is, if the text is shorter."""
    starts = line_starts(text)
    start = starts[min(place.line, len(starts)) - 1]
    bom = place.line == 1 and text.startswith(BOM)
    return min(start + place.column - 1 + bom, len(text))


def _span(path: Path, text: str, offset: int) -> Span:
    """Return the word, value, collection within its line, or single sign that begins at an offset."""
    found = _THING.match(text, offset)
    return Span(path, offset, found.end() if found is not None else min(offset + 1, len(text)))

"""Remedies as edits of the text that is open: the same that `cure --write` would make, proven by a re-check."""

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from pathlib import Path
from typing import Final, NamedTuple

from fitcheck.build.assemble import assemble
from fitcheck.changes import ConflictError, changed_document
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding
from fitcheck.checks.run import check_context
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.choose import all_remedies
from fitcheck.remedies.proof import Prover, standing
from fitcheck.reports.plain import visible
from fitcheck.reports.remedy_words import remedy_text
from fitcheck.service.editor.texts import Open, Shelves, kind_of
from fitcheck.sources import parse
from fitcheck.trees import Document, InputError

MOST_REMEDIES: Final = 3
MOST_FINDINGS: Final = 5
"""How many remedies of how many findings are looked for: each is a check of the whole build."""


class Edit(NamedTuple):
    """The text between two offsets replaced by another."""

    start: int
    end: int
    text: str


class Action(NamedTuple):
    """A remedy: the act, the finding that it puts right, the edits of the file; `first` if it is the best."""

    title: str
    rule: str
    message: str
    edits: tuple[Edit, ...]
    first: bool


def actions(files: Open, path: Path, lines: tuple[int, int], shelves: Shelves) -> tuple[Action, ...]:
    """Return the remedies of what is found on these lines of a build, from and to, counted from 1.

    None if the file is no build or cannot be read.
    """
    try:
        document = parse(files.texts[path], path.as_posix())
        if kind_of(document.root) != "build":
            return ()
        context = Context(assemble(shelves.build(files, path, document)))
        report = check_context(context)
        found = [one for one in standing(report) if lines[0] <= one.place.line <= lines[1]][:MOST_FINDINGS]
        if not found:
            return ()
        bench = Bench(context, report)
        prover = Prover(bench)
        return tuple(action for one in found for action in _of_finding(bench, prover, document, one))
    except InputError:
        return ()


def _of_finding(bench: Bench, prover: Prover, document: Document, finding: Finding) -> Iterator[Action]:
    first = True
    for proven in all_remedies(bench, prover, finding, MOST_REMEDIES):
        try:
            changed = changed_document(document, proven.remedy.changes)
        except (InputError, ConflictError):
            continue
        edits = edits_between(document.text, changed.text)
        if edits:
            yield Action(visible(remedy_text(proven)), finding.rule, visible(finding.message), edits, first)
            first = False


def edits_between(old: str, new: str) -> tuple[Edit, ...]:
    r"""Return the edits that turn one text into another, whole lines at a time, in the order of the text.

    >>> edits_between("a\nb\nc\n", "a\nB\nc\nd\n")
    (Edit(start=2, end=4, text='B\n'), Edit(start=6, end=6, text='d\n'))
    """
    before, after = old.splitlines(keepends=True), new.splitlines(keepends=True)
    head = _alike(before, after)
    tail = _alike(before[head:][::-1], after[head:][::-1])
    middle, wanted = before[head : len(before) - tail], after[head : len(after) - tail]
    starts = [sum(map(len, before[:head]))]
    for line in middle:
        starts.append(starts[-1] + len(line))
    matcher = SequenceMatcher(None, middle, wanted, autojunk=False)
    return tuple(
        Edit(starts[a], starts[b], "".join(wanted[c:d]))
        for kind, a, b, c, d in matcher.get_opcodes()
        if kind != "equal"
    )


def _alike(one: Sequence[str], other: Sequence[str]) -> int:
    """Return how many lines are the same from the beginning on."""
    count = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        count += 1
    return count

"""What `watch` says after each save: the time, which files, the whole answer of `check`, and last what changed."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import NamedTuple

from fitcheck.bom.change import BomChange
from fitcheck.checks.findings import LEVELS, Report
from fitcheck.reports.check_text import check_text
from fitcheck.reports.plain import WIDTH, count_of, paragraph, visible
from fitcheck.reports.swap_text import change_lines, difference
from fitcheck.trees import Problem


class Answer(NamedTuple):
    """What one look at the files gives.

    `report` is None if the build cannot be read, `problems` say why, or what is wrong with offers and stock. `bill` is
    how the bill of materials changed, None if nobody looked.
    """

    report: Report | None
    problems: tuple[Problem, ...] = ()
    bill: BomChange | None = None


def first_text(answer: Answer, *, width: int = WIDTH, colour: bool = False) -> str:
    """Return the first answer: that of `check`, or what keeps it from being given."""
    return "\n".join(_answer(answer, width, colour))


def next_text(
    answer: Answer,
    before: Report | None,
    files: Iterable[str],
    when: datetime,
    *,
    width: int = WIDTH,
    colour: bool = False,
) -> str:
    """Return a later answer: which files changed and when, the answer, and what it changed since `before`.

    `before` is the last report that could be given, None if there was none.
    """
    lines = ["", visible(f"{when:%H:%M:%S} changed: {', '.join(files)}"), ""]
    lines += _answer(answer, width, colour)
    if answer.report is not None and before is not None:
        found = difference(before, answer.report)
        lines += ["", *paragraph(f"{when:%H:%M:%S} what that changes", width)]
        lines += change_lines(found, answer.bill, width)
        lines += ["", *paragraph(f"Now: {_counts(answer.report)}; {count_of(found.stay, 'finding')} as before.", width)]
    return "\n".join(lines)


def _answer(answer: Answer, width: int, colour: bool) -> Iterator[str]:
    if answer.report is not None:
        yield check_text(answer.report, width=width, colour=colour)
        if answer.problems:
            yield from ("", *paragraph("OFFERS AND STOCK that cannot be used", width), "")
    for problem in answer.problems:
        yield visible(str(problem))  # not wrapped: terminals make a link of file, line and column
    if answer.report is None:
        yield f"{count_of(len(answer.problems), 'problem')}; nothing was checked"


def _counts(report: Report) -> str:
    return ", ".join(count_of(report.count(level), level) for level in LEVELS)

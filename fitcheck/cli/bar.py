"""One line at the bottom of a terminal that says how far long work is; gone without a trace when it is done."""

import os
from collections.abc import Callable
from time import monotonic
from typing import Final, TextIO

from fitcheck.progress import Step

AFTER_S: Final = 0.5
"""Work that is done sooner shows nothing."""
EVERY_S: Final = 0.1
_WIDE: Final = 24
_INTERRUPT: Final = "^C"
_USUAL: Final = 80


class Bar:
    """Shows steps on a terminal, at most ten a second, from half a second on.

    It writes to the stream for messages, never to that of answers.
    """

    def __init__(self, stream: TextIO, columns: int, now: Callable[[], float] = monotonic) -> None:
        self.stream = stream
        self.columns = columns
        self.now = now
        self.due: float | None = None
        self.there = 0

    def show(self, step: Step | None) -> None:
        """Show a step if it is time for one; None takes the line away."""
        from fitcheck.reports.plain import columns

        now = self.now()
        if step is None:
            self.clear()
            self.due = None
        elif self.due is None:
            self.due = now + AFTER_S
        elif now >= self.due:
            self.due = now + EVERY_S
            line = line_of(step)
            while columns(line) > max(self.columns - 1 - len(_INTERRUPT), 1):
                line = line[:-1]
            before, wide = self.there, columns(line)
            self.there = max(before, wide)  # whoever is interrupted while writing takes all of it away
            self.stream.write(f"\r{line}{' ' * (before - wide)}")  # every terminal knows blanks
            self.stream.flush()
            self.there = wide

    def clear(self) -> None:
        """Take the line away, and what a terminal writes behind it for Ctrl-C."""
        if self.there:
            self.stream.write(f"\r{' ' * (self.there + len(_INTERRUPT))}\r")
            self.stream.flush()
            self.there = 0


def columns_of(stream: TextIO) -> int:
    """Return how wide the terminal of a stream is; 80 columns if it does not say."""
    try:
        return os.get_terminal_size(stream.fileno()).columns or _USUAL
    except (OSError, ValueError):
        return _USUAL


def line_of(step: Step) -> str:
    """Return a step as one line.

    >>> line_of(Step("taking in list.csv", 3, 4, "1,200 rows"))
    'taking in list.csv [##################------]  75 % 1,200 rows'
    """
    from fitcheck.reports.plain import visible

    share = step.share
    if share is None:
        return visible(f"{step.task} {step.note}".rstrip())
    full = int(share * _WIDE)
    return visible(f"{step.task} [{'#' * full}{'-' * (_WIDE - full)}] {int(share * 100):3} % {step.note}".rstrip())

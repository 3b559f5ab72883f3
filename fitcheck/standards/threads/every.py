"""Every thread that the tables can name, in its usual class."""

from collections.abc import Iterator
from functools import lru_cache

from fitcheck.standards.threads import series
from fitcheck.standards.threads.known import known_threads
from fitcheck.standards.threads.thread import Thread

_PIPE_SERIES = ("NPT", "NPTF", "G", "R", "Rp", "Rc")


@lru_cache(maxsize=1)
def every_thread() -> tuple[Thread, ...]:
    """Return the trade's list, then every other unified, metric and pipe thread of the tables.

    Threads with a rounded root (UNJ, MJ) are there only if the trade's list has them: each would be the twin of
    a plain one, and a calliper cannot tell them apart.
    """
    threads = dict.fromkeys(known_threads())
    threads.update(dict.fromkeys(_of_the_tables()))
    return tuple(threads)


def _of_the_tables() -> Iterator[Thread]:
    for size in series.unified_sizes():
        for tpi in size.series:
            yield series.unified(size, tpi)
    for diameter, (_, pitches) in series.metric_pitches().items():
        for pitch in pitches:
            yield series.metric(diameter, pitch)
    for name in _PIPE_SERIES:
        for pipe_size in series.pipe_sizes(name):
            yield series.pipe(name, pipe_size)


def has_member(thread: Thread, internal: bool) -> bool:
    """Return whether a designation names an internal (else external) thread: R is external, Rp and Rc internal."""
    return thread.series not in (("R",) if internal else ("Rp", "Rc"))


def has_rounded_root(thread: Thread) -> bool:
    """Return whether a thread has the controlled root radius of UNJ or MJ."""
    return thread.family in ("UNJ", "MJ")

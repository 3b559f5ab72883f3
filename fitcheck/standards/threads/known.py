"""The trade's list: the threads that turn up in brake, clutch and fuel plumbing."""

from functools import lru_cache

from fitcheck.standards.threads.designation import parse
from fitcheck.standards.threads.thread import Thread


@lru_cache(maxsize=1)
def known_uses() -> dict[str, str]:
    """Return the canonical designation of each thread of the trade and what it is used for.

    Source: common practice, no source; the data file threads_known.yaml names the standards that use them.
    """
    from fitcheck.standards.tables import load  # read only when a look-alike or a nearest spelling is wanted

    return dict(load("threads_known")["threads"])


def designations() -> tuple[str, ...]:
    """Return the canonical designations of the trade's list, in the list's order."""
    return tuple(known_uses())


@lru_cache(maxsize=1)
def known_threads() -> tuple[Thread, ...]:
    """Return the threads of the trade's list, in the list's order."""
    return tuple(parse(designation) for designation in designations())

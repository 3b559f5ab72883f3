"""How far long work has come, told to whoever wants to know; nobody does unless a terminal is looking.

Work says what it does with `task` and how far it is with `step`; what shows it is chosen from outside with `shown_by`.
So nothing on the way has to pass it on, and an answer is the same whether somebody looks or not.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from typing import NamedTuple, TypeVar

_Item = TypeVar("_Item")


class Step(NamedTuple):
    """How far a task is: `done` of `total`, in any one unit; None where the end is not known. `note` says more."""

    task: str
    done: float = 0.0
    total: float | None = None
    note: str = ""

    @property
    def share(self) -> float | None:
        """Share that is done, 0 to 1; None where the end is not known."""
        if self.total is None:
            return None
        return min(max(self.done / self.total, 0.0), 1.0) if self.total > 0 else 1.0


Show = Callable[[Step | None], None]
"""What shows a step; None says that the task has ended."""
_show: ContextVar[Show | None] = ContextVar("show", default=None)
_task: ContextVar[str] = ContextVar("task", default="")


@contextmanager
def shown_by(show: Show) -> Iterator[None]:
    """Have all that is told meanwhile shown."""
    token = _show.set(show)
    try:
        yield
    finally:
        _show.reset(token)


@contextmanager
def task(words: str) -> Iterator[None]:
    """Name what is done meanwhile, in words that go on with a number: `taking in list.csv`.

    Of a task within another the outer one's next step takes the place: only the end of the outermost is told.
    """
    show, outermost = _show.get(), not _task.get()
    token = _task.set(words)
    try:
        if show is not None:
            show(Step(words))
        yield
    finally:
        _task.reset(token)
        if show is not None and outermost:
            show(None)


def watched() -> bool:
    """Return whether anybody looks: what costs something to find out may be left out if not."""
    return _show.get() is not None and bool(_task.get())


def step(done: float, total: float | None = None, note: str = "") -> None:
    """Tell how far the present task is. Without a task, or with nobody looking, nothing happens."""
    show, words = _show.get(), _task.get()
    if show is not None and words:
        show(Step(words, done, total, note))


def stepping(items: Sequence[_Item], note: Callable[[_Item], str]) -> Iterator[_Item]:
    """Yield items, and tell before each how many of them are done and which one it is, in the words of `note`."""
    for number, item in enumerate(items):
        step(number, len(items), note(item))
        yield item

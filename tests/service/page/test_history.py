"""What was accepted, to be undone."""

import pytest

from fitcheck.service.folder import digest
from fitcheck.service.page import history as module
from fitcheck.service.page.history import History


def test_steps() -> None:
    """A change goes from the done to the undone and back; one that changes nothing is none."""
    history = History()
    history.did("build.yaml", "a", "a", "nothing")
    assert history.last(back=True) is None
    history.did("build.yaml", "a", "b", "b for a")
    step = history.last(back=True)
    assert step is not None
    assert (step.before, step.after) == (digest(b"a"), digest(b"b"))
    history.moved(step, back=True)
    assert (history.last(back=True), history.last(back=False)) == (None, step)
    history.moved(step, back=False)
    assert (history.last(back=True), history.last(back=False)) == (step, None)


def test_memory_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Old versions fall out when there are too many; the latest stays."""
    monkeypatch.setattr(module, "_MOST_BYTES", 100)
    history = History()
    names = [history.keep(f"{number:040d}") for number in range(5)]
    assert [history.version(name) is not None for name in names] == [False, False, False, True, True]
    whole = history.keep("x" * 500)
    assert history.version(whole) == "x" * 500

"""What was accepted, to be undone: by whichever process."""

import os
import stat
from pathlib import Path

import pytest

from fitcheck.service.folder import digest
from fitcheck.service.page import history as module
from fitcheck.service.page.history import History, Steps


def test_steps(tmp_path: Path) -> None:
    """A change goes from the done to the undone and back; one that changes nothing is none."""
    history = History(str(tmp_path))
    assert history.did("build.yaml", "a", "a", "nothing") is None
    assert history.steps() == Steps()
    step = history.did("build.yaml", "a", "b", "b for a")
    assert step is not None
    assert (step.before, step.after) == (digest(b"a"), digest(b"b"))
    assert history.steps() == Steps((step,), ())
    history.moved(step, back=True)
    assert history.steps() == Steps((), (step,))
    history.moved(step, back=True)  # it is undone already
    assert history.steps() == Steps((), (step,))
    history.moved(step, back=False)
    assert history.steps() == Steps((step,), ())


def test_processes_share_it(tmp_path: Path) -> None:
    """What one process has done another knows, with both versions of the file; a new change ends what was undone."""
    one, other = History(str(tmp_path)), History(str(tmp_path))
    first = one.did("build.yaml", "a", "b\r\n", "first")
    assert first is not None
    assert other.steps().last(back=True) == first
    assert (other.version(first.before), other.version(first.after)) == ("a", "b\r\n")
    other.moved(first, back=True)
    second = one.did("build.yaml", "a", "c", "second")
    assert other.steps() == Steps((second,), ())


def test_own_folder() -> None:
    """A process by itself makes a folder that nobody else can read, and takes it out at its end."""
    history = History()
    history.did("build.yaml", "a", "b", "b for a")
    assert stat.S_IMODE(history.folder.stat().st_mode) == 0o700
    history.close()
    assert not history.folder.exists()


def test_shared_folder_stays(tmp_path: Path) -> None:
    """A process that shares the folder leaves it to the others."""
    history = History(str(tmp_path))
    history.close()
    assert tmp_path.exists()


@pytest.mark.parametrize("name", ["", "steps.json", "../secret", "/etc/passwd", "A" * 64, "0" * 63, "0" * 64 + "\n"])
def test_names_are_hashes(tmp_path: Path, name: str) -> None:
    """No other name leads to a file, whatever a form says."""
    (tmp_path.parent / "secret").write_text("secret")
    (tmp_path / "steps.json").write_text("{}")
    assert History(str(tmp_path)).version(name) is None


def test_spoilt_versions_and_steps_are_none(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """What somebody else has written into the folder is not taken for a version or a step."""
    history = History(str(tmp_path))
    name = history.keep("mine")
    (tmp_path / name).write_text("theirs")
    assert history.version(name) is None
    for said in ("[]", "{", '{"done": 1, "undone": []}', '{"done": [["a"]], "undone": []}'):
        (tmp_path / "steps.json").write_text(said)
        assert history.steps() == Steps()
    assert len(caplog.records) == 4


def test_folder_gone_is_told(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """Without the folder nothing can be undone: that is said in the log, and what was written stays written."""
    history = History(str(tmp_path / "gone"))
    history.did("build.yaml", "a", "b", "b for a")
    assert history.steps() == Steps()
    assert caplog.records[-1].getMessage().startswith("a change could not be noted, so it cannot be undone: ")


def test_room_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The versions that nobody has looked at for longest fall out when there are too many; the latest stays."""
    monkeypatch.setattr(module, "_MOST_BYTES", 100)
    history = History(str(tmp_path))
    names = []
    for number in range(5):
        names.append(history.keep(f"{number:040d}"))
        os.utime(tmp_path / names[-1], (number, number))
    assert [history.version(name) is not None for name in names] == [False, False, False, True, True]
    whole = history.keep("x" * 500)
    assert history.version(whole) == "x" * 500
    assert [path.name for path in tmp_path.iterdir()] == [whole]

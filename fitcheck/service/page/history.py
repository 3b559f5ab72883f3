"""What was accepted, to be undone and done again; and the versions of files that this takes, by their hashes.

All server processes of one `fitcheck serve` share a folder of its own for it, so that a change that one of them made
can be undone by any. Whoever writes into it holds the lock of the served folder.
"""

import json
import logging
import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import get_ident
from typing import Any, Final, NamedTuple

from fitcheck.service.folder import digest

_MOST_BYTES: Final = 32 * 1024 * 1024
_MOST_STEPS: Final = 200
_NAME: Final = re.compile(r"[0-9a-f]{64}")
_STEPS: Final = "steps.json"
_LOG: Final = logging.getLogger(__name__)


class Step(NamedTuple):
    """A change that was accepted: of which file, from which version to which (SHA-256), and what it was in words."""

    file: str
    before: str
    after: str
    words: str

    @property
    def name(self) -> str:
        """What tells this step from others."""
        return f"{self.before[:16]}-{self.after[:16]}"


class Steps(NamedTuple):
    """The changes that can be undone, and those that were undone and can be made again; the latest is the last."""

    done: tuple[Step, ...] = ()
    undone: tuple[Step, ...] = ()

    def last(self, back: bool) -> Step | None:
        """Return the step that would be undone (`back`) or done again; None if there is none."""
        steps = self.done if back else self.undone
        return steps[-1] if steps else None


class History:
    """The changes that the processes of one server have made: they are forgotten when it ends.

    `folder` is theirs alone; without one this process makes its own. What falls out because there is too much of it
    cannot be undone any more; nothing else depends on it.

    Limits: a server that is killed leaves its folder behind, readable by the user who started it and nobody else.
    """

    def __init__(self, folder: str = "") -> None:
        self._own = None if folder else TemporaryDirectory(prefix="fitcheck-undo-")
        self.folder = Path(folder or (self._own.name if self._own is not None else ""))

    def close(self) -> None:
        """Forget everything, unless other processes share it."""
        if self._own is not None:
            self._own.cleanup()

    def keep(self, text: str) -> str:
        """Keep a version of a file and return its hash."""
        data = text.encode()
        name = digest(data)
        try:
            try:
                os.utime(self.folder / name)
            except FileNotFoundError:
                self._put(name, data)
                self._tidy(name)
        except OSError as error:
            _LOG.warning("a version of a file could not be kept, so it cannot be undone: %s", error)
        return name

    def version(self, name: str) -> str | None:
        """Return a version of a file by its hash; None if it is not kept any more."""
        if not _NAME.fullmatch(name):
            return None
        try:
            data = (self.folder / name).read_bytes()
        except OSError:
            return None
        return data.decode() if digest(data) == name else None

    def steps(self) -> Steps:
        """Return what was done and undone so far."""
        try:
            said = json.loads((self.folder / _STEPS).read_bytes())
            return Steps(*(tuple(Step(*each) for each in said[name]) for name in Steps._fields))
        except FileNotFoundError:
            return Steps()
        except (OSError, ValueError, TypeError, KeyError) as error:
            _LOG.warning("what was done so far could not be read, so it cannot be undone: %s", error)
            return Steps()

    def did(self, file: str, before: str, after: str, words: str) -> Step | None:
        """Note that a change was accepted, and return it; None if it changed nothing.

        What had been undone cannot be done again from here on.
        """
        if before == after:
            return None
        step = Step(file, self.keep(before), self.keep(after), words)
        self._note(Steps((*self.steps().done, step)[-_MOST_STEPS:]))
        return step

    def moved(self, step: Step, back: bool) -> None:
        """Note that the last step was undone (`back`) or done again."""
        done, undone = self.steps()
        if back and done[-1:] == (step,):
            self._note(Steps(done[:-1], (*undone, step)))
        elif not back and undone[-1:] == (step,):
            self._note(Steps((*done, step), undone[:-1]))

    def _note(self, steps: Steps) -> None:
        said: dict[str, Any] = steps._asdict()
        try:
            self._put(_STEPS, json.dumps(said).encode())
        except OSError as error:
            _LOG.warning("a change could not be noted, so it cannot be undone: %s", error)

    def _put(self, name: str, data: bytes) -> None:
        """Write a file that is seen whole or not at all."""
        neighbour = self.folder / f".{os.getpid()}-{get_ident()}-{name[:16]}"
        try:
            neighbour.write_bytes(data)
            neighbour.replace(self.folder / name)
        finally:
            neighbour.unlink(missing_ok=True)

    def _tidy(self, latest: str) -> None:
        """Take out the versions that nobody has looked at for longest, where there is too much of them."""
        found = sorted(self._versions())
        size = sum(each[1] for each in found)
        for _, bytes_, path in found:
            if size <= _MOST_BYTES:
                break
            if path.name != latest:
                path.unlink(missing_ok=True)
                size -= bytes_

    def _versions(self) -> Iterator[tuple[int, int, Path]]:
        """Yield when each version was last looked at, its size and where it is."""
        for path in self.folder.iterdir():
            with suppress(FileNotFoundError):  # another process has just taken it out
                if _NAME.fullmatch(path.name):
                    about = path.stat()
                    yield about.st_mtime_ns, about.st_size, path

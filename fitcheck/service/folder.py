"""The served folder: reading and writing the files of its builds, and nothing else."""

import os
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Final, NamedTuple

from fitcheck.files import Fence, Held
from fitcheck.service.problems import RefusedError, places
from fitcheck.sources import MOST_BYTES, decoded, read, write_atomically
from fitcheck.trees import InputError, Mapping, Sequence

_WRITING: Final = Lock()
"""Held from comparing to writing: of two requests at once the second finds what the first wrote."""


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep every other request from writing into a folder, those of the other server processes too.

    Limits: where the system or the file system has no such locks, only those of this process.
    """
    with _WRITING:
        try:
            import fcntl
        except ImportError:
            yield
            return
        try:
            handle = os.open(folder, os.O_RDONLY)
        except OSError:
            raise RefusedError("not-found", "the served folder is not there") from None
        try:
            with suppress(OSError):
                fcntl.flock(handle, fcntl.LOCK_EX)
            yield
        finally:
            os.close(handle)


class FileText(NamedTuple):
    """A file of the served folder: its name there, its text, and the SHA-256 of its bytes."""

    path: str
    text: str
    sha256: str


class Folder:
    """A served folder. `build` is the build file that is meant if none is named."""

    def __init__(self, fence: Fence, build: str) -> None:
        self.fence = fence
        self.build = build

    def text(self, path: str) -> FileText:
        """Return a file.

        Raises:
            RefusedError: there is no such file, it is not one that is served, or it is not UTF-8.
        """
        data = self._bytes(path)
        try:
            return FileText(path, decoded(data, path), digest(data))
        except InputError as error:
            raise RefusedError("input", str(error.problems[0]), problems=places(error.problems)) from None

    def write(self, path: str, text: str, was: str) -> FileText:
        """Put a new text into a file that has not changed since it was read, and return it.

        It is written to a temporary neighbour and renamed: an interruption loses nothing.

        Raises:
            RefusedError: there is no such file, or its SHA-256 is no longer `was`: `there` is then what it holds.
            InputError: it cannot be written.
        """
        with self.alone():
            there = self.text(path)
            if there.sha256 != was:
                detail = f"{path} is not what it was when it was read; nothing was written"
                raise RefusedError("changed", detail, there=there._asdict())
            return self.put(path, text)

    def alone(self) -> AbstractContextManager[None]:
        """Keep every other request from writing, from comparing to writing and noting what was written."""
        return _alone(self.fence.top)

    def put(self, path: str, text: str) -> FileText:
        """Put a new text into a file and return it. Whoever asks has compared it and is `alone`.

        Raises:
            InputError: it cannot be written.
        """
        write_atomically(self.fence.where(path), text)
        return FileText(path, text, digest(text.encode()))

    def names(self) -> tuple[str, ...]:
        """Return the build file and the files that it names and that are there, however wrong the rest of it is."""
        try:
            root = read(Held(self.fence, self.build)).root
        except InputError:
            root = None
        named: list[str] = []
        folder = Held(self.fence, self.build).parent
        for key in ("catalogs", "offers", "stock") if isinstance(root, Mapping) else ():
            said = root.get(key) if isinstance(root, Mapping) else None
            each = said if isinstance(said, Sequence) else [said]
            named += [(folder / name).as_posix() for name in each if isinstance(name, str)]
        there = (name for name in named if self.fence.size(name) is not None)
        return tuple(dict.fromkeys((self.build, *there)))

    def _bytes(self, path: str) -> bytes:
        try:
            if self.fence.size(path) is None:
                raise FileNotFoundError
            return self.fence.read(path, MOST_BYTES)
        except OSError:
            raise RefusedError("not-found", f"there is no file {path} in the served folder") from None


def digest(data: bytes) -> str:
    """Return the SHA-256 of a file's bytes, as hexadecimal digits."""
    return sha256(data).hexdigest()

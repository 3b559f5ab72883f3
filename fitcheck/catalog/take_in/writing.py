"""The files that take-in writes: line by line into temporary neighbours, renamed when all of them are whole.

A YAML file begins with a line that says where it comes from and ends with the hash of all its lines, so that an
edit by hand shows. A file that is there already is replaced only if take-in wrote it, from the same list and for
the same supplier, and nobody edited it since. A file that would stay the same is not touched.
"""

import json
import os
import re
from collections.abc import Callable, Iterable
from hashlib import sha256
from pathlib import Path
from typing import Any, Final, NamedTuple

from fitcheck.trees import InputError, Problem

MOST_BYTES: Final = 12 * 1024 * 1024
"""A file that has grown to this is ended and another begun: files over 32 MiB are not read."""
_PLAIN: Final = re.compile(r"[A-Za-z][\w-]*", re.ASCII)
_UNQUOTED: Final = re.compile(r"[\x00-\x1f\"\\]")
_NOT_PLAIN: Final = frozenset(("null", "true", "false", "yes", "no", "on", "off", "y", "n"))
_END: Final = "# sha256 of the lines above: "
_REJECTS: Final = "# sha256 of the rejects: "
_TAIL: Final = 400
_CHUNK: Final = 1 << 20


class Written(NamedTuple):
    """A file and what became of it: `new`, `changed`, `unchanged` or `removed`."""

    path: Path
    state: str


def scalar(value: Any) -> str:
    """Return a plain value as YAML takes it, in quotes unless it is a plain word."""
    text = str(value)
    if _PLAIN.fullmatch(text) and text.lower() not in _NOT_PLAIN:
        return text
    return f'"{text}"' if _UNQUOTED.search(text) is None else json.dumps(text, ensure_ascii=False)


def flow(value: Any) -> str:
    """Return a value on one line of YAML."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow(item)}" for key, item in value.items()) + "}"
    return scalar(value)


class Output:
    """One file that is being written beside its place."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.target = Path(os.path.realpath(path))
        self.temporary = self.target.with_name(f".fitcheck-{os.urandom(6).hex()}.tmp")
        self.size = 0
        self.hash = sha256()
        self.file = self.temporary.open("xb")

    def write(self, text: str) -> None:
        """Write text as UTF-8, its line ends as given."""
        data = text.encode()
        self.hash.update(data)
        self.size += len(data)
        self.file.write(data)

    def close(self) -> None:
        """End the file; it is whole on the disk afterwards."""
        if not self.file.closed:
            self.file.flush()
            os.fsync(self.file.fileno())
            self.file.close()

    def place(self) -> None:
        """Put it in its place; a file that is there keeps its mode."""
        if self.target.exists():
            self.temporary.chmod(self.target.stat().st_mode & 0o7777)
        self.temporary.replace(self.target)

    def drop(self) -> None:
        """Remove what is not in its place."""
        self.file.close()
        self.temporary.unlink(missing_ok=True)


class Series:
    """A YAML file, or several if it grows too large: `x.yaml`, `x-2.yaml`, ... Each has the same head."""

    def __init__(self, path: Path, head: str, empty: str, keep: Callable[[Output], None]) -> None:
        self.path = path
        self.head = head
        self.empty = empty
        self.keep = keep
        self.outputs: list[Output] = []
        self.lines = 0
        self._begin()

    def _begin(self) -> None:
        output = Output(numbered(self.path, len(self.outputs) + 1))
        self.keep(output)
        self.outputs.append(output)
        output.write(self.head)
        self.lines = 0

    def add(self, line: str) -> None:
        """Write one entry."""
        if self.outputs[-1].size > MOST_BYTES:
            self._finish()
            self._begin()
        output = self.outputs[-1]
        output.write(f"{'' if self.lines else chr(10)}{line}\n")
        self.lines += 1

    def finish(self, rejects: str = "") -> None:
        """End the last file, with the hash of the rejects if there is one."""
        self._finish(f"{_REJECTS}{rejects}\n" if rejects else "")

    def _finish(self, last: str = "") -> None:
        output = self.outputs[-1]
        if not self.lines:
            output.write(f"{self.empty}\n")
        output.write(last)
        output.write(f"{_END}{output.hash.hexdigest()}\n")
        output.close()


def numbered(path: Path, number: int) -> Path:
    """Return the name of the file with this number in a series."""
    return path if number == 1 else path.with_name(f"{path.stem}-{number}{path.suffix}")


def place_all(outputs: Iterable[Output], mine: Callable[[Output], bool], write_over: bool) -> list[Written]:
    """Put every file in its place, or none.

    Args:
        outputs: files that are whole.
        mine: whether the file that stands in the place of one was written by take-in and not edited since.
        write_over: put them there whatever stands there.

    Raises:
        InputError: a file stands there that take-in did not write, or that was edited since.
    """
    plan: list[tuple[Output, str]] = []
    problems: list[Problem] = []
    for output in outputs:
        state = _state(output)
        if state == "changed" and not write_over and not mine(output):
            message = (
                "this file was not written by take-in from this list, or was edited since; "
                "move it away, write elsewhere (--out) or replace it (--write-over)"
            )
            problems.append(Problem(output.path.as_posix(), 1, 1, message))
        plan.append((output, state))
    if problems:
        raise InputError(tuple(problems))
    for output, state in plan:
        if state == "unchanged":
            output.drop()
        else:
            output.place()
    return [Written(output.path, state) for output, state in plan]


def _state(output: Output) -> str:
    if not output.target.exists():
        return "new"
    if output.target.stat().st_size == output.size and file_hash(output.target) == output.hash.hexdigest():
        return "unchanged"
    return "changed"


def file_hash(path: Path) -> str:
    """Return the hash of a file, read piece by piece; empty if it is no file."""
    digest = sha256()
    if not path.is_file():
        return ""
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


def untouched(path: Path, first_line: str) -> bool:
    """Return whether a YAML file begins with this line and ends with the hash of all its other lines."""
    if not path.is_file():
        return False
    end = f"{_END}{'0' * 64}\n".encode()
    size = path.stat().st_size - len(end)
    digest = sha256()
    with path.open("rb") as file:
        if size < 0 or file.readline(_TAIL) != first_line.encode():
            return False
        file.seek(0)
        left = size
        while left > 0 and (chunk := file.read(min(_CHUNK, left))):
            digest.update(chunk)
            left -= len(chunk)
        return file.read() == f"{_END}{digest.hexdigest()}\n".encode()


def rejects_hash(path: Path) -> str:
    """Return the hash of the rejects that a series of files ends with; empty if it says none."""
    number = 1
    while numbered(path, number + 1).is_file():
        number += 1
    last = numbered(path, number)
    if not last.is_file():
        return ""
    with last.open("rb") as file:
        file.seek(max(last.stat().st_size - _TAIL, 0))
        found = re.search(rf"^{re.escape(_REJECTS)}([0-9a-f]{{64}})$".encode(), file.read(), re.MULTILINE)
    return found[1].decode() if found else ""

"""Files that are not simply on the disk: texts in memory, and a folder that nothing may lead out of.

What reads the user's files takes a `pathlib.Path` or a `Held`, which answers to the same few names. A `Held` knows
nothing of the disk: it asks its keeper, so that whoever holds a keeper decides what can be read at all.
"""

import errno
import os
import stat
from collections.abc import Collection, Mapping
from io import BytesIO, TextIOWrapper
from pathlib import Path, PurePosixPath
from typing import IO, Final, Literal, NamedTuple, Protocol, overload

_FLAGS: Final = (
    os.O_RDONLY
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)  # opening a pipe must not wait for who writes it
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)


SUFFIXES: Final = frozenset((".yaml", ".yml", ".csv"))
"""Ends of the names of the files that users write."""


class Keeper(Protocol):
    """What holds files, by names such as `parts/house.yaml`: plain, with `/`, without `..`."""

    def size(self, name: str) -> int | None:
        """Return how many bytes the file of this name has; None if there is none that may be read."""
        ...

    def read(self, name: str, most: int) -> bytes:
        """Return the first `most` bytes of a file.

        Raises:
            OSError: there is no such file, or it may not be read.
        """
        ...


class _Stat(NamedTuple):
    """What `Path.stat` says that readers ask for: the size [bytes]."""

    st_size: int


class Held:
    """A file or folder in a keeper, by its path from the keeper's top. It answers as `pathlib.Path` does.

    A path that is absolute, climbs out of the top or holds what no path may hold names nothing, whatever the disk has.
    """

    __slots__ = ("keeper", "path")

    def __init__(self, keeper: Keeper, path: str = "") -> None:
        self.keeper = keeper
        self.path = path

    def __truediv__(self, name: str) -> "Held":
        if not self.path or name.startswith("/"):
            return Held(self.keeper, name)
        return Held(self.keeper, f"{self.path}/{name}")

    def __str__(self) -> str:
        return self.path or "."

    def __repr__(self) -> str:
        return f"Held({self.path!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Held) and (self.keeper, self.path) == (other.keeper, other.path)

    def __hash__(self) -> int:
        return hash((id(self.keeper), self.path))

    @property
    def name(self) -> str:
        """The last part of the path."""
        return PurePosixPath(self.path).name

    @property
    def suffix(self) -> str:
        """The end of the name, from its last dot."""
        return PurePosixPath(self.path).suffix

    @property
    def parent(self) -> "Held":
        """The folder that it is in."""
        return Held(self.keeper, self.path.rpartition("/")[0])

    def as_posix(self) -> str:
        """Return the path as it was said, for messages."""
        return str(self)

    def is_file(self) -> bool:
        """Return whether the keeper has a file of this name."""
        return self._size() is not None

    def exists(self) -> bool:
        """Return whether the keeper has a file of this name; it has no folders of its own."""
        return self.is_file()

    def is_dir(self) -> bool:
        """Return False: no reader asks a keeper for a folder."""
        return False

    def stat(self) -> _Stat:
        """Return the size.

        Raises:
            FileNotFoundError: there is no such file.
        """
        size = self._size()
        if size is None:
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), self.path)
        return _Stat(size)

    @overload
    def open(self, mode: Literal["rb"]) -> IO[bytes]: ...
    @overload
    def open(self, mode: Literal["r"] = "r", *, encoding: str, newline: str) -> IO[str]: ...
    def open(
        self, mode: Literal["r", "rb"] = "r", *, encoding: str = "utf-8", newline: str | None = None
    ) -> IO[bytes] | IO[str]:
        """Return the file, opened for reading, as `Path.open` does.

        Raises:
            OSError: there is no such file, or it may not be read.
        """
        data = BytesIO(self.keeper.read(self._name(), self.stat().st_size))
        return data if mode == "rb" else TextIOWrapper(data, encoding=encoding, newline=newline)

    def _name(self) -> str:
        name = plain_name(self.path)
        if name is None:
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), self.path)
        return name

    def _size(self) -> int | None:
        name = plain_name(self.path)
        return self.keeper.size(name) if name is not None else None


AnyPath = Path | Held
"""Where a file of the user is: on the disk, or in a keeper."""


def plain_name(path: str) -> str | None:
    """Return a relative path without `.` and `..`; None if it climbs out of its top or can name no file.

    >>> plain_name("cars/../house/./parts.yaml"), plain_name("../parts.yaml"), plain_name("/etc/passwd")
    ('house/parts.yaml', None, None)
    """
    if path.startswith("/") or "\\" in path or "\0" in path or ":" in path.partition("/")[0]:
        return None
    parts: list[str] = []
    for part in path.split("/"):
        if part == "..":
            if not parts:
                return None
            parts.pop()
        elif part not in ("", "."):
            parts.append(part)
    return "/".join(parts) or None


class Texts:
    """Files in memory by their names, over those of another keeper if one is `beneath`."""

    def __init__(self, texts: Mapping[str, bytes], beneath: Keeper | None = None) -> None:
        named = ((plain_name(name), data) for name, data in texts.items())
        self._texts = {name: data for name, data in named if name is not None}
        self._beneath = beneath

    def size(self, name: str) -> int | None:
        """Return how many bytes a file has; None if there is none."""
        data = self._texts.get(name)
        if data is not None:
            return len(data)
        return self._beneath.size(name) if self._beneath is not None else None

    def read(self, name: str, most: int) -> bytes:
        """Return the first `most` bytes of a file.

        Raises:
            OSError: there is no such file, or it may not be read.
        """
        data = self._texts.get(name)
        if data is not None:
            return data[:most]
        if self._beneath is not None:
            return self._beneath.read(name, most)
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), name)


class Fence:
    """A folder of the disk and what is below it. A link that leads out of it leads nowhere.

    With `suffixes` there is nothing in it but files whose names end so and do not begin with a dot.
    """

    def __init__(self, folder: Path, suffixes: Collection[str] = ()) -> None:
        self.top = Path(os.path.realpath(folder))
        self.suffixes = suffixes

    def where(self, name: str) -> Path:
        """Return where on the disk a file of the folder is or would be, links followed.

        Raises:
            FileNotFoundError: that is outside of the folder, or not what it shows.
        """
        plain = plain_name(name)
        real = Path(os.path.realpath(self.top / plain)) if plain is not None else None
        if real is None or not real.is_relative_to(self.top) or not self._shown(real):
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), name)
        return real

    def _shown(self, path: Path) -> bool:
        return not self.suffixes or (path.suffix.lower() in self.suffixes and not path.name.startswith("."))

    def size(self, name: str) -> int | None:
        """Return how many bytes an ordinary file of the folder has; None if there is none."""
        try:
            found = self.where(name).stat()
        except (OSError, ValueError):
            return None
        return found.st_size if stat.S_ISREG(found.st_mode) else None

    def read(self, name: str, most: int) -> bytes:
        """Return the first `most` bytes of an ordinary file of the folder.

        Raises:
            OSError: there is no such file, or it may not be read.
        """
        handle = os.open(self.where(name), _FLAGS)
        with os.fdopen(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), name)
            return file.read(most)

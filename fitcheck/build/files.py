"""The files that a build consists of: its own and those that it names, and whether they are what they were."""

from collections.abc import Iterable, Iterator
from hashlib import sha256
from pathlib import Path
from time import time
from typing import Final, NamedTuple

from fitcheck.sources import MOST_BYTES, read
from fitcheck.trees import Document, InputError, Mapping, Sequence

_YOUNG_S: Final = 3.0
"""A file changed so lately may change again without its time showing it: clocks of file systems go in steps of 2 s."""


def named_files(document: Document, folder: Path) -> Iterator[Path]:
    """Yield the catalog, offer and stock files that a build's tree names, whatever else is wrong with it."""
    for key in ("catalogs", "offers", "stock"):
        for name in _names(document, key):
            yield folder / name


def named_catalogs(document: Document) -> tuple[str, ...]:
    """Return the catalogs that a build's tree names, as it names them."""
    return tuple(_names(document, "catalogs"))


def named_offers(document: Document) -> tuple[str, ...]:
    """Return the offer files that a build's tree names, as it names them."""
    return tuple(_names(document, "offers"))


def _names(document: Document, key: str) -> Iterator[str]:
    said = document.root.get(key) if isinstance(document.root, Mapping) else None
    for name in said if isinstance(said, Sequence) else (said,):
        if isinstance(name, str) and "\0" not in name:
            yield name


def files_of(path: Path, before: Iterable[Path] = ()) -> tuple[Path, ...]:
    """Return a build file and all that it names; while it cannot be read, those that it named `before`."""
    try:
        named = tuple(named_files(read(path), path.parent))
    except InputError:
        named = tuple(before)
    return tuple(dict.fromkeys((path, *named)))


class _Seen(NamedTuple):
    """A file as it was last looked at: what the file system says of it, and the hash of what is in it."""

    signature: tuple[int, int, int]
    content: str


class Hashes:
    """Hashes of files. One that the file system says is as it was is not read again, unless it is young."""

    def __init__(self) -> None:
        self._seen: dict[Path, _Seen] = {}

    def of(self, paths: Iterable[Path]) -> dict[Path, str | None]:
        """Return the hash of what is in each file; None of one that is not there or cannot be read."""
        return {path: self._hash(path) for path in paths}

    def _hash(self, path: Path) -> str | None:
        try:
            stat = path.stat()
            signature = (stat.st_mtime_ns, stat.st_size, stat.st_ino)
            seen = self._seen.get(path)
            if seen is not None and seen.signature == signature and time() - stat.st_mtime > _YOUNG_S:
                return seen.content
            if not path.is_file():
                return None
            with path.open("rb") as file:
                content = sha256(file.read(MOST_BYTES + 1)).hexdigest()
        except (OSError, ValueError):
            return None
        self._seen[path] = _Seen(signature, content)
        return content

"""The served build at one moment: its files read once, so that all parts of a page are of the same texts."""

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from fitcheck.files import Held, Texts
from fitcheck.service.folder import FileText, Folder, digest
from fitcheck.service.page.keys import key_of
from fitcheck.service.problems import RefusedError
from fitcheck.sources import parse
from fitcheck.trees import InputError
from fitcheck.trees import Mapping as Tree
from fitcheck.trees import Sequence as Series


class Snapshot(NamedTuple):
    """The build file and the files that it names, as texts with their hashes; `key` is a hash over all of them."""

    build: str
    files: Mapping[str, FileText]
    key: str

    @property
    def hashes(self) -> dict[str, str]:
        """The SHA-256 of each file, by its name."""
        return {name: file.sha256 for name, file in self.files.items()}

    @property
    def texts(self) -> dict[str, str]:
        """The texts by the names of their files."""
        return {name: file.text for name, file in self.files.items()}

    def with_text(self, file: str, text: str) -> "Snapshot":
        """Return the same with another text in one of the files."""
        data = text.encode()
        return _snapshot(self.build, {**self.files, file: FileText(file, text, digest(data))})


def take(folder: Folder) -> Snapshot:
    """Return what is in the served files now.

    Raises:
        RefusedError: the build file is not there, or is not UTF-8.
    """
    build = folder.text(folder.build)
    files = {folder.build: build}
    for name in _named(folder.build, build.text):
        try:
            files[name] = folder.text(name)
        except RefusedError:
            continue  # told as a problem of the build that names it
    return _snapshot(folder.build, files)


def _snapshot(build: str, files: Mapping[str, FileText]) -> Snapshot:
    return Snapshot(build, files, key_of({name: file.sha256 for name, file in files.items()}))


@lru_cache(maxsize=32)
def _named(build: str, text: str) -> tuple[str, ...]:
    """Return the files that a build names, however wrong the rest of it is."""
    try:
        root = parse(text, build).root
    except InputError:
        return ()
    parent = Held(Texts({}), build).parent
    found: list[str] = []
    for key in ("catalogs", "offers", "stock") if isinstance(root, Tree) else ():
        said = root.get(key) if isinstance(root, Tree) else None
        each = said if isinstance(said, Series) else [said]
        found += [(parent / name).as_posix() for name in each if isinstance(name, str)]
    return tuple(dict.fromkeys(found))

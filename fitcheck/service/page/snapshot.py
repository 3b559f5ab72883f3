"""The served build at one moment: its files read once, so that all parts of a page are of the same texts."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.files import Held, Texts
from fitcheck.service.folder import FileText, Folder, digest
from fitcheck.service.page.keys import key_of
from fitcheck.service.problems import RefusedError
from fitcheck.sources import parse
from fitcheck.trees import InputError
from fitcheck.trees import Mapping as Tree
from fitcheck.trees import Sequence as Series

_FILES = ("catalogs", "offers", "stock")


class GoneError(RefusedError):
    """The build file is not there or cannot be read: `problems` says where and why, if that is known."""

    def __init__(self, build: str, cause: RefusedError) -> None:
        super().__init__(cause.kind, cause.detail, **cause.more)
        self.build = build


class Snapshot(NamedTuple):
    """The build file and the files that it names, as texts with their hashes; `key` is a hash over all of them.

    `variants` are the notes of the build's variants by their names; what is asked is of `variant`, or of the build.
    """

    build: str
    files: Mapping[str, FileText]
    key: str
    variants: Mapping[str, str]
    variant: str = ""

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
        files = {**self.files, file: FileText(file, text, digest(data))}
        return _snapshot(self.build, files)._replace(variant=self.variant)


def take(folder: Folder) -> Snapshot:
    """Return what is in the served files now.

    Raises:
        GoneError: the build file is not there, or is not UTF-8.
    """
    try:
        build = folder.text(folder.build)
    except RefusedError as refusal:
        raise GoneError(folder.build, refusal) from None
    files = {folder.build: build}
    for name in _known(folder.build, build.text).files:
        try:
            files[name] = folder.text(name)
        except RefusedError:
            continue  # told as a problem of the build that names it
    return _snapshot(folder.build, files)


def _snapshot(build: str, files: Mapping[str, FileText]) -> Snapshot:
    key = key_of({name: file.sha256 for name, file in files.items()})
    return Snapshot(build, files, key, _known(build, files[build].text).variants)


class _Known(NamedTuple):
    files: tuple[str, ...]
    variants: Mapping[str, str]


@lru_cache(maxsize=32)
def _known(build: str, text: str) -> _Known:
    """Return the files and the variants that a build names, however wrong the rest of it is."""
    try:
        root = parse(text, build).root
    except InputError:
        return _Known((), {})
    if not isinstance(root, Tree):
        return _Known((), {})
    variants = root.get("variants")
    if not isinstance(variants, Tree):
        variants = Tree()
    parent = Held(Texts({}), build).parent
    named = [*_named(root), *(name for each in variants.values() for name in _named(_of(each, "add")))]
    notes = {name: note if isinstance(note := _of(each, "note"), str) else "" for name, each in variants.items()}
    return _Known(tuple(dict.fromkeys((parent / name).as_posix() for name in named)), notes)


def _of(entry: Any, key: str) -> Any:
    return entry.get(key) if isinstance(entry, Tree) else None


def _named(entries: Any) -> Iterator[str]:
    for key in _FILES:
        said = _of(entries, key)
        for name in said if isinstance(said, Series) else [said]:
            if isinstance(name, str):
                yield name

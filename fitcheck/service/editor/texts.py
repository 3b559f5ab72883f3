"""The files of an editor: what is open as it is being typed, over what is on the disk."""

from collections.abc import Mapping, Sequence
from functools import cached_property, lru_cache
from hashlib import sha256
from io import StringIO
from itertools import accumulate
from pathlib import Path
from typing import Final, Literal

from fitcheck.build.load import Build, load_document
from fitcheck.catalog.shelf import Layer, Shelf, read_catalog
from fitcheck.files import AnyPath, Fence, Held, Texts, plain_name
from fitcheck.sources import MOST_BYTES
from fitcheck.trees import Document, InputError, Node
from fitcheck.trees import Mapping as Tree

Kind = Literal["build", "catalog", "offers", "stock"]
KINDS: Final[tuple[Kind, ...]] = ("build", "catalog", "offers", "stock")
"""The files that users write, by the key that each begins with."""
_MOST_KEPT: Final = 8
"""Catalogs that are kept as they were read."""


def kind_of(root: Node) -> Kind | None:
    """Return which file a tree is, by the key with its version; None for somebody else's file.

    A build may hold `offers` and `stock` too, so `build` is asked for first.
    """
    if not isinstance(root, Tree):
        return None
    return next((kind for kind in KINDS if isinstance(root.get(kind), str)), None)


def kind_of_text(text: str) -> Kind | None:
    """Return which file a text is that cannot be read as a tree: the first of the keys to begin a line."""
    for line in text.splitlines():
        key, colon, value = line.partition(":")
        if colon and key in KINDS and value.strip()[:1].isdigit():
            return next(kind for kind in KINDS if kind == key)
    return None


@lru_cache(maxsize=16)
def line_starts(text: str) -> tuple[int, ...]:
    """Return where each line of a text starts; it ends with a line feed, a carriage return, or both."""
    return tuple(accumulate(map(len, StringIO(text, newline="")), initial=0))


class _Folder(Held):
    """A folder in which a name may also be absolute, as it may be on the disk."""

    __slots__ = ()

    def __truediv__(self, name: str) -> Held:
        if Path(name).is_absolute():
            return Held(self.keeper, _below(Path(name)))
        return super().__truediv__(name)


def _below(path: Path) -> str:
    """Return an absolute path without its anchor, with forward slashes."""
    return path.as_posix()[len(Path(path.anchor).as_posix()) :]


class Open:
    """The texts of open files by absolute path; every other file is read from the disk."""

    def __init__(self, texts: Mapping[Path, str]) -> None:
        self.texts = dict(texts)
        self._read: dict[Path, str] = {}

    def file(self, path: Path) -> Held:
        """Return a file, open or not, as readers take it."""
        return Held(self._keeper(path), _below(path))

    def folder(self, path: Path) -> Held:
        """Return the folder of a file, in which the files that it names are looked for."""
        return _Folder(self._keeper(path), _below(path.parent))

    def _keeper(self, path: Path) -> Texts:
        return Texts(self._encoded, Fence(Path(path.anchor)))

    @cached_property
    def _encoded(self) -> dict[str, bytes]:
        return {_below(one): text.encode("utf-8", "surrogatepass") for one, text in self.texts.items()}

    def text(self, path: Path) -> str:
        """Return the text of a file, open or not; empty if it is not there or is none."""
        if path not in self._read:
            self._read[path] = self.texts[path] if path in self.texts else self._on_disk(path)
        return self._read[path]

    def _on_disk(self, path: Path) -> str:
        try:
            with self.file(path).open("rb") as file:
                return file.read(MOST_BYTES).decode("utf-8", "replace")
        except (OSError, ValueError):
            return ""

    def whole(self, name: str, beside: Path) -> Path:
        """Return the absolute path of a file that a problem names; `beside` is any file of the same disk."""
        if Path(name).is_absolute():
            return Path(name)
        return Path(beside.anchor, plain_name(name) or name)


class Shelves:
    """Catalogs that have been read, kept while their content stays what it was."""

    def __init__(self) -> None:
        self._layers: dict[tuple[str, bytes], Layer] = {}

    def shelf(self, paths: Sequence[AnyPath]) -> Shelf:
        """Return the generic catalog under those at `paths`.

        Raises:
            InputError: one of them cannot be read.
        """
        return Shelf.generic().under(list(map(self._layer, paths)))

    def _layer(self, path: AnyPath) -> Layer:
        try:
            with path.open("rb") as file:
                key = (str(path), sha256(file.read(MOST_BYTES + 1)).digest())
        except (OSError, ValueError):
            return read_catalog(path)  # says what is wrong
        if key not in self._layers:
            layer = read_catalog(path)
            while len(self._layers) >= _MOST_KEPT:
                del self._layers[next(iter(self._layers))]
            self._layers[key] = layer
        return self._layers[key]

    def build(self, files: Open, path: Path, document: Document) -> Build:
        """Return the build that a document holds, with the catalogs that it names as they are open or on the disk.

        Raises:
            InputError: it is none, or a catalog cannot be read.
        """
        return load_document(document, files.folder(path), shelf_of=self.shelf)

    def known(self, files: Open, path: Path, document: Document) -> Shelf:
        """Return the catalogs that a build's tree names, as far as they can be read, whatever else is wrong with it."""
        from fitcheck.build.files import named_catalogs

        layers = []
        for name in named_catalogs(document):
            try:
                layers.append(self._layer(files.folder(path) / name))
            except InputError:
                continue
        return Shelf.generic().under(layers)

"""Where a build comes from, and catalogs that are not read twice."""

from collections import OrderedDict
from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any, Final, NamedTuple

from fitcheck.build.load import Build, load_document
from fitcheck.catalog.shelf import Shelf, shelve
from fitcheck.errors import FitcheckError
from fitcheck.files import AnyPath, Held, Keeper
from fitcheck.sources import Document, parse, read

_MOST_KEPT: Final = 16
_MOST_BYTES: Final = 1024 * 1024
"""Catalogs larger than this together are read each time: keeping them would fill the memory."""


class AskedError(FitcheckError, ValueError):
    """A question that cannot be asked so."""


class MissingError(FitcheckError, LookupError):
    """What was asked for does not exist."""


JSON: Final = "application/json"
SVG: Final = "image/svg+xml"


class Answer(NamedTuple):
    """An answer, the exit code that the command line would give with it, and what the answer is: its media type."""

    text: str
    code: int = 0
    media: str = JSON


class Shelves:
    """Shelves by what the catalog files hold, so that the same catalogs are read once."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[tuple[str, bytes], ...], Shelf] = OrderedDict()

    def of(self, paths: Sequence[AnyPath]) -> Shelf:
        """Return the generic catalog under those at `paths`.

        Raises:
            InputError: a file cannot be read or is no catalog; every problem has its file, line and column.
        """
        if not paths or sum(path.stat().st_size for path in paths) > _MOST_BYTES:
            return shelve(paths)
        key = tuple((path.as_posix(), _hash(path)) for path in paths)
        found = self._kept.get(key)
        if found is None:
            found = self._kept[key] = shelve(paths)
        self._kept.move_to_end(key)
        while len(self._kept) > _MOST_KEPT:
            self._kept.popitem(last=False)
        return found


def _hash(path: AnyPath) -> bytes:
    with path.open("rb") as file:
        return sha256(file.read(_MOST_BYTES + 1)).digest()


class Source(NamedTuple):
    """A build file in a keeper, and the variant of it that is asked for. Without a path there is no build."""

    keeper: Keeper
    path: str | None
    variant: str | None
    shelves: Shelves

    def document(self) -> Document:
        """Return the build file as it was written.

        Raises:
            InputError: it cannot be read.
        """
        return read(Held(self.keeper, self.path or ""))

    def build(self, swaps: Mapping[str, str] | None = None) -> Build:
        """Return the build, with other parts in place if `swaps` says so; an empty one if there is none.

        Raises:
            InputError: a file cannot be read or is not what it must be; every problem has its place.
        """
        if self.path is None:
            if self.variant is not None:
                raise AskedError("variant: there is no build that it could be of")
            return load_document(parse("build: 1\n", "no build"), Held(self.keeper))
        held = Held(self.keeper, self.path)
        return load_document(self.document(), held.parent, self.variant, swaps, shelf_of=self.shelves.of)


Options = Mapping[str, Any]
"""What was asked besides the build: the fields of a model of `fitcheck.service.asked`."""

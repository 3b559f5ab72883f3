"""A pack as plain records: its revision and its sections, as HTML that the page and the PDF are both made from."""

from collections.abc import Sequence
from datetime import date
from hashlib import sha256
from typing import Final, NamedTuple

SHORT: Final = 12
"""Digits of a hash that are shown: 48 bits, enough to tell revisions apart, few enough to be read out."""


class Stamp(NamedTuple):
    """One file that a pack is made from: its name as the build says it, the SHA-256 of what is in it."""

    name: str
    sha256: str

    @property
    def short(self) -> str:
        """The first digits of the hash."""
        return self.sha256[:SHORT]


class Revision(NamedTuple):
    """What a pack was made from: a hash over all files, names included, and the day it is made for.

    The hash is short. `variant` is None if the build is taken as it is; a variant changes the hash.
    """

    hash: str
    files: tuple[Stamp, ...]
    on: date
    variant: str | None = None

    @property
    def words(self) -> str:
        """The line that stands on every page: `revision 0123456789ab, variant blue, 2026-12-01`."""
        variant = f", variant {self.variant}" if self.variant is not None else ""
        return f"revision {self.hash}{variant}, {self.on.isoformat()}"


class Section(NamedTuple):
    """A section of the pack: its title, and its body as pieces of HTML that is well-formed XML too.

    Headings in it are `h3` (in the table of contents) and `h4`. `drawings` is True if each figure wants a page of its
    own, lying if the drawing is wider than high.
    """

    title: str
    body: tuple[str, ...]
    drawings: bool = False


class Pack(NamedTuple):
    """A whole pack. `warning` stands on the cover in large letters; "" if nothing is at level error."""

    build: str
    facts: tuple[tuple[str, str], ...]
    warning: str
    summary: str
    revision: Revision
    sections: tuple[Section, ...]


def revision(files: Sequence[tuple[str, bytes]], on: date, variant: str | None = None) -> Revision:
    """Return the revision of a pack made from files, by name and content, the build file first.

    >>> revision([("build.yaml", b"build: 1")], date(2026, 12, 1)).words
    'revision f51712ef867a, 2026-12-01'
    """
    stamps = tuple(Stamp(name, sha256(content).hexdigest()) for name, content in files)
    whole = sha256()
    for stamp in stamps:
        whole.update(f"{len(stamp.name)}:{stamp.name}:{stamp.sha256};".encode("utf-8", "backslashreplace"))
    if variant is not None:
        whole.update(f"variant:{variant}".encode("utf-8", "backslashreplace"))
    return Revision(whole.hexdigest()[:SHORT], stamps, on, variant)

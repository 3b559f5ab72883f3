"""Reading a build: the file, a variant of it, its catalogs."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Final, NamedTuple

from fitcheck.build.model import BanjoJoint, BuildFile, Corner
from fitcheck.build.tools import Bender
from fitcheck.build.variants import chosen_variant, with_swaps
from fitcheck.catalog.shelf import Shelf, shelve
from fitcheck.files import AnyPath
from fitcheck.naming import hint
from fitcheck.sources import Document, InputError, Problem, read
from fitcheck.validation import validate

if TYPE_CHECKING:
    from fitcheck.catalog.offers import Offers
    from fitcheck.catalog.stock import Stock

CHASSIS: Final = "chassis"
"""The body that always exists and never moves."""
MM: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
"""Units that `coordinates` may name, in mm."""


Path = tuple[str | int, ...]
"""Where something stands in a file's tree: keys and list numbers from the root."""


class Place(NamedTuple):
    """A spot in a file, counted from 1."""

    file: str
    line: int
    column: int


class Build(NamedTuple):
    """A build file that has been read, with the catalogs it names laid over the generic one."""

    file: BuildFile
    document: Document
    shelf: Shelf
    folder: AnyPath

    def place(self, path: Path, key: bool = False) -> Place:
        """Return where in the file the thing at `path` stands, or its nearest existing parent."""
        mark = self.document.mark(path, key)
        return Place(self.document.name, mark.line, mark.column)

    def offers(self) -> "Offers":
        """Return every offer of the build's offer files.

        Raises:
            InputError: one of them cannot be read.
        """
        from fitcheck.catalog.offer_file import read_offers  # only the verbs that price need it

        return read_offers([self.folder / name for name in self.file.offers])

    def stock(self) -> "Stock":
        """Return what is on the shelf; empty if the build names no stock file.

        Raises:
            InputError: it cannot be read.
        """
        from fitcheck.catalog.stock import Stock

        if not self.file.stock:
            return Stock.empty()
        from fitcheck.catalog.stock_file import read_stock

        return read_stock(self.folder / self.file.stock)


def build_path(path: FilePath) -> FilePath:
    """Return the build file that `path` means: itself, or the `build.yaml` in a folder."""
    return path / "build.yaml" if path.is_dir() else path


def load(path: FilePath, variant: str | None = None, swaps: Mapping[str, str] | None = None) -> Build:
    """Read the build at `path` (a file, or a folder with `build.yaml`) and the catalogs it names.

    `variant` names a variant of the file to apply; `swaps` then puts other parts in place, tag to part id.

    Raises:
        InputError: a file cannot be read or is not what it must be; every problem has its place.
    """
    path = build_path(path)
    return load_document(read(path), path.parent, variant, swaps)


def load_document(
    document: Document,
    folder: AnyPath,
    variant: str | None = None,
    swaps: Mapping[str, str] | None = None,
    *,
    shelf_of: Callable[[Sequence[AnyPath]], Shelf] = shelve,
) -> Build:
    """Do what `load` does with a document that has been read already; catalogs are looked for in `folder`.

    `shelf_of` reads them: one that remembers what it has read saves doing so again.
    """
    if variant is not None:
        document = chosen_variant(document, variant)
    if swaps:
        document = with_swaps(document, swaps)
    file = validate(BuildFile, document)
    found = [*_name_problems(file, document), *_file_problems(file, document, folder)]
    if variant is None and not swaps:
        found += _variant_problems(file, document)
    problems = sorted(found, key=lambda problem: problem[1:3])
    if problems:
        raise InputError(tuple(problems))
    return Build(file, document, shelf_of([folder / name for name in file.catalogs]), folder)


def reread(build: Build, document: Document) -> Build:
    """Return `build` as another state of its file says it; catalogs are read again only if the file names others.

    Raises:
        InputError: `document` is no build.
    """
    file = validate(BuildFile, document)
    if file.catalogs != build.file.catalogs:
        return load_document(document, build.folder)
    problems = sorted(_name_problems(file, document), key=lambda problem: problem[1:3])
    if problems:
        raise InputError(tuple(problems))
    return build._replace(file=file, document=document)


def _problem(document: Document, path: Path, message: str, key: bool = False) -> Problem:
    mark = document.mark(path, key)
    return Problem(document.name, mark.line, mark.column, message)


def _name_problems(file: BuildFile, document: Document) -> Iterator[Problem]:
    """Yield what the models cannot see: names that must be known, or must not be used twice."""
    seen: dict[str, str] = {}
    for section in ("components", "lines", "hoses"):
        for tag in getattr(file, section):
            if tag in seen:
                message = f"the tag {tag} is used already in {seen[tag]}"
                yield _problem(document, (section, tag), message, key=True)
            seen.setdefault(tag, section)
    yield from _body_problems(file, document)
    for tag in file.brakes:
        if tag not in file.components:
            message = f"no component is called {tag!r}{hint(tag, file.components)}"
            yield _problem(document, ("brakes", tag), message, key=True)
    yield from _joint_problems(file, document)
    benders = file.tools.benders if file.tools is not None else {}
    yield from _bender_problems(benders, document)
    for tag, line in file.lines.items():
        if line.bender is not None and line.bender not in benders:
            message = f"no bender is called {line.bender!r}{hint(line.bender, benders)}"
            yield _problem(document, ("lines", tag, "bender"), message)
        for index, entry in enumerate(line.route or ()):
            hole = entry.through if isinstance(entry, Corner) else None
            if hole is not None and hole not in file.panels:
                message = f"no panel is called {hole!r}{hint(hole, file.panels)}"
                yield _problem(document, ("lines", tag, "route", index, "through"), message)


def _bender_problems(benders: Mapping[str, Bender], document: Document) -> Iterator[Problem]:
    """Yield the test bends that no tube could have: nothing could be made with such a bender."""
    tested = {name: bender for name, bender in benders.items() if bender.test_bend is not None}
    if not tested:
        return
    from fitcheck.build.benders import BenderError, settled  # which asks for a build: it is read by then

    for name, bender in tested.items():
        try:
            settled(name, bender)
        except BenderError as error:
            yield _problem(document, ("tools", "benders", name, "test_bend"), error.reason)


def _joint_problems(file: BuildFile, document: Document) -> Iterator[Problem]:
    """Yield joints whose fixings are stated twice and differ: only one of the two can be what is fitted."""
    said: dict[frozenset[str], tuple[int, str | None, int | None]] = {}
    for index, entry in enumerate(file.joints):
        if isinstance(entry, list):
            continue
        port, *others = (entry.port, *entry.eyes) if isinstance(entry, BanjoJoint) else entry.ports
        stated = (entry.bolt if isinstance(entry, BanjoJoint) else None, entry.washers)
        for other in others if stated != (None, None) else ():
            first, *before = said.setdefault(frozenset((port, other)), (index, *stated))
            if tuple(before) != stated:
                line = document.mark(("joints", first)).line
                message = f"the joint of {port} and {other} is stated on line {line} already, with other fixings"
                yield _problem(document, ("joints", index), message)


def _body_problems(file: BuildFile, document: Document) -> Iterator[Problem]:
    if CHASSIS in file.bodies:
        yield _problem(document, ("bodies", CHASSIS), "chassis always exists and never moves", key=True)
    bodies = (CHASSIS, *file.bodies)
    for section in ("components", "heat"):
        for tag, placed in getattr(file, section).items():
            if placed.on is not None and placed.on not in bodies:
                message = f"no body is called {placed.on!r}{hint(placed.on, bodies)}"
                yield _problem(document, (section, tag, "on"), message)


def _file_problems(file: BuildFile, document: Document, folder: AnyPath) -> Iterator[Problem]:
    """Yield the files that the build names and that are not there."""
    named: list[tuple[Path, str]] = [(("catalogs", index), name) for index, name in enumerate(file.catalogs)]
    named += [(("offers", index), name) for index, name in enumerate(file.offers)]
    if file.stock is not None:
        named.append((("stock",), file.stock))
    for path, name in named:
        if not (folder / name).is_file():
            yield _problem(document, path, f"there is no file {(folder / name).as_posix()}")


def _variant_problems(file: BuildFile, document: Document) -> Iterator[Problem]:
    """Yield the tags that variants exchange and the build lacks, so that a slip shows before the variant is used."""
    tags = {*file.components, *file.lines, *file.hoses}
    for name, variant in file.variants.items():
        for tag in variant.swap:
            if tag not in tags:
                message = f"nothing here has the tag {tag!r}{hint(tag, tags)}"
                yield _problem(document, ("variants", name, "swap", tag), message, key=True)

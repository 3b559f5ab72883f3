"""What is under the cursor, in words: a part with its data and price, a port, a tag, a key. And where it is stated."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path as FilePath
from typing import Final, NamedTuple

from fitcheck.build.files import named_catalogs, named_offers
from fitcheck.catalog.part import Part
from fitcheck.quantities import render
from fitcheck.reports.parts_text import facts, port_words
from fitcheck.reports.plain import visible
from fitcheck.service.editor.cursor import Cursor, cursor_at
from fitcheck.service.editor.names import Names, part_kinds, slot, takes_ref
from fitcheck.service.editor.shapes import about
from fitcheck.service.editor.texts import Kind, Open
from fitcheck.sources import read
from fitcheck.trees import Document, InputError

_WORD: Final = re.compile(r"[\w-]+(?:\.[\w-]+)?")


Price = Callable[[str], str | None]
NOT_OFFERED: Final = "not on offer in the files of this build"


class Word(NamedTuple):
    """A word of a file, where it starts and ends in the text, and the place that it stands at."""

    text: str
    start: int
    end: int
    place: Cursor


class Spot(NamedTuple):
    """A place in a file, as an offset into its text."""

    file: FilePath
    text: str
    offset: int


def word_at(text: str, offset: int) -> Word | None:
    """Return the word that an offset is in or at the end of; None between words."""
    begin = text.rfind("\n", 0, offset) + 1
    end = text.find("\n", offset)
    for found in _WORD.finditer(text, begin, len(text) if end < 0 else end):
        if found.start() <= offset <= found.end():
            return Word(found[0], found.start(), found.end(), cursor_at(text, found.end()))
    return None


def hover(kind: Kind, word: Word, names: Names, price: Price) -> str | None:
    """Return what a word means, in lines of plain text; None if nothing is known of it.

    `price` says what one piece of a part is offered for, in words.
    """
    path, role = word.place.path, word.place.role
    if role == "value" or (role == "either" and not path):
        return "\n".join(_value(kind, word, names, price)) or None
    said = about(kind, (*path, word.text))
    return f"{word.text}: {said}" if said else "\n".join(_tag(names, word.text, price)) or None


def _value(kind: Kind, word: Word, names: Names, price: Price) -> Iterator[str]:
    path = word.place.path
    part = names.shelf.get(word.text)
    if kind == "build" and takes_ref(path):
        yield from _ref(names, word.text)
    elif part is not None and (kind != "build" or part_kinds(path) is not None):
        yield from _part(part, price)
    elif (said := about(kind, path)) is not None:
        yield f"{slot(path)}: {said}"


def _part(part: Part, price: Price) -> Iterator[str]:
    yield visible(f"{part.id}: {part.kind}, from {part.catalog}")
    if part.description:
        yield visible(part.description)
    for name, port in part.ports.items():
        yield visible(f"{name}: {port_words(port)}")
    for name, words in facts(part):
        yield visible(f"{name}: {words}")
    yield visible(f"price: {price(part.id) or NOT_OFFERED}")


def _ref(names: Names, ref: str) -> Iterator[str]:
    tag, _, name = ref.partition(".")
    fit = names.fitted.get(tag)
    if fit is None:
        return
    ends = names.ends(tag)
    if name in ends:
        port = ends[name]
        words = port_words(port) if port is not None else "end of a tube, flared to suit what it is joined to"
        yield visible(f"{ref}: {words}")
    elif name:
        yield visible(f"{ref}: {tag} has no such end; it has {', '.join(ends) or 'none that is known'}")
    what = fit.part.description or fit.part.kind if fit.part is not None else "in no catalog"
    yield visible(f"{tag}: {fit.part_id}, {what}")


def _tag(names: Names, tag: str, price: Price) -> Iterator[str]:
    fit = names.fitted.get(tag)
    if fit is not None and fit.part is not None:
        yield from _part(fit.part, price)


def price_of(build: Document, files: Open, path: FilePath) -> Price:
    """Return what tells the cheapest offer for a part by the offer files of a build, as far as they can be read."""

    def price(part: str) -> str | None:
        from fitcheck.catalog.offer_file import read_offers

        try:
            offers = read_offers([files.folder(path) / name for name in named_offers(build)])
        except InputError:
            return "the offer files cannot be read"
        offer = offers.cheapest(part)
        if offer is None:
            return None
        much = f" for {offer.pack}" if offer.pack > 1 else f" for {render(offer.per, 'length')}" if offer.per else ""
        return f"{offer.price}{much}, {offer.supplier.name}"

    return price


def definition(kind: Kind, word: Word, names: Names, files: Open, path: FilePath, document: Document) -> Spot | None:
    """Return where a word is stated: a tag in its section, a part in the catalog that has it; None if nowhere."""
    if kind != "build":
        return None
    place = word.place.path
    if part_kinds(place) is not None and word.place.role != "key":
        return _in_catalog(word.text, files, path, document)
    found = names.place_of(word.text, place)
    if found is None:
        return None
    return Spot(path, document.text, document.mark(found, key=True).offset)


def _in_catalog(part: str, files: Open, path: FilePath, document: Document) -> Spot | None:
    for name in named_catalogs(document):
        held = files.folder(path) / name
        try:
            catalog = read(held)
        except InputError:
            continue
        parts = catalog.root.get("parts") if isinstance(catalog.root, dict) else None
        if isinstance(parts, dict) and part in parts:
            offset = catalog.mark(("parts", part), key=True).offset
            return Spot(files.whole(held.path, path), catalog.text, offset)
    return None

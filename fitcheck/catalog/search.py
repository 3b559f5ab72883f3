"""Finding parts in catalogs laid one over the other: by words, kind, thread, seat and tube size.

Every word has to begin a word of the part's id, description, kind or material, or of the threads and seats of its
ports. The shipped catalog is searched as it lies in its index: no part is built for it.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from fitcheck import naming
from fitcheck.catalog import generic
from fitcheck.catalog.part import Part
from fitcheck.catalog.search_words import Word, query_words, spelled
from fitcheck.catalog.shelf import Layer, Shelf
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import Thread
from fitcheck.standards.threads import parse as parse_thread

_FOR_TUBE: Final = frozenset({"clip", "grommet"})
"""Kinds whose bore is the outside diameter of the tube they hold."""


class Opening(NamedTuple):
    """What a search asks of a port: its thread as the catalog writes it, its seat, its tube [mm]."""

    thread: str | None
    seat: str | None
    tube: float | None


class Entry(NamedTuple):
    """A part as a search sees it. `tube` is the outside diameter [mm] of a tube, or of what a clip holds."""

    id: str
    kind: str
    description: str
    material: str | None
    catalog: str
    openings: tuple[Opening, ...]
    tube: float | None


class Query(NamedTuple):
    """What is looked for. Thread, seat and tube [mm] have to be met by one and the same port."""

    words: tuple[Word, ...] = ()
    kind: str | None = None
    thread: Thread | None = None
    seat: str | None = None
    tube: float | None = None

    @staticmethod
    def of(
        words: Iterable[str],
        *,
        kind: str | None = None,
        thread: Thread | None = None,
        seat: str | None = None,
        tube: float | None = None,
    ) -> "Query":
        """Return the query for words as they are typed."""
        return Query(query_words(words), kind, thread, seat, tube)

    @property
    def empty(self) -> bool:
        """Return whether it asks for nothing, so that every part would answer it."""
        return not self.words and not self.narrowed

    @property
    def narrowed(self) -> bool:
        """Return whether it asks for more than words."""
        return (self.kind, self.thread, self.seat, self.tube) != (None, None, None, None)


class Miss(NamedTuple):
    """Why a query found nothing.

    Attributes:
        unknown: each word that is in no part, with the word most like it that is in one, or None.
        without_options: how many parts the words alone find, where the query asks for more than words.
        nearest: id of the part that comes nearest to what was asked for, or None.
    """

    unknown: tuple[tuple[str, str | None], ...]
    without_options: int | None
    nearest: str | None


class Index:
    """Every part of a shelf, ready to be searched. Ids that an earlier catalog hides are left out."""

    def __init__(self, shelf: Shelf) -> None:
        self.entries = tuple(_entries(shelf))
        lines = spelled("\n".join(map(_three_lines, self.entries))).split("\n")
        self._id_texts, self._descriptions = lines[0::3], lines[1::3]
        self._texts = list(map("".join, zip(lines[0::3], lines[1::3], lines[2::3], strict=False)))
        self._ids = [entry.id.casefold() for entry in self.entries]

    def search(self, query: Query) -> tuple[Entry, ...]:
        """Return the parts that meet the whole query, best first.

        First those with the most words of the query whole in their id, or, if a word is a size, in their description:
        some ids go by the tube and some by the thread. Then those of the kind that the words name; those whose id
        has the most words whole before it says `for`, which it does of unusual sizes; the shorter id; by id.
        """
        return self._ranked(self._finds(query), query.words)

    def miss(self, query: Query) -> Miss:
        """Return why `query`, which found nothing, finds nothing."""
        unknown = tuple((word.typed, self._like(word)) for word in query.words if not self._has(word))
        alone = len(self._finds(Query(query.words))) if query.narrowed else None
        return Miss(unknown, alone, self._nearest(query, dict(unknown)))

    def _finds(self, query: Query) -> list[int]:
        found: Iterable[int] = range(len(self.entries))
        if query.narrowed:
            found = [number for number in found if _meets(self.entries[number], query)]
        for word in query.words:
            found = [number for number in found if word.matches(self._texts[number], self._ids[number])]
        return list(found)

    def _ranked(self, numbers: Iterable[int], words: tuple[Word, ...]) -> tuple[Entry, ...]:
        typed = {form for word in words for form in word.spelled}

        def rank(number: int) -> tuple[int, bool, int, int, str]:
            entry, part_id, id_text = self.entries[number], self._ids[number], self._id_texts[number]
            usual = id_text.partition(" for ")[0] + " "
            whole = [word.whole_in(id_text, part_id) for word in words]
            sized = [word.size and word.whole_in(self._descriptions[number], "") for word in words]
            missing = sum(not (id_has or text_has) for id_has, text_has in zip(whole, sized, strict=True))
            beside = sum(not word.whole_in(usual, "") for word in words)
            return missing, not typed.issuperset(entry.kind.split()), beside, len(entry.id), entry.id

        return tuple(self.entries[number] for number in sorted(numbers, key=rank))

    def _has(self, word: Word) -> bool:
        return any(map(word.matches, self._texts, self._ids))

    def _like(self, word: Word) -> str | None:
        known = {known for text in self._texts for known in text.split() if len(known) > 1}
        return naming.nearest(word.spelled[0], known)

    def _nearest(self, query: Query, better: dict[str, str | None]) -> str | None:
        """Return the id with most of the words, slips put right; else the id most like the words in a row."""
        words = query_words(better.get(word.typed) or word.typed for word in query.words)
        numbers = self._finds(query._replace(words=())) or range(len(self.entries))
        met = {
            number: sum(word.matches(self._texts[number], self._ids[number]) for word in words) for number in numbers
        }
        most = max(met.values(), default=0)
        if most:
            return self._ranked((number for number, count in met.items() if count == most), words)[0].id
        return naming.nearest("-".join(word.typed for word in query.words), (entry.id for entry in self.entries))


def by_kind(entries: Iterable[Entry]) -> tuple[tuple[str, int], ...]:
    """Return how many of the entries are of each kind, the most frequent first, equals by name."""
    counts = Counter(entry.kind for entry in entries)
    return tuple(sorted(counts.items(), key=lambda pair: (-pair[1], pair[0])))


def _entries(shelf: Shelf) -> Iterator[Entry]:
    shipped = Shelf.generic().layers
    seen: set[str] = set()
    for layer in shelf.layers:
        entries = _shipped(layer.name) if layer in shipped else _own(layer)
        for entry in entries:
            if entry.id not in seen:
                yield entry
        seen |= layer.kinds.keys()


def _shipped(name: str) -> Iterator[Entry]:
    for part_id, row in generic.rows().items():
        ports = row.get("ports", {}).values()
        openings = tuple(Opening(port.get("thread"), port.get("seat"), port.get("tube")) for port in ports)
        tube = row.get("inside") if row["kind"] in _FOR_TUBE else row.get("od")
        yield Entry(part_id, row["kind"], row["description"], row.get("material"), name, openings, tube)


def _own(layer: Layer) -> Iterator[Entry]:
    for part_id in layer.kinds:
        part = layer.get(part_id)
        if part is not None:
            yield entry_of(part)


def entry_of(part: Part) -> Entry:
    """Return a part as a search sees it."""
    openings = tuple(
        Opening(port.thread.designation if port.thread else None, port.seat, port.tube) for port in part.ports.values()
    )
    tube = part.inside if part.kind in _FOR_TUBE else part.od
    return Entry(part.id, part.kind, part.description, part.material, part.catalog, openings, tube)


def _meets(entry: Entry, query: Query) -> bool:
    """Return whether kind, thread, seat and tube are as asked; a part's own tube size counts as a bare opening."""
    if query.kind is not None and entry.kind != query.kind:
        return False
    if (query.thread, query.seat, query.tube) == (None, None, None):
        return True
    return any(_opening_meets(each, query) for each in (*entry.openings, Opening(None, None, entry.tube)))


def _opening_meets(opening: Opening, query: Query) -> bool:
    if query.seat is not None and opening.seat != query.seat:
        return False
    if query.tube is not None and (opening.tube is None or not same_tube(opening.tube, query.tube)):
        return False
    if query.thread is None:
        return True
    return opening.thread is not None and parse_thread(opening.thread).key == query.thread.key


def _three_lines(entry: Entry) -> str:
    """Return the id, the description, and the other words of a part on a line each, for all to be spelled in one go."""
    other = dict.fromkeys((entry.kind, entry.material or ""))
    for opening in entry.openings:
        other |= dict.fromkeys((opening.thread or "", opening.seat or ""))
    lines = (_pointed_id(entry), entry.description, "; ".join(other))
    return "\n".join(line.replace("\n", " ") for line in lines)


def _pointed_id(entry: Entry) -> str:
    """Return the id with the decimal point that its thread lost: `nut-m10x1-25-bubble` is a nut M10x1.25."""
    text = entry.id
    for opening in entry.openings:
        if opening.thread is not None and "." in opening.thread:
            thread = opening.thread.lower()
            text = text.replace(thread.replace(".", "-"), thread)
    return text

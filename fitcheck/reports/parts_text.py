"""What a search of the catalogs found, and everything about one part. Text and JSON."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any, Final, NamedTuple

from fitcheck.catalog.joins import Join, joins
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.search import Entry, Index, Miss, Query, by_kind
from fitcheck.catalog.shelf import Shelf
from fitcheck.checks.joint_words import describe
from fitcheck.quantities import Quantity, render
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, columns, count_of, first_few, paragraph, visible
from fitcheck.reports.plain_json import json_text
from fitcheck.trees import short

_LEAST_DESCRIPTION: Final = 30
_FIGURES: Final = {
    "bore": "length", "stroke": "length", "cut_off": "length", "give": "give", "od": "length", "wall": "length",
    "length": "length",
    "bend_radius": "length", "inside": "length", "outside": "length", "thickness": "length", "for_hose": "length",
    "volume": "volume", "reservoir_volume": "volume", "displacement": "volume", "mass": "mass",
    "max_pressure": "pressure", "burst": "pressure", "setting": "pressure",
}  # fmt: skip
_PORT_FIGURES: Final = ("depth", "length", "reach")
_LISTS: Final = ("outlets", "feeds", "ends", "one_way", "fluid_families", "rubber", "equivalent_to")
_WORDS: Final = ("style", "expansion_limit", "side")
_SIZES: Final = ("pistons", "chambers", "bleeder_at")
_PASTE: Final = {
    "tube": ("lines:", "  tag: {{from: TAG.PORT, to: TAG.PORT, tube: {id}}}"),
    "hose": ("hoses:", "  tag: {{part: {id}, from: TAG.PORT, to: TAG.PORT}}"),
    "feed hose": ("hoses:", "  tag: {{part: {id}, from: TAG.PORT, to: TAG.PORT}}"),
    "nut": ("lines:", "  tag: {{from: TAG.PORT, to: TAG.PORT, tube: TUBE, ends: {{from: {{nut: {id}}}}}}}"),
    "sleeve": ("lines:", "  tag: {{from: TAG.PORT, to: TAG.PORT, tube: TUBE, ends: {{from: {{sleeve: {id}}}}}}}"),
    "banjo bolt": ("joints:", "  - {{port: TAG.PORT, eyes: [TAG.PORT], bolt: {id}}}"),
    "grommet": ("panels:", "  tag: {{grommet: {id}}}"),
    "spring guard": ("lines:", "  tag: {{from: TAG.PORT, to: TAG.PORT, tube: TUBE, slides: [{id}]}}"),
}
_COMPONENT: Final = ("components:", "  tag: {{part: {id}}}")
_CHOSEN: Final = {
    "nut": "Left out, a nut that fits is chosen.",
    "sleeve": "Left out, a sleeve that fits is chosen.",
    "banjo bolt": "Left out, a bolt that fits is chosen.",
}
_NOTHING_TO_PASTE: Final = {"washer": "Nothing: a joint that needs washers has them chosen and counted."}


class Search(NamedTuple):
    """The answer to a search: words as typed, how many parts there are, what was found, best first, how many to show.

    `miss` says why, if nothing was found.
    """

    words: tuple[str, ...]
    looked_at: int
    found: tuple[Entry, ...]
    most: int
    miss: Miss | None = None

    @property
    def shown(self) -> tuple[Entry, ...]:
        """What of it is shown."""
        return self.found[: self.most]


def search_text(search: Search, *, width: int = WIDTH) -> str:
    """Return what was found for people: a table of id and description, and how to narrow it."""
    lines = _miss(search, search.miss, width) if search.miss is not None else _found(search, width)
    return "\n".join(lines)


def search_json(search: Search) -> str:
    """Return what was found as JSON text."""
    value: dict[str, Any] = {
        "words": search.words,
        "looked_at": search.looked_at,
        "found": len(search.found),
        "kinds": dict(by_kind(search.found)),
        "parts": [
            {
                "id": entry.id,
                "kind": entry.kind,
                "description": entry.description,
                "material": entry.material,
                "catalog": entry.catalog,
            }
            for entry in search.shown
        ],
    }
    if search.miss is not None:
        value["miss"] = search.miss._asdict() | {"unknown": dict(search.miss.unknown)}
    return json_text(value)


def _found(search: Search, width: int) -> Iterator[str]:
    shown, count = search.shown, len(search.found)
    few = "" if len(shown) == count else f", the best {len(shown)} shown"
    yield from paragraph(f"{count} of {count_of(search.looked_at, 'part')}{few}", width)
    yield ""
    yield from _table(shown, width)
    yield ""
    kinds = by_kind(search.found)
    if few:
        by = ", ".join(f"{kind} {number}" for kind, number in kinds)
        yield from paragraph(f"By kind: {by}", width, hang="  ")
        narrow = f"Add a word, --kind, --thread, --seat or --tube to narrow it; --most {count} shows all."
        yield from paragraph(narrow, width, hang="  ")
    yield from paragraph("fitcheck parts show ID: ports, what joins them, the line to paste into a build.", width)


def _table(entries: tuple[Entry, ...], width: int) -> Iterator[str]:
    """Yield a row for each part; where ids leave no room beside them, the description stands under its id."""
    ids = [_named(entry) for entry in entries]
    column = max(map(columns, ids)) + 2
    beside = width - column >= _LEAST_DESCRIPTION
    for name, entry in zip(ids, entries, strict=True):
        words = entry.description or entry.kind
        if beside:
            lead = name + " " * (column - columns(name))
            yield from paragraph(words, width, lead, " " * column)
        else:
            yield name  # an id that is broken cannot be copied
            yield from paragraph(words, width, "  ")


def _named(entry: Entry) -> str:
    """Return the id, with its catalog where that is one of the builder's own."""
    return visible(entry.id if entry.catalog == "generic" else f"{entry.id} ({entry.catalog})")


def _miss(search: Search, miss: Miss, width: int) -> Iterator[str]:
    asked = f" for {short(' '.join(search.words))}" if search.words else ""
    yield from paragraph(f"nothing found{asked} among {count_of(search.looked_at, 'part')}", width, hang="  ")
    for word, like in miss.unknown:
        tail = f"; nearest is {like!r}" if like else ""
        yield from paragraph(f"no part has the word {short(word)}{tail}", width, "  ", "    ")
    if miss.without_options and search.words:
        yield from paragraph(f"without the options: {count_of(miss.without_options, 'part')}", width, "  ", "    ")
    if miss.nearest is not None:
        yield from paragraph(f"nearest id is {miss.nearest}", width, "  ", "    ")


def no_part_text(shelf: Shelf, part_id: str) -> str:
    """Return that no catalog has this part, with the id nearest to it."""
    like = _nearest(shelf, part_id)
    return visible(f"no catalog has a part {short(part_id)}{f'; nearest is {like!r}' if like else ''}")


def no_part_json(shelf: Shelf, part_id: str) -> str:
    """Return that no catalog has this part, as JSON text."""
    return json_text({"problem": f"no catalog has a part {short(part_id)}", "nearest": _nearest(shelf, part_id)})


def _nearest(shelf: Shelf, part_id: str) -> str | None:
    """Return the shortest id that holds the words of this one, or else the id that is nearest to them."""
    index, query = Index(shelf), Query.of(part_id.replace("_", "-").split("-"))
    if query.empty:
        return None
    found = index.search(query)
    return found[0].id if found else index.miss(query).nearest


def part_text(shelf: Shelf, part: Part, *, width: int = WIDTH) -> str:
    """Return everything about one part for people."""
    return "\n".join([*_part(shelf, part, width), *caution_lines(width)])


def _part(shelf: Shelf, part: Part, width: int) -> Iterator[str]:
    yield from paragraph(f"{part.id}: {part.kind}, from {_catalog(shelf, part)}", width, hang="  ")
    if part.description:
        yield from paragraph(part.description, width, hang="  ")
    if part.ports:
        yield from ("", f"PORTS ({len(part.ports)})", "")
        yield from _ports(shelf, part, width)
    told = list(facts(part))
    if told:
        yield from ("", "FIGURES", "")
        for name, words in told:
            yield from paragraph(f"{name}: {words}", width, "  ", "    ")
    yield from ("", "PASTE INTO A BUILD", "")
    yield from _paste(part, width)


def _catalog(shelf: Shelf, part: Part) -> str:
    """Return where a part comes from, and what it hides."""
    names = [layer.name for layer in shelf.layers if part.id in layer.kinds]
    words = ["the generic catalog" if name == "generic" else name for name in names]
    return words[0] + (f", which hides the one in {' and '.join(words[1:])}" if words[1:] else "")


def _ports(shelf: Shelf, part: Part, width: int) -> Iterator[str]:
    """Yield what each port is and what joins it; neighbours that are alike in all stand together."""
    told = [(name, [port_words(part.ports[name]), *_join_words(join)]) for name, join in _by_port(shelf, part)]
    for words, group in groupby(told, key=lambda pair: pair[1]):
        names = ", ".join(name for name, _ in group)
        yield from paragraph(f"{names}: {words[0]}", width, "  ", "      ")
        for line in words[1:]:
            yield from paragraph(line, width, "    ", "      ")


def _by_port(shelf: Shelf, part: Part) -> Iterator[tuple[str, Join]]:
    return ((join.port, join) for join in joins(shelf, part))


def port_words(port: Port) -> str:
    """Return a port in words, with every figure that the catalog has for it."""
    words = [describe(port)] if port.thread or port.gender or port.seat or not port.mechanical else []
    words += [port.pattern] if port.pattern else []
    words += [f"{name} {_amount(value, 'length')}" for name in _PORT_FIGURES if (value := getattr(port, name))]
    if port.offset is not None:
        words.append(f"offset {', '.join(_amount(value, 'length') for value in port.offset)}")
    return ", ".join(words)


def _join_words(join: Join) -> Iterator[str]:
    if join.mate is not None:
        yield f"joins {port_words(join.mate)}"
    needs = [f"tube end: {join.flare}"] if join.flare else []
    needs += [f"{word}: {first_few(ids) if ids else 'in no catalog'}" for word, ids in join.fixings]
    if needs:
        yield "; ".join(needs)


def facts(part: Part) -> Iterator[tuple[str, str]]:
    """Yield everything that the catalog says of the part as a whole, in words."""
    if part.material is not None:
        yield "material", part.material
    for name, dimension in _FIGURES.items():
        value = getattr(part, name)
        if value is not None:
            yield name.replace("_", " "), _amount(value, dimension)
    if part.eyes is not None:
        yield "eyes", str(part.eyes)
    yield from _bleed_screw(part)
    yield from _worked(part)
    if part.panel is not None:
        sizes = zip(("hole", "grip"), part.panel, strict=True)
        yield "panel", ", ".join(f"{name} {_amount(value, 'length')}" for name, value in sizes if value is not None)
    if len(part.passages) > 1:
        yield "passages", "; ".join(" and ".join(group) for group in part.passages)
    for name in _LISTS:
        value = getattr(part, name)
        if value:
            yield name.replace("_", " "), ", ".join(sorted(value) if isinstance(value, frozenset) else value)
    yield "source", part.source or "not stated"


def _bleed_screw(part: Part) -> Iterator[tuple[str, str]]:
    if part.bleeder is not None:
        yield "bleeder", part.bleeder if part.bleed_screws is None else f"{part.bleeder}, {part.bleed_screws} of them"
    yield from ((name.replace("_", " "), getattr(part, name)) for name in _WORDS if getattr(part, name) is not None)


def _worked(part: Part) -> Iterator[tuple[str, str]]:
    """Yield what it does under pressure: its pistons and chambers, what a valve lets on, how a hose swells."""
    for name in _SIZES:
        if getattr(part, name):
            yield name.replace("_", " "), ", ".join(_amount(value, "length") for value in getattr(part, name))
    if part.slope is not None:
        yield "slope", f"{part.slope:g}"
    if part.expansion:
        swells = (f"{_amount(one, 'swelling')} at {_amount(at, 'pressure')}" for at, one in part.expansion)
        yield "expansion", ", ".join(swells)


def _amount(value: float, dimension: str) -> str:
    """Return a figure as its catalog wrote it, or in the usual unit."""
    return value.text if isinstance(value, Quantity) else render(value, dimension)


def _paste(part: Part, width: int) -> Iterator[str]:
    if part.kind in _NOTHING_TO_PASTE:
        yield from paragraph(_NOTHING_TO_PASTE[part.kind], width, "  ")
        return
    yield from (f"  {visible(line)}" for line in paste_lines(part))
    if part.kind in _CHOSEN:
        yield from paragraph(_CHOSEN[part.kind], width, "  ")


def paste_lines(part: Part) -> tuple[str, ...]:
    """Return the lines that put this part into a build: the section, and one entry of it; none if none are needed."""
    if part.kind in _NOTHING_TO_PASTE:
        return ()
    section, entry = _PASTE.get(part.kind, _COMPONENT)
    return section, entry.format(id=part.id)


def part_json(shelf: Shelf, part: Part) -> str:
    """Return everything about one part as JSON text; units as those of `Part`."""
    value: dict[str, Any] = {"id": part.id, "kind": part.kind, "description": part.description}
    value["catalog"] = part.catalog
    value["ports"] = {name: _port_json(part.ports[name], join) for name, join in _by_port(shelf, part)}
    kept = (name for name in part._fields if name not in value)
    value |= {name: getattr(part, name) for name in kept if getattr(part, name) not in (None, (), frozenset())}
    value["paste"] = paste_lines(part)
    return json_text(value | {"caution": CAUTION})


def _port_json(port: Port, join: Join) -> dict[str, Any]:
    value = {name: getattr(port, name) for name in port._fields if name != "name"}
    found = {name: each for name, each in value.items() if each is not None}
    found["thread"] = port.thread.designation if port.thread else None
    found["joins"] = port_words(join.mate) if join.mate is not None else None
    return found | {"flare": join.flare, "fixings": dict(join.fixings)}

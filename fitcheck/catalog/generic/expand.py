"""Expands the families of the generic catalog into rows. Used when the index is made, never at run time."""

import re
from collections.abc import Iterator, Mapping
from itertools import product
from typing import Any, Final

from fitcheck.catalog.entries import PartEntry
from fitcheck.catalog.generic.ends import FAMILIES, End, end, group, table
from fitcheck.catalog.generic.from_tables import FamilyError, rows_from, slug
from fitcheck.sources import read
from fitcheck.standards.threads import parse as parse_thread

_OWN_KEYS: Final = frozenset({"id", "each", "rows", "rows from", "pairs"})
_ALONE: Final = re.compile(r"\{(\w+)\}")
_SHORT_METALS: Final = {"copper-nickel": "cuni", "stainless steel": "stainless"}


class Word(str):
    """A plain value of a family's table, with the forms that templates ask for."""

    __slots__ = ()

    @property
    def slug(self) -> str:
        """The value as it stands in an id."""
        return _SHORT_METALS.get(self) or slug(self)

    @property
    def n(self) -> str:
        """The number of a quantity, without its unit."""
        return self.split()[0]

    @property
    def short(self) -> str:
        """A thread without its series word."""
        return self.split()[0]


Values = Mapping[str, Word | End | None]


def expand_all() -> dict[str, dict[str, Any]]:
    """Return every generic part as users would write it: by id, quantities as text with units.

    Raises:
        FamilyError: two families make the same id, or a template asks for what its rows lack.
    """
    found: dict[str, dict[str, Any]] = {}
    for path in sorted(FAMILIES.glob("*.yaml")):
        root: Any = read(path).root
        for name, family in root.get("families", {}).items():
            for part_id, entry in expand(family):
                if part_id in found:
                    raise FamilyError(f"family {name} in {path.name} makes {part_id}, which exists already")
                found[part_id] = entry
    return found


def expand(family: Mapping[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the parts of one family: id and entry, in the order of its rows, pairs and sizes."""
    for values in _combinations(family):
        entry = {key: _filled(value, values) for key, value in family.items() if key not in _OWN_KEYS}
        ports = {name: _port(port, values) for name, port in family.get("ports", {}).items()}
        if ports:
            entry["ports"] = ports
        entry = {key: value for key, value in entry.items() if value is not None}
        yield _text(family["id"], values), entry


def rows() -> dict[str, dict[str, Any]]:
    """Return every generic part as `part_from_row` takes it: mm, MPa and mm3, threads in canonical spelling.

    Raises:
        ValueError: a family makes a part that the catalog's own model refuses.
    """
    return {part_id: row(entry) for part_id, entry in sorted(expand_all().items())}


def row(entry: Mapping[str, Any]) -> dict[str, Any]:
    """Return one entry as `part_from_row` takes it."""
    model = PartEntry.model_validate(entry)
    plain = {key: value for key, value in model if value is not None and key not in ("ports", "panel")}
    if model.panel is not None:
        plain["panel"] = {key: value for key, value in model.panel if value is not None}
    plain = {key: _plain(value) for key, value in plain.items()}
    if model.ports:
        plain["ports"] = {name: _plain(port) for name, port in model.resolved_ports().items()}
        for port in plain["ports"].values():
            if "thread" in port:
                port["thread"] = parse_thread(port["thread"]).designation
    return plain


def _plain(value: Any) -> Any:
    """Return quantities as bare numbers, to a millionth of the working unit; whole ones without a point."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    if isinstance(value, float):
        return round(float(value), 6)
    return value


def _combinations(family: Mapping[str, Any]) -> Iterator[Values]:
    axes = {name: _axis(values) for name, values in family.get("each", {}).items()}
    for row_ in _rows(family):
        for pair in _pairs(family):
            for chosen in product(*axes.values()):
                texts = {**row_, **pair, **dict(zip(axes, chosen, strict=True))}
                values = {name: _value(text) for name, text in texts.items()}
                yield {**values, "marks": Word(_marks(values))}


def _marks(values: Values) -> str:
    """Return the sources of all ends, each said once."""
    ends = [value for value in values.values() if isinstance(value, End)]
    return "; ".join(dict.fromkeys(part for one in ends for part in one.source.split("; ")))


def _axis(values: list[str]) -> list[str]:
    return [name for value in values for name in (group(value) or (value,))]


def _rows(family: Mapping[str, Any]) -> Iterator[dict[str, str | None]]:
    """Yield each row of the family with each that it takes from a standards' table."""
    given = rows_from(family["rows from"]) if "rows from" in family else [{}]
    for one in given:
        for own in family.get("rows", [{}]):
            yield {**one, **own}


def _pairs(family: Mapping[str, Any]) -> Iterator[dict[str, str]]:
    if "pairs" not in family:
        yield {}
    for left, right in family.get("pairs", ()):
        for a, b in product(_names(left), _names(right)):
            yield {"a": a, "b": b}


def _names(text: str) -> list[str]:
    """Return the ends that one side of a pair names; `*` after a name stands for both sides of it."""
    return [
        name
        for word in text.split()
        for name in ([f"{word[:-1]}-male", f"{word[:-1]}-female"] if word.endswith("*") else [word])
    ]


def _value(text: str | None) -> Word | End | None:
    if text is None:
        return None
    base = text.removesuffix("-male").removesuffix("-female")
    return end(text) if base in table() else Word(text)


def _port(template: Mapping[str, str], values: Values) -> dict[str, Any]:
    filled = {key: _text(value, values) for key, value in template.items()}
    name = filled.pop("end", None)
    if name is None:
        return filled
    return end(name).port(filled.pop("gender", None)) | filled


def _filled(value: Any, values: Values) -> Any:
    """Return a template filled in; a field alone whose row says nothing (`~`) leaves its key out."""
    if isinstance(value, list):
        return [_filled(one, values) for one in value]
    if isinstance(value, dict):
        return {key: _filled(one, values) for key, one in value.items()}
    alone = _ALONE.fullmatch(value)
    if alone and alone[1] in values and values[alone[1]] is None:
        return None
    return _text(value, values)


def _text(template: str, values: Values) -> str:
    try:
        return template.format_map(values)
    except (KeyError, AttributeError) as error:
        raise FamilyError(f"template {template!r} asks for {error.args[0]!r}, which its rows lack") from None

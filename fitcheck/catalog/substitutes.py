"""Which part can be bought in place of another, with no change to the build but the box it comes in.

That it can is *stated*, by the `equivalent_to` of the part that is needed, or it is *proven* by what the catalogs say
of both: the same kind, the same ports by name, the same sizes, and no limit that is worse. A size that is known of one
of them only proves nothing; nor does one that is known of neither where it has to be known: the seat of a port, what
`NEEDED` lists, and how a caliper or a cylinder bolts on. A limit has to be kept only where one is known.
"""

from collections.abc import Iterable, Iterator, Mapping
from math import isclose
from typing import Any, Final

from fitcheck.catalog.part import CONSUMERS, LOOSE, Part, Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.substitute_words import groups_of, names_of, text_of
from fitcheck.standards.materials import UnknownMaterialError, material
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import Thread
from fitcheck.standards.tubes import bend_radius_mm

ROUNDING: Final = 1e-3
"""Figures this near to each other, as a share, are one figure rounded twice: common practice, no source."""
WORK: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(CONSUMERS, ("bore", "displacement")),
    "master cylinder": ("bore", "stroke"),
}
"""Figures without which nobody can say that two parts of a kind do the same."""
PRESSING: Final = ("pistons", "style", "chambers", "slope")
"""Figures that change what pressure does; where both are known they have to be the same."""
NEEDED: Final[Mapping[str, tuple[str, ...]]] = {
    **WORK,
    "reservoir": ("reservoir_volume",),
    "residual valve": ("setting",),
    "proportioning valve": ("setting", "slope"),
    "bulkhead union": ("panel",),
    "banjo bolt": ("eyes",),
    "hose": ("length",),
    "tube": ("od", "wall", "material"),
    "washer": ("inside", "outside", "thickness", "material"),
    "clip": ("inside",),
    "grommet": ("inside", "outside", "panel"),
    "dust cap": ("inside",),
    "spring guard": ("inside", "outside", "length"),
}
"""What has to be known of both parts of a kind, besides their ports: common practice, no source."""
UNSTATED: Final[Mapping[str, str]] = {
    "pedal box": "leverage",
    "fluid": "grade",
    "sealant": "use",
}
"""Kinds that are never proven alike, and what no catalog field says of them."""
BOLTED: Final = CONSUMERS | {"master cylinder"}
"""Kinds that are made for one mounting: a port with a `pattern` and no thread."""

_EQUAL: Final = (
    "bore",
    "stroke",
    "displacement",
    "setting",
    "wall",
    "inside",
    "outside",
    "thickness",
    "eyes",
    "for_hose",
    "panel",
    "pistons",
    "style",
    "chambers",
    "slope",
)
_AT_LEAST: Final = ("max_pressure", "burst", "reservoir_volume", "volume")
"""Limits that are worse if they are less."""
_AT_MOST: Final = ("bend_radius", "cut_off", "give")
"""Limits that are worse if they are more: how far it has to be bent, and what it takes of the stroke."""
_PORT_WORDS: Final = ("thread", "gender", "seat", "pattern")
_PORT_SIZES: Final = ("tube", "hose", "eye", "depth", "length", "reach", "offset")
_DUST: Final = 1e-9
_Key = tuple[str, frozenset[tuple[object, ...]]]


def refusal(wanted: Part, other: Part, families: frozenset[str] = frozenset()) -> str | None:
    """Return why `other` cannot be bought for `wanted`, None if it can.

    `families` are the fluids of the build: what is known not to stand one of them is refused. Sizes are equal within
    `ROUNDING`, tube sizes as tube sizes are; limits of pressure, fluid, volume and bend may be better. The reason is
    the first fact found, or the catalog field that would have to be given.
    """
    if other.id == wanted.id:
        return None
    if other.kind != wanted.kind:
        return f"kind {other.kind}, not {wanted.kind}"
    against = _if_stated if other.id in wanted.equivalent_to else _if_proven
    return next(against(wanted, other, families), None)


class StandIns:
    """The parts that can be had, ready to be asked what stands in for what.

    They are sorted by kind at once, and by their ports where a kind is first asked for, so that each question looks
    only at parts that screw into the same places.
    """

    def __init__(self, shelf: Shelf, candidates: Iterable[str], families: frozenset[str] = frozenset()) -> None:
        self.shelf = shelf
        self.families = families
        self._kinds: dict[str, list[str]] = {}
        self._order: dict[str, tuple[int, str]] = {}
        for part_id in dict.fromkeys(candidates):
            for number, layer in enumerate(shelf.layers):
                if part_id in layer.kinds:
                    self._kinds.setdefault(layer.kinds[part_id], []).append(part_id)
                    self._order[part_id] = (number, part_id)
                    break
        self._alike: dict[str, dict[_Key, list[Part]]] = {}

    def of(self, wanted_id: str) -> tuple[str, ...]:
        """Return what can be bought for a part, itself left out, in the order of the shelf; nothing for an unknown."""
        wanted = self.shelf.get(wanted_id)
        if wanted is None:
            return ()
        alike = self._of_kind(wanted.kind).get(_key(wanted), ())
        stated = map(self.shelf.get, (name for name in wanted.equivalent_to if name in self._order))
        tried = {part.id: part for part in (*alike, *stated) if part is not None and part.id != wanted_id}
        found = [name for name, part in tried.items() if refusal(wanted, part, self.families) is None]
        return tuple(sorted(found, key=self._order.__getitem__))

    def _of_kind(self, kind: str) -> dict[_Key, list[Part]]:
        if kind not in self._alike:
            found = self._alike[kind] = {}
            for part in map(self.shelf.get, self._kinds.get(kind, ())):
                if part is not None:
                    found.setdefault(_key(part), []).append(part)
        return self._alike[kind]


def same_figure(one: float, other: float) -> bool:
    """Return whether two figures are one, rounded differently."""
    return isclose(one, other, rel_tol=ROUNDING)


def given(part: Part, field: str) -> Any:
    """Return what a catalog gives of a part; None for a list that it leaves out, as for anything else."""
    value = getattr(part, field)
    return None if value == () else value


def has_bleeder(part: Part) -> bool | None:
    """Return whether a part has a bleed screw; None if its catalog does not say."""
    return None if part.bleeder is None else part.bleeder.strip().lower() != "none"


def _key(part: Part) -> _Key:
    """Return what equal parts have equal for sure: kind, and each port's name, thread, gender and seat."""
    ports = part.ports.items()
    forms = ((name, port.thread and _form(port.thread), port.gender, port.seat) for name, port in ports)
    return part.kind, frozenset(forms)


def _form(thread: Thread) -> tuple[object, ...]:
    """Return what equal threads have equal, whatever their series is called: size, pitch, and how tight they are."""
    return thread.key, thread.external_class, thread.internal_class


def _if_stated(wanted: Part, other: Part, families: frozenset[str]) -> Iterator[str]:
    """Yield what speaks against a part that is said to do: ports not there or known to be unlike, lower limits."""
    for name, now in wanted.ports.items():
        if name not in other.ports:
            yield f"no port {name}"
            return
        yield from _known_unlike(now, other.ports[name])
    for name in (*WORK.get(wanted.kind, ()), *PRESSING, *(("od",) if wanted.kind == "tube" else ())):
        one, another = given(wanted, name), given(other, name)
        if one is not None and another is not None and not same_value(name, one, another):
            yield f"{name} {text_of(name, another)}, not {text_of(name, one)}"
    for name, port in other.ports.items():
        if name not in wanted.ports and not port.mechanical:
            yield f"port {name}: {wanted.id} has none to join it to"
    yield from _limits(wanted, other, known=True)
    yield from _bleed_screw(wanted, other, known=True)
    yield from _fluid(wanted, other, families, known=True)
    if _carries(wanted) is True and _carries(other) is False:
        yield f"material {other.material}, refused under brake pressure"


def _known_unlike(now: Port, then: Port) -> Iterator[str]:
    """Yield what two ports are known to have unlike: thread, side, seat, and what goes into them."""
    for field in ("thread", "gender", "seat", "tube", "hose", "eye"):
        one, another = getattr(now, field), getattr(then, field)
        if one is not None and another is not None and one != another and not same_value(field, one, another):
            yield f"port {now.name}: {field} {text_of(field, another)}, not {text_of(field, one)}"


def _if_proven(wanted: Part, other: Part, families: frozenset[str]) -> Iterator[str]:
    if wanted.kind in UNSTATED:
        yield f"no field says the {UNSTATED[wanted.kind]} of a {wanted.kind}"
    yield from _ports(wanted, other)
    yield from _ways(wanted, other)
    yield from _figures(wanted, other)
    yield from _limits(wanted, other)
    yield from _bleed_screw(wanted, other)
    yield from _fluid(wanted, other, families)
    yield from _mounting(wanted)


def _ports(wanted: Part, other: Part) -> Iterator[str]:
    """Yield which ports are not the same, or not known well enough to say."""
    if not wanted.ports and wanted.kind not in LOOSE:
        yield f"parts.{wanted.id}.ports is not given"
    for name, port in wanted.ports.items():
        if name not in other.ports:
            yield f"no port {name}"
            return
        yield from _port(f"ports.{name}", wanted, port, other, other.ports[name])
    yield from (f"port {name}: {wanted.id} has none" for name in other.ports if name not in wanted.ports)


def _port(path: str, wanted: Part, now: Port, other: Part, then: Port) -> Iterator[str]:
    for field in (*_PORT_WORDS, *_PORT_SIZES):
        one, another = getattr(now, field), getattr(then, field)
        if one == another:
            continue
        if one is None or another is None:
            yield f"parts.{(wanted if one is None else other).id}.{path}.{field} is not given"
        elif not same_value(field, one, another):
            yield f"port {now.name}: {field} {text_of(field, another)}, not {text_of(field, one)}"
    lacking = _unclear(wanted.kind, now)
    if lacking is not None:
        yield f"parts.{wanted.id}.{path}.{lacking} is not given"


def _unclear(kind: str, port: Port) -> str | None:
    """Return the field without which nobody can say what a port joins; None if it is clear."""
    if port.mechanical:
        return None if port.pattern is not None or port.thread is not None else "pattern"
    if port.seat is None:
        return "seat"
    if port.thread is not None and port.gender is None:
        return "gender"
    if port.tube is None and _takes_tube(kind, port):
        return "tube"
    return "thread" if (port.thread, port.hose, port.eye, port.tube) == (None, None, None, None) else None


def _takes_tube(kind: str, port: Port) -> bool:
    """Return whether a tube ends here, so that its size matters: two sizes can share one thread."""
    seat = seat_named(port.seat) if port.seat is not None else None
    return seat is not None and seat.tube_end and (kind in ("nut", "sleeve") or port.gender in seat.port_genders)


def _ways(wanted: Part, other: Part) -> Iterator[str]:
    """Yield how the fluid goes another way."""
    if set(map(frozenset, wanted.passages)) != set(map(frozenset, other.passages)):
        yield f"passages {groups_of(other.passages)}, not {groups_of(wanted.passages)}"
    for field in ("outlets", "feeds", "ends"):
        now, then = getattr(wanted, field), getattr(other, field)
        if set(now) != set(then):
            yield f"{field} {names_of(then)}, not {names_of(now)}"
    if wanted.one_way != other.one_way:
        yield f"one_way {names_of(other.one_way, ordered=True)}, not {names_of(wanted.one_way, ordered=True)}"


def _figures(wanted: Part, other: Part) -> Iterator[str]:
    """Yield which figures that do the work are not the same, or not known."""
    needed, equal = NEEDED.get(wanted.kind, ()), _equal_fields(wanted.kind)
    for field in dict.fromkeys((*needed, *equal)):
        now, then = given(wanted, field), given(other, field)
        if now is None and then is None and field not in needed:
            continue
        for part, value in ((wanted, now), (other, then)):
            if _unknown(value):
                yield f"parts.{part.id}.{field} is not given"
        if now is not None and then is not None and field in equal and not same_value(field, now, then):
            yield f"{field} {text_of(field, then)}, not {text_of(field, now)}"


def _equal_fields(kind: str) -> tuple[str, ...]:
    """Return the figures that have to be equal; a tube's `length` is only how it is sold."""
    if kind == "tube":
        return (*_EQUAL, "od", "material")
    return (*_EQUAL, "od", "length", "material") if kind == "washer" else (*_EQUAL, "od", "length")


def _limits(wanted: Part, other: Part, known: bool = False) -> Iterator[str]:
    """Yield which limits are worse, or not known to be as good; with `known` only those known to be worse."""
    for field in _AT_LEAST[:-1] if known else _AT_LEAST:
        now, then = getattr(wanted, field), getattr(other, field)
        if now is not None and then is None and not known:
            yield f"parts.{other.id}.{field} is not given"
        elif now is not None and then is not None and then < now * (1.0 - ROUNDING):
            yield f"{field} {text_of(field, then)}, not {text_of(field, now)}"
    for field in _AT_MOST:
        now, then = getattr(wanted, field), getattr(other, field)
        if now is not None and then is None and not known:
            yield f"parts.{other.id}.{field} is not given"
        if now is None and field == "bend_radius" and wanted.kind == "tube" and wanted.od is not None:
            now = bend_radius_mm(wanted.od)  # what a route without radii is laid with
        if now is not None and then is not None and then > now * (1.0 + ROUNDING):
            yield f"{field} {text_of(field, then)}, not {text_of(field, now)}"
    if not known or (wanted.expansion and other.expansion):
        yield from _swelling(wanted, other)


def _swelling(wanted: Part, other: Part) -> Iterator[str]:
    """Yield that a hose swells more, or is not known to swell as little, at a pressure told of the present one."""
    if wanted.expansion and not other.expansion:
        yield f"parts.{other.id}.expansion is not given"
    then = dict(other.expansion)
    for at, swelling in wanted.expansion if other.expansion else ():
        if at not in then:
            yield f"parts.{other.id}.expansion is not given at {at:g} MPa"
        elif then[at] > swelling * (1.0 + ROUNDING):
            yield f"expansion {then[at]:g} mm3/mm at {at:g} MPa, not {swelling:g} mm3/mm"
    if wanted.expansion_limit == "low" and other.expansion_limit != "low" and not other.expansion:
        yield f"expansion_limit {other.expansion_limit or 'none'}, not low"


def _bleed_screw(wanted: Part, other: Part, known: bool = False) -> Iterator[str]:
    """Yield that a bleed screw is lost, or not known to be kept."""
    had, has = has_bleeder(wanted), has_bleeder(other)
    if has is False and had is not False:
        yield f"bleeder none, not {wanted.bleeder}" if had else f"parts.{wanted.id}.bleeder is not given"
    elif had and has is None and not known:
        yield f"parts.{other.id}.bleeder is not given"
    if wanted.side is not None and other.side not in (None, wanted.side):
        yield f"side {other.side}, not {wanted.side}"
    elif wanted.side != other.side and not known:
        yield f"parts.{(other if other.side is None else wanted).id}.side is not given"


def _fluid(wanted: Part, other: Part, families: frozenset[str], known: bool = False) -> Iterator[str]:
    """Yield fluids that the other part is known not to stand, or not known to."""
    if other.fluid_families is None:
        if wanted.fluid_families is not None and not known:
            yield f"parts.{other.id}.fluid_families is not given"
        return
    lacking = sorted({*(wanted.fluid_families or ()), *families} - set(other.fluid_families))
    if lacking:
        yield f"fluid_families {names_of(other.fluid_families)}, not {names_of(lacking)}"


def _mounting(wanted: Part) -> Iterator[str]:
    """Yield that nobody knows how it is held; where that is known it has been compared with the ports and figures."""
    if wanted.kind in BOLTED and not any(port.pattern and port.thread is None for port in wanted.ports.values()):
        yield f"no port of {wanted.id} says how it is mounted"
    if wanted.kind == "clip" and wanted.for_hose is None:
        yield "no field says how a clip along a line is held"


def _carries(part: Part) -> bool | None:
    """Return whether a tube's material may carry brake pressure; None for anything else, or if it is not known."""
    return material(part.material).brake_pressure if part.kind == "tube" and part.material is not None else None


def same_value(field: str, one: object, other: object) -> bool:
    """Return whether two known values of a field are the same."""
    if field == "thread" and isinstance(one, Thread) and isinstance(other, Thread):
        return _form(one) == _form(other)
    if isinstance(one, tuple) and isinstance(other, tuple):
        if field == "pistons":
            one, other = tuple(sorted(one)), tuple(sorted(other))
        return len(one) == len(other) and all(same_value("", a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, float | int) and isinstance(other, float | int):
        return (
            same_tube(one, other) if field in ("tube", "od") else isclose(one, other, rel_tol=ROUNDING, abs_tol=_DUST)
        )
    if field == "material":
        return _metal(str(one)) == _metal(str(other))
    return one == other


def _unknown(value: object) -> bool:
    """Return whether a value is not known, or not all of it."""
    return value is None or (isinstance(value, tuple) and None in value)


def _metal(text: str) -> str:
    """Return one name for each material, whatever it is called."""
    try:
        return material(text).name
    except UnknownMaterialError:
        return text.strip().lower()

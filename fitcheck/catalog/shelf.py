"""Looking parts up in catalogs laid one over the other: the builder's own first, the generic one last."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Final

from fitcheck import naming
from fitcheck.catalog import generic
from fitcheck.catalog.part import Part, Port, part_from_row
from fitcheck.files import AnyPath
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import Thread

EYE_PLAY: Final = 0.8
"""Most that a banjo eye may be larger than its bolt [mm]: common practice, no source."""
WASHER_PLAY: Final = 0.6
"""Most that a washer may be larger than its bolt [mm]: common practice, no source."""
CLIP_PLAY: Final = 0.5
"""Most that a feed hose's bore may differ from the one a hose clip is for [mm]: common practice, no source."""
_ROUNDING: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Layer:
    """One catalog: the kind of each part by its id, and how to make a part. Each is made once."""

    name: str
    kinds: Mapping[str, str]
    make: Callable[[str], Part]
    made: dict[str, Part] = field(default_factory=dict, repr=False, compare=False)

    def get(self, part_id: str) -> Part | None:
        """Return the part with this id, or None if this catalog lacks it."""
        part = self.made.get(part_id)
        if part is None and part_id in self.kinds:
            part = self.made[part_id] = self.make(part_id)
        return part


class Shelf:
    """Catalogs laid one over the other: an id in an earlier layer hides the same id in a later one."""

    def __init__(self, layers: Sequence[Layer]) -> None:
        self.layers = tuple(layers)
        self._found: dict[tuple[object, ...], tuple[Part, ...]] = {}

    @staticmethod
    def generic() -> "Shelf":
        """Return the shelf that holds only the catalog that ships; the same one throughout a process."""
        return _generic()

    def under(self, layers: Sequence[Layer]) -> "Shelf":
        """Return a shelf with `layers` laid over those of this one."""
        return Shelf((*layers, *self.layers)) if layers else self

    def get(self, part_id: str) -> Part | None:
        """Return the part with this id from the first layer that has it, or None."""
        for layer in self.layers:
            part = layer.get(part_id)
            if part is not None:
                return part
        return None

    def __contains__(self, part_id: object) -> bool:
        return any(part_id in layer.kinds for layer in self.layers)

    def ids(self) -> tuple[str, ...]:
        """Return every id, each once, by layer and then by id."""
        return self._ids

    def nearest(self, part_id: str) -> str | None:
        """Return the id most like `part_id`, or None if none is alike."""
        return naming.nearest(part_id, self._ids)

    def of_kind(self, kind: str) -> tuple[Part, ...]:
        """Return the parts of one kind, by layer and then by id."""
        return self._cached(("kind", kind), lambda: self._parts(self._ids_by_kind.get(kind, ())))

    def nuts(self, thread: Thread, gender: str, seat: str, tube_od: float) -> tuple[Part, ...]:
        """Return the nuts with this thread, side and seat for tube of this outside diameter [mm]."""
        at = (thread.key, gender, seat)
        return self._cached(("nut", *at, tube_od), lambda: tuple(_for_tube(self._nuts_by_end.get(at, ()), tube_od)))

    def sleeves(self, seat: str, tube_od: float) -> tuple[Part, ...]:
        """Return the sleeves with this seat for tube of this outside diameter [mm]."""
        return self._cached(
            ("sleeve", seat, tube_od),
            lambda: tuple(_for_tube([pair for pair in self._clamps("sleeve") if pair[1].seat == seat], tube_od)),
        )

    def bolts(self, thread: Thread, eye_mm: float, eyes: int | None = None) -> tuple[Part, ...]:
        """Return the banjo bolts with this thread that go through an eye of this hole [mm].

        The hole may be up to `EYE_PLAY` larger than the thread. With `eyes`, bolts that are made for another
        number of eyes are left out.
        """
        if not _plays(eye_mm, thread.nominal_mm, EYE_PLAY):
            return ()
        bolts = self._cached(("bolt", thread.key), lambda: tuple(self._bolts(thread)))
        return bolts if eyes is None else tuple(part for part in bolts if part.eyes in (eyes, None))

    def washers(self, bolt_nominal_mm: float) -> tuple[Part, ...]:
        """Return the washers for a bolt of this nominal diameter [mm], by layer, closeness and id.

        A washer's bore may be up to `WASHER_PLAY` larger than the bolt.
        """
        return self._cached(("washer", bolt_nominal_mm), lambda: self._washers(bolt_nominal_mm))

    def clips(self, hose_bore_mm: float) -> tuple[Part, ...]:
        """Return the clips for a feed hose of this bore [mm], by layer, closeness and id.

        The bore may differ from the clip's `for_hose` by `CLIP_PLAY` either way, so that 3/8 in takes the clip
        for 10 mm. Clips that hold a line to the body have no `for_hose` and are never among them.
        """
        return self._cached(("clip", hose_bore_mm), lambda: self._clips(hose_bore_mm))

    def _cached(self, key: tuple[object, ...], find: Callable[[], tuple[Part, ...]]) -> tuple[Part, ...]:
        found = self._found.get(key)
        if found is None:
            found = self._found[key] = find()
        return found

    def _parts(self, ids: Sequence[str]) -> tuple[Part, ...]:
        return tuple(part for part in map(self.get, ids) if part is not None)

    @cached_property
    def _ids(self) -> tuple[str, ...]:
        if len(self.layers) == 1:
            return tuple(sorted(self.layers[0].kinds))
        unique: dict[str, None] = {}
        for layer in self.layers:
            unique.update(dict.fromkeys(sorted(layer.kinds)))
        return tuple(unique)

    @cached_property
    def _ids_by_kind(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for part_id in self._ids:
            found.setdefault(self._kind(part_id), []).append(part_id)
        return found

    def _kind(self, part_id: str) -> str:
        return self.layers[self._layer_of(part_id)].kinds[part_id]

    def _layer_of(self, part_id: str) -> int:
        return next(number for number, layer in enumerate(self.layers) if part_id in layer.kinds)

    @cached_property
    def _nuts_by_end(self) -> dict[tuple[object, ...], list[tuple[Part, Port]]]:
        found: dict[tuple[object, ...], list[tuple[Part, Port]]] = {}
        for part, port in self._clamps("nut"):
            if port.thread is not None:
                found.setdefault((port.thread.key, port.gender, port.seat), []).append((part, port))
        return found

    def _clamps(self, kind: str) -> Iterator[tuple[Part, Port]]:
        for part in self.of_kind(kind):
            for port in part.ports.values():
                yield part, port

    def _bolts(self, thread: Thread) -> Iterator[Part]:
        for part, port in self._clamps("banjo bolt"):
            if port.thread is not None and port.thread.key == thread.key:
                yield part

    def _washers(self, nominal: float) -> tuple[Part, ...]:
        bores = ((part, part.inside) for part in self.of_kind("washer"))
        fitting = [(part, bore) for part, bore in bores if bore is not None and _plays(bore, nominal, WASHER_PLAY)]
        fitting.sort(key=lambda pair: (self._layer_of(pair[0].id), pair[1], pair[0].id))
        return tuple(part for part, _ in fitting)

    def _clips(self, bore: float) -> tuple[Part, ...]:
        sizes = ((part, part.for_hose) for part in self.of_kind("clip"))
        off = [(part, abs(size - bore)) for part, size in sizes if size is not None]
        fitting = [(part, by) for part, by in off if by <= CLIP_PLAY + _ROUNDING]
        fitting.sort(key=lambda pair: (self._layer_of(pair[0].id), pair[1], pair[0].id))
        return tuple(part for part, _ in fitting)


def _plays(hole: float, nominal: float, most: float) -> bool:
    return -_ROUNDING <= hole - nominal <= most + _ROUNDING


def _for_tube(pairs: Sequence[tuple[Part, Port]], tube_od: float) -> Iterator[Part]:
    return (part for part, port in pairs if port.tube is not None and same_tube(port.tube, tube_od))


@cache
def _generic() -> Shelf:
    rows = generic.rows()
    kinds = {part_id: row["kind"] for part_id, row in rows.items()}
    return Shelf([Layer("generic", kinds, lambda part_id: part_from_row(part_id, rows[part_id], "generic"))])


def shelve(paths: Sequence[AnyPath]) -> Shelf:
    """Return the generic catalog under those at `paths`, the first of which comes first.

    Raises:
        InputError: a file cannot be read or is no catalog; every problem has its file, line and column.
    """
    return Shelf.generic().under(list(map(read_catalog, paths)))


def read_catalog(path: AnyPath) -> Layer:
    """Read a user's catalog file and return it as a layer, named as the file is.

    Raises:
        InputError: the file cannot be read or is no catalog; every problem has its file, line and column.
    """
    from fitcheck.catalog.entries import CatalogFile
    from fitcheck.sources import read
    from fitcheck.validation import validate

    entries = validate(CatalogFile, read(path)).parts
    name = path.name
    kinds = {part_id: entry.kind for part_id, entry in entries.items()}
    return Layer(name, kinds, lambda part_id: entries[part_id].to_part(part_id, name))

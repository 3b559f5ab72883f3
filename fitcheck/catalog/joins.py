"""What a part's ports are joined to: the form of the other side, and the fixings that catalogs have for it."""

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.sizes import same_tube

_OTHER: Final = {"external": "internal", "internal": "external"}


class Join(NamedTuple):
    """How one port is joined.

    Attributes:
        port: the port's name.
        mate: the form of the port that screws or pushes on here; None for a banjo eye and a sleeve, which are clamped.
        flare: how a tube's end is formed for this port; None if no tube ends here.
        fixings: ids of the parts that fit, by what they are: nut, sleeve, banjo bolt, washer, feed hose, clip. A word
            without ids is something that is needed and that no catalog has.
    """

    port: str
    mate: Port | None
    flare: str | None
    fixings: tuple[tuple[str, tuple[str, ...]], ...]


def joins(shelf: Shelf, part: Part) -> tuple[Join, ...]:
    """Return how each port of `part` is joined, with the fixings that the catalogs of `shelf` have."""
    return tuple(_join(shelf, part, port) for port in part.ports.values())


def _join(shelf: Shelf, part: Part, port: Port) -> Join:
    flare = _flare(port)
    fixings = _tube_fixings(shelf, port) if flare else _other_fixings(shelf, part, port)
    return Join(port.name, _mate(port), flare, tuple((word, _ids(parts)) for word, parts in fixings))


def _mate(port: Port) -> Port | None:
    if port.gender is None or (port.thread is None and port.hose is None):
        return None
    return Port("", port.thread, _OTHER[port.gender], port.seat, port.tube, port.hose, pattern=port.pattern)


def _flare(port: Port) -> str | None:
    """Return the flare for a port that carries the seat; its mate is clamped by its own thread and takes no tube."""
    if port.seat is None or port.thread is None or port.tube is None:
        return None
    seat = seat_named(port.seat)
    return seat.flare if seat.tube_end and port.gender in seat.port_genders else None


def _tube_fixings(shelf: Shelf, port: Port) -> Iterator[tuple[str, Iterable[Part]]]:
    if port.thread is None or port.gender is None or port.seat is None or port.tube is None:
        return
    yield "nut", shelf.nuts(port.thread, _OTHER[port.gender], port.seat, port.tube)
    if seat_named(port.seat).sleeve:
        yield "sleeve", shelf.sleeves(port.seat, port.tube)


def _other_fixings(shelf: Shelf, part: Part, port: Port) -> Iterator[tuple[str, Iterable[Part]]]:
    if port.eye is not None:
        yield "banjo bolt", _bolts_through(shelf, port.eye)
    elif port.seat == "washer-face" and port.thread is not None:
        if port.gender == "internal":
            yield "banjo bolt", shelf.bolts(port.thread, port.thread.nominal_mm)
        yield "washer", shelf.washers(port.thread.nominal_mm)
    elif port.hose is not None:
        if port.gender == "external":
            yield "feed hose", _feed_hoses(shelf, port.hose)
        yield "clip", shelf.clips(port.hose)
    elif part.kind == "sleeve":
        yield "nut", _nuts_over(shelf, port)


def _bolts_through(shelf: Shelf, eye_mm: float) -> Iterator[Part]:
    for bolt in shelf.of_kind("banjo bolt"):
        threads = [port.thread for port in bolt.ports.values() if port.thread is not None]
        if any(bolt in shelf.bolts(thread, eye_mm) for thread in threads):
            yield bolt


def _feed_hoses(shelf: Shelf, bore_mm: float) -> Iterator[Part]:
    for hose in shelf.of_kind("feed hose"):
        if any(port.hose is not None and same_tube(port.hose, bore_mm) for port in hose.ports.values()):
            yield hose


def _nuts_over(shelf: Shelf, sleeve: Port) -> Iterator[Part]:
    for nut in shelf.of_kind("nut"):
        if any(_covers(port, sleeve) for port in nut.ports.values()):
            yield nut


def _covers(nut: Port, sleeve: Port) -> bool:
    sizes = nut.tube is not None and sleeve.tube is not None and same_tube(nut.tube, sleeve.tube)
    return sizes and nut.seat == sleeve.seat


def _ids(parts: Iterable[Part]) -> tuple[str, ...]:
    return tuple(part.id for part in parts)

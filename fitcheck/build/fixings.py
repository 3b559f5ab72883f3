"""What a joint needs besides its two sides: flare, nut, sleeve, banjo bolt, washers.

What the file states is taken as stated, so that rules can judge it; the rest is chosen from the catalogs,
the builder's own first. A choice is part of the answer: it is bought and it stands on the bench sheet.
"""

from collections.abc import Iterator
from typing import Final, Literal, NamedTuple

from fitcheck.build.graph import End, Joint, PortGraph
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.sizes import size_name
from fitcheck.standards.threads import parse as parse_thread

OPPOSITE: Final = {"external": "internal", "internal": "external"}
Word = Literal["nut", "sleeve", "banjo bolt", "washer", "clip"]


class Fixing(NamedTuple):
    """One thing that a joint needs: `part` is None if no catalog has it, or the stated id is unknown or no such thing.

    `wanted` says in words what would do. `stated` is True if the file names the part.
    """

    word: Word
    quantity: int
    part: Part | None
    wanted: str
    stated: bool = False


class Fixings(NamedTuple):
    """Everything one joint needs; `flare` is how its tube end is formed, None where there is no tube."""

    flare: str | None = None
    flare_stated: bool = False
    items: tuple[Fixing, ...] = ()

    def one(self, word: Word) -> Fixing | None:
        """Return the fixing that goes by `word`, or None if this joint needs none."""
        for item in self.items:
            if item.word == word:
                return item
        return None


_NONE: Final = Fixings()
UNKNOWN_BOLT: Final = "soft washer for a bolt of unknown thread"
"""What a banjo joint wants whose bolt and port both lack a thread in the catalog."""


def fixings(graph: PortGraph, joint: Joint) -> Fixings:
    """Return what `joint` needs, stated or chosen. A joint that cannot be read needs nothing known."""
    shelf = graph.build.shelf
    port = joint.ends[0].port
    if port is None or joint.assumed:
        return _NONE
    if joint.kind == "tube":
        return _for_tube(shelf, port, joint.ends[1])
    if joint.kind == "banjo":
        return Fixings(items=tuple(_for_banjo(shelf, port, joint)))
    if joint.kind == "pair":
        return Fixings(items=tuple(_for_pair(shelf, joint)))
    return _NONE


def tube_od(end: End) -> float | None:
    """Return the outside diameter in mm of the tube that `end` is an end of, if known."""
    return end.fitted.part.od if end.fitted.part is not None else None


def _for_tube(shelf: Shelf, port: Port, end: End) -> Fixings:
    if port.seat is None:
        return _NONE
    seat = seat_named(port.seat)
    if not seat.tube_end:
        return _NONE
    stated = end.stated
    flare = stated.flare if stated and stated.flare else seat.flare
    items = [_nut(shelf, port, end)]
    if seat.sleeve or (stated and stated.sleeve):
        items.append(_sleeve(shelf, port.seat, end))
    return Fixings(flare, bool(stated and stated.flare), tuple(items))


def _stated(shelf: Shelf, part_id: str, kind: Word) -> Part | None:
    """Return the part that the file names, None if no catalog has it or it is of another kind."""
    part = shelf.get(part_id)
    return part if part is not None and part.kind == kind else None


def _nut(shelf: Shelf, port: Port, end: End) -> Fixing:
    od = tube_od(end)
    gender = OPPOSITE[port.gender] if port.gender else None
    tube = size_name(od) if od is not None else "unknown"
    thread = port.thread.designation if port.thread else "unknown thread"
    wanted = f"{thread} {gender or ''} nut, {port.seat}, for {tube} tube".replace("  ", " ")
    if end.stated and end.stated.nut:
        return Fixing("nut", 1, _stated(shelf, end.stated.nut, "nut"), wanted, stated=True)
    if not (port.thread and gender and port.seat and od is not None):
        return Fixing("nut", 1, None, wanted)
    found = shelf.nuts(port.thread, gender, port.seat, od)
    if not found and port.thread.series.startswith("UNJ"):
        plain = parse_thread(port.thread.designation.replace("UNJ", "UN"))
        found = shelf.nuts(plain, gender, port.seat, od)  # what the shops have; whether it binds is judged
    return Fixing("nut", 1, found[0] if found else None, wanted)


def _sleeve(shelf: Shelf, seat: str, end: End) -> Fixing:
    od = tube_od(end)
    wanted = f"sleeve, {seat}, for {size_name(od) if od is not None else 'unknown'} tube"
    if end.stated and end.stated.sleeve:
        return Fixing("sleeve", 1, _stated(shelf, end.stated.sleeve, "sleeve"), wanted, stated=True)
    found = shelf.sleeves(seat, od) if od is not None else ()
    return Fixing("sleeve", 1, found[0] if found else None, wanted)


def _for_banjo(shelf: Shelf, port: Port, joint: Joint) -> Iterator[Fixing]:
    eyes = [end.port for end in joint.ends[1:] if end.port is not None and end.port.eye is not None]
    many = len(joint.ends) - 1
    thread = port.thread
    wanted = f"{thread.designation if thread else 'unknown thread'} banjo bolt for {_eyes(many)}"
    if joint.bolt is not None:
        bolt = _stated(shelf, joint.bolt, "banjo bolt")
        yield Fixing("banjo bolt", 1, bolt, wanted, stated=True)
    else:
        bolt = _bolt(shelf, port, eyes, many)
        yield Fixing("banjo bolt", 1, bolt, wanted)
    shank = _shank(bolt) or (thread.nominal_mm if thread else None)
    quantity = joint.washers if joint.washers is not None else many + 1
    if shank is None:
        yield Fixing("washer", quantity, None, UNKNOWN_BOLT, stated=joint.washers is not None)
        return
    washers = shelf.washers(shank)
    yield Fixing(
        "washer",
        quantity,
        washers[0] if washers else None,
        f"soft washer for a {shank:.2f} mm bolt",
        stated=joint.washers is not None,
    )


def _bolt(shelf: Shelf, port: Port, eyes: list[Port], many: int) -> Part | None:
    if port.thread is None or not eyes:
        return None
    smallest = min(eye.eye for eye in eyes if eye.eye is not None)
    fitting = shelf.bolts(port.thread, smallest)
    long_enough = [bolt for bolt in fitting if (bolt.eyes or 1) >= many]
    shortest = min((bolt.eyes or 1 for bolt in long_enough), default=0)
    return next((bolt for bolt in long_enough if (bolt.eyes or 1) == shortest), None)


def _shank(bolt: Part | None) -> float | None:
    threads = [port.thread for port in bolt.ports.values() if port.thread] if bolt else []
    return threads[0].nominal_mm if threads else None


def _for_pair(shelf: Shelf, joint: Joint) -> Iterator[Fixing]:
    """Yield the soft washer under a straight stud, or the clip on a pushed-on hose; other pairs need nothing more."""
    ports = [end.port for end in joint.ends if end.port is not None]
    seats = {port.seat for port in ports}
    if seats == {"push-on"}:
        yield from _clip(shelf, ports)
    elif seats == {"washer-face"}:
        yield from _washer(shelf, ports, joint.washers)


def _clip(shelf: Shelf, ports: list[Port]) -> Iterator[Fixing]:
    hoses = [port.hose for port in ports if port.gender == "internal" and port.hose is not None]
    if hoses:
        clips = shelf.clips(hoses[0])
        yield Fixing("clip", 1, clips[0] if clips else None, f"hose clip for {size_name(hoses[0])} hose")


def _washer(shelf: Shelf, ports: list[Port], stated: int | None) -> Iterator[Fixing]:
    threads = [port.thread for port in ports if port.thread and port.gender == "external"]
    if not threads:
        return
    nominal = threads[0].nominal_mm
    washers = shelf.washers(nominal)
    wanted = f"soft washer for a {nominal:.2f} mm stud"
    quantity = stated if stated is not None else 1
    yield Fixing("washer", quantity, washers[0] if washers else None, wanted, stated is not None)


def _eyes(many: int) -> str:
    return "one eye" if many == 1 else f"{many} eyes"

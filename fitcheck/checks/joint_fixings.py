"""Faults of what a joint needs: nuts, flares, sleeves, banjo bolts, washers."""

from collections.abc import Callable, Iterator
from typing import Any, Final

from fitcheck.build.fixings import UNKNOWN_BOLT, Fixing, Fixings, Word, tube_od
from fitcheck.build.graph import Joint
from fitcheck.catalog.part import Port
from fitcheck.catalog.shelf import EYE_PLAY
from fitcheck.checks.joint_words import Fault, describe, mm
from fitcheck.standards.flares import max_wall_mm
from fitcheck.standards.seats import Seat
from fitcheck.standards.sizes import same_tube, size_name
from fitcheck.standards.threads import Thread

ThreadFault = Callable[[Thread | None, Thread | None, str, str], Fault | None]


def nut_and_flare_faults(joint: Joint, fixings: Fixings, seat: Seat, thread_fault: ThreadFault) -> Iterator[Fault]:
    """Yield what is wrong with the flare, nut and sleeve of a tube's end in a port of `seat`."""
    port_end, tube_end = joint.ends
    port = port_end.port
    assert port is not None  # a tube joint is a port and a tube end
    if fixings.flare_stated and fixings.flare != seat.flare:
        message = f"{fixings.flare} flare stated for {tube_end.ref}; the {seat.name} port takes {seat.flare}"
        evidence = {"flare": fixings.flare, "wanted": seat.flare, "seat": seat.name}
        yield Fault("flare-mismatch", message, evidence)
    else:
        yield from _wall_fault(joint, fixings)
    nut = fixings.one("nut")
    if nut is not None and nut.part is not None:
        yield from _nut_faults(joint, nut, seat, thread_fault)
    for item in fixings.items:
        if item.part is None and not item.stated and port.thread is not None and port.gender is not None:
            yield _none_found(item, port_end.ref)
    sleeve = fixings.one("sleeve")
    if sleeve is not None and sleeve.part is not None and sleeve.stated:
        yield from _sleeve_faults(joint, sleeve, seat)


def _none_found(item: Fixing, ref: str) -> Fault:
    message = f"no catalog has what {ref} needs: {item.wanted}"
    return Fault("fixing-missing", message, {"fixing": item.word, "wanted": item.wanted})


def _wall_fault(joint: Joint, fixings: Fixings) -> Iterator[Fault]:
    """Yield a warning where the tube's wall is thicker than the standard lets be formed so."""
    end = joint.ends[1]
    od, part = tube_od(end), end.fitted.part
    if fixings.flare is None or od is None or part is None or part.wall is None:
        return
    if fixings.flare == "double-45" and part.material == "stainless":
        message = f"a double flare on stainless tube, {end.ref}, cracks unless the tube is annealed"
        why: dict[str, Any] = {"material": part.material, "source": "trade press on flaring stainless tube"}
        yield Fault("flare-mismatch", message, why, "note")
        return
    limit = max_wall_mm(fixings.flare, od)
    if limit is not None and part.wall > limit + 0.01:
        message = f"wall {mm(part.wall)} of {end.tag} is too thick for a {fixings.flare} flare"
        evidence = {"wall_mm": part.wall, "max_wall_mm": limit, "source": "SAE J533"}
        yield Fault("flare-mismatch", message, evidence, "warning")


def _first_port(item: Fixing) -> Port | None:
    return next(iter(item.part.ports.values()), None) if item.part is not None else None


def _nut_faults(joint: Joint, nut: Fixing, seat: Seat, thread_fault: ThreadFault) -> Iterator[Fault]:
    port_end, tube_end = joint.ends
    port, own = port_end.port, _first_port(nut)
    if port is None or own is None or nut.part is None:
        return
    name = nut.part.id
    if own.gender is not None and own.gender == port.gender:
        yield Fault("nut-mismatch", f"nut {name} and {port_end.ref} are both {own.gender}", _both(own, port))
        return
    outer, inner = (own.thread, port.thread) if own.gender == "external" else (port.thread, own.thread)
    who, into = (f"nut {name}", port_end.ref) if own.gender == "external" else (port_end.ref, f"nut {name}")
    found = thread_fault(outer, inner, who, into)
    if found is not None:
        yield Fault("nut-mismatch", found.message, {**_both(own, port), **found.evidence}, found.level)
        return
    if own.seat is not None and own.seat != seat.name:
        message = f"nut {name} is made for {own.seat}, {port_end.ref} for {seat.name}"
        yield Fault("nut-mismatch", message, _both(own, port))
        return
    od = tube_od(tube_end)
    if own.tube is not None and od is not None and not same_tube(own.tube, od):
        message = f"nut {name} is made for {size_name(own.tube)} tube, {tube_end.ref} is {size_name(od)}"
        yield Fault("nut-mismatch", message, _both(own, port))


def _both(nut: Port, port: Port) -> dict[str, Any]:
    return {"nut": describe(nut), "port": describe(port)}


def _sleeve_faults(joint: Joint, sleeve: Fixing, seat: Seat) -> Iterator[Fault]:
    own, od = _first_port(sleeve), tube_od(joint.ends[1])
    if own is None or sleeve.part is None:
        return
    if not seat.sleeve:
        message = f"sleeve {sleeve.part.id} stated for {joint.ends[1].ref}; a {seat.name} joint takes none"
        yield Fault("nut-mismatch", message, {"sleeve": describe(own), "seat": seat.name})
        return
    wrong_size = own.tube is not None and od is not None and not same_tube(own.tube, od)
    if wrong_size or (own.seat is not None and own.seat != seat.name):
        message = f"sleeve {sleeve.part.id} is not made for {joint.ends[1].ref}"
        yield Fault("nut-mismatch", message, {"sleeve": describe(own), "wanted": sleeve.wanted})


def banjo_faults(joint: Joint, fixings: Fixings, thread_fault: ThreadFault) -> Iterator[Fault]:
    """Yield what is wrong with the eyes, bolt and washers of a banjo joint."""
    port_end = joint.ends[0]
    port = port_end.port
    if port is None:
        return
    for end in joint.ends[1:]:
        if end.port is not None and end.port.eye is None:
            message = f"{end.ref} is no banjo eye: {describe(end.port)}"
            yield Fault("seat-mismatch", message, {"port": describe(end.port)})
    bolt = fixings.one("banjo bolt")
    if bolt is None:
        return
    own = _first_port(bolt)
    if bolt.stated and own is not None and bolt.part is not None:
        found = thread_fault(own.thread, port.thread, f"bolt {bolt.part.id}", port_end.ref)
        if found is not None:
            yield found
    yield from _eye_faults(joint, own.thread if own is not None else port.thread)
    if port.seat in (None, "washer-face") and port.gender != "external":
        yield from _missing_bolt(joint, bolt)
    yield from _washer_faults(joint, fixings, len(joint.ends))


def _eye_faults(joint: Joint, thread: Thread | None) -> Iterator[Fault]:
    if thread is None:
        return
    for end in joint.ends[1:]:
        eye = end.port.eye if end.port is not None else None
        if eye is None or 0 <= round(eye - thread.nominal_mm, 4) <= EYE_PLAY:
            continue
        side = "too small" if eye < thread.nominal_mm else "too large"
        message = f"eye of {end.ref}, {size_name(eye)}, is {side} for a {thread.designation} bolt"
        evidence = {"eye_mm": eye, "bolt_mm": thread.nominal_mm, "source": "common practice, no source"}
        yield Fault("tube-size-mismatch", message, evidence)


def _port_thread(joint: Joint) -> Thread | None:
    port = joint.ends[0].port
    return port.thread if port is not None else None


def _missing_bolt(joint: Joint, bolt: Fixing) -> Iterator[Fault]:
    many = len(joint.ends) - 1
    eyeless = any(end.port is not None and end.port.eye is None for end in joint.ends[1:])
    if bolt.part is None and not bolt.stated and not eyeless and not any(_eye_faults(joint, _port_thread(joint))):
        yield _none_found(bolt, joint.ends[0].ref)
    elif bolt.stated and bolt.part is not None and (bolt.part.eyes or 1) < many:
        message = f"bolt {bolt.part.id} is long enough for {bolt.part.eyes or 1} of {many} eyes"
        yield Fault("fixing-missing", message, {"fixing": "banjo bolt", "wanted": bolt.wanted})


def _washer_faults(joint: Joint, fixings: Fixings, needed: int) -> Iterator[Fault]:
    washer = fixings.one("washer")
    if washer is None:
        return
    ref = joint.ends[0].ref
    if washer.stated and washer.quantity != needed:
        message = f"{ref} needs {needed} washers, {washer.quantity} stated"
        evidence = {"fixing": "washer", "needed": needed, "stated": washer.quantity}
        yield Fault("fixing-missing", message, evidence)
    elif washer.part is None and washer.wanted != UNKNOWN_BOLT:
        yield _none_found(washer, ref)


def pair_washer_faults(joint: Joint, fixings: Fixings) -> Iterator[Fault]:
    """Yield what is wrong with the one washer under a straight stud."""
    return _washer_faults(joint, fixings, 1)


def fixing_gaps(joint: Joint, fixings: Fixings) -> Iterator[tuple[str, str]]:
    """Yield (rule, missing field) for whatever keeps the stated fixings of a joint from being judged."""
    for word, rule, keys in _JUDGED_BY if any(item.stated for item in fixings.items) else ():
        item = fixings.one(word)
        if item is None or not item.stated or item.part is None:
            continue
        own = _first_port(item)
        if own is None:
            yield rule, f"parts.{item.part.id}.ports"
            continue
        for key in keys:
            if getattr(own, key) is None:
                yield rule, f"parts.{item.part.id}.ports.{own.name}.{key}"
    if joint.kind == "tube":
        yield from _wall_gap(joint, fixings)


_JUDGED_BY: Final[tuple[tuple[Word, str, tuple[str, ...]], ...]] = (
    ("nut", "nut-mismatch", ("thread", "gender", "seat", "tube")),
    ("sleeve", "nut-mismatch", ("seat", "tube")),
    ("banjo bolt", "thread-mismatch", ("thread",)),
)


def _wall_gap(joint: Joint, fixings: Fixings) -> Iterator[tuple[str, str]]:
    """Yield what is missing to tell whether the tube's wall can be flared: its wall, or a published limit."""
    end = joint.ends[1]
    od, part = tube_od(end), end.fitted.part
    if fixings.flare not in _WITH_WALL_LIMITS or od is None or part is None:
        return
    if part.wall is None:
        yield "flare-mismatch", f"parts.{part.id}.wall"
    elif max_wall_mm(fixings.flare, od) is None:
        yield "flare-mismatch", f"a published greatest wall for a {fixings.flare} flare on {size_name(od)} tube"


_WITH_WALL_LIMITS: Final = ("double-45", "single-45")
"""Flares whose standard, SAE J533, sets a greatest wall for each size."""

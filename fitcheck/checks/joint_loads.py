"""The threaded sides of a joint, and what their thread has to carry."""

from typing import Any, Final, NamedTuple

from fitcheck.build.fixings import Fixings, tube_od
from fitcheck.build.graph import Joint
from fitcheck.catalog.part import Part, Port
from fitcheck.standards.engagement import Load, outside_seal_mm, planned_pressure, pressure_load, tightening
from fitcheck.standards.flares import flare_size
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.threads import Thread
from fitcheck.standards.torques import Torque, tube_nut_torque

_OUTSIDE_THE_THREAD: Final = ("washer-face", "o-ring")


class Side(NamedTuple):
    """One threaded side of a joint: a port and the part that it belongs to."""

    port: Port
    thread: Thread
    part: Part


def threaded_sides(joint: Joint, fixings: Fixings) -> list[Side]:
    """Return the threaded sides of a joint: its ports, and a tube end's nut or the eyes' bolt."""
    ends = [(end.port, end.fitted.part) for end in joint.ends]
    for item in (fixings.one("nut"), fixings.one("banjo bolt")):
        if item is not None and item.part is not None:
            ends += [(port, item.part) for port in item.part.ports.values()]
    return [Side(port, port.thread, part) for port, part in ends if port and part and port.thread]


def washers_mm(fixings: Fixings) -> float:
    """Return how much of a bolt's length its washers take [mm]; nothing for washers of unknown thickness."""
    washer = fixings.one("washer")
    thickness = washer.part.thickness if washer is not None and washer.part is not None else None
    return washer.quantity * thickness if washer is not None and thickness is not None else 0.0


def loads_of(joint: Joint, fixings: Fixings, outer: Side, inner: Side) -> tuple[tuple[Load, ...], dict[str, Any]]:
    """Return what the thread of a joint has to carry, and the figures behind it as evidence.

    The lower rated pressure of the parts joined, on all that the seal encloses; and tightening to the highest
    typical torque, where one is known.
    """
    stated = [end.fitted.part.max_pressure for end in joint.ends if end.fitted.part is not None]
    rated = [pressure for pressure in stated if pressure is not None]
    pressure, mark = (min(rated), "catalog, the lower of both sides") if rated else planned_pressure()
    od = tube_od(joint.ends[1]) if joint.kind == "tube" else inner.port.tube or outer.port.tube
    sealing = _sealing_mm(inner.port.seat or outer.port.seat, od, outer.thread, fixings)
    loads = [pressure_load(pressure, sealing)]
    torque = _torque(joint, od)
    if torque is not None:
        loads.append(tightening(torque.high_n_mm, outer.thread.nominal_mm))
    return tuple(loads), {
        "pressure_mpa": pressure,
        "pressure_mark": mark,
        "sealing_diameter_mm": round(sealing, 2),
        "torque_n_m": None if torque is None else torque.high_n_mm / 1000.0,
        "torque_mark": "no typical torque is known" if torque is None else torque.mark,
        "loads_with_factor_n": [round(load.newton * load.factor) for load in loads],
    }


def _torque(joint: Joint, od: float | None) -> Torque | None:
    """Return the typical torque of a flared joint; a plug or hose end is tightened like the nut it stands for."""
    port, tube = joint.ends[0].port, joint.ends[1].fitted.part if joint.kind == "tube" else None
    if port is None or port.seat is None or od is None:
        return None
    return tube_nut_torque(port.seat, od, tube.material if tube is not None else None)


def _sealing_mm(seat: str | None, od: float | None, thread: Thread, fixings: Fixings) -> float:
    """Return the diameter [mm] inside which fluid pushes: the flare's, the washer's, else the thread's."""
    if seat in _OUTSIDE_THE_THREAD:
        washer = fixings.one("washer")
        stated = washer.part.outside if washer is not None and washer.part is not None else None
        return stated or outside_seal_mm(thread.nominal_mm)
    flare = seat_named(seat).flare if seat is not None else None
    size = flare_size(flare, od) if flare is not None and od is not None else None
    return min(size.diameter_max_mm, thread.nominal_mm) if size is not None else thread.nominal_mm

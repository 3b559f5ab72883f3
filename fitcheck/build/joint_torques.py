"""The typical torque of a joint, for the sheets that a car is put together and tested by."""

from fitcheck.build.fixings import tube_od
from fitcheck.build.graph import Joint
from fitcheck.catalog.part import Port
from fitcheck.standards.torques import Torque, banjo_bolt_torque, tube_nut_torque


def joint_torque(joint: Joint) -> Torque | None:
    """Return the typical torque of a joint; None where the table has none, or the catalogs do not say what it is.

    A plug or hose end is tightened like the tube nut that it stands for; a banjo bolt by its thread in the port. The
    maker's own figure comes first.
    """
    ports = [end.port for end in joint.ends if end.port is not None]
    if joint.kind == "banjo":
        thread = next((port.thread for port in ports if port.thread is not None), None)
        return banjo_bolt_torque(thread.designation) if thread is not None else None
    if not ports or ports[0].seat is None or joint.kind == "mechanical":
        return None
    tube = joint.ends[1].fitted.part if joint.kind == "tube" else None
    od = tube_od(joint.ends[1]) if joint.kind == "tube" else _tube_of(ports)
    if od is None:
        return None
    return tube_nut_torque(ports[0].seat, od, tube.material if tube is not None else None)


def _tube_of(ports: list[Port]) -> float | None:
    return next((port.tube for port in reversed(ports) if port.tube is not None), None)

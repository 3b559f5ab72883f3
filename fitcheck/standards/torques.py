"""Typical tightening torques, for the bench sheet. The maker's own figure comes first."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.standards.figures import interval, measure_if
from fitcheck.standards.sizes import same_tube


class Torque(NamedTuple):
    """One typical torque [N mm] from `low` to `high`, and what it holds for; None where it holds for all."""

    joint: str
    seats: tuple[str, ...] | None
    od_mm: float | None
    thread: str | None
    material: str | None
    low_n_mm: float
    high_n_mm: float
    mark: str


@lru_cache(maxsize=1)
def torques() -> tuple[Torque, ...]:
    """Return every torque that the table holds."""
    from fitcheck.standards.tables import load

    table = load("torques")
    return tuple(_torque(row, table["unit"]) for row in table["torques"])


def _torque(row: Mapping[str, Any], unit: str) -> Torque:
    low, high = interval(row["torque"], unit)
    return Torque(
        joint=row["joint"],
        seats=tuple(row["seats"]) if "seats" in row else None,
        od_mm=measure_if(row.get("tube")),
        thread=row.get("thread"),
        material=row.get("material"),
        low_n_mm=low,
        high_n_mm=high,
        mark=row["mark"],
    )


def tube_nut_torque(seat_name: str, od_mm: float, material: str | None = None) -> Torque | None:
    """Return the typical torque of a tube nut; None if the table has none for that seat and tube.

    Args:
        seat_name: the port's seat.
        od_mm: outside diameter of the tube [mm].
        material: the tube's material by its name in the materials table; plain copper has a lower figure.
    """
    fitting = [
        torque
        for torque in torques()
        if torque.joint == "tube nut"
        and seat_name in (torque.seats or ())
        and torque.od_mm is not None
        and same_tube(torque.od_mm, od_mm)
        and torque.material in (None, material)
    ]
    return max(fitting, key=lambda torque: torque.material is not None, default=None)


def banjo_bolt_torque(thread: str) -> Torque | None:
    """Return the typical torque of a banjo bolt with this thread designation; None if the table has none."""
    return next((t for t in torques() if t.joint == "banjo bolt" and t.thread == thread), None)


def bleed_screw_torque() -> Torque | None:
    """Return the typical torque of a bleed screw, whatever its thread."""
    return next((torque for torque in torques() if torque.joint == "bleed screw"), None)

"""One brake at a wheel: from pressure to clamp, torque, and force at the tyre.

Disc: torque = 2 x friction x pressure x area x effective radius, with the area of ONE side of a fixed caliper (each
pad is pushed by its own pistons) and of all pistons of a floating one (its body pulls the other pad just as hard).
Drum: torque = factor x pressure x area x radius, with the area of one piston, which pushes one shoe; `factor` is the
drag of all linings for each unit of force on one shoe. Source: statics.

Limits: friction and factor do not change with heat, speed or pressure; return springs, which drums have to overcome
first, and pushed-back pistons take no pressure.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Final, Literal, NamedTuple

from fitcheck.build.driving import Brake
from fitcheck.build.graph import PortGraph
from fitcheck.catalog.part import BRAKES, Part
from fitcheck.hydraulics.car import Tyre
from fitcheck.hydraulics.outlets import Outlets, area_mm2
from fitcheck.hydraulics.record import Axle, Corner, Gap

_FACES: Final = 2
"""Faces of a disc that pads rub on."""


class WheelBrake(NamedTuple):
    """What is known of one brake; None where the build or its catalog does not say. `factor` as in `brake_torque`."""

    tag: str
    axle: Axle | None = None
    piston_mm2: float | None = None
    factor: float | None = None
    radius_mm: float | None = None
    tyre_mm: float | None = None
    disc: bool = False


class Brakes(NamedTuple):
    """Every caliper and wheel cylinder of a build, in the order of the file, and what is missing."""

    brakes: tuple[WheelBrake, ...]
    gaps: tuple[Gap, ...]


def acting_area_mm2(pistons_mm: Iterable[float], style: Literal["fixed", "floating", "drum"]) -> float:
    """Return the area that pushes one pad or shoe [mm2], from the diameters of all pistons.

    >>> round(acting_area_mm2([40.0, 40.0], "fixed")), round(acting_area_mm2([40.0, 40.0], "floating"))
    (1257, 2513)
    """
    areas = [area_mm2(diameter) for diameter in pistons_mm]
    if style == "floating":
        return sum(areas)
    return sum(areas) / (2.0 if style == "fixed" else len(areas))


def clamp_n(pressure: float, piston_area_mm2: float) -> float:
    """Return the force on one pad or shoe [N] at a pressure [MPa]."""
    return pressure * piston_area_mm2


def brake_torque_nmm(pressure: float, piston_area_mm2: float, factor: float, radius_mm: float) -> float:
    """Return the torque of one brake [N mm]: drag at the linings (`factor` x force on one pad or shoe) x radius."""
    return factor * clamp_n(pressure, piston_area_mm2) * radius_mm


def disc_factor(friction: float) -> float:
    """Return the brake factor of a disc: both faces drag.

    >>> disc_factor(0.4)
    0.8
    """
    return _FACES * friction


def tyre_force_n(torque_nmm: float, tyre_mm: float) -> float:
    """Return the force at the tread [N] of a torque at the wheel, whether or not the tyre holds it."""
    return torque_nmm / tyre_mm


def piston_area_mm2(part: Part) -> float | None:
    """Return the area that pushes one pad or shoe of a caliper or wheel cylinder [mm2]; None if too little is known.

    A wheel cylinder without `pistons` has pistons of its `bore`; of a caliper the bore alone does not say how many.
    """
    if part.kind == "wheel cylinder":
        sizes = part.pistons or ((part.bore,) if part.bore is not None else ())
        return acting_area_mm2(sizes, "drum") if sizes else None
    if part.kind == "caliper" and part.pistons and part.style is not None:
        return acting_area_mm2(part.pistons, "fixed" if part.style == "fixed" else "floating")
    return None


def wheel_brakes(graph: PortGraph, pressed: Outlets | None = None) -> Brakes:
    """Return every caliper and wheel cylinder of the build with what is known of it, and the fields that are missing.

    Those that the brake pedal does not press are left out: a leak-tight one that nothing feeds is another rule's
    business, one that a hand presses slows the car by hand only.
    """
    fed = None if pressed is None else {tag for outlet in pressed.of("brake") for tag in outlet.consumers}
    found: list[WheelBrake] = []
    gaps: list[Gap] = []
    for tag, item in graph.fitted.items():
        if item.part is None or item.part.kind not in BRAKES or (fed is not None and tag not in fed):
            continue
        brake = _wheel_brake(tag, item.part, graph.build.file.brakes.get(tag))
        found.append(brake)
        gaps += [Gap(tag, missing) for missing in _missing(brake, item.part)]
    return Brakes(tuple(found), tuple(gaps))


def _wheel_brake(tag: str, part: Part, stated: Brake | None) -> WheelBrake:
    brake = WheelBrake(tag, piston_mm2=piston_area_mm2(part), disc=part.kind == "caliper")
    if stated is None:
        return brake
    factor = stated.factor
    if factor is None and part.kind == "caliper" and stated.friction is not None:
        factor = disc_factor(stated.friction)
    return brake._replace(axle=stated.axle, factor=factor, radius_mm=stated.radius, tyre_mm=stated.tyre)


def _missing(brake: WheelBrake, part: Part) -> list[str]:
    disc = part.kind == "caliper"
    missing = []
    if brake.piston_mm2 is None and not part.pistons:
        missing.append(f"parts.{part.id}.pistons")
    if disc and part.style is None:
        missing.append(f"parts.{part.id}.style")
    known = {
        "axle": brake.axle,
        "friction" if disc else "factor": brake.factor,
        "radius": brake.radius_mm,
        "tyre": brake.tyre_mm,
    }
    return missing + [f"brakes.{brake.tag}.{key}" for key, value in known.items() if value is None]


def corner(brake: WheelBrake, pressure: float | None) -> Corner:
    """Return what one brake does at a pressure [MPa]; None where something that it takes is not known."""
    clamp = torque = force = None
    if pressure is not None and brake.piston_mm2 is not None:
        clamp = clamp_n(pressure, brake.piston_mm2)
        if brake.factor is not None and brake.radius_mm is not None:
            torque = brake_torque_nmm(pressure, brake.piston_mm2, brake.factor, brake.radius_mm)
            force = tyre_force_n(torque, brake.tyre_mm) if brake.tyre_mm is not None else None
    return Corner(brake.tag, brake.axle, pressure, brake.piston_mm2, clamp, torque, force, disc=brake.disc)


def corners(brakes: Iterable[WheelBrake], at_mpa: Mapping[str, float]) -> tuple[Corner, ...]:
    """Return what each brake does at the pressures of a `Push`."""
    return tuple(corner(brake, at_mpa.get(brake.tag)) for brake in brakes)


def tyres(found: Sequence[Corner]) -> tuple[Tyre, ...] | None:
    """Return what each brake asks of its tyre; None if one brake's force or axle is not known.

    Each brake of an axle has an equal share of the axle's load: one of two on its own holds half of what both do.
    """
    wheels = Counter(one.axle for one in found)
    asked = []
    for one in found:
        if one.force_n is None or one.axle is None:
            return None
        asked.append(Tyre(one.axle, one.force_n, 1.0 / wheels[one.axle]))
    return tuple(asked)

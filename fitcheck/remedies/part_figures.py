"""What one part does otherwise than another: figures, bleed screw, fluid, direction. And which of it matters."""

from collections.abc import Iterator
from math import isclose
from typing import Final, NamedTuple

from fitcheck.build.load import Build
from fitcheck.catalog.part import Part
from fitcheck.catalog.substitutes import PRESSING, ROUNDING, WORK, given, has_bleeder, same_figure, same_value
from fitcheck.hydraulics.brakes import piston_area_mm2
from fitcheck.standards.fluids import fluid as fluid_named
from fitcheck.standards.materials import material
from fitcheck.standards.sizes import same_tube

INSIDE_SHARE: Final = 0.02
"""By how much of it a hose's bore may differ and still be called the same: common practice, no source."""
LENGTH_SHARE: Final = 0.1
"""By how much of its length a hose may be shorter or longer and still hang alike: common practice, no source."""
FITTINGS: Final = ("union", "bulkhead union", "adapter", "elbow")
"""Kinds that do nothing but join two ends: with two fluid ports they count as one family."""
_SETTINGS: Final = frozenset({"residual valve", "proportioning valve"})
"""Kinds that hold pressure back: two do the same if their setting is known and equal, or `equivalent_to` says so."""
_TAKES: Final = ("cut_off", "give", "expansion", "expansion_limit", "rubber")
"""Fields that say what it takes of the stroke, and what it is sealed with: told, but the work stays the same."""
_STRAIGHT: Final = frozenset({"union", "adapter"})


class Differs(NamedTuple):
    """One thing that differs: the field, what it is now and what it would be; None where the catalog does not say.

    `matters` is True if the new part then does not do the same work.
    """

    field: str
    now: object
    then: object
    matters: bool


def differences(build: Build, old: Part, new: Part) -> tuple[Differs, ...]:
    """Return what `new` does otherwise than `old` in this build, its ports apart."""
    found = [
        *_kind(old, new),
        *_work(old, new),
        *_pressing(old, new),
        *_sizes(old, new),
        *_rating(old, new),
        *_tube(old, new),
        *_bleeder(old, new),
        *_fluid(build, old, new),
    ]
    if new.id in old.equivalent_to or old.id in new.equivalent_to:
        return tuple(
            each for each in found if each.now is not None and each.then is not None and each.field != "setting"
        )
    return tuple(found)


def _kind(old: Part, new: Part) -> Iterator[Differs]:
    """Yield another kind: a hose hangs on a bulkhead union, and an elbow turns; straight ones are alike."""
    if old.kind != new.kind:
        yield Differs("kind", old.kind, new.kind, not {old.kind, new.kind} <= _STRAIGHT)
    set_alike = old.setting is not None and new.setting is not None and same_figure(old.setting, new.setting)
    if old.kind in _SETTINGS and not set_alike:
        yield Differs("setting", old.setting, new.setting, True)
    if len(old.outlets) != len(new.outlets):
        yield Differs("outlets", len(old.outlets), len(new.outlets), True)


def _work(old: Part, new: Part) -> Iterator[Differs]:
    for name in ("bore", "stroke", "displacement"):
        now, then = getattr(old, name), getattr(new, name)
        known = now is not None and then is not None
        if (known and not same_figure(now, then)) or ((now is None) != (then is None)):
            yield Differs(name, now, then, known)
        elif now is None and name in WORK.get(old.kind, ()):
            yield Differs(name, None, None, False)


def _pressing(old: Part, new: Part) -> Iterator[Differs]:
    """Yield what turns pressure into another force, or takes more or less of the stroke; the area that acts as well."""
    for name in (*PRESSING, *_TAKES):
        now, then = given(old, name), given(new, name)
        known = now is not None and then is not None
        same_rubber = name == "rubber" and set(now or ()) == set(then or ())
        if not (now == then or same_rubber or (known and same_value(name, now, then))):
            yield Differs(name, now, then, known and name in PRESSING)
    now, then = piston_area_mm2(old), piston_area_mm2(new)
    if now is not None and then is not None and not same_figure(now, then):
        yield Differs("piston_area", now, then, True)


def _sizes(old: Part, new: Part) -> Iterator[Differs]:
    names = ("volume", "reservoir_volume", "bend_radius", "inside", *(("length",) if old.kind == "hose" else ()))
    for name in names:
        now, then = getattr(old, name), getattr(new, name)
        share = INSIDE_SHARE if name == "inside" else ROUNDING
        if now is not None and (then is None or not isclose(now, then, rel_tol=share)):
            yield Differs(name, now, then, _size_matters(name, now, then))
    if old.panel is not None and new.panel is not None and old.panel != new.panel:
        yield Differs("panel", old.panel, new.panel, False)


def _size_matters(name: str, now: float, then: float | None) -> bool:
    if name == "length":
        return then is None or abs(then - now) > LENGTH_SHARE * now + 1e-9
    return name == "reservoir_volume" and (then is None or then < now)


def _rating(old: Part, new: Part) -> Iterator[Differs]:
    for name in ("max_pressure", "burst"):
        now, then = getattr(old, name), getattr(new, name)
        if now is not None and (then is None or then < now * (1.0 - ROUNDING)):
            yield Differs(name, now, then, then is not None)


def _tube(old: Part, new: Part) -> Iterator[Differs]:
    if old.kind != "tube":
        return
    if old.od is None or new.od is None or not same_tube(old.od, new.od):
        yield Differs("od", old.od, new.od, True)
    if new.wall is None or old.wall is None or not same_figure(old.wall, new.wall):
        yield Differs("wall", old.wall, new.wall, new.wall is None)
    if old.material != new.material:
        refused = new.material is None or not material(new.material).brake_pressure
        yield Differs("material", old.material, new.material, refused)


def _bleeder(old: Part, new: Part) -> Iterator[Differs]:
    had, has = has_bleeder(old), has_bleeder(new)
    if (had and not has) or (had is None and has is False):
        yield Differs("bleeder", old.bleeder, new.bleeder, True)
    if old.side is not None and new.side not in (None, old.side):
        yield Differs("side", old.side, new.side, True)


def _fluid(build: Build, old: Part, new: Part) -> Iterator[Differs]:
    """Yield other fluids, unless the new part takes all that the old one does; they matter unless the build's do."""
    if old.fluid_families == new.fluid_families:
        return
    takes, wanted = set(new.fluid_families or ()), _families(build)
    enough = bool(wanted) and takes >= wanted
    if old.fluid_families is None:
        if wanted and not enough:
            yield Differs("fluid_families", None, new.fluid_families, True)
    elif not takes >= set(old.fluid_families):
        yield Differs("fluid_families", old.fluid_families, new.fluid_families, not enough)


def _families(build: Build) -> set[str]:
    names = [build.file.fluid, *(circuit.fluid for circuit in build.file.circuits.values())]
    return {fluid_named(name).family for name in names if name is not None}

"""The fluid to buy: to fill the system, bleed it until no air comes, and flush it once.

What a build holds (`fitcheck.build.volumes`) times 2.5. Source: guides to bleeding brakes, which want two to three
times what the system holds. Each fluid is bought by itself; `part` and `volume` of the build's `consumables.fluid` are
for the build's own fluid, other circuits' fluids are chosen and computed.
"""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Final

from fitcheck.bom.need import MM3_PER_ML, Need, Use
from fitcheck.bom.stated import stated_part
from fitcheck.build.load import Build
from fitcheck.build.supplies import FluidToBuy
from fitcheck.build.volumes import Holding
from fitcheck.catalog.part import Part
from fitcheck.catalog.shelf import Shelf
from fitcheck.standards.fluids import UnknownFluidError
from fitcheck.standards.fluids import fluid as fluid_named

FILLS: Final = 2.5
"""How many times what the system holds is bought: the middle of the two to three times of guides to bleeding brakes."""
_PREFIX: Final = "fluid-"


def families(build: Build) -> frozenset[str]:
    """Return the families of all fluids that a build names."""
    names = (build.file.fluid, *(circuit.fluid for circuit in build.file.circuits.values()))
    return frozenset(fluid_named(name).family for name in names if name is not None)


def fluid_needs(build: Build, held: Sequence[Holding]) -> Iterator[Need]:
    """Yield the fluids to buy for what a build holds [ml]."""
    by_fluid: dict[str | None, list[Holding]] = {}
    for one in held:
        by_fluid.setdefault(one.fluid, []).append(one)
    stated = build.file.consumables.fluid if build.file.consumables is not None else None
    wanted = stated or FluidToBuy.model_construct()
    own = fluid_named(build.file.fluid).name if build.file.fluid is not None else None
    if by_fluid and own not in by_fluid:
        own = next(iter(by_fluid))
    if wanted.volume is not None:
        by_fluid.setdefault(own, [])
    for name, holdings in by_fluid.items():
        need = _fluid(build.shelf, name, wanted.part if name == own else None)
        if name == own and wanted.volume is not None:
            quantity = _whole_ml(float(wanted.volume))
            yield need._replace(uses=(Use("", quantity, "work"),), why=(*need.why, "fluid: consumables.fluid.volume"))
        else:
            yield _computed(need, holdings, wanted.fills)


def _fluid(shelf: Shelf, name: str | None, stated: str | None) -> Need:
    """Return the need, with no amounts yet, for a fluid: the part that is stated, or else the first that is it."""
    need = stated_part(shelf, "fluid", stated) or _chosen(shelf, name)
    part = shelf.get(need.part or "")
    if need.unlisted or part is None or name is None or _suits(part, name):
        return need._replace(unit="ml")
    suited = " and ".join(part.fluid_families or ())
    return need._replace(unit="ml", why=(f"{part.id} is {suited}, {name} is {fluid_named(name).family}",))


def _chosen(shelf: Shelf, name: str | None) -> Need:
    part = next((part for part in shelf.of_kind("fluid") if name is not None and _is(part, name)), None)
    if part is not None:
        return Need(part.id, part.kind, part.description, "ml")
    words = name if name is not None else "which one the build does not say: fluid is not given"
    return Need(None, "fluid", f"fluid, {words}", "ml")


def _is(part: Part, name: str) -> bool:
    """Return whether a part is the fluid `name`, by its id, which says the grade: `fluid-dot-4`, or `dot-4`."""
    try:
        return fluid_named(part.id.removeprefix(_PREFIX)).name == name and _suits(part, name)
    except UnknownFluidError:
        return False


def _suits(part: Part, name: str) -> bool:
    return part.fluid_families is None or fluid_named(name).family in part.fluid_families


def _computed(need: Need, holdings: Sequence[Holding], stated: float | None) -> Need:
    """Return the need with so many fills, stated or usual, of what is held."""
    fills = stated if stated is not None else FILLS
    quantity = _whole_ml(fills * sum(one.mm3 for one in holdings))
    if stated is None:
        quantity = max((quantity + 5) // 10 * 10, 10) if quantity else 0  # a rule of thumb is not good to a millilitre
    unknown = tuple(entry for one in holdings for entry in one.unknown)
    return need._replace(
        uses=(Use("", quantity, "work"),) if quantity else (),
        unknown=tuple(dict.fromkeys(unknown)),
        why=(*need.why, *_why(holdings, fills, stated is None)),
    )


def _why(holdings: Sequence[Holding], fills: float, usual: bool) -> Iterator[str]:
    source = "guides to bleeding brakes, two to three times" if usual else "consumables.fluid.fills"
    held = sum(one.mm3 for one in holdings)
    yield f"fluid: {fills:g} times the {_ml(held)} that it takes to fill, for bleeding and flushing: {source}"
    yield f"fluid: {'; '.join(f'{_names(one.circuits)} {_held(one)}' for one in holdings)}"
    unknown = len({tag for one in holdings for tag, _ in one.unknown})
    if unknown:
        yield f"fluid: without what {unknown} of the parts hold{'' if unknown > 1 else 's'}, which is not known"
    for tag in dict.fromkeys(part.tag for one in holdings for part in one.parts if part.shared):
        yield f"fluid: {tag} in full for each fluid, how it divides its volume is not known"


def _held(one: Holding) -> str:
    return "not known" if one.unknown and not one.mm3 else _ml(one.mm3)


def _names(circuits: Sequence[str]) -> str:
    if not circuits:
        return "in no circuit"
    *first, last = circuits
    return f"{', '.join(first)} and {last} together" if first else last


def _ml(mm3: float) -> str:
    return f"{mm3 / MM3_PER_ML:.1f}".removesuffix(".0") + " ml"


def _whole_ml(mm3: float) -> int:
    """Return whole millilitres, rounded up, of a volume [mm3]; the last digits of binary fractions are forgiven."""
    return ceil(round(mm3 / MM3_PER_ML, 6))

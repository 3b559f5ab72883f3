"""How much fluid a build holds, circuit by circuit: what it takes to fill it dry, with new linings in.

A circuit holds what its lines, hoses and cylinders hold, and so do the master cylinder and the reservoir that feed it.
What several circuits share, such as one reservoir, stands by itself under the names of all of them, so that the
holdings of one fluid add up to what the build holds.

| what | holds | unless the catalog gives its `volume` |
|---|---|---|
| line | pi/4 x (od - 2 wall)^2 x its length | |
| hose | pi/4 x inside^2 x its length | yes |
| caliper, wheel or slave cylinder | `volume` | |
| master cylinder | pi/4 x bore^2 x stroke, and its `reservoir_volume` if it has one | yes |
| reservoir | `reservoir_volume` | yes |
| other parts | nothing that is counted | yes |

Cylinders are taken as filled with new linings: their `displacement`, which worn linings let in, comes out of the
reservoir later and is in the figure already. Fittings and valves hold a fraction of a millilitre each. Source: the sum
of tubes, cylinders and reservoir is plain geometry; which of them it takes in is common practice, no source.
"""

from collections.abc import Iterator, Mapping
from math import pi
from typing import NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.fluid_uses import FluidUses
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.catalog.part import CONSUMERS, Part


class Held(NamedTuple):
    """What one component, line or hose holds [mm3], None if that is not known.

    `words` say where the figure comes from, or which field is missing. `shared` is True if different fluids
    go into one part, and how it divides its volume is not known: the whole of it is then counted for each of them.
    """

    tag: str
    mm3: float | None
    words: str
    shared: bool = False


class Holding(NamedTuple):
    """What the same circuits hold, of one fluid.

    `circuits` are the names that the build gives them, in its order; the outlet stands for a circuit without a name.
    They are empty for what no pressure outlet reaches or is fed by. `fluid` is None if the build does not say.
    """

    circuits: tuple[str, ...]
    fluid: str | None
    parts: tuple[Held, ...]

    @property
    def mm3(self) -> float:
        """What is known of it [mm3]."""
        return sum(part.mm3 for part in self.parts if part.mm3 is not None)

    @property
    def unknown(self) -> tuple[tuple[str, str], ...]:
        """What the figure leaves out: tags, each with the field that is missing."""
        return tuple((part.tag, part.words) for part in self.parts if part.mm3 is None)


def volumes(
    graph: PortGraph, lengths: Mapping[str, float | None], circuits: Circuits | None = None
) -> tuple[Holding, ...]:
    """Return what the build holds, circuit by circuit in the order of the file, what several share after its first.

    `lengths` [mm] are those of the lines, and of the hoses that are cut, by tag; None where one is not known. Time is
    linear in the build.
    """
    uses = FluidUses(graph, circuits or Circuits(graph))
    reasons = {unknown.tag: unknown.reason for unknown in reversed(graph.unknown_parts)}
    found: dict[tuple[tuple[str, ...], str | None], list[Held]] = {}
    for tag, item in graph.fitted.items():
        by_fluid = uses.of(tag)
        parts = list(_held(item, lengths.get(tag), reasons)) if by_fluid else []
        for name, served in by_fluid.items():
            found.setdefault((served, name), []).extend(part._replace(shared=len(by_fluid) > 1) for part in parts)
    holdings = [Holding(served, name, tuple(parts)) for (served, name), parts in found.items() if parts]
    return tuple(sorted(holdings, key=lambda one: (not one.circuits, [uses.order[name] for name in one.circuits])))


def _held(item: Fitted, length: float | None, reasons: Mapping[str, str]) -> Iterator[Held]:
    """Yield what one fitted thing holds: nothing for a part that is not counted, twice with a tank of its own."""
    part = item.part
    if part is None:
        yield Held(item.tag, None, reasons[item.tag])
    elif item.section == "lines":
        yield _line(item.tag, part, length)
    elif part.volume is not None and part.kind != "reservoir":
        yield Held(item.tag, part.volume, _given(part, "volume"))
        yield from _own_tank(item.tag, part)
    elif item.section == "hoses":
        yield _hose(item.tag, part, length)
    else:
        yield from _component(item.tag, part)


def _component(tag: str, part: Part) -> Iterator[Held]:
    if part.kind == "reservoir":
        key = "reservoir_volume" if part.reservoir_volume is not None or part.volume is None else "volume"
        yield Held(tag, getattr(part, key), _given(part, key))
    elif part.kind in CONSUMERS:
        yield Held(tag, None, _given(part, "volume"))
    elif part.kind == "master cylinder":
        yield _swept(tag, part)
        yield from _own_tank(tag, part)


def _line(tag: str, tube: Part, length: float | None) -> Held:
    if length is None:
        return Held(tag, None, f"lines.{tag}.length is not given")
    if tube.od is None or tube.wall is None:
        return Held(tag, None, f"parts.{tube.id}.{'od' if tube.od is None else 'wall'} is not given")
    bore = tube.od - 2 * tube.wall
    return Held(tag, _area(bore) * length, f"bore {bore:.2f} mm of {tube.id} over {length:.0f} mm")


def _hose(tag: str, hose: Part, length: float | None) -> Held:
    if hose.inside is None:
        return Held(tag, None, f"parts.{hose.id}.inside is not given")
    length = length if length is not None else hose.length
    if length is None:
        field = f"hoses.{tag}.length" if hose.kind == "feed hose" else f"parts.{hose.id}.length"
        return Held(tag, None, f"{field} is not given")
    return Held(tag, _area(hose.inside) * length, f"bore {hose.inside:.2f} mm of {hose.id} over {length:.0f} mm")


def _swept(tag: str, part: Part) -> Held:
    if part.bore is None or part.stroke is None:
        lacking = [f"parts.{part.id}.{name}" for name in ("bore", "stroke") if getattr(part, name) is None]
        return Held(tag, None, f"{' and '.join(lacking)} {'is' if len(lacking) == 1 else 'are'} not given")
    words = f"bore {part.bore:.2f} mm of {part.id} over its stroke of {part.stroke:.0f} mm"
    return Held(tag, _area(part.bore) * part.stroke, words)


def _own_tank(tag: str, part: Part) -> Iterator[Held]:
    """Yield what a built-in reservoir holds: a master cylinder without feeds has one, whatever its catalog says."""
    if part.reservoir_volume is not None:
        yield Held(tag, part.reservoir_volume, _given(part, "reservoir_volume"))
    elif part.kind == "master cylinder" and not part.feeds:
        yield Held(tag, None, f"parts.{part.id}.reservoir_volume or parts.{part.id}.feeds is not given")


def _given(part: Part, key: str) -> str:
    """Return the words for a field that is given, or that it is not."""
    return f"parts.{part.id}.{key}" + ("" if getattr(part, key) is not None else " is not given")


def _area(diameter: float) -> float:
    """Return the area of a circle [mm2]."""
    return pi / 4 * diameter * diameter

"""The displacement budget of one outlet: what each part on its side takes of the fluid, at any pressure.

| part | takes |
|---|---|
| line | the stretch of its tube, the squeeze of the fluid in it |
| hose | its swelling, the squeeze of the fluid in it |
| caliper, wheel cylinder | gap, knock-back, give, squeeze |
| slave cylinder | the travel that its clutch needs, give, squeeze |
| master cylinder | its cut-off, give if stated, the squeeze of what its chamber holds |
| any other part | squeeze and give if its catalog says that it holds or gives |
| all of it | free air |

Behind a residual valve the circuit rests at what the valve holds: only what comes on top counts. Limits: quasi-static;
fittings and valves of which no catalog says what they hold are left out, as in `fitcheck.build.volumes`.
"""

from collections.abc import Callable, Mapping
from math import pi
from typing import NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.line_runs import hose_run, line_run
from fitcheck.build.routes import RouteError
from fitcheck.catalog.part import BRAKES, CONSUMERS, Part
from fitcheck.hydraulics.air import dissolved_figure, lost_mm3
from fitcheck.hydraulics.compress import modulus_figure, squeeze_mm3
from fitcheck.hydraulics.cylinders import (
    filling_figure,
    gap_figure,
    gap_mm3,
    give_figure,
    knock_back_figure,
    pistons,
    share_figure,
)
from fitcheck.hydraulics.record import Cause, Figure, Gap, Known, Outlet, Take
from fitcheck.hydraulics.side import Seen, side
from fitcheck.hydraulics.spread import WHOLE, Amount, amount, assumed, known, less, product, sure
from fitcheck.hydraulics.stretch import stretch_mm3
from fitcheck.hydraulics.swelling import Hose, hose_swelling
from fitcheck.measures import METRIC, Units
from fitcheck.standards.fluids import UnknownFluidError, fluid
from fitcheck.standards.materials import UnknownMaterialError, material


class Taker(NamedTuple):
    """One part of a budget. `of` gives what it takes in all at a pressure [mm3].

    `like` is the consumer whose pressure it sees, empty for the outlet's own; `rest_mpa` is the pressure that it never
    falls below.
    """

    tag: str
    cause: Cause
    of: Callable[[float], Amount]
    like: str = ""
    rest_mpa: float = 0.0

    def take(self, pressure_mpa: float) -> Take:
        """Return what it takes at a pressure, beyond what it has taken at rest."""
        rest = min(self.rest_mpa, pressure_mpa)
        value, low, high, bound = less(self.of(pressure_mpa), self.of(rest)) if rest else self.of(pressure_mpa)
        return Take(self.tag, self.cause, value, low, high, bound)


class Budget(NamedTuple):
    """What an outlet's piston has to move, the figures that rests on, and what is missing.

    `known` are figures that no pressure changes, `hoses` how hoses swell, by the consumer whose pressure they see. A
    budget with gaps is less than the truth. `units` are what the words of its figures are told in.
    """

    outlet: Outlet
    takers: tuple[Taker, ...]
    known: tuple[Figure, ...]
    hoses: tuple[tuple[str, Hose], ...]
    gaps: tuple[Gap, ...]
    units: Units = METRIC

    def takes(self, pressure_mpa: float, at_mpa: Mapping[str, float] | None = None) -> tuple[Take, ...]:
        """Return what each part takes at a pressure of the outlet; `at_mpa` is that at consumers behind valves."""
        at = at_mpa or {}
        return tuple(taker.take(at.get(taker.like, pressure_mpa)) for taker in self.takers)

    def figures(self, pressure_mpa: float, at_mpa: Mapping[str, float] | None = None) -> tuple[Figure, ...]:
        """Return every figure that the takes at a pressure rest on, each once."""
        at = at_mpa or {}
        swelling = (hose.figure(at.get(like, pressure_mpa), self.units) for like, hose in self.hoses)
        return tuple(dict.fromkeys((*self.known, *swelling)))


def budget(graph: PortGraph, circuits: Circuits, outlet: Outlet) -> Budget:
    """Return the displacement budget of an outlet. Time is linear in the build, but for what is behind valves."""
    making = _Making(graph, circuits, outlet)
    making.all()
    gaps, figures = tuple(making.gaps), tuple(making.figures.values())
    return Budget(outlet, tuple(making.takers), figures, tuple(making.hoses), gaps, graph.units)


class _Making:
    def __init__(self, graph: PortGraph, circuits: Circuits, outlet: Outlet) -> None:
        self.graph = graph
        self.file = graph.build.file
        self.outlet = outlet
        self.side = side(graph, circuits, outlet)
        self.takers: list[Taker] = []
        self.figures: dict[str, Figure] = {}
        self.hoses: list[tuple[str, Hose]] = []
        self.gaps: dict[Gap, None] = {}
        self.held = sure(0.0)
        self.modulus = self._modulus()

    def all(self) -> None:
        for rival in self.side.rivals:
            self.gap(self.outlet.ref, f"a circuit of its own: {rival} presses into the same fluid")
        self._master()
        for seen in self.side.parts:
            self._part(seen)
        self._air()

    def gap(self, at: str, missing: str) -> None:
        self.gaps[Gap(at, missing)] = None

    def figure(self, figure: Figure) -> Amount:
        """Return the value of a figure, and note that the answer rests on it."""
        self.figures[figure.key] = figure
        return amount(figure)

    def add(self, seen: Seen, cause: Cause, of: Callable[[float], Amount]) -> None:
        rest = self.outlet.residual_mpa.get(seen.like, 0.0)
        self.takers.append(Taker(seen.item.tag, cause, of, seen.like, rest))

    def fixed(self, seen: Seen, cause: Cause, taken: Amount) -> None:
        """Add what is taken before there is any pressure; no residual valve has taken it."""
        if taken.high > 0.0:
            self.takers.append(Taker(seen.item.tag, cause, lambda _: taken, seen.like))

    def squeezed(self, seen: Seen, volume: Amount) -> None:
        held = self.held
        self.held = Amount(held.value + volume.value, held.low + volume.low, held.high + volume.high)
        if self.modulus is not None:
            taken = _squeeze(volume, self.modulus)
            self.add(seen, "squeeze", lambda pressure: taken.times(pressure))

    def _modulus(self) -> Amount | None:
        stated = [self.file.circuits[name].fluid for name in self.outlet.circuits]
        name = next((each for each in stated if each is not None), self.file.fluid)
        key = "fluid"
        try:
            family = fluid(name).family if name is not None else None
        except UnknownFluidError:
            family = None
        if family is None:
            self.gap(self.outlet.ref, key)
            return None
        dissolved = dissolved_figure(family, f"{key}: dissolved air")
        if dissolved is not None:
            self.figure(dissolved)
        return self.figure(modulus_figure(family, key))

    def _master(self) -> None:
        item = self.graph.fitted[self.outlet.tag]
        area, part, seen = self.outlet.area_mm2, item.part, Seen(item, "", 1.0)
        if part is None or area is None:
            self.gap(item.tag, f"parts.{item.part_id}.bore")
            return
        key = f"parts.{part.id}.cut_off"
        stated = self.outlet.cut_off_mm
        cut_off = known(key, stated, "mm", "catalog", part.source or "catalog") if stated is not None else None
        self.fixed(seen, "cut-off", self.figure(cut_off or assumed(key, "cut_off")).times(area))
        self._give(seen, part, area)
        if self.outlet.stroke_mm is not None:
            self.squeezed(seen, sure(area * self.outlet.stroke_mm))

    def _give(self, seen: Seen, part: Part, area: float, share: Amount = WHOLE) -> None:
        found = give_figure(part)
        if found is not None and area:
            give = product(self.figure(found), share)
            self.add(seen, "give", lambda pressure: give.times(pressure))

    def _part(self, seen: Seen) -> None:
        item = seen.item
        if item.part is None:
            self.gap(item.tag, f"parts.{item.part_id}")
        elif item.section == "lines":
            self._line(seen, item.part)
        elif item.section == "hoses":
            self._hose(seen, item.part)
        elif item.part.kind in CONSUMERS:
            self._cylinder(seen, item.part)
        else:
            self._other(seen, item.part)

    def _line(self, seen: Seen, tube: Part) -> None:
        length, made = self._length(seen.item, tube), self._elastic(seen.item.tag, tube)
        if length is None or tube.od is None or tube.wall is None:
            return
        od, wall = tube.od, tube.wall
        bore = od - 2.0 * wall
        if made is not None:
            elastic, poisson = made
            soft = stretch_mm3(1.0, bore, wall, length, elastic.low, poisson.low)
            stiff = stretch_mm3(1.0, bore, wall, length, elastic.high, poisson.high)
            one = Amount(stretch_mm3(1.0, bore, wall, length, elastic.value, poisson.value), stiff, soft)
            self.add(seen, "stretch", lambda pressure: one.times(pressure))
        self.squeezed(seen, sure(_area(bore) * length))

    def _length(self, item: Fitted, part: Part) -> float | None:
        """Return the length of a line or hose [mm], noting where it comes from or what is missing."""
        rigid = item.section == "lines"
        try:
            found, words = line_run(self.graph, item.tag, part) if rigid else hose_run(self.graph, item)
        except RouteError:
            found, words = None, f"lines.{item.tag}.route"
        if found is None:
            self.gap(item.tag, words.removesuffix(" is not given"))
            return None
        by: Known = "catalog" if words.startswith("parts.") else "stated"
        self.figure(known(f"{item.section}.{item.tag}.length", found, "mm", by, words))
        return found

    def _elastic(self, tag: str, tube: Part) -> tuple[Amount, Amount] | None:
        try:
            found = material(tube.material or "")
        except UnknownMaterialError:
            self.gap(tag, f"parts.{tube.id}.material")
            return None
        key, made = f"parts.{tube.id}.material", found.elastic
        young, ratio = f"Young's modulus of {found.name}; {made.mark}", f"Poisson's ratio of {found.name}; {made.mark}"
        modulus = Figure(key, made.modulus_mpa, "MPa", "assumed", young, *made.modulus_range)
        poisson = Figure(f"{key}: Poisson's ratio", made.poisson, "", "assumed", ratio, *made.poisson_range)
        return self.figure(modulus), self.figure(poisson)

    def _hose(self, seen: Seen, part: Part) -> None:
        length, swells = self._length(seen.item, part), hose_swelling(part)
        if swells is None:
            self.gap(seen.item.tag, f"parts.{part.id}.expansion")
        elif length is not None:
            self.hoses.append((seen.like, swells))
            self.add(seen, "swelling", lambda pressure: swells.at(pressure).times(length))
        if part.volume is not None:
            self.squeezed(seen, sure(part.volume))
        elif part.inside is None:
            self.gap(seen.item.tag, f"parts.{part.id}.inside")
        elif length is not None:
            self.squeezed(seen, sure(_area(part.inside) * length))

    def _cylinder(self, seen: Seen, part: Part) -> None:
        found, tag = pistons(part), seen.item.tag
        share = self.figure(share_figure(tag, part, seen.share)) if seen.share < 1.0 else sure(1.0)
        if found.missing:
            self.gap(tag, found.missing)
        elif part.kind in BRAKES:
            if found.number is not None:
                self.figure(found.number)
            area, many = product(share, found.scale).times(found.mm2), self.figure(found.moves)
            gap, back = self.figure(gap_figure(self.file, tag, part)), self.figure(knock_back_figure(self.file, tag))
            self.fixed(seen, "gap", _crossed(area, gap, many))
            self.fixed(seen, "knock-back", _crossed(area, back, many))
        else:
            self._travel(seen, found.mm2)
        self._give(seen, part, 1.0, share)
        holds = filling_figure(part)
        if holds is not None:
            self.squeezed(seen, product(self.figure(holds), share))

    def _travel(self, seen: Seen, area: float) -> None:
        clutch = self.file.clutch
        if clutch is None or clutch.needs_travel is None:
            self.gap(seen.item.tag, "clutch.needs_travel")
            return
        needed = known("clutch.needs_travel", float(clutch.needs_travel), "mm", "stated", "stated in the build")
        self.fixed(seen, "travel", self.figure(needed).times(area))

    def _other(self, seen: Seen, part: Part) -> None:
        if part.volume is not None and part.kind != "reservoir":
            self.squeezed(seen, sure(part.volume))
        if part.give is not None:
            self._give(seen, part, 1.0)

    def _air(self) -> None:
        share = self.figure(assumed(f"free air in {self.outlet.ref}, share of the fluid", "free_air"))
        held = self.held
        air = Amount(held.value * share.value, held.low * share.low, held.high * share.high)
        if air.high > 0.0:
            taken = Taker(self.outlet.tag, "air", lambda pressure: air.times(lost_mm3(1.0, pressure)))
            self.takers.append(taken)


def _crossed(area: Amount, gap: Amount, moves: Amount) -> Amount:
    """Return what pistons take to cross a clearance [mm3]."""
    return Amount(
        gap_mm3(area.value, gap.value, moves.value),
        gap_mm3(area.low, gap.low, moves.low),
        gap_mm3(area.high, gap.high, moves.high),
    )


def _squeeze(volume: Amount, modulus: Amount) -> Amount:
    """Return the squeeze for each unit of pressure [mm3/MPa]: most of what holds most, by the softest fluid."""
    return Amount(
        squeeze_mm3(volume.value, 1.0, modulus.value),
        squeeze_mm3(volume.low, 1.0, modulus.high),
        squeeze_mm3(volume.high, 1.0, modulus.low),
    )


def _area(diameter: float) -> float:
    return pi / 4.0 * diameter * diameter

"""`reservoir-small`: a reservoir that runs dry before the linings do.

What it finds
-------------
Reservoirs that hold less than all brake pistons they serve take in, from new linings and fully retracted to fully worn
and applied. Reservoirs that serve one master cylinder together are added up. Fluid for a clutch does not count: what
its slave cylinder takes is taken off a reservoir that both share. A brake whose `displacement` is not stated is taken
by its pistons: a caliper's follow 9 mm of lining each (twice that where it floats), a wheel cylinder's 4 mm. What is
too small by that is a warning only, and what is large enough is still listed as not checked. Other volumes that the
catalog does not state are listed as not checked. How a divided reservoir shares its volume out is not looked at.

Why it matters
--------------
With worn pads the level falls below the feed port, and the first long descent pumps air into the circuit.

Example
-------
Catalog::

    catalog: 1
    parts:
      tank-80:
        kind: reservoir
        ports: {front: {seat: push-on, hose: 8 mm, gender: external}, rear: {same as: front}}
        reservoir_volume: 80 cm3
      tank-200:
        kind: reservoir
        ports: {front: {seat: push-on, hose: 8 mm, gender: external}, rear: {same as: front}}
        reservoir_volume: 200 cm3
      caliper-big:
        kind: caliper
        ports:
          inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
        bleeder: M10x1
        displacement: 60 cm3

Fails::

    build: 1
    catalogs: [house.yaml]
    components:
      mc: {part: mc-tandem-m10x1-bubble}
      tank: {part: tank-80}
      left: {part: caliper-big}
      right: {part: caliper-big}
    lines:
      run_l: {from: mc.primary, to: left.inlet, tube: tube-3-16-cuni}
      run_r: {from: mc.secondary, to: right.inlet, tube: tube-3-16-cuni}
    hoses:
      feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
      feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}

Passes::

    build: 1
    catalogs: [house.yaml]
    components:
      mc: {part: mc-tandem-m10x1-bubble}
      tank: {part: tank-200}
      left: {part: caliper-big}
      right: {part: caliper-big}
    lines:
      run_l: {from: mc.primary, to: left.inlet, tube: tube-3-16-cuni}
      run_r: {from: mc.secondary, to: right.inlet, tube: tube-3-16-cuni}
    hoses:
      feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
      feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}

Source
------
49 CFR 571.105 S5.4.2: total capacity at least the displacement when all pistons served move from new linings, fully
retracted, to fully worn, fully applied; fluid for a clutch in the same reservoir does not count. How far linings wear:
common practice, no source.
"""

from collections.abc import Iterable, Iterator, Mapping
from math import pi
from typing import Any

from fitcheck.build.graph import Fitted
from fitcheck.build.tanks import consumers_of, tank_sets
from fitcheck.catalog.part import Part
from fitcheck.checks.circuit_words import doubt
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.standards.bleeding import lining_wear

RULE = "reservoir-small"
_SOURCE = "49 CFR 571.105 S5.4.2"


def find(context: Context) -> Iterator[Said]:
    """Yield every reservoir, or set of them that serve the same brakes, that holds too little."""
    for tanks, cylinders in tank_sets(context.graph, context.circuits):
        brakes, clutches = consumers_of(context.graph, context.circuits, cylinders)
        if tanks and brakes:
            yield from _judge(context, tanks, brakes, clutches)


def _judge(context: Context, tanks: list[str], brakes: list[str], clutches: list[str]) -> Iterator[Said]:
    fitted = context.graph.fitted
    missing = list(_missing(context, tanks, [*brakes, *clutches]))
    unstated = [tag for tag in (*brakes, *clutches) if _displacement(fitted[tag]) is None]
    worn = {tag: found for tag in unstated if (found := _worn_mm3(fitted[tag].part)) is not None}
    holds = sum(_capacity(fitted[tag].part) or 0.0 for tag in tanks)
    taken = {tag: _displacement(fitted[tag]) or worn.get(tag, 0.0) for tag in (*brakes, *clutches)}
    short = holds < sum(taken.values())
    told = bool(worn) and short and not [field for field in missing if field not in _fields(fitted, worn)]
    if missing and not told:
        yield from (Unchecked(RULE, tuple(tanks), field) for field in dict.fromkeys(missing))
        return
    yield Looked()
    if not short:
        return
    by = "brakes and clutch" if clutches else "brakes"
    verb, about = "holds" if len(tanks) == 1 else "hold", "about " if worn else ""
    message = f"{joined(tanks)} {verb} {_cm3(holds)}, the {by} take {about}{_cm3(sum(taken.values()))}"
    evidence: dict[str, Any] = {"reservoirs": tanks, "holds_mm3": holds, "displacement_mm3": taken, "source": _SOURCE}
    if worn:
        kinds = {part.kind for tag in worn if (part := fitted[tag].part) is not None}
        evidence["assumed"] = {
            kind: wear._asdict() for kind in sorted(kinds) if (wear := lining_wear(kind)) is not None
        }
    yield context.finding(RULE, "warning" if worn else "error", message, tuple(tanks), fitted[tanks[0]].path, evidence)


def _fields(fitted: Mapping[str, Fitted], tags: Iterable[str]) -> set[str]:
    return {f"parts.{fitted[tag].part_id}.displacement" for tag in tags}


def _worn_mm3(part: Part | None) -> float | None:
    """Return what a brake takes by its pistons, if these follow as much lining as is assumed; None if not known."""
    wear = lining_wear(part.kind) if part is not None else None
    if part is None or wear is None or not part.pistons:
        return None
    floats = (
        part.kind == "caliper" and (part.style or ("floating" if len(part.pistons) == 1 else "fixed")) == "floating"
    )
    return sum(pi / 4.0 * size * size for size in part.pistons) * wear.mm * (2.0 if floats else 1.0)


def _missing(context: Context, tanks: list[str], consumers: list[str]) -> Iterator[str]:
    fitted = context.graph.fitted
    for tag in tanks:
        if _capacity(fitted[tag].part) is None:
            yield f"parts.{fitted[tag].part_id}.reservoir_volume"
    for tag in consumers:
        if _displacement(fitted[tag]) is None:
            yield f"parts.{fitted[tag].part_id}.displacement"
    for tag in tanks:
        part = fitted[tag].part
        for port in part.fluid_ports() if part is not None else ():
            network = context.circuits.of(f"{tag}.{port.name}")
            if network is not None and network.doubtful:
                yield doubt(context.graph, network)


def _capacity(part: Part | None) -> float | None:
    """Return what a reservoir holds in mm3; a master cylinder's own `volume` is no reservoir."""
    if part is None:
        return None
    if part.reservoir_volume is not None or part.kind != "reservoir":
        return part.reservoir_volume
    return part.volume


def _displacement(item: Fitted) -> float | None:
    return item.part.displacement if item.part is not None else None


def _cm3(volume: float) -> str:
    return f"{volume / 1000:.1f}".rstrip("0").rstrip(".") + " cm3"

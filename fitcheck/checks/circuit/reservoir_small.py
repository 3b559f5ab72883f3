"""`reservoir-small`: a reservoir that runs dry before the linings do.

What it finds
-------------
Reservoirs that hold less than all brake pistons they serve take in, from new linings and fully retracted to fully worn
and applied. Reservoirs that serve one master cylinder together are added up. Fluid for a clutch does not count: what
its slave cylinder takes is taken off a reservoir that both share. Volumes that the catalog does not state are listed
as not checked. How a divided reservoir shares its volume out is not looked at.

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
retracted, to fully worn, fully applied; fluid for a clutch in the same reservoir does not count.
"""

from collections.abc import Iterator

from fitcheck.build.graph import Fitted
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import BRAKES, Part
from fitcheck.checks.circuit_words import doubt
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.naming import in_order

RULE = "reservoir-small"
_SOURCE = "49 CFR 571.105 S5.4.2"


def find(context: Context) -> Iterator[Said]:
    """Yield every reservoir, or set of them that serve the same brakes, that holds too little."""
    for tanks, cylinders in _served(context):
        brakes, clutches = _consumers(context, cylinders)
        if tanks and brakes:
            yield from _judge(context, tanks, brakes, clutches)


def _judge(context: Context, tanks: list[str], brakes: list[str], clutches: list[str]) -> Iterator[Said]:
    fitted = context.graph.fitted
    missing = list(_missing(context, tanks, [*brakes, *clutches]))
    for field in dict.fromkeys(missing):
        yield Unchecked(RULE, tuple(tanks), field)
    if missing:
        return
    yield Looked()
    holds = sum(_capacity(fitted[tag].part) or 0.0 for tag in tanks)
    taken = {tag: _displacement(fitted[tag]) or 0.0 for tag in (*brakes, *clutches)}
    needed = sum(taken.values())
    if holds >= needed:
        return
    by = "brakes and clutch" if clutches else "brakes"
    verb = "holds" if len(tanks) == 1 else "hold"
    message = f"{joined(tanks)} {verb} {_cm3(holds)}, the {by} take {_cm3(needed)}"
    evidence = {"reservoirs": tanks, "holds_mm3": holds, "displacement_mm3": taken, "source": _SOURCE}
    yield context.finding(RULE, "error", message, tuple(tanks), fitted[tanks[0]].path, evidence)


def _served(context: Context) -> list[tuple[list[str], list[str]]]:
    """Return sets of reservoirs with the master cylinders that they serve, each thing in one set."""
    import networkx as nx

    graph = context.graph
    serves: nx.Graph[str] = nx.Graph()
    tanks: dict[str, None] = {}
    cylinders: dict[str, None] = {}
    for network in context.circuits.networks:
        if network.pressurised:
            continue
        for ref in network.reservoirs:
            tanks[graph.ends[ref].tag] = None
            serves.add_edge(tag_of(network.reservoirs[0]), graph.ends[ref].tag)
        for ref in network.feeds if network.reservoirs else ():
            cylinders[graph.ends[ref].tag] = None
            serves.add_edge(tag_of(network.reservoirs[0]), graph.ends[ref].tag)
    for tag, item in graph.fitted.items():
        if item.part is not None and item.part.outlets and item.part.reservoir_volume is not None:
            tanks[tag] = cylinders[tag] = None
            serves.add_node(tag)
    found = [sorted(tags, key=in_order) for tags in nx.connected_components(serves)]
    return [([t for t in tags if t in tanks], [t for t in tags if t in cylinders]) for tags in found]


def _consumers(context: Context, cylinders: list[str]) -> tuple[list[str], list[str]]:
    """Return the tags of the brakes and of the slave cylinders on the outlets of these master cylinders."""
    graph = context.graph
    brakes: dict[str, None] = {}
    clutches: dict[str, None] = {}
    for tag in cylinders:
        part = graph.fitted[tag].part
        for name in part.outlets if part is not None else ():
            network = context.circuits.of(f"{tag}.{name}")
            for ref in network.consumers if network is not None else ():
                fed = graph.ends[ref].fitted
                kind = fed.part.kind if fed.part is not None else ""
                (brakes if kind in BRAKES else clutches)[fed.tag] = None
    return list(brakes), list(clutches)


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

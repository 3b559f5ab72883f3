"""`fluid-unsuitable`: rubber and fluid that do not go together, two fluids that meet, or one that boils too soon.

What it finds
-------------
Parts with rubber in them (cylinders, calipers, hoses, reservoirs, switches, valves) that the fluid in their circuit,
the build's `fluid` or the circuit's own, attacks: by their `fluid_families`, and by the `rubber` of their seals and
liner. One finding for each fluid names them all. A reservoir or master cylinder in which fluids of different families
meet is found too, and speaks for all that it feeds. A fluid that may boil when fresh on the duty that the build states
(`car.duty: track`) is a note; for the road no figure is known. Parts that state neither families nor rubber, and pairs
of rubber and fluid that no source judges, are not checked.

Why it matters
--------------
Mineral oil swells the rubber of a glycol system within hours; the pistons stick and the brakes drag or fail. Fluid that
boils turns to vapour, and the pedal goes to the floor.

Example
-------
Fails::

    build: 1
    fluid: mineral oil
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    fluid: DOT 4
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Source
------
49 CFR 571.116 (scope: SBR, EPR, CR and NR for brake fluid, none of them for mineral oil; boiling points), ISO 4925,
ISO 7308. Each rubber: the table of fluids. That fluid passes 200 degC on a track: trade article; that it has to stay
20 degC below its boiling point: common practice, no source.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from fitcheck.build.fluid_uses import FluidUses
from fitcheck.build.graph import Fitted
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import Part
from fitcheck.checks.circuit_words import few
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.naming import in_order
from fitcheck.standards.bleeding import duty as duty_named
from fitcheck.standards.fluids import fluid as fluid_named
from fitcheck.standards.fluids import suitability

RULE = "fluid-unsuitable"
_WITH_RUBBER = frozenset(
    {
        "reservoir",
        "master cylinder",
        "slave cylinder",
        "wheel cylinder",
        "caliper",
        "hose",
        "feed hose",
        "pressure switch",
        "proportioning valve",
        "residual valve",
        "shut-off valve",
    }
)


def find(context: Context) -> Iterator[Said]:
    """Yield every fluid that attacks rubber, with the parts concerned, where two fluids meet, and what boils."""
    uses = FluidUses(context.graph, context.circuits)
    met = dict(_meetings(context, uses))
    met_in = [network for network in context.circuits.networks if len(_families(uses.in_network(network))) > 1]
    mixed = {tag_of(ref) for network in met_in for ref in network.ends} | {tag for tags in met.values() for tag in tags}
    attacked: dict[str, dict[str, Any]] = {}
    for tag, item in context.graph.fitted.items():
        if item.part is None or item.part.kind not in _WITH_RUBBER:
            continue
        names = sorted(name for name in uses.of(tag) if name is not None)
        if not names:
            yield Unchecked(RULE, (tag,), "fluid")
        elif tag in mixed:
            yield Looked()  # where they meet is told below
        else:
            yield from _part(item, item.part, names, attacked)
    for fluids, tags in met.items():
        path, message = context.graph.fitted[tags[0]].path, f"{' and '.join(fluids)} meet in {few(tags)}"
        yield context.finding(RULE, "error", message, tuple(tags), path, {"fluids": list(fluids)})
    for name, suited in attacked.items():
        yield _attack(context, name, suited)
    yield from _boiling(context, uses)


def _part(item: Fitted, part: Part, names: list[str], attacked: dict[str, dict[str, Any]]) -> Iterator[Said]:
    """Yield what is not known of one part; note in `attacked` what attacks it, and what it would stand."""
    if part.fluid_families is None and not part.rubber:
        yield Unchecked(RULE, (item.tag,), f"parts.{part.id}.fluid_families")
        return
    doubtful: dict[str, None] = {}
    for name in names:
        family = fluid_named(name).family
        judged = {code: suitability(family, code) for code in part.rubber}
        soft = {code: found.mark for code, found in judged.items() if found is not None and not found.suits}
        if soft:
            attacked.setdefault(name, {})[item.tag] = soft
        elif part.fluid_families is not None and family not in part.fluid_families:
            attacked.setdefault(name, {})[item.tag] = list(part.fluid_families)
        elif part.fluid_families is None:
            doubtful |= {
                f"whether {code} stands {family} fluid": None for code, found in judged.items() if found is None
            }
    for field in doubtful:
        yield Unchecked(RULE, (item.tag,), field)
    if not doubtful:
        yield Looked()


def _attack(context: Context, name: str, suited: dict[str, Any]) -> Finding:
    tags = sorted(suited, key=in_order)
    family = fluid_named(name).family
    message = f"{name} ({family}) attacks the rubber of {few(tags)}"
    evidence = {"fluid": name, "family": family, "suited": {tag: suited[tag] for tag in tags}}
    return context.finding(RULE, "error", message, tuple(tags), context.graph.fitted[tags[0]].path, evidence)


def _meetings(context: Context, uses: FluidUses) -> Iterator[tuple[tuple[str, ...], list[str]]]:
    """Yield each set of fluids of different families that meet, with the parts that they meet in.

    Where the outlets of one master cylinder hold different fluids, which feed holds which is not known: they meet in
    that cylinder, and what feeds it is left alone.
    """
    met: dict[tuple[str, ...], dict[str, None]] = {}
    left = set[int]()
    for tag, item in context.graph.fitted.items():
        part = item.part
        networks = [context.circuits.of(f"{tag}.{name}") for name in (part.outlets if part is not None else ())]
        names = sorted({name for network in networks if network is not None for name in uses.in_network(network)})
        if part is not None and len(_families(names)) > 1:
            met.setdefault(tuple(names), {})[tag] = None
            left |= {id(context.circuits.of(f"{tag}.{name}")) for name in part.feeds}
    for network in context.circuits.networks:
        fluids = uses.in_network(network)
        if len(_families(fluids)) > 1 and id(network) not in left:
            tags = [tag_of(ref) for ref in network.reservoirs] or [tag_of(network.ends[0])]
            met.setdefault(fluids, {}).update(dict.fromkeys(tags))
    yield from ((fluids, list(tags)) for fluids, tags in met.items())


def _boiling(context: Context, uses: FluidUses) -> Iterator[Said]:
    """Yield a note for each fluid of a circuit that may boil when fresh on the duty that the build states."""
    stated = context.file.car.duty if context.file.car is not None else None
    hot = duty_named(stated) if stated is not None else None
    if hot is None:
        return
    networks = context.circuits.pressurised()
    for name in dict.fromkeys(name for network in networks for name in uses.in_network(network)):
        known = fluid_named(name)
        if known.dry_degc is None:
            yield Unchecked(RULE, ("car",), f"the boiling point of {name}")
        elif known.dry_degc - hot.margin_k >= hot.hottest_degc:
            yield Looked()
        else:
            message = (
                f"{name} may boil at {known.dry_degc:.0f} degC fresh; on a {stated} brake fluid gets to"
                f" {hot.hottest_degc:.0f} degC"
            )
            evidence = {**known._asdict(), "duty": stated, **hot._asdict()}
            yield context.finding(RULE, "note", message, ("car",), ("car", "duty"), evidence)


def _families(names: Iterable[str]) -> set[str]:
    return {fluid_named(name).family for name in names}

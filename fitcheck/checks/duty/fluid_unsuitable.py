"""`fluid-unsuitable`: rubber and fluid that do not go together, or two fluids that meet.

What it finds
-------------
Parts with rubber in them (cylinders, calipers, hoses, reservoirs, switches, valves) whose `fluid_families` do not
include the family of the fluid in their circuit: the build's `fluid`, or the circuit's own. A reservoir that
serves circuits of different families is found too. Parts that do not state their families are not checked.

Why it matters
--------------
Mineral oil swells the rubber of a glycol system within hours; the pistons stick and the brakes drag or fail.

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
49 CFR 571.116 (scope: SBR, EPR, CR and NR for brake fluid, none of them for mineral oil), ISO 4925, ISO 7308.
"""

from collections.abc import Iterator

from fitcheck.build.circuits import Network
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.standards.fluids import fluid as fluid_named

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
    """Yield every part whose rubber the fluid attacks, and every reservoir in which two fluids meet."""
    families = _families(context)
    wanted: dict[str, dict[str, str]] = {}
    for network in context.circuits.networks:
        for name in families.get(id(network), {}):
            for ref in network.ends:
                wanted.setdefault(context.graph.ends[ref].tag, {})[name] = fluid_named(name).family
    for tag, item in context.graph.fitted.items():
        if item.part is None or item.part.kind not in _WITH_RUBBER:
            continue
        fluids = wanted.get(tag, {})
        if not fluids:
            yield Unchecked(RULE, (tag,), "fluid")
        elif len(set(fluids.values())) > 1:
            message = f"{' and '.join(sorted(fluids))} meet in {tag}"
            yield context.finding(RULE, "error", message, (tag,), item.path, {"fluids": sorted(fluids)})
        elif item.part.fluid_families is None:
            yield Unchecked(RULE, (tag,), f"parts.{item.part_id}.fluid_families")
        else:
            yield Looked()
            name, family = next(iter(sorted(fluids.items())))
            if family not in item.part.fluid_families:
                suited = ", ".join(item.part.fluid_families) or "none"
                message = f"{tag} stands {suited}, not {name} ({family})"
                evidence = {"fluid": name, "family": family, "suited": list(item.part.fluid_families)}
                yield context.finding(RULE, "error", message, (tag,), item.path, evidence)


def _families(context: Context) -> dict[int, dict[str, None]]:
    """Return the names of the fluids in each network, by the network's identity.

    A circuit's own fluid goes for what its outlet reaches and for what feeds that master cylinder; the
    build's fluid for every network that no circuit speaks of.
    """
    found: dict[int, dict[str, None]] = {}
    for stated in context.file.circuits.values():
        name = stated.fluid or context.file.fluid
        if name is None:
            continue
        for network in _served(context, stated.from_):
            found.setdefault(id(network), {})[name] = None
    for network in context.circuits.networks:
        if id(network) not in found and context.file.fluid is not None:
            found[id(network)] = {context.file.fluid: None}
    return found


def _served(context: Context, outlet: str) -> Iterator[Network]:
    """Yield the network an outlet makes pressure in, and those that feed its master cylinder."""
    end = context.graph.ends.get(outlet)
    network = context.circuits.of(outlet)
    if network is not None:
        yield network
    if end is None or end.fitted.part is None:
        return
    for feed in end.fitted.part.feeds:
        feeding = context.circuits.of(f"{end.tag}.{feed}")
        if feeding is not None:
            yield feeding

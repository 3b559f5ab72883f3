"""`reservoir-missing`: a master cylinder that takes in fluid from nowhere.

What it finds
-------------
Feed ports of master cylinders to which no way leads from a reservoir, and feed ports that another outlet
pressurises instead. A reservoir with one port that nothing is joined to is named with the feed that lacks it. A
master cylinder with its own reservoir needs no feed. One whose catalog entry states neither feed port nor reservoir is
listed as not checked.

Why it matters
--------------
Pads wear, the pistons move out, and the cylinder draws air instead of fluid.

Example
-------
Fails::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}

Passes::

    build: 1
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
49 CFR 571.105 S5.4: each master cylinder has a reservoir.
"""

from collections.abc import Iterator

from fitcheck.build.circuits import Network
from fitcheck.checks.circuit_words import doubt, few, one_joint, only_port
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked

RULE = "reservoir-missing"


def find(context: Context) -> Iterator[Said]:
    """Yield every set of feed ports that no reservoir serves."""
    gaps = context.gaps
    for gap, missing in gaps.unsure:
        if gap.network.feeds and not gap.network.consumers:
            yield Unchecked(RULE, gap.places, missing)
    for gap in gaps.unserved:
        verb = "has" if len(gap.at) == 1 else "have"
        message = f"{few(gap.at)} {verb} no reservoir"
        idle = [context.graph.ends[ref].tag for ref in gap.far_ends if only_port(context.graph, ref)]
        message += f" and nothing is joined to {few(idle)}" if idle else ""
        evidence = {"feeds": gap.at, "open_ends": gap.open_ends}
        yield context.finding(RULE, "error", message, gap.places, context.graph.path_of(gap.at[0]), evidence)
    yield Looked(sum(len(network.feeds) for network in context.circuits.networks))
    for network in context.circuits.networks:
        if network.doubtful and network.feeds and (network.reservoirs or network.outlets):
            yield Unchecked(RULE, network.feeds, doubt(context.graph, network))
    for network in gaps.backfed:
        if not network.doubtful:
            yield _backfed(context, network)
    for item in context.graph.fitted.values():
        part = item.part
        if part is not None and part.kind == "master cylinder" and not part.feeds and part.reservoir_volume is None:
            yield Unchecked(RULE, (item.tag,), f"parts.{item.part_id}.feeds")


def _backfed(context: Context, network: Network) -> Said:
    outlet, *_ = network.outlets
    way = context.circuits.path(outlet, network.feeds[0])
    reused = context.circuits.reused_on(way)
    at = (*network.feeds, outlet)
    if reused is not None:
        return Unchecked(RULE, at, one_joint(reused))
    verb = "is" if len(network.feeds) == 1 else "are"
    message = f"{few(network.feeds)} {verb} fed by {outlet}, not by a reservoir"
    evidence = {"feeds": network.feeds, "path": way}
    return context.finding(RULE, "error", message, at, context.graph.path_of(at[0]), evidence)

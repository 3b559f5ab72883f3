"""`reservoir-missing`: a master cylinder that takes in fluid from nowhere.

What it finds
-------------
Feed ports of master cylinders to which no way leads from a reservoir, and feed ports that another outlet
pressurises instead. A master cylinder with its own reservoir needs no feed. One whose catalog entry states neither
feed port nor reservoir is listed as not checked.

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

from fitcheck.checks.circuit_words import doubt, few
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked

RULE = "reservoir-missing"


def find(context: Context) -> Iterator[Said]:
    """Yield every set of feed ports that no reservoir serves."""
    gaps = context.gaps
    for gap in gaps.unsure:
        if gap.network.feeds and not gap.network.consumers:
            yield Unchecked(RULE, gap.at, doubt(context.graph, gap.network))
    for gap in gaps.unserved:
        verb = "has" if len(gap.at) == 1 else "have"
        message = f"{few(gap.at)} {verb} no reservoir"
        evidence = {"feeds": gap.at, "open_ends": gap.open_ends}
        at = (*gap.at, *gap.open_ends)
        yield context.finding(RULE, "error", message, at, context.graph.path_of(gap.at[0]), evidence)
    for network in context.circuits.networks:
        yield Looked(len(network.feeds))
        if network.feeds and network.outlets and not network.reservoirs:
            message = f"{few(network.feeds)} is fed by {network.outlets[0]}, not by a reservoir"
            evidence = {"path": context.circuits.path(network.outlets[0], network.feeds[0])}
            at = (*network.feeds, network.outlets[0])
            yield context.finding(RULE, "error", message, at, context.graph.path_of(at[0]), evidence)
    for item in context.graph.fitted.values():
        part = item.part
        if part is not None and part.kind == "master cylinder" and not part.feeds and part.reservoir_volume is None:
            yield Unchecked(RULE, (item.tag,), f"parts.{item.part_id}.feeds")

"""`one-way-reversed`: a valve that pressure enters at its outlet.

What it finds
-------------
Parts with a stated inlet and outlet (residual valves, proportioning valves) whose outlet is nearer to the master
cylinder than their inlet. A valve that no pressure reaches, or that two outlets reach, or in a circuit with a circle,
is listed as not checked; so is one whose catalog entry does not say which of its ports is the inlet.

Why it matters
--------------
A proportioning valve the wrong way round limits nothing, a residual valve keeps the brakes from being applied.

Example
-------
Fails::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      limiter: {part: proportioning-valve-m10x1-bubble}
      slave: {part: slave-m10x1-bubble}
    lines:
      run_1: {from: mc.outlet, to: limiter.out, tube: tube-3-16-cuni}
      run_2: {from: limiter.in, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      limiter: {part: proportioning-valve-m10x1-bubble}
      slave: {part: slave-m10x1-bubble}
    lines:
      run_1: {from: mc.outlet, to: limiter.in, tube: tube-3-16-cuni}
      run_2: {from: limiter.out, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Source
------
Common practice, no source.
"""

from collections.abc import Iterator

from fitcheck.build.graph import Fitted
from fitcheck.checks.circuit_words import doubt, one_joint, way_missing
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked

RULE = "one-way-reversed"
_ONE_WAY = frozenset({"residual valve", "proportioning valve"})
"""Kinds that do their work in one direction only."""


def find(context: Context) -> Iterator[Said]:
    """Yield every one-way part whose outlet comes first on the way from the master cylinder."""
    for item in context.graph.fitted.values():
        if item.part is not None and item.part.one_way is not None:
            yield _judge(context, item, *(f"{item.tag}.{name}" for name in item.part.one_way))
        elif item.part is not None and item.part.kind in _ONE_WAY:
            yield Unchecked(RULE, (item.tag,), f"parts.{item.part_id}.one_way")


def _judge(context: Context, item: Fitted, inlet: str, outlet: str) -> Said:
    distance = context.circuits.distance
    if inlet not in distance and outlet not in distance:
        return Unchecked(RULE, (item.tag,), way_missing(inlet))
    far = len(distance)
    if distance.get(outlet, far) >= distance.get(inlet, far):
        missing = _unsure(context, inlet)
        return Looked() if missing is None else Unchecked(RULE, (item.tag,), missing)
    missing = _unsure(context, outlet)
    if missing is not None:
        return Unchecked(RULE, (item.tag,), missing)
    way = context.circuits.way_to(outlet)
    message = f"pressure from {way[0]} enters {item.tag} at its outlet"
    evidence = {"inlet": inlet, "outlet": outlet, "path": way}
    return context.finding(RULE, "error", message, (outlet, inlet), item.path, evidence)


def _unsure(context: Context, ref: str) -> str | None:
    """Return why the side from which pressure comes is not sure, or None if it is."""
    network = context.circuits.of(ref)
    if network is None or network.doubtful:
        return doubt(context.graph, network) if network is not None else way_missing(ref)
    if len(network.outlets) > 1:
        return "circuits that are not crossed"
    reused = context.circuits.reused_on(context.circuits.way_to(ref))
    if reused is not None:
        return one_joint(reused)
    return "a circuit without a circle" if context.circuits.circular(network) else None

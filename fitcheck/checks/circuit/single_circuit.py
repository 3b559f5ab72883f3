"""`single-circuit`: all brakes hang on one outlet.

What it finds
-------------
A build whose calipers and wheel cylinders, two or more, all hang on one outlet; an open outlet of the same master
cylinder is named with it. As a note, each outlet that serves slave cylinders only: a clutch needs no second circuit,
and an entry under `accept` says that it was thought of. As long as a brake is not fed at all, or circuits are crossed,
the answer is not known and is listed as not checked. Two outlets alone do not make a good split: what each circuit
should hold is for the builder to say under `circuits`.

Why it matters
--------------
One cracked tube, and no wheel brakes.

Example
-------
Fails::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      joiner: {part: tee-m10x1-bubble}
      left: {part: caliper-m10x1-bubble}
      right: {part: caliper-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: joiner.top, tube: tube-3-16-cuni}
      run_l: {from: joiner.left, to: left.inlet, tube: tube-3-16-cuni}
      run_r: {from: joiner.right, to: right.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    components:
      mc: {part: mc-tandem-m10x1-bubble}
      tank: {part: reservoir-2-outlet}
      left: {part: caliper-m10x1-bubble}
      right: {part: caliper-m10x1-bubble}
    lines:
      run_l: {from: mc.primary, to: left.inlet, tube: tube-3-16-cuni}
      run_r: {from: mc.secondary, to: right.inlet, tube: tube-3-16-cuni}
    hoses:
      feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
      feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}

Source
------
49 CFR 571.105 and 571.135: a split service brake system has two or more subsystems, so that a leak in one leaves
the other (from memory). Single-vehicle approval asks for two circuits on a car with four wheels.
"""

from collections.abc import Iterator

from fitcheck.build.circuits import Network, is_consumer
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import BRAKES
from fitcheck.checks.circuit_words import doubt, few, one_joint, way_missing
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.checks.reuse import reused_in
from fitcheck.naming import in_order

RULE = "single-circuit"


def find(context: Context) -> Iterator[Said]:
    """Yield that all brakes hang on one outlet, and each outlet that serves a clutch alone."""
    brakes = _brakes(context)
    tags = {tag_of(ref) for ref in brakes}
    if brakes:
        yield Looked()
        yield from _judge(context, brakes, len(tags))
    for network in context.circuits.pressurised():
        if network.consumers and not any(tag_of(ref) in tags for ref in network.consumers):
            yield Looked()
            yield _note(context, network)
        elif not network.consumers and not set(network.outlets) & set(context.gaps.by_single):
            yield _unknown(context, network)


def _unknown(context: Context, network: Network) -> Unchecked:
    """Return that what an outlet serves is not known, as long as it reaches nothing that uses its pressure."""
    name = context.circuits.name_of(network)
    missing = doubt(context.graph, network) if network.doubtful else "a brake or clutch that it feeds"
    return Unchecked(RULE, (*((name,) if name else ()), network.outlets[0]), missing)


def _brakes(context: Context) -> list[str]:
    """Return the fluid ports of all calipers and wheel cylinders."""
    ends = context.graph.ends.values()
    brakes = (e for e in ends if is_consumer(e) and e.fitted.part is not None and e.fitted.part.kind in BRAKES)
    return sorted((end.ref for end in brakes), key=in_order)


def _judge(context: Context, brakes: list[str], count: int) -> Iterator[Said]:
    single = context.gaps.single
    if single is not None:
        outlet = single.outlets[0]
        name = context.circuits.name_of(single)
        by_single = context.gaps.by_single
        at = (*((name,) if name else ()), outlet, *by_single)
        evidence = {"outlet": outlet, "brakes": brakes, "open_ends": by_single}
        idle = f" and {joined(by_single)} {'is' if len(by_single) == 1 else 'are'} open" if by_single else ""
        message = f"all {count} brakes hang on {outlet}{idle}"
        yield context.finding(RULE, "error", message, at, context.graph.path_of(outlet), evidence)
        return
    missing = _missing(context, brakes, count)
    if missing is not None:
        yield Unchecked(RULE, (brakes[0],), missing)


def _missing(context: Context, brakes: list[str], count: int) -> str | None:
    """Return what is missing to know that the brakes are split; None if they are."""
    networks: dict[int, Network] = {}
    for ref in brakes:
        network = context.circuits.of(ref)
        if network is None:
            continue
        if network.doubtful:
            return doubt(context.graph, network)
        if not network.pressurised:
            return way_missing(ref)
        networks[id(network)] = network
    for network in networks.values():
        reused = reused_in(context.graph, network)
        if reused is not None:
            return one_joint(reused)
    if len(networks) > 1:
        return None
    doubtful = next((network for network in context.circuits.pressurised() if network.doubtful), None)
    if doubtful is not None:
        return doubt(context.graph, doubtful)
    return "a second brake" if count == 1 else "circuits that are not crossed"


def _note(context: Context, network: Network) -> Said:
    outlet = network.outlets[0]
    name = context.circuits.name_of(network)
    subject = f"circuit {name}" if name else few(network.consumers)
    message = f"{subject} {'hangs' if name or len(network.consumers) == 1 else 'hang'} on one outlet, {outlet}"
    if len(network.outlets) > 1:
        return Unchecked(RULE, network.outlets, "circuits that are not crossed")
    at = (*((name,) if name else ()), outlet, *network.consumers)
    evidence = {"outlet": outlet, "consumers": network.consumers}
    return context.finding(RULE, "note", message, at, context.graph.path_of(outlet), evidence)

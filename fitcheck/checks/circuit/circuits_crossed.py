"""`circuits-crossed`: two circuits joined into one, or an end that the wrong circuit feeds.

What it finds
-------------
Two or more outlets between which fluid finds a way outside their master cylinders, and ends that a stated circuit
should feed but another outlet does. Two lines that were swapped are one finding; that all brakes end up on one
outlet is said with it. A caliper with two inlets that share no passage may hang on two circuits. What hangs on an
unknown part, or on a port that is joined more than once, is listed as not checked.

Brakes and clutches that a stated circuit reaches and no circuit lists: a warning if a clutch is found among brakes
or a brake among clutches, else a note.

Why it matters
--------------
Joined circuits fail together: one leak empties both. Swapped lines put a front and a rear brake on one circuit, and
the balance bar moves the wrong pair.

Example
-------
Fails::

    build: 1
    components:
      mc_1: {part: mc-m10x1-bubble}
      mc_2: {part: mc-m10x1-bubble}
      tank: {part: reservoir-2-outlet}
      slave: {part: slave-m10x1-bubble}
      joiner: {part: tee-m10x1-bubble}
    lines:
      run_1: {from: mc_1.outlet, to: joiner.left, tube: tube-3-16-cuni}
      run_2: {from: mc_2.outlet, to: joiner.right, tube: tube-3-16-cuni}
      run_3: {from: joiner.top, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed_1: {part: feed-hose-8mm, from: tank.front, to: mc_1.feed}
      feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc_2.feed}

Passes::

    build: 1
    components:
      mc_1: {part: mc-m10x1-bubble}
      mc_2: {part: mc-m10x1-bubble}
      tank: {part: reservoir-2-outlet}
      slave_1: {part: slave-m10x1-bubble}
      slave_2: {part: slave-m10x1-bubble}
    lines:
      run_1: {from: mc_1.outlet, to: slave_1.inlet, tube: tube-3-16-cuni}
      run_2: {from: mc_2.outlet, to: slave_2.inlet, tube: tube-3-16-cuni}
    hoses:
      feed_1: {part: feed-hose-8mm, from: tank.front, to: mc_1.feed}
      feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc_2.feed}

Source
------
49 CFR 571.105 and 571.135: a split service brake system keeps working in part when one circuit fails. What each
circuit feeds is the build's own statement.
"""

from collections.abc import Iterator

from fitcheck.build.circuits import Network
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import BRAKES
from fitcheck.checks.circuit_words import doubt, few, one_joint
from fitcheck.checks.context import Context
from fitcheck.checks.crossings import Crossing, Group, name_of, unsure
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.naming import in_order

RULE = "circuits-crossed"
_MOST_PATHS = 10


def find(context: Context) -> Iterator[Said]:
    """Yield every network with two outlets, and every group of circuits that feed each other's ends."""
    for network in context.circuits.pressurised():
        yield Looked()
        if len(network.outlets) > 1:
            yield _joined(context, network)
    yield Looked(sum(len(stated.feeds) for stated in context.file.circuits.values()))
    for name, network in _stated(context):
        yield from _unlisted(context, name, network)
    for group in context.gaps.crossings:
        sure = []
        for crossing in group.crossings:
            missing = unsure(context.circuits, crossing)
            if missing is None:
                sure.append(crossing)
            else:
                yield Unchecked(RULE, (crossing.ref,), missing)
        if sure:
            yield _crossed(context, group, sure)


def _joined(context: Context, network: Network) -> Said:
    outlets = network.outlets
    if network.doubtful:
        return Unchecked(RULE, outlets, doubt(context.graph, network))
    way = context.circuits.path(outlets[0], outlets[1])
    reused = context.circuits.reused_on(way)
    if reused is not None:
        return Unchecked(RULE, outlets, one_joint(reused))
    message = f"{few(outlets)} are joined into one circuit"
    evidence = {"outlets": outlets, "path": way}
    middle = way[len(way) // 2]
    return context.finding(RULE, "error", message, outlets, context.graph.path_of(middle), evidence)


def _crossed(context: Context, group: Group, sure: list[Crossing]) -> Finding:
    refs = tuple(dict.fromkeys(crossing.ref for crossing in sure))
    if len(sure) == 1:
        source = name_of(context.circuits, sure[0].found)
        by = f"circuit {source}" if source in context.file.circuits else source
        message = f"{refs[0]} is fed by {by}, not by circuit {sure[0].circuit}"
    else:
        message = f"{joined(sorted(group.names, key=in_order))} are crossed at {few(refs)}"
    common = context.gaps.common
    if common is not None and any(crossing.found is common for crossing in sure):
        message += f": all {len(_brakes(context, common))} brakes hang on {common.outlets[0]}"
    left_open = context.gaps.by_crossing.get(group.crossings[0].ref, ())
    evidence = {
        "circuits": group.names,
        "crossings": [_evidence(context, crossing) for crossing in sure[:_MOST_PATHS]],
        "open_ends": left_open,
    }
    at = (*refs, *left_open, *group.names)
    return context.finding(RULE, "error", message, at, sure[0].path, evidence)


def _evidence(context: Context, crossing: Crossing) -> dict[str, object]:
    way = context.circuits.way_to(crossing.ref)
    return {"end": crossing.ref, "circuit": crossing.circuit, "fed_by": way[0], "path": way}


def _brakes(context: Context, network: Network) -> set[str]:
    return {tag_of(ref) for ref in network.consumers if _duty(context, ref) == "brake"}


def _duty(context: Context, ref: str) -> str:
    part = context.graph.ends[ref].fitted.part
    return "brake" if part is not None and part.kind in BRAKES else "clutch"


def _stated(context: Context) -> Iterator[tuple[str, Network]]:
    """Yield the stated circuits that begin at an outlet, the first of those that begin in one network."""
    told: set[int] = set()
    for name, stated in context.file.circuits.items():
        network = context.circuits.of(stated.from_)
        if network is not None and stated.from_ in network.outlets and id(network) not in told:
            told.add(id(network))
            yield name, network


def _unlisted(context: Context, name: str, network: Network) -> Iterator[Said]:
    """Yield that a circuit also reaches consumers that neither it nor any other lists."""
    listed = {ref for stated in context.file.circuits.values() for ref in stated.feeds}
    known = {tag_of(ref) for ref in network.ends if ref in listed}
    first: dict[str, str] = {}
    for ref in sorted(network.consumers, key=context.circuits.distance.__getitem__):
        first.setdefault(tag_of(ref), ref)
    refs = tuple(sorted((ref for tag, ref in first.items() if tag not in known), key=in_order))
    if not refs:
        return
    missing = _unsure_of(context, network, refs)
    if missing is not None:
        yield Unchecked(RULE, refs, missing)
        return
    own = [ref for ref in context.file.circuits[name].feeds if ref in network.consumers]
    mixed = len({_duty(context, ref) for ref in (*own, *refs)}) > 1
    message = f"circuit {name} also reaches {few(refs)}, which it does not list"
    evidence = {"circuit": name, "unlisted": refs, "path": context.circuits.way_to(refs[0])}
    place = ("circuits", name, "feeds")
    yield context.finding(RULE, "warning" if mixed else "note", message, (*refs, name), place, evidence)


def _unsure_of(context: Context, network: Network, refs: tuple[str, ...]) -> str | None:
    """Return what is missing to be sure that these ends are on this circuit and no circuit was meant to list them."""
    if network.doubtful:
        return doubt(context.graph, network)
    ends = context.graph.ends
    if any(ref not in ends for stated in context.file.circuits.values() for ref in stated.feeds):
        return "a port that exists"
    reused = (context.circuits.reused_on(context.circuits.way_to(ref)) for ref in refs)
    return next((one_joint(ref) for ref in reused if ref is not None), None)

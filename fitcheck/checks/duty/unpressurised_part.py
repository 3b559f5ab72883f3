"""`unpressurised-part`: something under brake pressure that is not made for it.

What it finds
-------------
Joints on a pressure circuit that seal by a push-on barb, a compression ferrule or a 45 degree single flare, and
feed hoses and reservoirs that a pressure outlet reaches. Ratings in numbers are not compared here.

Why it matters
--------------
Hose and clamp hold a reservoir's head of fluid, some hundredths of a bar. A stop makes a hundred bar and more.

Example
-------
Fails::

    build: 1
    components:
      mc: {part: mc-an4}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-an4}
      barb_a: {part: adapter-an4-female-barb-8mm}
      barb_b: {part: adapter-an4-female-barb-8mm}
    joints:
      - [barb_a.a, mc.outlet]
      - [barb_b.a, slave.inlet]
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
      run: {part: feed-hose-8mm, from: barb_a.b, to: barb_b.b}

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
SAE J512 for the 45 degree forms. Periodic vehicle inspection refuses separate ferrules on hydraulic brake
pressure lines; push-on joints are common practice on the feed side only, no source.
"""

from collections.abc import Iterator

from fitcheck.build.circuits import Network
from fitcheck.build.graph import Joint
from fitcheck.build.refs import tag_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said
from fitcheck.checks.joint.speak import places
from fitcheck.standards.seats import seat as seat_named

RULE = "unpressurised-part"
_FEED_KINDS = frozenset({"feed hose", "reservoir"})


def find(context: Context) -> Iterator[Said]:
    """Yield what a pressure outlet reaches and must not: one finding for a part, or for a joint of sound parts."""
    wrong = {id(facts.joint) for facts in context.facts if facts.rule is not None}  # a joint rule speaks already
    for network in context.circuits.pressurised():
        told = set()
        for tag, message in _parts(context, network):
            told.add(tag)
            yield _finding(context, network, (tag,), message)
        yield from _joints(context, network, told, wrong)


def _parts(context: Context, network: Network) -> Iterator[tuple[str, str]]:
    """Yield the tags of feed hoses and reservoirs under pressure, each once."""
    seen = set()
    for ref in network.ends:
        end = context.graph.ends[ref]
        part = end.fitted.part
        if end.tag in seen or part is None or part.kind not in _FEED_KINDS:
            continue
        seen.add(end.tag)
        yield end.tag, f"{end.tag}, a {part.kind}, is under pressure from {network.outlets[0]}"


def _joints(context: Context, network: Network, told: set[str], wrong: set[int]) -> Iterator[Said]:
    seen: set[int] = set()
    for ref in network.ends:
        for joint in context.graph.joints_at.get(ref, ()):
            if id(joint) in seen:
                continue
            seen.add(id(joint))
            yield Looked()
            weak = _weak_seat(joint)
            if weak is not None and not any(end.tag in told for end in joint.ends) and id(joint) not in wrong:
                message = f"a {weak} joint under pressure from {network.outlets[0]}"
                yield _finding(context, network, places(joint), message)


def _weak_seat(joint: Joint) -> str | None:
    """Return the seat of a joint that is not made for brake pressure, or None."""
    for end in joint.ends:
        seat = end.port.seat if end.port is not None else None
        if seat is not None and not seat_named(seat).pressure:
            return seat
    return None


def _finding(context: Context, network: Network, at: tuple[str, ...], message: str) -> Said:
    here = next(ref for ref in network.ends if ref == at[0] or tag_of(ref) == tag_of(at[0]))
    evidence = {"outlet": network.outlets[0], "path": context.circuits.path(network.outlets[0], here)}
    return context.finding(RULE, "error", message, at, context.graph.path_of(at[0]), evidence)

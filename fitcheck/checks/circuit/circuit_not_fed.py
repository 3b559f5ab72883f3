"""`circuit-not-fed`: a caliper or cylinder that no master cylinder reaches.

What it finds
-------------
Calipers, wheel cylinders and slave cylinders, and ends that a stated circuit should feed, to which no way for
fluid leads from any outlet. All that hang together are one finding, with the open ends that the missing line
leaves. Also a stated circuit that begins at a port where no pressure is made. What hangs on an unknown part or a
port that does not exist is listed as not checked.

Why it matters
--------------
The wheel has no brake, however sound each joint is.

Example
-------
Fails::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

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
Common practice, no source. The tests of 49 CFR 571.105 and 571.135 take a brake on each wheel for granted.
"""

from collections.abc import Iterator
from itertools import islice

from fitcheck.build.circuits import is_outlet
from fitcheck.checks.circuit_words import doubt, few
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.gaps import Gap

RULE = "circuit-not-fed"
_MOST_NEAR = 4
"""Open ends shown for each side where the gap does not account for them."""


def find(context: Context) -> Iterator[Said]:
    """Yield every network that lacks an outlet but holds what must be fed, and circuits that begin nowhere."""
    yield Looked(sum(len(network.consumers) for network in context.circuits.networks))
    for gap, missing in context.gaps.unsure:
        if not gap.network.feeds or gap.network.consumers:
            yield Unchecked(RULE, gap.places, missing)
    for network in context.circuits.pressurised():
        if network.doubtful and network.consumers:
            yield Unchecked(RULE, network.consumers, doubt(context.graph, network))
    anywhere = tuple(
        islice((ref for network in context.circuits.pressurised() for ref in network.open_ends), _MOST_NEAR)
    )
    for gap in context.gaps.unfed:
        source = context.circuits.of(context.file.circuits[gap.circuit].from_) if gap.circuit else None
        yield finding_of(context, gap, source.open_ends[:_MOST_NEAR] if source is not None else anywhere)
    for name, stated in context.file.circuits.items():
        yield from _beginning(context, name, stated.from_)


def finding_of(context: Context, gap: Gap, near: tuple[str, ...] = ()) -> Finding:
    """Return what there is to say of a gap; `near` are open ends that may have to do with it."""
    if gap.circuit is None:
        verb = "is" if len(gap.at) == 1 else "are"
        message = f"{few(gap.at)} {verb} fed by no master cylinder"
    else:
        message = f"circuit {gap.circuit} does not reach {few(gap.at)}"
    evidence = {
        "consumers": gap.at,
        "circuit": gap.circuit,
        "outlet": context.file.circuits[gap.circuit].from_ if gap.circuit else None,
        "open_ends": gap.open_ends,
        "swapped": gap.swapped,
        "unfed_side": gap.own_ends or gap.network.open_ends[:_MOST_NEAR],
        "fed_side": gap.far_ends or near,
    }
    path = gap.stated or context.graph.path_of(gap.at[0])
    return context.finding(RULE, "error", message, gap.places, path, evidence)


def _beginning(context: Context, name: str, ref: str) -> Iterator[Said]:
    end = context.graph.ends.get(ref)
    if end is None:
        return
    if not end.known:
        yield Unchecked(RULE, (name,), f"parts.{end.fitted.part_id}")
    elif not is_outlet(end):
        message = f"circuit {name} begins at {ref}, which is no outlet"
        yield context.finding(RULE, "error", message, (name, ref), ("circuits", name, "from"), {"from": ref})

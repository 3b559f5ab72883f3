"""`circuit-looped`: fluid can go round in a circle.

What it finds
-------------
Ways for fluid under pressure that lead back to where they began, one finding for each independent circle. Feed
hoses and reservoirs may form circles. A circle that only closes at a port joined more than once is listed as not
checked: one opening takes one joint. So is one in a network that nothing feeds. Of one network the first hundred are
shown.

Why it matters
--------------
A circle cannot be bled: fluid takes the short way and leaves the air on the long one. Most often a line was meant to
go elsewhere.

Example
-------
Fails::

    build: 1
    components:
      joiner_1: {part: tee-m10x1-bubble}
      joiner_2: {part: tee-m10x1-bubble}
      stop_1: {part: plug-m10x1-bubble}
      stop_2: {part: plug-m10x1-bubble}
    joints:
      - [stop_1.end, joiner_1.top]
      - [stop_2.end, joiner_2.top]
    lines:
      run_1: {from: joiner_1.left, to: joiner_2.left, tube: tube-3-16-cuni}
      run_2: {from: joiner_1.right, to: joiner_2.right, tube: tube-3-16-cuni}

Passes::

    build: 1
    components:
      joiner_1: {part: tee-m10x1-bubble}
      joiner_2: {part: tee-m10x1-bubble}
      stop_1: {part: plug-m10x1-bubble}
      stop_2: {part: plug-m10x1-bubble}
      stop_3: {part: plug-m10x1-bubble}
      stop_4: {part: plug-m10x1-bubble}
    joints:
      - [stop_1.end, joiner_1.top]
      - [stop_2.end, joiner_2.top]
      - [stop_3.end, joiner_1.right]
      - [stop_4.end, joiner_2.right]
    lines:
      run_1: {from: joiner_1.left, to: joiner_2.left, tube: tube-3-16-cuni}

Source
------
Common practice, no source.
"""

from collections import deque
from collections.abc import Iterator
from itertools import islice

from fitcheck.build.circuits import Network
from fitcheck.build.graph import PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.checks.circuit_words import few, one_joint, way_missing
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.naming import in_order

RULE = "circuit-looped"
_MOST_LOOPS = 100
"""Circles shown for one network: looking at more would take time out of proportion to what it tells."""


def find(context: Context) -> Iterator[Said]:
    """Yield every independent circle in what is not the feed side."""
    unfed = {id(gap.network): gap for gap in context.gaps.unfed}
    for network in context.circuits.networks:
        if (network.feeds or network.reservoirs) and not network.pressurised:
            continue
        yield Looked()
        gap = unfed.get(id(network))
        for loop in islice(_loops(context.graph, network), _MOST_LOOPS):
            yield _said(context, loop) if gap is None else Unchecked(RULE, _tags(loop), way_missing(gap.at[0]))
    for joint in context.graph.shorted:
        yield _said(context, joint.refs)


def _loops(graph: PortGraph, network: Network) -> Iterator[tuple[str, ...]]:
    """Yield one circle for each edge more than a tree has: the edge, and the ways from both its ends back.

    The tree grows in the order of names, so that the circles told do not depend on the order of the file.
    """
    edges = graph.graph
    if sum(len(edges[ref]) for ref in network.ends) // 2 < len(network.ends):
        return
    root = min(network.ends, key=in_order)
    parent: dict[str, str] = {root: ""}
    depth = {root: 0}
    queue = deque(parent)
    extra: dict[frozenset[str], tuple[str, str]] = {}
    while queue:
        here = queue.popleft()
        for other in sorted(edges[here], key=in_order):
            if other not in parent:
                parent[other], depth[other] = here, depth[here] + 1
                queue.append(other)
            elif parent[here] != other and parent[other] != here:
                extra.setdefault(frozenset((here, other)), (here, other))
    for a, b in extra.values():
        yield _circle(a, b, parent, depth)


def _circle(a: str, b: str, parent: dict[str, str], depth: dict[str, int]) -> tuple[str, ...]:
    """Return the ends on the circle that the edge from `a` to `b` closes, in order."""
    left, right = [a], [b]
    while left[-1] != right[-1]:
        longer = left if depth[left[-1]] >= depth[right[-1]] else right
        longer.append(parent[longer[-1]])
    return (*left, *reversed(right[:-1]))


def _tags(loop: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tag_of(ref) for ref in loop))


def _said(context: Context, loop: tuple[str, ...]) -> Said:
    tags = _tags(loop)
    reused = context.circuits.reused_on((*loop, loop[0]))
    if reused is not None:
        return Unchecked(RULE, (reused,), one_joint(reused))
    lines = (tag for tag in tags if context.graph.fitted[tag].section != "components")
    place = context.graph.path_of(next(lines, tags[0]))
    message = f"{few(tags)} form a circle" if len(tags) > 1 else f"ports of {tags[0]} are joined to each other"
    return context.finding(RULE, "warning", message, tags, place, {"loop": loop})

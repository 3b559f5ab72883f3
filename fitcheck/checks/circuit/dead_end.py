"""`dead-end`: an open port, or a branch that leads nowhere.

What it finds
-------------
Ports and ends that carry fluid and have nothing joined to them; a part that nothing is joined to at all is one
finding. Where a loose plug, switch or branch would go straight into an open port elsewhere, the two are one
finding. As a warning: a joined port that shares no passage with another and is no end by its nature. Open ends
that can only be the other side of another finding (a missing line, a port used twice) are named by that finding;
if it is accepted, they are found here. A part without ports whose kind carries fluid is listed as not checked.

Why it matters
--------------
An open port under pressure is a circuit without brakes; on the feed side it drips and draws air.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: tee-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.left]
      - [stop_b.end, joiner.right]

Passes::

    build: 1
    components:
      joiner: {part: tee-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
      stop_c: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.left]
      - [stop_b.end, joiner.right]
      - [stop_c.end, joiner.top]

Source
------
Common practice, no source.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from fitcheck.build.circuits import Network, is_feed
from fitcheck.build.graph import End, Fitted
from fitcheck.catalog.part import LOOSE, Part
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.naming import in_order

RULE = "dead-end"


def find(context: Context) -> Iterator[Said]:
    """Yield every open end that nothing else accounts for, and every joined port that leads nowhere."""
    fluid = (e for e in context.graph.ends.values() if e.known and not (e.port is not None and e.port.mechanical))
    yield Looked(sum(1 for _ in fluid))
    for ref in context.gaps.unsure_ends:
        yield Unchecked(RULE, (ref,), "a port that exists")
    yield from _open(context)
    for item in context.graph.fitted.values():
        yield from _leads_nowhere(context, item)
        if item.part is not None and _carries_fluid(item.part) and not item.part.fluid_ports():
            yield Unchecked(RULE, (item.tag,), f"parts.{item.part_id}.ports")


def alone(context: Context, refs: Iterable[str]) -> Iterator[Finding]:
    """Yield open ends that another finding accounted for, one by one, those of a part as a whole together."""
    for unit in _units(context, refs):
        yield _finding(context, _message(context, unit), unit)


def _open(context: Context) -> Iterator[Said]:
    units = _units(context, sorted(context.gaps.dead_ends, key=in_order))
    partners = _partners(context, units)
    for refs in units:
        partner = partners.get(refs[0])
        if refs[0] in partners and partner is None:
            continue
        message = _message(context, refs)
        if partner is not None and _whole(context, partner):
            message = f"{refs[0]} is open and nothing is joined to {context.graph.ends[partner[0]].tag}"
        elif partner is not None:
            message = f"{joined(sorted((refs[0], *partner), key=in_order))} are open"
        yield _finding(context, message, (*refs, *(partner or ())))


def _message(context: Context, refs: tuple[str, ...]) -> str:
    return f"nothing is joined to {context.graph.ends[refs[0]].tag}" if _whole(context, refs) else f"{refs[0]} is open"


def _units(context: Context, refs: Iterable[str]) -> list[tuple[str, ...]]:
    """Return open ends one by one, those of a part that nothing is joined to together."""
    ends = context.graph.ends
    by_tag: dict[str, list[str]] = {}
    for ref in refs:
        by_tag.setdefault(ends[ref].tag, []).append(ref)
    units: list[tuple[str, ...]] = []
    for same in by_tag.values():
        units += [tuple(same)] if _whole(context, tuple(same)) else [(ref,) for ref in same]
    return units


def _whole(context: Context, refs: tuple[str, ...]) -> bool:
    """Return whether `refs` are all fluid ports of one part, feeds apart, and no feed is joined either."""
    graph = context.graph
    part = graph.ends[refs[0]].fitted.part
    if part is None or graph.ends[refs[0]].tube_end:
        return False
    fluid = [f"{graph.ends[refs[0]].tag}.{port.name}" for port in part.fluid_ports()]
    feeds = [ref for ref in fluid if is_feed(graph.ends[ref])]
    return len(refs) + len(feeds) == len(fluid) and not any(graph.joined(ref) for ref in feeds)


def _partners(context: Context, units: list[tuple[str, ...]]) -> dict[str, tuple[str, ...] | None]:
    """Return which loose branch belongs to which open end of a part in use: the branch's own first end maps to None.

    A branch is loose if nothing feeds it, it feeds nothing, and just one end of it is open.
    """
    waiting: dict[Any, list[str]] = {}
    branches: list[tuple[str, tuple[str, ...]]] = []
    for refs in units:
        if len(refs) == 1 and _loose_branch(context.circuits.of(refs[0])):
            branches.append((refs[0], refs))
        elif len(refs) == 1 and not _whole(context, refs):
            waiting.setdefault(_shape(context.graph.ends[refs[0]], mate=False), []).append(refs[0])
    found: dict[str, tuple[str, ...] | None] = {}
    for ref, refs in branches:
        open_ends = waiting.get(_shape(context.graph.ends[ref], mate=True))
        if open_ends:
            found[open_ends.pop(0)] = refs
            found[ref] = None
    return found


def _loose_branch(network: Network | None) -> bool:
    if network is None or network.outlets or network.feeds or network.reservoirs or network.consumers:
        return False
    return len(network.open_ends) == 1


def _shape(end: End, mate: bool) -> Any:
    """Return thread, seat and side of a port; with `mate` those of the port that would take it."""
    port = end.port
    if port is None or port.thread is None or port.gender is None:
        return end.ref
    return port.thread.designation, port.seat, (port.gender == "internal") != mate


def _leads_nowhere(context: Context, item: Fitted) -> Iterator[Said]:
    part = item.part
    if part is None or item.section == "lines" or part.kind in LOOSE or part.kind == "reservoir":
        return
    shared = {name for group in part.passages if len(group) > 1 for name in group}
    rightly = {*shared, *part.ends, *part.outlets, *part.feeds}
    refs = [f"{item.tag}.{port.name}" for port in part.fluid_ports() if port.name not in rightly]
    blind = tuple(ref for ref in refs if context.graph.joined(ref))
    if blind:
        message = f"{joined(blind)} {'leads' if len(blind) == 1 else 'lead'} nowhere"
        yield context.finding(RULE, "warning", message, blind, item.path, {"ports": blind})


def _carries_fluid(part: Part) -> bool:
    return part.kind not in LOOSE and part.kind != "pedal box"


def _finding(context: Context, message: str, at: tuple[str, ...]) -> Finding:
    network = context.circuits.of(at[0])
    evidence = {"open_ends": at, "outlet": network.outlets[0] if network and network.outlets else None}
    return context.finding(RULE, "error", message, at, context.graph.path_of(at[0]), evidence)

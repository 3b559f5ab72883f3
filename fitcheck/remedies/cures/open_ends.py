"""Open ends, missing runs, reservoirs, ports used twice."""

from collections.abc import Iterator
from itertools import combinations, permutations
from typing import Final

from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import CONSUMERS
from fitcheck.changes import Change, Drop, Plain, Put
from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import PLAIN, Bench, bare, fitted_end
from fitcheck.remedies.cures.connections import TO_MEASURE, connections, feed_hoses, fitting_feed_hoses
from fitcheck.remedies.cures.tees import moved, tee_before, tees
from fitcheck.remedies.remedy import Remedy, fresh_tag
from fitcheck.remedies.replacements import replacements

_CLOSERS: Final = ("plug", "cap")
VALVES: Final = ("proportioning valve", "residual valve", "shut-off valve")
_MOST_CLOSERS: Final = 4
_MOST_PAIRS: Final = 6


def dead_end(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Join what belongs together, close what is left open, leave out what nothing is joined to."""
    refs = [ref for ref in finding.at if ref in bench.graph.ends]
    for one, other in combinations(refs, 2):
        if bench.seals(bench.graph.ends[one], bench.graph.ends[other]):
            yield from connections(bench, one, other)
    tags = {tag_of(ref) for ref in refs}
    if len(refs) == 1 or len(tags) == 1:
        whole = len(refs) > 1 or _alone(bench, refs[0])
        if whole:
            yield from _left_out(bench, tags)
        else:
            yield from _loose_guard(bench, refs[0])
            yield from closers(bench, refs[0])
            yield from _fewer_outlets(bench, refs[0])
    else:
        for ref in refs:
            yield from closers(bench, ref)


def _loose_guard(bench: Bench, ref: str) -> Iterator[Remedy]:
    """Yield a switch or gauge that fits an open port, in the place of one of the build that nothing is joined to."""
    end = bench.graph.ends[ref]
    for tag in bench.file.components:
        now = bench.part(tag)
        if now is None or now.kind not in ("pressure switch", "gauge") or _used(bench, tag):
            continue
        for part in bench.shelf.of_kind(now.kind):
            ports = part.fluid_ports()
            if len(ports) == 1 and bench.seals(fitted_end(part, ports[0]), end):
                changes = (Put(("components", tag, "part"), part.id), *bench.join(f"{tag}.{ports[0].name}", ref))
                yield Remedy("part", changes, (part.id,), (tag,))
                break


def _used(bench: Bench, tag: str) -> bool:
    return any(bench.graph.joined(ref) for ref in bench.graph.ends if tag_of(ref) == tag)


def _fewer_outlets(bench: Bench, ref: str) -> Iterator[Remedy]:
    """Yield reservoirs without the outlet that is open."""
    tag = tag_of(ref)
    part = bench.part(tag)
    if part is None or part.kind != "reservoir" or tag not in bench.file.components:
        return
    for found in replacements(bench.context, tag):
        if not (found.misfits or found.lost_ports or found.spare_ports):
            changes: list[Change] = [Put(("components", tag, "part"), found.part.id)]
            changes += bench.renamed({f"{tag}.{old}": f"{tag}.{new}" for old, new in found.renamed})
            notes = ("compare what it holds with the one it replaces",)
            yield Remedy("part", tuple(changes), (found.part.id,), (tag,), notes=notes)


def _alone(bench: Bench, ref: str) -> bool:
    part = bench.part(tag_of(ref))
    return part is not None and len(part.fluid_ports()) == 1


def _left_out(bench: Bench, tags: set[str]) -> Iterator[Remedy]:
    for tag in sorted(tags & set(bench.file.components)):
        part = bench.part(tag)
        if part is not None and part.kind in PLAIN:
            changes = (Drop(("components", tag)), *without_joints(bench, tag))
            yield Remedy("leave out", changes, tags=(tag,), added_joints=-1)


def without_joints(bench: Bench, tag: str) -> list[Change]:
    """Return the changes that take out every joint and acceptance that names a component; no line or hose may."""
    found = {path[:2] for ref, paths in bench.places.items() if tag_of(ref) == tag for path in paths}
    return [Drop(path) for path in sorted(found, key=str) if path[0] in ("joints", "accept")]


def closers(bench: Bench, ref: str) -> Iterator[Remedy]:
    """Yield plugs and caps for an open port.

    None for an outlet, a feed, a brake or a port of a valve: something is missing there, and closing it would hide it.
    """
    end = bench.graph.ends.get(ref)
    part = end.fitted.part if end is not None else None
    if end is None or end.port is None or part is None or part.kind in CONSUMERS or part.kind in VALVES:
        return
    if part.one_way is not None or end.port.name in (*part.outlets, *part.feeds):
        return
    found = [
        (closer, port)
        for kind in _CLOSERS
        for closer in bench.shelf.of_kind(kind)
        if len(ports := closer.fluid_ports()) == 1 and bench.seals(fitted_end(closer, port := ports[0]), end)
    ]
    for closer, port in found[:_MOST_CLOSERS]:
        tag = fresh_tag(bench.build, closer.kind, ref)
        changes = (Put(("components", tag), bench.component(closer.id)), *bench.join(f"{tag}.{port.name}", ref))
        yield Remedy(closer.kind, changes, parts=(closer.id,), added_joints=1)


def missing_run(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Lead a line or a hose from an open end of the side that feeds to one of the side that is not fed."""
    unfed, fed = finding.evidence.get("unfed_side", ()), finding.evidence.get("fed_side", ())
    pairs = [(near, far) for far in unfed for near in fed]
    for near, far in pairs[:_MOST_PAIRS]:
        yield from connections(bench, near, far)
    yield from _begin_elsewhere(bench, finding)


def _begin_elsewhere(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Have a circuit begin at the outlet that feeds what it lists."""
    name = finding.at[0]
    circuit = bench.file.circuits.get(name)
    if circuit is None or "from" not in finding.evidence:
        return
    outlets = {way[0]: None for ref in circuit.feeds if (way := bench.context.circuits.way_to(ref))}
    for outlet in outlets:
        yield Remedy("circuit", (Put(("circuits", name, "from"), outlet),))


def reservoir(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Push feed hoses from open outlets of reservoirs on the feeds; fit a reservoir if there are too few."""
    feeds = [ref for ref in finding.evidence.get("feeds", ()) if ref in bench.graph.ends]
    there = [
        ref
        for ref, end in bench.graph.ends.items()
        if end.fitted.part is not None and end.fitted.part.kind == "reservoir" and not bench.graph.joined(ref)
    ]
    first = [ref for ref in finding.evidence.get("open_ends", ()) if ref in bench.graph.ends and ref not in feeds]
    open_ends = list(dict.fromkeys((*first, *there)))
    if feeds and len(open_ends) >= len(feeds):
        for chosen in list(permutations(open_ends[:4], len(feeds)))[:_MOST_PAIRS]:
            yield from feed_hoses(bench, list(zip(chosen, feeds, strict=True)))
    yield from _new_reservoirs(bench, feeds)


def _new_reservoirs(bench: Bench, feeds: list[str]) -> Iterator[Remedy]:
    if not feeds:
        return
    tag = fresh_tag(bench.build, "reservoir", feeds[0])
    for part in bench.shelf.of_kind("reservoir"):
        ports = part.fluid_ports()
        if len(ports) != len(feeds):
            continue
        changes: list[Change] = [Put(("components", tag), bench.component(part.id))]
        parts = [part.id]
        for port, feed in zip(ports, feeds, strict=True):
            found = next(fitting_feed_hoses(bench, fitted_end(part, port), bench.graph.ends[feed]), None)
            if found is None:
                break
            hose, first, second = found
            entry: dict[str, Plain] = {"part": hose.id, first: f"{tag}.{port.name}", second: feed}
            changes.append(Put(("hoses", fresh_tag(bench.build, "feed", feed)), entry))
            parts.append(hose.id)
        else:
            notes = (TO_MEASURE, "where the reservoir goes has to be chosen")
            yield Remedy("reservoir", tuple(changes), tuple(parts), added_joints=2 * len(feeds), notes=notes)


def reused(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Move one of two joints to the port that was meant, take a plug out, or part the road at a tee."""
    port = finding.at[0]
    joints = [joint for joint in bench.graph.joints_at.get(port, ()) if len(joint.refs) == 2]
    others = [next(ref for ref in joint.refs if ref != port) for joint in joints if joint.refs[0] != joint.refs[1]]
    meant = [ref for ref in finding.evidence.get("left_out", ()) if ref in bench.graph.ends]
    for other in reversed(others):  # what the file says last is the likelier slip
        for free in meant:
            if bench.seals(bare(bench.graph.ends[other]), bench.graph.ends[free]):
                notes = tuple(bench.old_way(tag_of(other)))
                yield Remedy("move", tuple(moved(bench, other, port, free)), tags=(tag_of(other),), notes=notes)
    for other in others:
        part = bench.part(tag_of(other))
        if part is not None and part.kind in _CLOSERS:
            changes = (Drop(("components", tag_of(other))), *without_joints(bench, tag_of(other)))
            yield Remedy("leave out", changes, tags=(tag_of(other),), added_joints=-1)
    if len(others) == 2:
        yield from tees(bench, port, others)
    for other in others:
        if not bench.is_line(other):
            yield from tee_before(bench, port, other)

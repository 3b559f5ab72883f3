"""Open ends, missing runs, ports used twice."""

from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise, permutations
from typing import Final

from fitcheck.build.graph import End
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import CONSUMERS, Part, Port
from fitcheck.changes import Change, Drop, Put
from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import PLAIN, Bench, fitted_end, tube_end
from fitcheck.remedies.cures.connections import TO_MEASURE, connections, feed_hoses
from fitcheck.remedies.remedy import Remedy, fresh_tag

_CLOSERS: Final = ("plug", "cap")
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
            yield from closers(bench, refs[0])
    else:
        for ref in refs:
            yield from closers(bench, ref)


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
    """Return the changes that take every joint out that names a component; no line or hose may name it."""
    found = {path[:2] for ref, paths in bench.places.items() if tag_of(ref) == tag for path in paths}
    return [Drop(path) for path in sorted(found, key=str) if path[0] in ("joints", "accept")]


def closers(bench: Bench, ref: str) -> Iterator[Remedy]:
    """Yield plugs and caps for an open port. None for an outlet or a brake: closing it would lose the circuit."""
    end = bench.graph.ends.get(ref)
    part = end.fitted.part if end is not None else None
    if end is None or end.port is None or part is None or part.kind in CONSUMERS:
        return
    if end.port.name in (*part.outlets, *part.feeds):
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
            hose = _feed_hose(bench, fitted_end(part, port), bench.graph.ends[feed])
            if hose is None:
                break
            entry = {"part": hose.id, "from": f"{tag}.{port.name}", "to": feed}
            changes.append(Put(("hoses", fresh_tag(bench.build, "feed", feed)), dict(entry)))
            parts.append(hose.id)
        else:
            notes = (TO_MEASURE, "where the reservoir goes has to be chosen")
            yield Remedy("reservoir", tuple(changes), tuple(parts), added_joints=2 * len(feeds), notes=notes)


def _feed_hose(bench: Bench, outlet: End, feed: End) -> Part | None:
    for part in bench.feed_hoses:
        ports = {port.name: port for port in part.fluid_ports()}
        if {"from", "to"} == set(ports):
            near, far = fitted_end(part, ports["from"]), fitted_end(part, ports["to"])
            if bench.seals(near, outlet) and bench.seals(far, feed):
                return part
    return None


def reused(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Move one of two joints to the port that was meant, take a plug out, or part the road at a tee."""
    port = finding.at[0]
    joints = [joint for joint in bench.graph.joints_at.get(port, ()) if len(joint.refs) == 2]
    others = [next(ref for ref in joint.refs if ref != port) for joint in joints if joint.refs[0] != joint.refs[1]]
    meant = [ref for ref in finding.evidence.get("left_out", ()) if ref in bench.graph.ends]
    for other in others:
        for free in meant:
            if bench.seals(_bare(bench.graph.ends[other]), bench.graph.ends[free]):
                yield Remedy("move", tuple(_moved(bench, other, port, free)))
    for other in others:
        part = bench.part(tag_of(other))
        if part is not None and part.kind in _CLOSERS:
            changes = (Drop(("components", tag_of(other))), *without_joints(bench, tag_of(other)))
            yield Remedy("leave out", changes, tags=(tag_of(other),), added_joints=-1)
    if len(others) == 2:
        yield from _tees(bench, port, others)
    for other in others:
        if not bench.is_line(other):
            yield from _tee_before(bench, port, other)


def _tee_before(bench: Bench, port: str, other: str) -> Iterator[Remedy]:
    """Yield tees in a line that leads to the port, nearest first: what was joined second hangs on its third port."""
    way = bench.context.circuits.way_to(port)
    runs = [(b, a) for a, b in pairwise(way) if tag_of(a) == tag_of(b) and bench.is_line(a)]
    tag = fresh_tag(bench.build, "tee", port)
    for end, _ in reversed(runs):
        tube = bench.part(tag_of(end))
        partner = [ref for joint in bench.graph.joints_at[end] for ref in joint.refs if ref != end]
        if tube is None or len(partner) != 1 or bench.is_line(partner[0]):
            continue
        for part in bench.shelf.of_kind("tee"):
            chosen = _arms(bench, part, tube_end(tube), bench.graph.ends[other])
            if chosen is None:
                continue
            near, far, third = (f"{tag}.{each.name}" for each in chosen)
            line = fresh_tag(bench.build, "line", partner[0])
            apart, _ = bench.unjoin(end, partner[0])
            changes: list[Change] = [Put(("components", tag), bench.component(part.id, bench.body_of(partner[0])))]
            changes += [*apart, *bench.join(end, near), *_moved(bench, other, port, third)]
            changes.append(Put(("lines", line), {"from": far, "to": partner[0], "tube": tube.id}))
            notes = (f"{tag_of(end)} is cut in two; measure both pieces",)
            yield Remedy("tee", tuple(changes), (part.id, tube.id), added_joints=2, notes=notes)
            break


def _arms(bench: Bench, part: Part, tube: End, other: End) -> tuple[Port, Port, Port] | None:
    """Return two ports of a tee that take the tube and the third that takes the other end; None if it has none such."""
    for near, far, third in permutations(part.fluid_ports(), 3):
        wanted = ((tube, near), (tube, far), (other, third))
        if all(bench.seals(end, fitted_end(part, port)) for end, port in wanted):
            return near, far, third
    return None


def _moved(bench: Bench, other: str, port: str, free: str) -> list[Change]:
    changes, _ = bench.unjoin(other, port)
    hoses = frozenset(f"{p[1]}.{p[2]}" for p in bench.stated(other, port) if p[0] == "hoses")
    changes = [c for c in changes if not (isinstance(c, Drop) and c.path[0] == "hoses")]
    return changes + bench.join(other, free, hoses)


def _tees(bench: Bench, port: str, others: list[str]) -> Iterator[Remedy]:
    """Yield tees that a short line, or nothing, joins to the port, and both things that were joined to it."""
    ends = [bench.graph.ends[port], *(_bare(bench.graph.ends[ref]) for ref in others)]
    tag = fresh_tag(bench.build, "tee", port)
    found = 0
    for part in bench.shelf.of_kind("tee"):
        for stem, *arms in permutations(part.fluid_ports()):
            if len(arms) != 2 or not all(
                bench.seals(fitted_end(part, arm), end) for arm, end in zip(arms, ends[1:], strict=True)
            ):
                continue
            own = fitted_end(part, stem, tag)
            tube = next((t for t in bench.tubes if all(bench.seals(tube_end(t), e) for e in (own, ends[0]))), None)
            if tube is None and not bench.seals(own, ends[0]):
                continue
            yield _tee(bench, part, tag, port, own.ref, tube, dict(zip(others, arms, strict=True)))
            found += 1
            break
        if found == 3:
            return


def _tee(
    bench: Bench, part: Part, tag: str, port: str, stem: str, tube: Part | None, arms: Mapping[str, Port]
) -> Remedy:
    changes: list[Change] = [Put(("components", tag), bench.component(part.id, bench.body_of(port)))]
    parts = [part.id]
    for other, arm in arms.items():
        changes += _moved(bench, other, port, f"{tag}.{arm.name}")
    if tube is None:
        changes += bench.join(stem, port)
    else:
        line = fresh_tag(bench.build, "line", port)
        changes.append(Put(("lines", line), {"from": port, "to": stem, "tube": tube.id}))
        parts.append(tube.id)
    return Remedy("tee", tuple(changes), tuple(parts), added_joints=1 if tube is None else 2)


def _bare(end: End) -> End:
    return end._replace(stated=None) if end.tube_end else end

"""Tees for a port that two things are joined to: one before it, or one in the line that leads there."""

from collections.abc import Iterator, Mapping
from itertools import pairwise, permutations

from fitcheck.build.graph import End
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import Part, Port
from fitcheck.changes import Change, Drop, Put
from fitcheck.remedies.bench import Bench, bare, fitted_end, tube_end
from fitcheck.remedies.remedy import Remedy, fresh_tag


def tees(bench: Bench, port: str, others: list[str]) -> Iterator[Remedy]:
    """Yield tees that a short line, or nothing, joins to the port, and both things that were joined to it."""
    ends = [bench.graph.ends[port], *(bare(bench.graph.ends[ref]) for ref in others)]
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
        changes += moved(bench, other, port, f"{tag}.{arm.name}")
    if tube is None:
        changes += bench.join(stem, port)
    else:
        line = fresh_tag(bench.build, "line", port)
        changes.append(Put(("lines", line), {"from": port, "to": stem, "tube": tube.id}))
        parts.append(tube.id)
    return Remedy("tee", tuple(changes), tuple(parts), added_joints=1 if tube is None else 2)


def tee_before(bench: Bench, port: str, other: str) -> Iterator[Remedy]:
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
            changes += [*apart, *bench.join(end, near), *moved(bench, other, port, third)]
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


def moved(bench: Bench, other: str, port: str, free: str) -> list[Change]:
    """Return the changes that join an end to another port than the one that it is joined to."""
    changes, _ = bench.unjoin(other, port)
    hoses = frozenset(f"{p[1]}.{p[2]}" for p in bench.stated(other, port) if p[0] == "hoses")
    changes = [c for c in changes if not (isinstance(c, Drop) and c.path[0] == "hoses")]
    return changes + bench.join(other, free, hoses)

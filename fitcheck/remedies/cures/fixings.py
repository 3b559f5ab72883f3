"""What the file states of fixings and should not: flare, nut, sleeve, bolt, washers; two tubes without a union."""

from collections.abc import Iterator

from fitcheck.build.fixings import fixings
from fitcheck.build.graph import Joint
from fitcheck.build.model import Corner
from fitcheck.build.refs import port_of, tag_of
from fitcheck.changes import Change, Drop, Put
from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import Bench, fitted_end, tube_end
from fitcheck.remedies.remedy import Remedy, fresh_tag


def flare(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Form the end as its port takes it."""
    wanted, end = finding.evidence.get("wanted"), finding.at[0]
    if isinstance(wanted, str) and bench.is_line(end):
        path = ("lines", tag_of(end), "ends", port_of(end), "flare")
        yield Remedy("flare", (Put(path, wanted), *bench.unstated(end, ("nut", "sleeve"))), tags=(tag_of(end),))
        yield Remedy("flare", (Put(path, wanted),), tags=(tag_of(end),))


def nut(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Take the nut and the sleeve that the port takes: those that are chosen if none is stated."""
    end = finding.at[0]
    if bench.is_line(end):
        for keys in (("nut",), ("sleeve",), ("nut", "sleeve"), ("flare", "nut", "sleeve")):
            changes = tuple(bench.unstated(end, keys))
            if changes:
                yield Remedy("nut", changes, parts=_chosen(bench, finding, keys), tags=(tag_of(end),))


def _chosen(bench: Bench, finding: Finding, keys: tuple[str, ...]) -> tuple[str, ...]:
    joint = bench.joint_of.get(frozenset(finding.at))
    if joint is None or len(joint.ends) != 2:
        return ()
    ends = tuple(end._replace(stated=None) if end.tube_end else end for end in joint.ends)
    items = fixings(bench.graph, joint._replace(ends=ends)).items
    return tuple(item.part.id for item in items if item.part is not None and item.word in keys)


def bolt_and_washers(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Leave the bolt to be chosen; fit as many washers as the joint needs."""
    joint = bench.joint_of.get(frozenset(finding.at))
    if joint is None or joint.path[0] != "joints":
        return
    bolt: list[Change] = [Drop((*joint.path, "bolt"))] if joint.bolt is not None else []
    washers: list[Change] = []
    if joint.washers is not None:
        washers = [Put((*joint.path, "washers"), str(_needed(joint)))]
    for kind, changes in (("washers", washers), ("bolt", bolt), ("bolt", bolt + washers)):
        if changes:
            parts = tuple(_bolts(bench, joint)) if kind == "bolt" else ()
            yield Remedy(kind, tuple(changes), parts=parts)


def _needed(joint: Joint) -> int:
    return len(joint.ends) if joint.kind == "banjo" else 1


def _bolts(bench: Bench, joint: Joint) -> Iterator[str]:
    item = fixings(bench.graph, joint._replace(bolt=None)).one("banjo bolt")
    if item is not None and item.part is not None:
        yield item.part.id


def tube_of_the_size(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Make a line of a tube that goes into the ports at both its ends."""
    for tag in dict.fromkeys(map(tag_of, finding.at)):
        line = bench.file.lines.get(tag)
        if line is None:
            continue
        others = [
            other
            for name in ("from", "to")
            for joint in bench.graph.joints_at.get(f"{tag}.{name}", ())
            for other in joint.ends
            if other.ref != f"{tag}.{name}"
        ]
        fitting = (tube for tube in bench.tubes if all(bench.seals(tube_end(tube), other) for other in others))
        loose = [change for name in ("from", "to") for change in bench.unstated(f"{tag}.{name}")]
        for tube, _ in zip(fitting, range(2), strict=False):
            yield Remedy("part", (Put(("lines", tag, "tube"), tube.id), *loose), (tube.id,), (tag,))


def union(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Put a union between two tube ends that meet without one."""
    if len(finding.at) != 2 or not all(map(bench.is_line, finding.at)):
        return
    first, second = finding.at
    yield from unions(bench, first, second)


def unions(bench: Bench, first: str, second: str) -> Iterator[Remedy]:
    """Yield the unions that two tube ends go into, those with equal ends first."""
    tubes = [bench.part(tag_of(ref)) for ref in (first, second)]
    if tubes[0] is None or tubes[1] is None:
        return
    ends = [tube_end(tube) for tube in tubes if tube is not None]
    tag = fresh_tag(bench.build, "union", first)
    found = []
    for kind in ("union", "adapter", "bulkhead union"):
        for part in bench.shelf.of_kind(kind):
            ports = part.fluid_ports()
            if len(ports) != 2 or len(part.passages) != 1:
                continue
            for near, far in (ports, ports[::-1]):
                if bench.seals(ends[0], fitted_end(part, near)) and bench.seals(ends[1], fitted_end(part, far)):
                    found.append((near.seat != far.seat, part.max_pressure is None, part, near, far))
                    break
    # Through a panel a bulkhead union; of several forms the one that the build has most of, for its tools and nuts.
    panel = any(_through_a_panel(bench, tag_of(ref)) for ref in (first, second))
    found.sort(key=lambda each: ((each[2].kind == "bulkhead union") != panel, each[0], -bench.common(each[3]), each[1]))
    for _, _, part, near, far in found[:4]:
        changes: list[Change] = [Put(("components", tag), bench.component(part.id, bench.body_of(first)))]
        changes += [*bench.join(first, f"{tag}.{near.name}"), *bench.join(second, f"{tag}.{far.name}")]
        yield Remedy("union", tuple(changes), parts=(part.id,), added_joints=1)


def _through_a_panel(bench: Bench, tag: str) -> bool:
    """Return whether a line's route leads through a panel."""
    return any(isinstance(entry, Corner) and entry.through for entry in bench.file.lines[tag].route or ())

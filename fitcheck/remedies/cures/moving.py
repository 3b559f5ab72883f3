"""Rigid runs between bodies that move, and feed hose where there is pressure."""

from collections.abc import Iterator
from itertools import product
from typing import Final

from fitcheck.build.refs import tag_of
from fitcheck.changes import Change, Drop, Plain, Put
from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import Bench, fitted_end, tube_end
from fitcheck.remedies.cures.connections import TO_MEASURE, connections, fitting_hoses, hoses_with_adapters
from fitcheck.remedies.cures.open_ends import without_joints
from fitcheck.remedies.remedy import Remedy, fresh_tag

_MOST: Final = 4
_MOST_PAIRS: Final = 9
_PASSIVE: Final = ("union", "bulkhead union", "elbow", "adapter")


def hose_for_line(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Run a hose in the place of a rigid line, or from the end of the line that moves."""
    tag = finding.at[0]
    if tag not in bench.file.lines or len(finding.at) != 3:
        return
    near, far = finding.at[1:]
    line = bench.file.lines[tag]
    direct = list(_whole(bench, tag, near, far))
    yield from direct
    if not direct:
        drops = [Drop(("lines", tag)), *_unjoined(bench, tag)]
        ends = bench.graph.ends
        yield from hoses_with_adapters(
            bench, ends[near], ends[far], drops, "hose for line", (tag,), _stated_length(bench, tag)
        )
    moving = far
    name = "to" if line.to == moving else "from"
    yield from _at_the_end(bench, tag, name, moving)


def _whole(bench: Bench, tag: str, near: str, far: str) -> Iterator[Remedy]:
    ends = bench.graph.ends
    for part, first, second in fitting_hoses(bench, ends[near], ends[far], _stated_length(bench, tag))[:_MOST]:
        new = fresh_tag(bench.build, "hose", far)
        entry: Plain = {"part": part.id, first.name: near, second.name: far}
        changes = [Drop(("lines", tag)), *_unjoined(bench, tag), Put(("hoses", new), entry)]
        yield Remedy("hose for line", tuple(changes), (part.id,), (tag,), notes=(TO_MEASURE,))


def _stated_length(bench: Bench, tag: str) -> float | None:
    length = bench.file.lines[tag].length
    return None if length is None else float(length)


def _unjoined(bench: Bench, tag: str) -> list[Change]:
    """Return the changes that take out what else names the ends of a line: joints, ends of hoses."""
    paths = [path for name in ("from", "to") for path in bench.places.get(f"{tag}.{name}", ())]
    found = {path[:2] if path[0] == "joints" else path for path in paths}
    return [Drop(path) for path in sorted(found, key=str) if path[0] in ("joints", "hoses")]


def _at_the_end(bench: Bench, tag: str, name: str, port: str) -> Iterator[Remedy]:
    """Yield hoses between the end of the line, kept on its own body, and the port that moves against it."""
    tube = bench.part(tag)
    if tube is None:
        return
    found = 0
    for part in bench.hoses:
        ports = part.fluid_ports()
        for first, second in (ports, ports[::-1]):
            takes = bench.seals(tube_end(tube), fitted_end(part, first))
            if not takes or not bench.seals(fitted_end(part, second), bench.graph.ends[port]):
                continue
            new = fresh_tag(bench.build, "hose", port)
            entry: Plain = {"part": part.id, second.name: port}
            changes: list[Change] = [Put(("hoses", new), entry)]
            changes += bench.join(f"{tag}.{name}", f"{new}.{first.name}")
            notes = (TO_MEASURE, "the line ends at a bracket before the part that moves")
            yield Remedy("hose for line", tuple(changes), (part.id,), added_joints=1, notes=notes)
            found += 1
            break
        if found == _MOST:
            return


def pressure_run(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Take a feed hose out of a circuit under pressure, with the barbs that it was pushed on, and lead on without."""
    tag = finding.at[0]
    if tag not in bench.file.hoses:
        return
    part = bench.part(tag)
    if part is None:
        return
    sides = [list(_beyond(bench, f"{tag}.{port.name}")) for port in part.fluid_ports()]
    if len(sides) != 2:
        return
    pairs = sorted(product(*sides), key=lambda pair: len(pair[0][1]) + len(pair[1][1]))
    for (one, gone), (other, also) in pairs[:_MOST_PAIRS]:
        removed = (*gone, *also)
        drops: list[Change] = [Drop(("hoses", tag))]
        for each in removed:
            drops += [Drop(("components", each)), *without_joints(bench, each)]
        drops += [change for change in _loosened(bench, tag) if change not in drops]
        for found in connections(bench, one, other):
            if found.kind == "join" and not (bench.is_line(one) or bench.is_line(other)):
                continue  # a hose was there for a reason: nothing at all does not replace it
            changes = (*drops, *found.changes)
            added = found.added_joints - 2 - len(removed)
            yield Remedy("lead on", changes, found.parts, (tag, *removed), added, found.notes)


def _loosened(bench: Bench, tag: str) -> list[Change]:
    paths = [path for ref, found in bench.places.items() if tag_of(ref) == tag for path in found]
    return [Drop(path[:2]) for path in paths if path[0] == "joints"]


def _beyond(bench: Bench, ref: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what could be led on from at this end of a feed hose: past no fitting, past the first, and so on."""
    gone: tuple[str, ...] = ()
    here: str | None = ref
    while here is not None:
        partner = _partner(bench, here)
        if partner is None:
            return
        yield partner, gone
        tag = tag_of(partner)
        part = bench.part(tag)
        if part is None or part.kind not in _PASSIVE or len(part.fluid_ports()) != 2 or tag in gone:
            return
        gone = (*gone, tag)
        here = next(f"{tag}.{port.name}" for port in part.fluid_ports() if f"{tag}.{port.name}" != partner)


def _partner(bench: Bench, ref: str) -> str | None:
    others = [end for joint in bench.graph.joints_at.get(ref, ()) for end in joint.refs if end != ref]
    return others[0] if len(others) == 1 else None

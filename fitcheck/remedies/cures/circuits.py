"""Circuits that are crossed, joined, looped, on one outlet; valves the wrong way round."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise, product
from typing import Final

from fitcheck.build.circuits import is_outlet
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.part import BRAKES
from fitcheck.changes import Change, Drop, Put
from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.cures.open_ends import closers, without_joints
from fitcheck.remedies.remedy import Remedy

_MOST_PAIRS: Final = 16
_MOST_LINES: Final = 12
RESTATED: Final = (
    "this changes what the file says is meant, not the plumbing: be sure that it is the file that is wrong"
)

Run = tuple[str, str]
"""A line on a way: its upstream and its downstream end."""


def crossed(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Lead two lines where the other goes; or take out the run that joins two outlets."""
    crossings = finding.evidence.get("crossings", ())
    if not crossings:
        yield from _unlinked(bench, finding.evidence.get("path", ()))
        return
    by_circuit: dict[str, list[tuple[str, ...]]] = {}
    for crossing in crossings:
        by_circuit.setdefault(crossing["circuit"], []).append(crossing["path"])
    shared = [_on_all(bench, ways) for ways in by_circuit.values()]
    if len(shared) == 2:
        pairs = sorted(product(*map(enumerate, shared)), key=lambda pair: abs(pair[0][0] - pair[1][0]))
        for (_, one), (_, other) in pairs[:_MOST_PAIRS]:
            yield from _exchanged(bench, one, other)
    yield from _other_beginning(bench, by_circuit)
    for free in finding.evidence.get("open_ends", ()):
        for run in (run for runs in shared for run in runs):
            yield from moved_upstream(bench, run, free)


def _other_beginning(bench: Bench, by_circuit: Mapping[str, Sequence[Sequence[str]]]) -> Iterator[Remedy]:
    """Have a circuit begin at the one outlet that feeds all it lists, where none other begins or all change places."""
    found: dict[str, str] = {}
    for name in by_circuit:
        outlets = {way[0] for ref in bench.file.circuits[name].feeds if (way := bench.context.circuits.way_to(ref))}
        if len(outlets) != 1:
            return
        found[name] = outlets.pop()
    others = {circuit.from_ for name, circuit in bench.file.circuits.items() if name not in found}
    if len(set(found.values())) == len(found) and not others & set(found.values()):
        changes = tuple(Put(("circuits", name, "from"), outlet) for name, outlet in found.items())
        yield Remedy("circuit", changes, tags=tuple(found), notes=(RESTATED,))


def _on_all(bench: Bench, ways: Sequence[Sequence[str]]) -> list[Run]:
    """Return the lines that lie on every one of these ways, from the outlet on."""
    runs = [_runs(bench, way) for way in ways]
    return [run for run in runs[0] if all(run in other for other in runs[1:])] if runs else []


def _runs(bench: Bench, way: Iterable[str]) -> list[Run]:
    return [(a, b) for a, b in pairwise(way) if tag_of(a) == tag_of(b) and bench.is_line(a)]


def _joined_to(bench: Bench, end: str) -> str | None:
    """Return the one port that a line's end goes into."""
    others = [ref for joint in bench.graph.joints_at.get(end, ()) for ref in joint.refs if ref != end]
    return others[0] if len(others) == 1 else None


def _exchanged(bench: Bench, one: Run, other: Run) -> Iterator[Remedy]:
    """Yield the change that leads each of two lines to where the other goes."""
    here, there = _joined_to(bench, one[1]), _joined_to(bench, other[1])
    if here is None or there is None or one[0] == other[0]:
        return
    near = bench.distance(one[0], other[0])
    far = bench.distance(one[1], other[1])
    if near is not None and far is not None and near < far and one[0] != one[1]:
        yield from _exchanged(bench, one[::-1], other[::-1])
    changes: list[Change] = []
    for end, old, new in ((one[1], here, there), (other[1], there, here)):
        apart, _ = bench.unjoin(end, old)
        changes += [*apart, *bench.join(end, new)]
    tags = (tag_of(one[0]), tag_of(other[0]))
    yield Remedy("uncross", tuple(changes), tags=tags, notes=tuple(bench.old_way(*tags)))


def moved_upstream(bench: Bench, run: Run, free: str) -> Iterator[Remedy]:
    """Yield the changes that hang a line on another port, and close the one it leaves if need be."""
    left = _joined_to(bench, run[0])
    if left is None:
        return
    apart, _ = bench.unjoin(run[0], left)
    base = [*apart, *bench.join(run[0], free)]
    notes = tuple(bench.old_way(tag_of(run[0])))
    for plug in closers(bench, left):
        yield Remedy("move", (*base, *plug.changes), plug.parts, (tag_of(run[0]),), 1, notes)
        break
    yield Remedy("move", tuple(base), tags=(tag_of(run[0]),), notes=notes)


def _unlinked(bench: Bench, way: Sequence[str]) -> Iterator[Remedy]:
    """Yield each line on the way left out, with its two ports closed, the one in the middle first."""
    runs = _runs(bench, way)
    middle = (len(runs) - 1) / 2.0
    for _, run in sorted(enumerate(runs), key=lambda each: abs(each[0] - middle)):
        yield from _without(bench, run)


def _without(bench: Bench, run: Run) -> Iterator[Remedy]:
    ports = [_joined_to(bench, end) for end in run]
    if None in ports:
        return
    changes: list[Change] = [Drop(("lines", tag_of(run[0])))]
    parts: list[str] = []
    for end, port in zip(run, ports, strict=True):
        if port is None or bench.is_line(port):
            return
        apart, _ = bench.unjoin(end, port)
        plug = next(closers(bench, port), None)
        if plug is None:
            return
        changes += [change for change in apart if change.path[:2] != ("lines", tag_of(run[0]))]
        changes += plug.changes
        parts += plug.parts
    yield Remedy("leave out", tuple(changes), tuple(parts), (tag_of(run[0]),))


def looped(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Take one line of the circle out and close its ports, the one named last in the file first."""
    order = {tag: number for number, tag in enumerate(bench.file.lines)}
    runs = _runs(bench, finding.evidence.get("loop", ()))
    for run in sorted(runs, key=lambda run: -order.get(tag_of(run[0]), 0))[:_MOST_LINES]:
        yield from _without(bench, run)


def one_outlet(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Hang some of the brakes on an outlet that feeds none."""
    outlet = finding.evidence.get("outlet")
    brakes = finding.evidence.get("brakes", ())
    ways = {ref: _runs(bench, bench.context.circuits.way_to(ref)) for ref in brakes}
    downstream: dict[Run, int] = {}
    for way in ways.values():
        for run in way:
            downstream[run] = downstream.get(run, 0) + 1
    runs = [run for run, count in downstream.items() if count < len(brakes)]
    runs.sort(key=lambda run: (abs(2 * downstream[run] - len(brakes)), bench.context.circuits.distance[run[0]]))
    free = [
        ref
        for ref, end in bench.graph.ends.items()
        if is_outlet(end) and ref != outlet and not _feeds(bench, ref) and _for_brakes(bench, ref, str(outlet))
    ]
    for run, other in list(product(runs, free))[:_MOST_LINES]:
        yield from _hung_on(bench, run, other)


def _for_brakes(bench: Bench, ref: str, outlet: str) -> bool:
    """Return whether an outlet is known to be meant for brakes, as `outlet` is: an idle clutch cylinder is free too.

    Known is the other outlet of one cylinder, one at which a stated circuit begins that lists a brake, and that of the
    only other cylinder of a pedal box with two rods; of the only other one at all, if the build has a clutch beside.
    """
    if tag_of(ref) == tag_of(outlet):
        return True
    stated = [circuit.feeds for circuit in bench.file.circuits.values() if circuit.from_ == ref]
    if stated:
        return any(_is(bench, feed, BRAKES) for feeds in stated for feed in feeds)
    boxes = {_pedal_box(bench, tag_of(ref)), _pedal_box(bench, tag_of(outlet))}
    box = next(iter(boxes)) if len(boxes) == 1 else None
    part = bench.part(box) if box is not None else None
    if part is not None:
        return sum(port.mechanical for port in part.ports.values()) == 2
    idle = [end.ref for end in bench.graph.ends.values() if is_outlet(end) and not _feeds(bench, end.ref)]
    clutch = any(_is(bench, end, {"slave cylinder"}) for end in bench.context.circuits.distance)
    return boxes == {None} and idle == [ref] and clutch


def _is(bench: Bench, ref: str, kinds: Collection[str]) -> bool:
    part = bench.part(tag_of(ref))
    return part is not None and part.kind in kinds


def _pedal_box(bench: Bench, cylinder: str) -> str | None:
    """Return the tag of the pedal box whose rod pushes a master cylinder."""
    for ref in bench.graph.ends:
        if tag_of(ref) == cylinder:
            for joint in bench.graph.joints_at.get(ref, ()):
                for end in joint.ends:
                    if _is(bench, end.ref, {"pedal box"}):
                        return end.tag
    return None


def _feeds(bench: Bench, outlet: str) -> bool:
    network = bench.context.circuits.of(outlet)
    return network is None or bool(network.consumers)


def _hung_on(bench: Bench, run: Run, outlet: str) -> Iterator[Remedy]:
    """Yield the changes that hang a line on an outlet; what closed that goes into the port that the line leaves."""
    left = _joined_to(bench, run[0])
    if left is None:
        return
    closer = _joined_to(bench, outlet) if bench.graph.joined(outlet) else ""
    if closer == "":
        yield from moved_upstream(bench, run, outlet)
        return
    part = bench.part(tag_of(closer)) if closer is not None else None
    if closer is None or part is None or len(part.fluid_ports()) != 1:
        return
    steps = bench.reach(bench.graph.ends[closer], bench.graph.ends[left])
    if steps is not None:
        changes: list[Change] = []
        for end, old in ((run[0], left), (closer, outlet)):
            changes += bench.unjoin(end, old)[0]
        changes += bench.join(run[0], outlet)
        more, parts = bench.chained(closer, left, steps)
        tags = (tag_of(run[0]), tag_of(closer))
        notes = tuple(bench.old_way(*tags))
        yield Remedy("uncross", (*changes, *more), parts, tags, len(steps), notes)
    if part.kind in ("plug", "cap"):
        opened = (Drop(("components", tag_of(closer))), *without_joints(bench, tag_of(closer)))
        for moved in moved_upstream(bench, run, outlet):
            yield moved._replace(changes=(*opened, *moved.changes), tags=(*moved.tags, tag_of(closer)))


def turned(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Turn a one-way part round."""
    inlet, outlet = finding.evidence.get("inlet"), finding.evidence.get("outlet")
    if isinstance(inlet, str) and isinstance(outlet, str):
        yield Remedy("turn", tuple(bench.renamed({inlet: outlet, outlet: inlet})), tags=(tag_of(inlet),))


def turned_round(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Turn a plain fitting with two ports round, where it was fitted the wrong way."""
    for tag in dict.fromkeys(map(tag_of, finding.at)):
        part = bench.part(tag)
        if part is None or tag not in bench.file.components or part.one_way is not None or part.outlets:
            continue
        ports = part.fluid_ports()
        if len(ports) == 2 and len(part.passages) == 1 and part.kind in ("adapter", "union", "bulkhead union", "elbow"):
            first, second = (f"{tag}.{port.name}" for port in ports)
            changes = bench.renamed({first: second, second: first})
            if changes:
                yield Remedy("turn", tuple(changes), tags=(tag,))


def wrong_body(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Have a plug, switch or gauge be on the body of what it is screwed into: it can be on no other."""
    for ref in finding.at:
        tag = tag_of(ref)
        part = bench.part(tag)
        entry = bench.file.components.get(tag)
        if part is None or entry is None or entry.on is None or len(part.fluid_ports()) != 1:
            continue
        if part.kind in ("plug", "cap", "pressure switch", "gauge") and port_of(ref) in part.ports:
            yield Remedy("body", (Drop(("components", tag, "on")),), tags=(tag,))

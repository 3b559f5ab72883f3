"""Ways to bring two ends together that nothing joins: straight, by a tube, by a hose, by a union."""

from collections.abc import Iterator, Sequence

from fitcheck.build.graph import End
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.part import Part, Port
from fitcheck.changes import Change, Plain, Put
from fitcheck.remedies.bench import Bench, bare, fitted_end, tube_end
from fitcheck.remedies.cures.fixings import unions
from fitcheck.remedies.remedy import Remedy, fresh_tag

TO_MEASURE = "its length has to be measured on the car"
_MOST_TUBES = 2
_MOST_HOSES = 6


def connections(bench: Bench, near: str, far: str, hose: bool = True) -> Iterator[Remedy]:
    """Yield ways to join two ends, the one with the fewest parts first. `near` is the side that feeds."""
    ends = bench.graph.ends
    if near not in ends or far not in ends or near == far:
        return
    one, other = bare(ends[near]), bare(ends[far])
    if one.tube_end and other.tube_end:
        yield from unions(bench, near, far)
        return
    if bench.seals(one, other):
        yield Remedy("join", tuple(bench.join(near, far, _hose_ends(bench, near, far))), added_joints=1)
    if one.tube_end or other.tube_end:
        return
    moving = bench.body_of(near) != bench.body_of(far)
    if not moving:
        yield from lines(bench, one, other)
    if hose:
        direct = list(hoses(bench, one, other))
        yield from direct or hoses_with_adapters(bench, one, other)


def lines(bench: Bench, one: End, other: End) -> Iterator[Remedy]:
    """Yield a new line between two ports, of the tube that the build uses most."""
    tag = fresh_tag(bench.build, "line", other.ref)
    fitting = (tube for tube in bench.tubes if all(bench.seals(tube_end(tube), end) for end in (one, other)))
    for tube, _ in zip(fitting, range(_MOST_TUBES), strict=False):
        entry: Plain = {"from": one.ref, "to": other.ref, "tube": tube.id}
        yield Remedy("line", (Put(("lines", tag), entry),), parts=(tube.id,), added_joints=2, notes=(TO_MEASURE,))


def hoses(bench: Bench, one: End, other: End) -> Iterator[Remedy]:
    """Yield a new hose between two ports."""
    for part, from_, to in fitting_hoses(bench, one, other):
        yield _hose(bench, part, one.ref, other.ref, from_, to)


def hoses_with_adapters(
    bench: Bench,
    one: End,
    other: End,
    changes: Sequence[Change] = (),
    kind: str = "hose",
    tags: tuple[str, ...] = (),
    least: float | None = None,
) -> Iterator[Remedy]:
    """Yield hoses that reach both ends with adapters at one or both: the fewest adapters first, one hose for each form.

    `changes` come with each of them; `kind` and `tags` are those of the remedy; `least` is as for `Bench.reaching`.
    """
    found: list[tuple[int, int, Remedy]] = []
    seen: set[object] = set()
    for part in bench.reaching(one.ref, other.ref, least):
        ports = part.fluid_ports()
        form = tuple((port.thread and port.thread.key, port.gender, port.seat, port.tube, port.eye) for port in ports)
        if form in seen or {port.name for port in ports} != {"from", "to"}:
            continue
        seen.add(form)
        for first, second in (ports, ports[::-1]):
            near, far = bench.reach(one, fitted_end(part, first)), bench.reach(other, fitted_end(part, second))
            if near is not None and far is not None:
                made = _hung(bench, part, (one.ref, first.name, near), (other.ref, second.name, far))
                whole = made._replace(kind=kind, tags=tags, changes=(*changes, *made.changes))
                found.append((len(near) + len(far), len(found), whole))
    yield from (remedy for _, _, remedy in sorted(found, key=lambda each: each[:2])[:_MOST_HOSES])


def _hung(bench: Bench, part: Part, *sides: tuple[str, str, Sequence[tuple[str, str, str]]]) -> Remedy:
    """Return the hose with the adapters of both sides, each from the build's end to the hose's."""
    hose = fresh_tag(bench.build, "hose", sides[1][0])
    changes: list[Change] = []
    parts: list[str] = [part.id]
    entry: dict[str, Plain] = {"part": part.id}
    joints = 2
    for ref, name, steps in sides:
        here, taken = ref, [hose]
        for part_id, near, far in steps:
            tag = fresh_tag(bench.build, "adapter", ref, taken)
            taken.append(tag)
            changes += [Put(("components", tag), bench.component(part_id)), *bench.join(here, f"{tag}.{near}")]
            here = f"{tag}.{far}"
            parts.append(part_id)
            joints += 1
        entry[name] = here
    return Remedy("hose", (*changes, Put(("hoses", hose), entry)), tuple(parts), (), joints, (TO_MEASURE,))


def fitting_hoses(bench: Bench, one: End, other: End, least: float | None = None) -> list[tuple[Part, Port, Port]]:
    """Return hoses of which one end goes on `one` and the other on `other`, with these two ends in this order."""
    found = []
    for part in bench.reaching(one.ref, other.ref, least):
        ports = part.fluid_ports()
        for first, second in (ports, ports[::-1]):
            if bench.seals(fitted_end(part, first), one) and bench.seals(fitted_end(part, second), other):
                found.append((part, first, second))
                break
        if len(found) == _MOST_HOSES:
            break
    return found


def _hose(bench: Bench, part: Part, near: str, far: str, first: Port, second: Port) -> Remedy:
    tag = fresh_tag(bench.build, "hose", far)
    ends = {first.name: near, second.name: far}
    entry: dict[str, Plain] = {"part": part.id, **{name: ends[name] for name in ("from", "to") if name in ends}}
    changes: list[Change] = [Put(("hoses", tag), entry)]
    return Remedy("hose", tuple(changes), parts=(part.id,), added_joints=2, notes=(TO_MEASURE,))


def feed_hoses(bench: Bench, pairs: Sequence[tuple[str, str]]) -> Iterator[Remedy]:
    """Yield feed hoses between outlets of reservoirs and feeds of master cylinders, one for each pair."""
    changes: list[Change] = []
    parts: list[str] = []
    for outlet, feed in pairs:
        ends = bench.graph.ends
        found = next(fitting_feed_hoses(bench, ends[outlet], ends[feed]), None)
        if found is None:
            return
        part, first, second = found
        tag = fresh_tag(bench.build, "feed", feed)
        named = {first: outlet, second: feed}
        changes.append(Put(("hoses", tag), {"part": part.id, "from": named["from"], "to": named["to"]}))
        parts.append(part.id)
    if changes:
        yield Remedy("feed hose", tuple(changes), tuple(parts), added_joints=2 * len(parts), notes=(TO_MEASURE,))


def fitting_feed_hoses(bench: Bench, outlet: End, feed: End) -> Iterator[tuple[Part, str, str]]:
    """Yield feed hoses that go on both, with the names of the ends at the outlet and at the feed."""
    for part in bench.feed_hoses:
        ports = part.fluid_ports()
        if {port.name for port in ports} != {"from", "to"}:
            continue
        for first, second in (ports, ports[::-1]):
            if bench.seals(fitted_end(part, first), outlet) and bench.seals(fitted_end(part, second), feed):
                yield part, first.name, second.name


def _hose_ends(bench: Bench, *refs: str) -> frozenset[str]:
    """Return those of the ends that are a hose's: a hose can say itself where it goes."""
    return frozenset(ref for ref in refs if tag_of(ref) in bench.file.hoses and port_of(ref) in ("from", "to"))

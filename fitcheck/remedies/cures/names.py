"""Slips of the pen: a part or a port that nothing is called by, an acceptance that is stale."""

from collections.abc import Iterator

from fitcheck.build.graph import End
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.part import LOOSE, Part
from fitcheck.changes import Drop, Put
from fitcheck.checks.findings import Finding
from fitcheck.naming import nearest
from fitcheck.remedies.bench import OWN_WORK, PLAIN, Bench, bare, fitted_end, tube_end
from fitcheck.remedies.remedy import Remedy


def part(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Write the part that was most likely meant; leave a nut, sleeve or bolt to be chosen."""
    wrong = finding.evidence.get("part")
    for unknown in bench.graph.unknown_parts:
        if unknown.part_id != wrong or unknown.tag != finding.at[0]:
            continue
        path = unknown.path
        if path[-1] in ("nut", "sleeve"):
            end = f"{path[1]}.{path[3]}"
            yield Remedy("nut", tuple(bench.unstated(end, (str(path[-1]),))), tags=(str(path[1]),))
        elif path[-1] == "bolt":
            yield Remedy("bolt", (Drop(path),))
        else:
            yield from _meant(bench, unknown.part_id, unknown.tag, path)


def _meant(bench: Bench, wrong: str, tag: str, path: tuple[str | int, ...]) -> Iterator[Remedy]:
    known = [part_id for part_id in bench.shelf.ids() if _suits(bench, bench.shelf.get(part_id), tag)]
    found = nearest(wrong, known)
    if found is not None and _same_figures(bench, wrong, found):
        yield Remedy("name", (Put(path, found),), parts=(found,), tags=(tag,), notes=(f"{wrong} read as {found}",))
    for part_id in _plain_that_fit(bench, known, tag):
        if part_id != found:
            note = f"{wrong} read as {part_id}"
            yield Remedy("name", (Put(path, part_id),), parts=(part_id,), tags=(tag,), notes=(note,))


def _same_figures(bench: Bench, wrong: str, found: str) -> bool:
    """Return whether a slip may be taken for a part: of cylinders and valves only if no figure of its name differs."""
    part = bench.shelf.get(found)
    if part is None or part.kind not in OWN_WORK:
        return True
    return [char for char in wrong if char.isdigit()] == [char for char in found if char.isdigit()]


def _plain_that_fit(bench: Bench, known: list[str], tag: str) -> Iterator[str]:
    """Yield plain fittings, hoses and tubes that seal at every joint of a tag.

    Of what does a work of its own, a caliper or a cylinder, only the builder knows which. All ports of a fitting are
    named by the file, so that none is left open.
    """
    line, hose = tag in bench.file.lines, tag in bench.file.hoses
    named = {"from", "to"} if line or hose else {port_of(ref) for ref in bench.places if tag_of(ref) == tag}
    if line:
        yield from (
            tube.id for tube in bench.tubes if all(_seals_at(bench, tube_end(tube, tag), tag, n) for n in named)
        )
        return
    for part_id in known:
        part = bench.shelf.get(part_id)
        if part is None or not (hose or part.kind in PLAIN):
            continue
        if {port.name for port in part.fluid_ports()} != named:
            continue
        if all(_seals_at(bench, fitted_end(part, part.ports[name], tag), tag, name) for name in named):
            yield part_id


def _seals_at(bench: Bench, end: End, tag: str, name: str) -> bool:
    ref = f"{tag}.{name}"
    others = [other for joint in bench.graph.joints_at.get(ref, ()) for other in joint.ends if other.ref != ref]
    return bool(others) and all(other.known and bench.seals(end, other) for other in others)


def _suits(bench: Bench, part: Part | None, tag: str) -> bool:
    """Return whether a part could stand at this tag: of a fit kind, with every port that the file names of it."""
    if part is None:
        return False
    if tag in bench.file.lines:
        return part.kind == "tube"
    hose = part.kind in ("hose", "feed hose")
    if hose != (tag in bench.file.hoses) or part.kind in LOOSE:
        return False
    named = {port_of(ref) for ref in bench.places if tag_of(ref) == tag}
    return named <= set(part.ports)


def port(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Write the port that was most likely meant, or else one that is open and fits; a circuit may list one too many."""
    wrong = finding.evidence.get("reference")
    meant = finding.evidence.get("assumed")
    for unknown in bench.graph.unknown_refs:
        if unknown.ref != wrong:
            continue
        likely = (meant, *_ports_like(bench, unknown.ref), *_that_fit(bench, unknown.path))
        for found in dict.fromkeys(likely):
            if isinstance(found, str):
                note = f"{wrong} read as {found}"
                yield Remedy("name", (Put(unknown.path, found),), tags=(tag_of(found),), notes=(note,))
        if unknown.path[0] == "circuits" and "feeds" in unknown.path:
            yield Remedy("unlist", (Drop(unknown.path),), notes=(f"{wrong} is taken off the list",))


def _that_fit(bench: Bench, path: tuple[str | int, ...]) -> Iterator[str]:
    """Yield the open ends that would seal with what the file joins the unknown one to."""
    if path[0] in ("lines", "hoses") and len(path) == 3:
        partner = f"{path[1]}.{path[2]}"
    elif path[0] == "joints":
        found = [ref for ref, paths in bench.places.items() if any(p[:2] == path[:2] and p != path for p in paths)]
        if len(found) != 1:
            return
        partner = found[0]
    else:
        return
    end = bench.graph.ends.get(partner)
    if end is None:
        return
    own = bare(end)
    for ref, other in bench.graph.ends.items():
        if not bench.graph.joined(ref) and ref != partner and bench.seals(own, other):
            yield ref


def _ports_like(bench: Bench, ref: str) -> Iterator[str]:
    tag = tag_of(ref)
    if tag not in bench.graph.fitted:
        match = nearest(tag, bench.graph.fitted)
        if match is None:
            return
        tag = match
    refs = [end for end in bench.graph.ends if tag_of(end) == tag]
    match = nearest(port_of(ref), [port_of(end) for end in refs])
    free = [end for end in refs if not bench.graph.joined(end)]
    yield from (f"{tag}.{match}",) if match else ()
    yield from free


def acceptance(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Take out an acceptance that nothing is left of."""
    for index, entry in enumerate(bench.file.accept):
        if entry.rule == finding.evidence.get("rule") and entry.at == finding.evidence.get("at"):
            yield Remedy("acceptance", (Drop(("accept", index)),))

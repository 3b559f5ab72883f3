"""Another part in the place of one: the same thing with the right port, seal, material or bleed screw."""

from collections.abc import Iterator
from functools import partial
from itertools import islice
from typing import Final

from fitcheck.build.assemble import assemble
from fitcheck.build.graph import End
from fitcheck.build.hose_reach import hangs, need_of
from fitcheck.build.load import reread
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import Part
from fitcheck.changes import Change, Put, changed_tree, merged
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding
from fitcheck.checks.joint_words import joined
from fitcheck.measures import no_shorter
from fitcheck.remedies.bench import OWN_WORK, Bench, fitted_end
from fitcheck.remedies.remedy import Remedy
from fitcheck.remedies.replacements import Replacement, like_for_like

Step = tuple[str, str, str]
"""An adapter: its id, and its ports towards the first end and the second."""
_MOST: Final = 8
_MOST_CLOSERS: Final = 4
_CLOSERS: Final = frozenset({"plug", "cap"})
"""Kinds that do the same work, whichever of them the port takes."""
_TAPPED: Final = frozenset({"pressure switch", "gauge"})
"""Kinds that read the pressure wherever they sit, and so may sit on adapters."""


def exchanged(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit another part that goes where the present one should, at each of the things that the finding names.

    First with all that the file states of the lines around it, then with their flares, nuts and sleeves left to be
    chosen.
    """
    for tag in dict.fromkeys(map(tag_of, finding.at)):
        if tag not in bench.graph.fitted:
            continue
        found = list(_as_it_is(bench, bench.context, tag, []))
        yield from found
        loose = _stated_around(bench, tag)
        if loose and not found:
            build = bench.build
            document = changed_tree(build.document, merged(loose))
            yield from _as_it_is(bench, Context(assemble(reread(build, document))), tag, loose)


def _as_it_is(bench: Bench, context: Context, tag: str, loose: list[Change]) -> Iterator[Remedy]:
    section = bench.graph.fitted[tag].section
    same = (found for found in like_for_like(context, tag) if not _a_guess(found))
    for found in islice(same, _MOST):
        changes: list[Change] = [Put((section, tag, "tube" if section == "lines" else "part"), found.part.id)]
        changes += bench.renamed({f"{tag}.{old}": f"{tag}.{new}" for old, new in found.renamed})
        yield Remedy("part", (*changes, *loose), (found.part.id,), (tag,), notes=tuple(_unknown(found)))


def hose_that_hangs(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit a hose of another length with the same ends that reaches everywhere and bends no tighter than it may.

    Of those the shortest come first. Hose bought by length is cut to what is needed.
    """
    found = next((each for each in bench.context.reaches if each.tag == finding.at[0]), None)
    if found is None or found.far is None:
        return
    notes = tuple(f"{field} is not known: it may take more" for field in found.missing)
    if found.part.length is None:
        needed = no_shorter(need_of(found, bench.graph.unit).length_mm or 0.0, bench.graph.unit)
        yield Remedy("length", (Put(("hoses", found.tag, "length"), needed),), (), (found.tag,), notes=notes)
        return
    same = like_for_like(bench.context, found.tag, ("length",), partial(hangs, found))
    for each in sorted(same, key=lambda each: each.part.length or 0.0)[:_MOST]:
        changes: list[Change] = [Put(("hoses", found.tag, "part"), each.part.id)]
        changes += bench.renamed({f"{found.tag}.{old}": f"{found.tag}.{new}" for old, new in each.renamed})
        more = tuple(_unknown(each))
        yield Remedy("part", tuple(changes), (each.part.id,), (found.tag,), notes=(*notes, *more))


def _a_guess(found: Replacement) -> bool:
    """Return whether a part does a work of its own and less is known of it than of the one it would replace."""
    return found.part.kind in OWN_WORK and any(now is not None and then is None for _, now, then in found.differs)


def _unknown(found: Replacement) -> Iterator[str]:
    fields = [field.replace("_", " ") for field, now, then in found.differs if now is None or then is None]
    if fields:
        yield f"compare {joined(fields)} of {found.part.id} with the part it replaces: the catalogs do not tell"


def _stated_around(bench: Bench, tag: str) -> list[Change]:
    """Return the changes that leave flare, nut and sleeve open at the lines that end at this component."""
    refs = [ref for ref in bench.graph.ends if tag_of(ref) == tag]
    ends = [end for ref in refs for joint in bench.graph.joints_at.get(ref, ()) for end in joint.ends if end.tube_end]
    return [change for end in ends for change in bench.unstated(end.ref)]


def otherwise_closed(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Close the port with a cap for a plug or a plug for a cap; or with another switch or gauge, even on adapters."""
    joint = bench.joint_of.get(frozenset(finding.at))
    if joint is None or joint.kind != "pair" or len(joint.ends) != 2:
        return
    for own, there in (joint.ends, joint.ends[::-1]):
        part = own.fitted.part
        if part is not None and part.kind in _CLOSERS | _TAPPED and len(part.fluid_ports()) == 1:
            found = list(_closers_on(bench, part, there))
            for closer, steps in sorted(found, key=lambda each: len(each[1]))[:_MOST_CLOSERS]:
                yield _closed_with(bench, own, there, closer, steps)


def _closers_on(bench: Bench, part: Part, there: End) -> Iterator[tuple[Part, tuple[Step, ...]]]:
    """Yield parts that do the same work, and the adapters from the port to each; switches and gauges alone take any."""
    for kind in sorted(_CLOSERS) if part.kind in _CLOSERS else (part.kind,):
        for other in bench.shelf.of_kind(kind):
            ports = other.fluid_ports()
            if other.id == part.id or len(ports) != 1:
                continue
            end = fitted_end(other, ports[0])
            steps = bench.reach(there, end) if kind in _TAPPED else () if bench.seals(there, end) else None
            if steps is not None:
                yield other, steps


def _closed_with(bench: Bench, own: End, there: End, closer: Part, steps: tuple[Step, ...]) -> Remedy:
    tag = own.fitted.tag
    new = f"{tag}.{closer.fluid_ports()[0].name}"
    changes: list[Change] = [Put(("components", tag, "part"), closer.id)]
    parts: tuple[str, ...] = ()
    if steps:
        more, parts = bench.chained(there.ref, new, steps)
        changes += [*bench.unjoin(there.ref, own.ref)[0], *more]
    elif new != own.ref:
        changes += bench.renamed({own.ref: new})
    return Remedy("part", tuple(changes), (closer.id, *parts), (tag,), added_joints=len(steps))


def other_tube(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit another tube where the wall of this one cannot be formed so; a flare stated wrongly needs none."""
    if "wanted" not in finding.evidence:
        yield from exchanged(bench, finding)

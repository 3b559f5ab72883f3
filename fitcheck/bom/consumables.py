"""What the work uses up: clips along the lines, fluid, sealant for taper threads, caps on open tube ends.

Whatever the build's `consumables` leaves out is counted from the build.

- Clips: one for each 300 mm of a line, begun ones included, each in the middle of its stretch. So no two are further
  apart, and none is further than 150 mm from a fitting. None on a line of 150 mm or less, which its two fittings hold.
  Common practice, no source. What print has is about this: 300 mm for fuel lines (a speedway rule book, 2010); 16 in
  (406 mm) for 1/4 in tube, a fifth less with fittings in it (MIL-H-8891A, table II); a clip before and after each
  connection (a guide to small-bore tubing).
- Fluid: see `fitcheck.bom.fluid`.
- Sealant: one piece for up to fifty joints of which both sides are taper threads. Common practice, no source.
- Dust caps: two for each line, on from flaring until it is fitted. Common practice, no source.

Clips of the build's own components are in its bill and are taken off those that are counted here. A line that such
clips hold, by their `at`, gets only what still hangs free between them: see `fitcheck.build.clip_places`. A stated clip
or cap is for the tubes that it fits; other tubes get one from the catalogs.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from fitcheck.bom.fluid import families, fluid_needs
from fitcheck.bom.need import Need, Use, merged
from fitcheck.bom.record import Length
from fitcheck.bom.stated import stated_part
from fitcheck.build.clip_places import ClipPlan, clip_plan, clips_at
from fitcheck.build.clips import SPACING_MM, clips_along, clips_fitted, fits_tube, take_clips
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import run_of
from fitcheck.build.supplies import Clips, Consumable, Consumables
from fitcheck.build.volumes import volumes
from fitcheck.catalog.part import Part
from fitcheck.catalog.shelf import Shelf
from fitcheck.measures import given, spacing_text
from fitcheck.standards.sizes import size_name

JOINTS_PER_SEALANT: Final = 50
"""How many taper joints one piece of sealant is enough for: common practice, no source."""
CAPS_PER_LINE: Final = 2
"""One on each end of a line: common practice, no source."""
_PRACTICE: Final = "common practice, no source"
_GAPS: Final = "clips: only where those that the build places leave a line free"


def consumables(graph: PortGraph, lengths: Mapping[str, Length]) -> tuple[Need, ...]:
    """Return what the work on a build uses up, one need for each part. `lengths` are those of lines and cut hoses."""
    wanted = graph.build.file.consumables or Consumables.model_construct()
    lines = [
        _Line(tag, item.part.od if item.part is not None else None, lengths.get(tag, _NO_LENGTH))
        for tag, item in graph.fitted.items()
        if item.section == "lines"
    ]
    held = volumes(graph, {tag: run_mm(length) for tag, length in lengths.items()})
    return merged(
        [
            *_clips(graph, wanted.clips or Clips.model_construct(), lines),
            *fluid_needs(graph.build, held),
            *_sealant(graph, wanted.sealant or Consumable.model_construct(), families(graph.build)),
            *_caps(graph.build.shelf, wanted.caps or Consumable.model_construct(), lines),
        ]
    )


def run_mm(length: Length) -> float | None:
    """Return how long a line is from seat to seat [mm], or else how long it is cut; None if neither is known."""
    return length.run_mm if length.run_mm is not None else length.mm


class _Line(NamedTuple):
    """A line: its tag, its tube's outside diameter [mm] and its length, as far as they are known."""

    tag: str
    od: float | None
    length: Length


_NO_LENGTH: Final = Length(unknown="its length is not known")


def _clips(graph: PortGraph, wanted: Clips, lines: Sequence[_Line]) -> Iterator[Need]:
    spacing = float(wanted.spacing or SPACING_MM)
    source = _PRACTICE if wanted.spacing is None else "consumables.clips.spacing"
    each, least = (spacing_text(mm, graph.unit, given) for mm in (spacing, spacing / 2))
    words = f"clips: one for each {each} of line, none on {least} or less: {source}"
    chosen = _by_size(graph.build.shelf, "clip", wanted.part, lines)
    plans = _held(graph, lines)
    holding = {clip.tag for plan in plans.values() for clip in plan.placed}
    there = [part for tag, part in clips_fitted(graph).items() if tag not in holding]
    fitted, listed = {part.id: part for part in there}, Counter(part.id for part in there)
    for line in lines:
        need, length = chosen[line.od], run_mm(line.length)
        if length is None:
            reason = line.length.unknown or ""
            yield need._replace(unknown=((line.tag, reason),), why=(*need.why, words))
            continue
        if line.tag in plans:
            if lacking := len(plans[line.tag].proposed):
                yield need._replace(uses=(Use(line.tag, lacking, "work"),), why=(*need.why, words, _GAPS))
            continue
        counted = clips_along(length, spacing)
        lacking = counted - take_clips(listed, fitted, line.od, counted)
        less = () if lacking == counted else ("clips: less those that the build has as components",)
        if lacking:
            yield need._replace(uses=(Use(line.tag, lacking, "work"),), why=(*need.why, words, *less))


def _held(graph: PortGraph, lines: Sequence[_Line]) -> dict[str, ClipPlan]:
    """Return the clips of each line that the build places some on."""
    if all(at is None for at in clips_at(graph).values()):
        return {}
    plans = ((line.tag, clip_plan(graph, run_of(graph, line.tag))) for line in lines)
    return {tag: plan for tag, plan in plans if plan is not None and plan.placed}


def _sealant(graph: PortGraph, wanted: Consumable, fluids: frozenset[str]) -> Iterator[Need]:
    quantity, source = wanted.quantity, "sealant: consumables.sealant.quantity"
    if quantity is None:
        joints = sum(
            joint.kind == "pair"
            and not joint.assumed
            and all(end.port and end.port.seat == "taper" for end in joint.ends)
            for joint in graph.joints
        )
        quantity = -(-joints // JOINTS_PER_SEALANT)
        source = f"sealant: one for up to {JOINTS_PER_SEALANT} taper joints, here {joints}: {_PRACTICE}"
    if not quantity:
        return
    shelf = graph.build.shelf
    proof = (part for part in shelf.of_kind("sealant") if fluids <= set(part.fluid_families or fluids))
    need = stated_part(shelf, "sealant", wanted.part) or _chosen(
        next(proof, None), "sealant", "sealant for taper threads"
    )
    yield need._replace(
        uses=(Use("", quantity, "work"),),
        why=(source, "sealant: what the makers of the parts and the local code say of taper joints comes first"),
    )


def _caps(shelf: Shelf, wanted: Consumable, lines: Sequence[_Line]) -> Iterator[Need]:
    if wanted.quantity == 0:
        return
    chosen = _by_size(shelf, "dust cap", wanted.part, lines)
    if wanted.quantity is None:
        for line in lines:
            words = f"dust caps: {CAPS_PER_LINE} for each line: {_PRACTICE}"
            need = chosen[line.od]
            yield need._replace(uses=(Use(line.tag, CAPS_PER_LINE, "work"),), why=(*need.why, words))
        return
    words = "dust caps: consumables.caps.quantity" + (", of each size" if len(chosen) > 1 else "")
    for need in chosen.values() or [_for_tube(shelf, "dust cap", wanted.part, None)]:
        yield need._replace(uses=(Use("", wanted.quantity, "work"),), why=(*need.why, words))


def _by_size(shelf: Shelf, kind: str, stated: str | None, lines: Sequence[_Line]) -> dict[float | None, Need]:
    """Return the clip or cap, with no amounts yet, for each size of tube."""
    return {od: _for_tube(shelf, kind, stated, od) for od in dict.fromkeys(line.od for line in lines)}


def _for_tube(shelf: Shelf, kind: str, stated: str | None, od: float | None) -> Need:
    """Return the part that is stated, if it fits, or else the first on the shelf that does."""
    need, part = stated_part(shelf, kind, stated), shelf.get(stated or "")
    if need is not None and (need.unlisted or part is None or fits_tube(part, od)):
        return need
    tube = f"{size_name(od)} tube" if od is not None else "tube of unknown size"
    sized = (part for part in shelf.of_kind(kind) if part.for_hose is None and part.inside is not None)
    found = next((part for part in sized if od is not None and fits_tube(part, od)), None)
    chosen = _chosen(found, kind, f"{kind} for {tube}")
    return chosen if need is None else chosen._replace(why=(f"{stated} does not fit {tube}",))


def _chosen(part: Part | None, kind: str, wanted: str) -> Need:
    return Need(part.id, part.kind, part.description, "each") if part is not None else Need(None, kind, wanted, "each")

"""The sheet of one hose as records, free of wording: what to order or cut, how it hangs in every position, how to fit.

Lengths in mm, angles in degrees. A hose is fitted in this order: the end that turns the hose with it when it is screwed
in comes first; without one, or with two, the end on the chassis. The other end is turned until no twist is left.

Source: length under pressure and slack: see `fitcheck.build.hose_reach`. Order: derived, common practice, no source.
"""

from collections.abc import Iterator, Sequence
from typing import Final, Literal, NamedTuple

from fitcheck.build.fixings import fixings
from fitcheck.build.graph import PortGraph
from fitcheck.build.hose_curve import free_curve
from fitcheck.build.hose_reach import SLACK, Reach, Reaches, Span, need_of
from fitcheck.build.load import CHASSIS
from fitcheck.catalog.part import Port
from fitcheck.making.sheet import EndName, Remark

Holds = Literal["screws in", "eye", "nut", "barb", "unknown"]
_ROUNDING_MM: Final = 1e-6
_TWIST_TOLD_DEG: Final = 0.5
"""A twist that is told: an angle is told to the half degree."""


class HoseEnd(NamedTuple):
    """One end of a hose.

    Attributes:
        name: `from` or `to`.
        joined: what it goes to; None if that is not known.
        body: the body that this is on; None if it is not known what it goes to.
        holds: how it is held; `screws in` turns the hose with it, a `nut` turns in it while it is held still.
        clip: the hose clip on a barb; None if there is no barb or no catalog has one.
        clip_wanted: the clip in words; empty without a barb.
    """

    name: EndName
    joined: str | None
    body: str | None
    holds: Holds
    clip: str | None = None
    clip_wanted: str = ""


class HosePose(NamedTuple):
    """A hose in one position of its ends.

    Attributes:
        where: the position: `at rest`, `with axle in droop`.
        chord_mm: how far apart the ends are, straight across.
        twist_deg: how far it is twisted from rest, right-handed seen from its `from` end.
        slack_mm, slack: what is left of its length, in mm and as a share; None if its length is not known.
        pressed_slack_mm: what is left under pressure, when it is shortest.
        reaches: it is long enough, under pressure too; None if its length is not known.
        radius_mm: the smallest radius of its curve; infinite if it is straight, None if it has none or is not known.
        sag_mm: how far the curve bows out.
    """

    where: str
    chord_mm: float
    twist_deg: float
    slack_mm: float | None = None
    slack: float | None = None
    pressed_slack_mm: float | None = None
    reaches: bool | None = None
    radius_mm: float | None = None
    sag_mm: float | None = None


class HoseSheet(NamedTuple):
    """What one hose has to be, and how it hangs.

    Attributes:
        tag: the hose.
        part, description, kind: what it is; the id alone if no catalog has it.
        ends: `from` and `to`.
        length_mm: free length; `length_field` is the field that says it. None if nothing does.
        cut: it is bought by length and cut to that.
        pressed_mm: its length under pressure, at the least; a feed hose is under none.
        shrinks: the share of its length that it loses.
        bend_radius_mm: the smallest that its part allows.
        needed_mm: the free length to order or cut at least; None if it is not known where its ends are.
        governs, governs_where: `reach` or `bend`, and the position that asks for so much.
        poses: every position, rest first; empty if they are not known.
        far, near, twisted: those in which its ends are farthest apart, nearest, and in which it is twisted most.
        first: the end to fit first.
        missing: fields without which something of this is not, or not wholly, known.
        faults: why it cannot be used so.
        concerns: what to look at by hand.
    """

    tag: str
    part: str
    description: str
    kind: str
    ends: tuple[HoseEnd, HoseEnd]
    length_mm: float | None = None
    length_field: str = ""
    cut: bool = False
    pressed_mm: float | None = None
    shrinks: float = 0.0
    bend_radius_mm: float | None = None
    needed_mm: float | None = None
    governs: str = ""
    governs_where: str = ""
    poses: tuple[HosePose, ...] = ()
    far: HosePose | None = None
    near: HosePose | None = None
    twisted: HosePose | None = None
    first: EndName = "from"
    missing: tuple[str, ...] = ()
    faults: tuple[Remark, ...] = ()
    concerns: tuple[Remark, ...] = ()


def hose_sheets(graph: PortGraph, tags: Sequence[str]) -> tuple[HoseSheet, ...]:
    """Return the sheets of the hoses named."""
    reaches = Reaches(graph)
    return tuple(_sheet(graph, reaches, tag) for tag in tags)


def _sheet(graph: PortGraph, reaches: Reaches, tag: str) -> HoseSheet:
    item = graph.fitted[tag]
    part = item.part
    ends = (_end(graph, reaches, tag, "from"), _end(graph, reaches, tag, "to"))
    found = reaches.of(tag)
    if part is None or found is None:
        return HoseSheet(tag, item.part_id, "", "", ends, faults=(Remark("hose-unknown", {"part": item.part_id}),))
    need, length = need_of(found, graph.unit), found.length_mm
    bare = HoseSheet(tag, part.id, part.description, part.kind, ends)
    made = bare._replace(
        length_mm=length,
        length_field=f"parts.{part.id}.length" if part.length is not None else f"hoses.{tag}.length",
        cut=part.length is None and (part.kind == "feed hose" or length is not None),
        pressed_mm=length * (1.0 - found.shrinks) if length is not None and found.shrinks else None,
        shrinks=found.shrinks,
        bend_radius_mm=part.bend_radius,
        needed_mm=need.length_mm,
        governs=need.governs,
        governs_where=need.where,
        poses=tuple(_pose(found, span) for span in reaches.spans(tag)),
        far=_pose_if(found, found.far),
        near=_pose_if(found, found.near),
        twisted=_pose_if(found, found.twisted),
        first=_first(ends),
        missing=need.missing,
    )
    return made._replace(faults=tuple(_faults(made)), concerns=tuple(_concerns(made)))


def _end(graph: PortGraph, reaches: Reaches, tag: str, name: EndName) -> HoseEnd:
    own = graph.ends.get(f"{tag}.{name}")
    ref = f"{tag}.{name}"
    joint = next(iter(graph.joints_at.get(ref, ())), None)
    joined = next((end.ref for end in joint.ends if end.ref != ref), None) if joint is not None else None
    holds = _holds(own.port if own is not None else None)
    body = reaches.body(ref) if joined is not None else None
    clip = fixings(graph, joint).one("clip") if joint is not None and holds == "barb" else None
    if clip is None:
        return HoseEnd(name, joined, body, holds)
    return HoseEnd(name, joined, body, holds, clip.part.id if clip.part is not None else None, clip.wanted)


def _holds(port: Port | None) -> Holds:
    if port is None:
        return "unknown"
    if port.seat == "push-on":
        return "barb"
    if port.eye is not None:
        return "eye"
    if port.gender is None:
        return "unknown"
    return "screws in" if port.gender == "external" else "nut"


def _first(ends: tuple[HoseEnd, HoseEnd]) -> EndName:
    """Return the end to fit first."""
    screwed = [end.name for end in ends if end.holds == "screws in"]
    if len(screwed) == 1:
        return screwed[0]
    fixed = [end.name for end in ends if end.body == CHASSIS]
    return fixed[0] if fixed else "from"


def _pose_if(found: Reach, span: Span | None) -> HosePose | None:
    return _pose(found, span) if span is not None else None


def _pose(found: Reach, span: Span) -> HosePose:
    length = found.length_mm
    bare = HosePose(span.where, span.chord_mm, span.twist_deg)
    if length is None:
        return bare
    slack = length - span.chord_mm
    left = length * (1.0 - found.shrinks) - span.chord_mm
    curve = free_curve(length, span.chord_mm)
    return bare._replace(
        slack_mm=slack,
        slack=slack / length if length else None,
        pressed_slack_mm=left,
        reaches=left >= -_ROUNDING_MM,
        radius_mm=curve.radius_mm if curve is not None else None,
        sag_mm=curve.sag_mm if curve is not None else None,
    )


def _faults(made: HoseSheet) -> Iterator[Remark]:
    """Yield why a hose cannot be used: it does not reach, or bends tighter than it may."""
    far, near, allowed = made.far, made.near, made.bend_radius_mm
    if far is not None and far.reaches is False:
        usable = made.pressed_mm if made.pressed_mm is not None else made.length_mm
        yield Remark("does-not-reach", {"chord": far.chord_mm, "where": far.where, "usable": usable or 0.0})
    radius = near.radius_mm if near is not None else None
    if near is not None and radius is not None and allowed is not None and radius < allowed - _ROUNDING_MM:
        yield Remark("bends-tight", {"radius": radius, "where": near.where, "allowed": allowed})


def _concerns(made: HoseSheet) -> Iterator[Remark]:
    """Yield what to look at: hardly any slack, a hose that its ends wind up, twist put in, a clip not known."""
    far, twisted = made.far, made.twisted
    if far is not None and far.reaches and far.slack is not None and far.slack < SLACK * (1.0 - 1e-9):
        yield Remark("slack-small", {"slack": far.slack, "where": far.where, "wanted": SLACK})
    if all(end.holds == "screws in" for end in made.ends):
        yield Remark("both-screw-in", {})
    if twisted is not None and abs(twisted.twist_deg) >= _TWIST_TOLD_DEG:
        yield Remark("twisted", {"twist": abs(twisted.twist_deg), "where": twisted.where})
    for end in made.ends:
        if end.clip_wanted and end.clip is None:
            yield Remark("clip-unknown", {"end": f"{made.tag}.{end.name}", "wanted": end.clip_wanted})

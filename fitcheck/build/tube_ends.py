"""What sits on each end of a line: flare, nut and sleeve, stated or chosen, and how large all that is."""

from typing import NamedTuple

from fitcheck.build.end_sizes import Across, NutSize, across, nut_size
from fitcheck.build.fixings import Fixing, Fixings, fixings
from fitcheck.build.graph import End, Joint, PortGraph


class TubeEnd(NamedTuple):
    """One end of a line, as its build states it or its joint needs it; None where neither is known.

    `joint` is the first that it is part of, `formed` says that it is flared already, with all that belongs behind it.
    """

    own: End
    joint: Joint | None
    flare: str | None
    nut: Fixing | None
    sleeve: Fixing | None
    size: NutSize
    across: Across
    formed: bool


def tube_end(graph: PortGraph, ref: str, od_mm: float) -> TubeEnd:
    """Return one end of a line whose tube has this outside diameter [mm]."""
    own = graph.ends[ref]
    joint = next(iter(graph.joints_at.get(ref, ())), None)
    needs = fixings(graph, joint) if joint is not None and joint.kind == "tube" else Fixings()
    nut, sleeve, stated = _nut(graph, own, needs), needs.one("sleeve"), own.stated
    flare = (stated.flare if stated is not None else None) or needs.flare
    measured = float(stated.across) if stated is not None and stated.across is not None else None
    part, ring = nut.part if nut is not None else None, sleeve.part if sleeve is not None else None
    wide = across(part, ring, flare, od_mm, measured)
    formed = stated is not None and stated.formed is True
    return TubeEnd(own, joint, flare, nut, sleeve, nut_size(part, od_mm), wide, formed)


def _nut(graph: PortGraph, own: End, needs: Fixings) -> Fixing | None:
    """Return the nut of an end: what its joint needs, else what the file states; None if neither is known."""
    if (item := needs.one("nut")) is not None:
        return item
    stated = own.stated.nut if own.stated is not None else None
    if stated is None:
        return None
    part = graph.build.shelf.get(stated)
    return Fixing("nut", 1, part if part is not None and part.kind == "nut" else None, stated, stated=True)

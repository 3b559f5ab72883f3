"""What each end of a line gets: flare, nut, sleeve, and how large all that is."""

from math import sqrt
from typing import Final, Literal, NamedTuple

from fitcheck.build.fixings import NUT_DIAMETERS, Fixing, Fixings, fixings
from fitcheck.build.graph import End, Joint, PortGraph
from fitcheck.catalog.part import Part, Port
from fitcheck.making.sheet import EndName, EndPlan, Fitting
from fitcheck.standards.flares import allowance_mm, flare_size
from fitcheck.standards.nuts import nuts
from fitcheck.standards.sizes import same_tube

_CORNERS: Final = 2.0 / sqrt(3.0)
"""Across corners over across flats of a hexagon."""


class _Size(NamedTuple):
    """Length of a nut [mm], whether it is the usual one, and the least it can be: its thread's length or diameter."""

    mm: float
    assumed: bool
    least_mm: float


def end_plan(graph: PortGraph, tag: str, name: EndName, tube: Part) -> EndPlan:
    """Return what one end of a line gets, as far as the build and the catalogs say."""
    own = graph.ends[f"{tag}.{name}"]
    joint = next(iter(graph.joints_at.get(own.ref, ())), None)
    joined = next((end.ref for end in joint.ends if end.ref != own.ref), None) if joint is not None else None
    needs = fixings(graph, joint) if joint is not None and joint.kind == "tube" else None
    flare = _stated_flare(own) or (needs.flare if needs is not None else None)
    nut = _nut(graph, own, needs)
    if flare is None or nut is None:
        return EndPlan(name, joined, flare, 0.0, "", reason=_why(own, joint))
    od = tube.od or 0.0
    used = allowance_mm(flare, od)
    sleeve = needs.one("sleeve") if needs is not None else None
    size = _nut_size(nut, od)
    flared = flare_size(flare, od)
    across = _across(nut.part, od)
    known = flared is not None and across is not None
    return EndPlan(
        name=name,
        joined=joined,
        flare=flare,
        allowance_mm=used.mm,
        allowance_mark=used.mark,
        nut=_fitting(nut),
        sleeve=_fitting(sleeve) if sleeve is not None else None,
        nut_mm=size.mm,
        nut_assumed=size.assumed,
        nut_least_mm=size.least_mm,
        across_mm=max(across or 0.0, flared.diameter_max_mm if flared is not None else 0.0),
        across_known=known,
    )


def _nut(graph: PortGraph, own: End, needs: Fixings | None) -> Fixing | None:
    """Return the nut of an end: what its joint needs, else what the file states; None if neither is known."""
    if needs is not None and (item := needs.one("nut")) is not None:
        return item
    stated = own.stated.nut if own.stated is not None else None
    if stated is None:
        return None
    part = graph.build.shelf.get(stated)
    return Fixing("nut", 1, part if part is not None and part.kind == "nut" else None, stated, stated=True)


def _why(own: End, joint: Joint | None) -> str:
    """Return why flare or nut of an end are not known."""
    if joint is None:
        return "it is joined to nothing known"
    if joint.assumed:
        return "what it is joined to had to be guessed"
    other = next((end for end in joint.ends if end.ref != own.ref), own)
    if not other.known:
        return f"no catalog has what {other.tag} is: {other.fitted.part_id}"
    if other.port is None:
        return "two tube ends meet without a union"
    if other.port.seat is None:
        return f"parts.{other.fitted.part_id}.ports.{other.port.name}.seat is not given"
    return f"the {other.port.seat} port {other.ref} takes no flared tube"


def _stated_flare(end: End) -> str | None:
    return end.stated.flare if end.stated is not None else None


def _fitting(fixing: Fixing) -> Fitting:
    part = fixing.part
    port = _port(part) if part is not None else None
    word: Literal["nut", "sleeve"] = "sleeve" if fixing.word == "sleeve" else "nut"
    return Fitting(
        word, part.id if part is not None else None, fixing.wanted, port.gender if port is not None else None
    )


def _port(part: Part) -> Port | None:
    return next(iter(part.ports.values()), None)


def _nut_size(nut: Fixing, od_mm: float) -> _Size:
    port = _port(nut.part) if nut.part is not None else None
    least = port.thread.nominal_mm if port is not None and port.thread is not None else 0.0
    if port is not None and port.length is not None:
        least = max(least, float(port.length))
    if nut.part is not None and nut.part.length is not None:
        return _Size(float(nut.part.length), False, float(nut.part.length))
    return _Size(max(NUT_DIAMETERS * od_mm, least), True, least)


def _across(nut: Part | None, od_mm: float) -> float | None:
    """Return the largest diameter of a nut [mm]: its own, else across the corners of the largest usual hexagon."""
    if nut is None:
        return None
    if nut.outside is not None:
        return float(nut.outside)
    port = _port(nut)
    if port is None or port.thread is None:
        return None
    flats = [
        max(row.hexes_mm)
        for row in nuts()
        if row.seat == port.seat
        and row.thread == port.thread.designation
        and same_tube(row.od_mm, od_mm)
        and row.hexes_mm
    ]
    return max(flats) * _CORNERS if flats else None

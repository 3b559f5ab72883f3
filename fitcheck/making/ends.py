"""What each end of a line gets: flare, nut, sleeve, and how large all that is."""

from typing import Literal

from fitcheck.build.end_sizes import port_of
from fitcheck.build.fixings import Fixing
from fitcheck.build.graph import End, Joint, PortGraph
from fitcheck.build.tube_ends import tube_end
from fitcheck.catalog.part import Part
from fitcheck.making.sheet import EndName, EndPlan, Fitting
from fitcheck.standards.flares import allowance_mm


def end_plan(graph: PortGraph, tag: str, name: EndName, tube: Part) -> EndPlan:
    """Return what one end of a line gets, as far as the build and the catalogs say."""
    od = tube.od or 0.0
    end = tube_end(graph, f"{tag}.{name}", od)
    joints = end.joint.ends if end.joint is not None else ()
    joined = next((other.ref for other in joints if other.ref != end.own.ref), None)
    flare, nut = end.flare, end.nut
    if flare is None or nut is None:
        return EndPlan(name, joined, flare, 0.0, "", reason=_why(end.own, end.joint))
    used = allowance_mm(flare, od)
    return EndPlan(
        name=name,
        joined=joined,
        flare=flare,
        allowance_mm=0.0 if end.formed else used.mm,
        allowance_mark="formed already: nothing is used up" if end.formed else used.mark,
        nut=_fitting(nut),
        sleeve=_fitting(end.sleeve) if end.sleeve is not None else None,
        nut_mm=end.size.mm,
        nut_assumed=end.size.assumed,
        nut_least_mm=end.size.least_mm,
        across_mm=end.across.mm,
        across_known=end.across.known,
        formed=end.formed,
    )


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


def _fitting(fixing: Fixing) -> Fitting:
    part = fixing.part
    port = port_of(part) if part is not None else None
    word: Literal["nut", "sleeve"] = "sleeve" if fixing.word == "sleeve" else "nut"
    return Fitting(
        word, part.id if part is not None else None, fixing.wanted, port.gender if port is not None else None
    )

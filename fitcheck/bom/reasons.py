"""Why what a joint needs cannot be told: each reason names the field that would let it be."""

from fitcheck.build.graph import End, Joint
from fitcheck.standards.seats import seat as seat_named


def why_not_counted(joint: Joint) -> str | None:
    """Return why the fixings of `joint` cannot be counted, or None if they can be."""
    if joint.assumed:
        return "what it is joined to had to be guessed"
    if joint.kind == "mechanical":
        return None
    if joint.kind == "tubes":
        return "two tube ends meet without a union"
    for end in joint.ends:
        if not end.known:
            return no_such_part(end)
    if joint.kind == "banjo":
        return _why_no_bolt(joint)
    ends = joint.ends[:1] if joint.kind == "tube" else joint.ends
    return next((reason for end in ends if (reason := _why_no_seat(end, joint.kind == "tube"))), None)


def no_such_part(end: End) -> str:
    """Return that the catalogs do not say what `end` is."""
    return f"no catalog has what {end.tag} is: {end.fitted.part_id}"


def _why_no_bolt(joint: Joint) -> str | None:
    port = joint.ends[0].port
    if port is not None and port.thread is None and joint.bolt is None:
        return missing(joint.ends[0], "thread")
    eyeless = next((end for end in joint.ends[1:] if end.port is not None and end.port.eye is None), None)
    return missing(eyeless, "eye") if eyeless is not None and joint.bolt is None else None


def _why_no_seat(end: End, tube: bool) -> str | None:
    if end.port is None or end.port.mechanical:
        return f"{end.ref} carries force, not fluid" if tube else None
    if end.port.seat is None:
        return missing(end, "seat")
    if tube and not seat_named(end.port.seat).tube_end:
        return f"the {end.port.seat} port {end.ref} takes no flared tube"
    return None


def missing(end: End, key: str) -> str:
    """Return that the catalog does not give a field of the port at `end`."""
    name = f".ports.{end.port.name}" if end.port is not None else ""
    return f"parts.{end.fitted.part_id}{name}.{key} is not given"

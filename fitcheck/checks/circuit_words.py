"""Words that circuit rules share."""

from collections.abc import Iterable

from fitcheck.build.circuits import Network
from fitcheck.build.graph import PortGraph
from fitcheck.checks.joint_words import joined
from fitcheck.naming import in_order


def few(refs: Iterable[str]) -> str:
    """Return names, sorted, as a list in a sentence; of more than three only two and how many more."""
    names = sorted(refs, key=in_order)
    return joined(names) if len(names) <= 3 else f"{names[0]}, {names[1]} and {len(names) - 2} more"


def doubt(graph: PortGraph, network: Network) -> str:
    """Return what is missing to be sure of a network: the unknown part in it, or the other side of a joint."""
    unknown = min((ref for ref in network.ends if not graph.ends[ref].known), key=in_order, default=None)
    return "a port that exists" if unknown is None else f"parts.{graph.ends[unknown].fitted.part_id}"


def only_port(graph: PortGraph, ref: str) -> bool:
    """Return whether this end is the one fluid port of its part: if it is open, nothing is joined to the part."""
    part = graph.ends[ref].fitted.part
    return part is not None and not graph.ends[ref].tube_end and len(part.fluid_ports()) == 1


def way_missing(ref: str) -> str:
    """Return what a rule says is missing where it would follow the fluid to an end that nothing feeds."""
    return f"a way from an outlet to {ref}"


def one_joint(ref: str) -> str:
    """Return what is missing where an answer would rest on an end that is joined more than once."""
    return f"one joint at {ref} instead of several"

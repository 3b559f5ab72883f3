"""Words that circuit rules share."""

from collections.abc import Iterable

from fitcheck.build.circuits import Network
from fitcheck.build.graph import PortGraph
from fitcheck.checks.joint_words import joined


def few(refs: Iterable[str]) -> str:
    """Return names as a list in a sentence; of more than three only the first two and how many more."""
    names = list(refs)
    return joined(names) if len(names) <= 3 else f"{names[0]}, {names[1]} and {len(names) - 2} more"


def doubt(graph: PortGraph, network: Network) -> str:
    """Return what is missing to be sure of a network: the unknown part in it, or the other side of a joint."""
    for ref in network.ends:
        if not graph.ends[ref].known:
            return f"parts.{graph.ends[ref].fitted.part_id}"
    return "a port that exists"


def way_missing(ref: str) -> str:
    """Return what a rule says is missing where it would follow the fluid to an end that nothing feeds."""
    return f"a way from an outlet to {ref}"


def one_joint(ref: str) -> str:
    """Return what is missing where an answer would rest on an end that is joined more than once."""
    return f"one joint at {ref} instead of several"

"""A fault of a joint, and the words that faults share."""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from fitcheck.catalog.part import Port
from fitcheck.checks.findings import NO_EVIDENCE, Level
from fitcheck.standards.sizes import size_name


class Fault(NamedTuple):
    """One thing wrong with a joint, and the rule that would say so."""

    rule: str
    message: str
    evidence: Mapping[str, Any] = NO_EVIDENCE
    level: Level = "error"


def mm(value: float) -> str:
    """Return a length in mm as people write it: `4.76 mm`, `8 mm`."""
    return f"{value:.2f}".rstrip("0").rstrip(".") + " mm"


def joined(words: Iterable[str]) -> str:
    """Return words as a list in a sentence: `a, b and c`."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def describe(port: Port) -> str:
    """Return a port in a few words: `M10x1 internal, bubble, 4.75 mm tube`."""
    thread = port.thread.designation if port.thread else "no thread"
    words = [f"{thread} {port.gender}" if port.gender else thread]
    if port.seat:
        words.append(port.seat)
    if port.tube is not None:
        words.append(f"{size_name(port.tube)} tube")
    if port.hose is not None:
        words.append(f"{size_name(port.hose)} hose")
    if port.eye is not None:
        words.append(f"{size_name(port.eye)} eye")
    return ", ".join(words)

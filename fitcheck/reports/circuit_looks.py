"""How the circuits of a build look on every drawing: a colour and a dash pattern each, so that neither speaks alone."""

from collections.abc import Mapping
from typing import Final, NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.reports.drawing import CIRCUITS

DASHES: Final = ("", "4 1", "1.6 0.9", "5 0.9 1.1 0.9", "7 1.2", "3 0.9 1 0.9 1 0.9", "0.9 0.9")
"""Dash patterns [mm on paper], in turn with the colours: one more than these, so that forty-two circuits differ."""
FEED: Final = "0.5 1"


class CircuitLook(NamedTuple):
    """A network of fluid as it is drawn: its name, its colour and its dash pattern, empty if it is drawn through."""

    name: str
    colour: str
    dash: str


NO_CIRCUIT: Final = CircuitLook("under no pressure, or fed by nothing", "soft", FEED)
"""What holds fluid but belongs to no pressure outlet: reservoir feeds, lines that nothing feeds."""


def circuit_looks(circuits: Circuits) -> Mapping[str, CircuitLook]:
    """Return the look of every end that an outlet puts under pressure, the circuits in the order of the file."""
    found: dict[str, CircuitLook] = {}
    for index, network in enumerate(circuits.pressurised()):
        name = circuits.name_of(network)
        words = f"circuit {name}" if name is not None else f"from {', '.join(network.outlets)}"
        look = CircuitLook(words, CIRCUITS[index % len(CIRCUITS)], DASHES[index % len(DASHES)])
        found |= dict.fromkeys(network.ends, look)
    return found

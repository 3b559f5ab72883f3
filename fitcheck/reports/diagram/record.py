"""What a circuit diagram is made of, before and after it has its places. Lengths in mm, y grows downwards."""

from itertools import pairwise
from typing import Literal, NamedTuple

from fitcheck.catalog.part import Part
from fitcheck.reports.diagram.crossings import Segment, count_crossings
from fitcheck.reports.drawing import Spot

GRID_MM = 0.5
"""Everything stands on this grid in height, so that what is in line is exactly in line."""
Room = Literal["components", "lines", "hoses", "joints"]


class Pin(NamedTuple):
    """One opening as it is drawn: `ref` and the number of its joint, None if nothing is joined to it.

    A port that takes two joints has two pins. `above` and `below` are the words over and under its wire, `marks` the
    numbers of the findings there, `told` what is said of it to those who hear the drawing.
    """

    ref: str
    joint: int | None
    above: str
    below: str
    told: str
    marks: tuple[int, ...] = ()
    mechanical: bool = False
    colour: str = "ink"

    @property
    def pressed(self) -> bool:
        """True if some outlet makes pressure here."""
        return self.colour != "ink"


class Node(NamedTuple):
    """A component, line or hose, or a joint of more than two ends, as one symbol.

    `words` are the lines over the symbol, the tag first. A reservoir with several outlets in use is one node for each,
    near what it feeds.
    """

    tag: str
    room: Room
    kind: str
    words: tuple[str, ...]
    told: str
    pins: tuple[Pin, ...]
    part: Part | None = None
    marks: tuple[int, ...] = ()


class Wire(NamedTuple):
    """A joint, or one arm of a joint of several ends: from a pin of a node to a pin of another."""

    joint: int
    a: int
    a_pin: int
    b: int
    b_pin: int


class Scheme(NamedTuple):
    """All nodes and wires of a build. `joints` names the ends of each joint, `told` what is said of it."""

    nodes: tuple[Node, ...]
    wires: tuple[Wire, ...]
    joints: tuple[tuple[str, ...], ...]
    told: tuple[str, ...]


class PlacedPin(NamedTuple):
    """A pin with the place where its wire meets the node.

    The pin of a cylinder that a tower stands on is at its top: `foot` is where its line goes down into the cylinder.
    """

    pin: Pin
    x: float
    y: float
    foot: float | None = None


class Placed(NamedTuple):
    """A node with its box, which holds all its words and marks, and the frame of its symbol inside the box.

    `left` and `right` are its pins; of an `upright` one, a storey of a tower, they are above and below. `top` are the
    pins of a cylinder that towers stand on; it has its words under it.
    """

    node: Node
    x: float
    y: float
    width: float
    height: float
    body: tuple[float, float, float, float]
    left: tuple[PlacedPin, ...]
    right: tuple[PlacedPin, ...]
    top: tuple[PlacedPin, ...] = ()
    upright: bool = False


class Run(NamedTuple):
    """How a joint is drawn: one way of points for each of its wires."""

    joint: int
    ways: tuple[tuple[Spot, ...], ...]
    mechanical: bool = False
    colour: str = "ink"


class Layout(NamedTuple):
    """A diagram with all its places."""

    width: float
    height: float
    placed: tuple[Placed, ...]
    runs: tuple[Run, ...]

    @property
    def segments(self) -> list[Segment]:
        """The straight pieces of all joints."""
        return [(run.joint, a, b) for run in self.runs for way in run.ways for a, b in pairwise(way)]

    @property
    def crossings(self) -> int:
        """How often wires of two joints cross each other."""
        return count_crossings(self.segments)

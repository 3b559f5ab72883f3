"""What feeds a cylinder by one way only stands upright above it: reservoir, hose, adapter, cylinder.

A tower is a chain from a feed of a cylinder to a reservoir through things with two ends. It is drawn from top to
bottom, its words on the right of the line, the marks of its symbols on the left; it needs no column.
"""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from fitcheck.reports.diagram.boxes import MARK_MM, marks_mm, pin_mm, symbol_mm, words_over
from fitcheck.reports.diagram.record import Node, Pin, Placed, PlacedPin, Run, Scheme
from fitcheck.reports.diagram.words import SMALL_MM
from fitcheck.reports.drawing import Spot, words_mm

_MOST_TOWERS: Final = 2
PIN_ROW_MM: Final = 3.0
_TANK_MM: Final = 8.0
_ROW_MM: Final = 7.0
_GAP_MM: Final = 2.0
_APART_MM: Final = 3.0
BESIDE_MM: Final = 1.2
"""From the line or the symbol to the words beside it."""


class Floor(NamedTuple):
    """One symbol of a tower: its node, the pins towards the reservoir and towards the cylinder."""

    node: int
    up: int | None
    down: int


class Tower(NamedTuple):
    """A chain above a cylinder: the pin it feeds, its floors from top to bottom, its joints from top to bottom."""

    pin: int
    floors: tuple[Floor, ...]
    wires: tuple[int, ...]


class Size(NamedTuple):
    """What a tower takes [mm]: to the left of its line, to the right, and in height with its last wire."""

    left: float
    right: float
    high: float


def towers(scheme: Scheme) -> dict[int, tuple[Tower, ...]]:
    """Return the towers of each cylinder that has at most two, by its place."""
    at: dict[tuple[int, int], int] = {}
    for index, wire in enumerate(scheme.wires):
        at[wire.a, wire.a_pin] = at[wire.b, wire.b_pin] = index
    found = {}
    for place, node in enumerate(scheme.nodes):
        feeds = node.part.feeds if node.part is not None else ()
        pins = [pin for pin, each in enumerate(node.pins) if each.ref.rpartition(".")[2] in feeds and not each.pressed]
        stood = [tower for pin in pins if (tower := _tower(scheme, at, place, pin)) is not None]
        if stood and len(stood) <= _MOST_TOWERS:
            found[place] = tuple(stood)
    return found


def _tower(scheme: Scheme, at: dict[tuple[int, int], int], place: int, pin: int) -> Tower | None:
    floors: list[Floor] = []
    wires: list[int] = []
    here, out = place, pin
    while (index := at.get((here, out))) is not None and index not in wires:
        wire = scheme.wires[index]
        here, down = (wire.b, wire.b_pin) if (wire.a, wire.a_pin) == (here, out) else (wire.a, wire.a_pin)
        wires.append(index)
        node = scheme.nodes[here]
        joined = [other for other, each in enumerate(node.pins) if each.joint is not None]
        if node.kind == "reservoir" and joined == [down]:
            return Tower(pin, tuple(reversed([*floors, Floor(here, None, down)])), tuple(reversed(wires)))
        if len(node.pins) != 2 or len(joined) != 2 or (node.part is not None and node.part.outlets):
            return None
        out = 1 - down
        floors.append(Floor(here, out, down))
    return None


def floor_high(node: Node) -> float:
    """Return the height of a symbol of a tower with the words of its ends [mm]."""
    words = sum(line.rows for line in words_over(node)) / 2.0
    marks = MARK_MM * sum(len(pin.marks) for pin in node.pins if pin.joint is not None)
    if node.kind == "reservoir":
        stubs = sum(pin.joint is None for pin in node.pins)
        return max(words, _TANK_MM, _ROW_MM * stubs) + PIN_ROW_MM + marks
    return max(words, symbol_mm(node)) + 2.0 * PIN_ROW_MM + marks


def size(scheme: Scheme, place: int, tower: Tower) -> Size:
    """Return what a tower takes."""
    foot = scheme.nodes[place].pins[tower.pin]
    left, right = 1.0, words_mm(pin_words(foot), SMALL_MM)
    high = PIN_ROW_MM + MARK_MM * len(foot.marks)
    left = max([left, *(half_mark_mm(pin) for pin in (foot, *_joined_pins(scheme, tower)))])
    for floor in tower.floors:
        node = scheme.nodes[floor.node]
        half = half_mm(node)
        lines = words_over(node)
        right = max(right, half + BESIDE_MM + max(words_mm(line.words, line.size, line.bold) for line in lines))
        right = max([right, *(words_mm(pin_words(pin), SMALL_MM) + BESIDE_MM for pin in node.pins)])
        stubs = max((pin_mm(pin) for pin in node.pins if pin.joint is None), default=0.0)
        left = max(left, half + max(marks_mm(node.marks), stubs if node.kind == "reservoir" else 0.0))
        high += floor_high(node) + _GAP_MM
    return Size(left, right + BESIDE_MM, high + _GAP_MM)


def half_mm(node: Node) -> float:
    """Return half the width that a symbol takes in a tower [mm]."""
    return 5.0 if node.kind == "reservoir" else 3.5


def half_mark_mm(pin: Pin) -> float:
    """Return how far the marks on an upright line reach to either side [mm]."""
    return max((marks_mm((number,)) for number in pin.marks), default=0.0) / 2.0


def _joined_pins(scheme: Scheme, tower: Tower) -> Iterator[Pin]:
    for floor in tower.floors:
        yield from (pin for pin in scheme.nodes[floor.node].pins if pin.joint is not None)


def pin_words(pin: Pin) -> str:
    """Return the words of a pin on one line."""
    return " ".join(word for word in (pin.above, pin.below) if word)


def roof_mm(scheme: Scheme, place: int, stood: Sequence[Tower]) -> float:
    """Return how high the towers of a cylinder are [mm]."""
    return max(size(scheme, place, tower).high for tower in stood)


def wide_mm(scheme: Scheme, place: int, stood: Sequence[Tower]) -> tuple[float, float]:
    """Return how far the towers of a cylinder reach to the left and to the right of its middle [mm]."""
    sizes = [size(scheme, place, tower) for tower in stood]
    if len(sizes) == 1:
        return sizes[0].left, sizes[0].right
    gap = _APART_MM / 2.0
    return sizes[0].left + sizes[0].right + gap, sizes[1].left + sizes[1].right + gap


def stand(scheme: Scheme, place: int, stood: Sequence[Tower], under: Placed) -> Iterator[Placed | Run | PlacedPin]:
    """Yield the symbols and joints of the towers over a placed cylinder, and where each meets it."""
    x, y, wide, _ = under.body
    middle = x + wide / 2.0
    for index, tower in enumerate(stood):
        needs = size(scheme, place, tower)
        at, foot = middle, middle
        if len(stood) > 1:
            at = middle - _APART_MM / 2.0 - needs.right if not index else middle + _APART_MM / 2.0 + needs.left
            foot = middle + (wide / 4.0 if index else -wide / 4.0)
        pin = scheme.nodes[place].pins[tower.pin]
        yield PlacedPin(pin, at, y - PIN_ROW_MM - MARK_MM * len(pin.marks) - _GAP_MM, foot)
        yield from _floors(scheme, tower, at, y - needs.high)


def _floors(scheme: Scheme, tower: Tower, x: float, top: float) -> Iterator[Placed | Run]:
    y = top
    starts: list[float] = []
    for floor in tower.floors:
        node = scheme.nodes[floor.node]
        high = floor_high(node)
        yield _floor(node, floor, x, y, high)
        starts += [y, y + high]
        y += high + _GAP_MM
    for wire, (above, below) in zip(tower.wires, _pairs([*starts[1:], y]), strict=True):
        joint = scheme.wires[wire].joint
        yield Run(joint, (((x, above), (x, below)),))


def _pairs(numbers: Sequence[float]) -> Iterator[Spot]:
    return zip(numbers[::2], numbers[1::2], strict=True)


def _floor(node: Node, floor: Floor, x: float, y: float, high: float) -> Placed:
    """Return a symbol of a tower: its pins are above (left) and below (right)."""
    half = half_mm(node)
    up = node.pins[floor.up] if floor.up is not None else None
    down = node.pins[floor.down]
    head = PIN_ROW_MM + MARK_MM * len(up.marks) if up is not None else 0.0
    foot = PIN_ROW_MM + MARK_MM * len(down.marks)
    body = (x - half, y + head, 2.0 * half, high - head - foot)
    stubs = [pin for pin in node.pins if pin.joint is None] if node.kind == "reservoir" else []
    left = max(
        [marks_mm(node.marks), *(half_mark_mm(pin) - half for pin in node.pins), *(pin_mm(pin) for pin in stubs)]
    )
    lines = words_over(node)
    right = half + BESIDE_MM + max(words_mm(line.words, line.size, line.bold) for line in lines)
    right = max(
        [right, *(words_mm(pin_words(pin), SMALL_MM) + BESIDE_MM for pin in node.pins if pin.joint is not None)]
    )
    box = (x - half - left, y, half + left + right, high)
    tops = (PlacedPin(up, x, y),) if up is not None else ()
    open_ = tuple(PlacedPin(pin, x - half - left, body[1] + _ROW_MM * (index + 0.5)) for index, pin in enumerate(stubs))
    return Placed(node, *box, body, (*tops, *open_), (PlacedPin(down, x, y + high),), upright=True)

"""Tags, pose names and numbers of findings beside what they name, none over another."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist, floor
from typing import Final, NamedTuple

from fitcheck.build.curves import Arc, length_of, point_at
from fitcheck.checks.findings import Level
from fitcheck.reports.circuit_looks import NO_CIRCUIT, CircuitLook
from fitcheck.reports.drawing import Spot, path, text, words_mm
from fitcheck.reports.level_marks import level_mark, mark_size
from fitcheck.reports.plan.ghosts import Ghost
from fitcheck.reports.plan.labels import MOST_COST, Box, Label, Room
from fitcheck.reports.plan.paper import Paper
from fitcheck.reports.plan.routing import Way, along
from fitcheck.reports.plan.scene import Scene
from fitcheck.reports.plan.shapes import HALF
from fitcheck.reports.svg_parts import n

TAG_MM: Final = 2.5
_POSE_MM: Final = 2.0
_LINE: Final = 1.25
"""From line to line, of the size of type."""
_ALIKE_MM: Final = 0.8
"""Components that are seen so near to each other share one label."""
_MOST_LINES: Final = 6
_SHARED_MM: Final = 12.0
"""What has room neither for its name nor for a number of its own shares one with the rest of a square so wide."""
_NEAR: Final = 30.0
"""What room for a number of one thing may cost: it has to stand near."""
_TRIES_OF_NUMBERS: Final = 30_000
_PACE_MM: Final = 0.7
_MOST_ACROSS: Final = 30
_USUAL: Final = 0.9
_SHARES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Of its length: where a line's tag may stand, in this order."""
Badge = tuple[int, Level, Spot]
"""Number, level and place of a finding."""


class Words(NamedTuple):
    """Names to put beside one of several points, the best first; of many only the first, and a number for the rest."""

    names: tuple[str, ...]
    at: tuple[Spot, ...]
    size: float
    colour: str = "ink"

    @property
    def few(self) -> bool:
        """Whether all names fit on one label."""
        return len(self.names) <= _MOST_LINES

    def lines(self, number: int) -> tuple[str, ...]:
        """Return the lines of the label, if this number is next."""
        if self.few:
            return self.names
        shown = self.names[: _MOST_LINES - 1]
        return (*shown, f"and {len(self.names) - len(shown)} more: {number_words(number)}")


class Listed(NamedTuple):
    """Names that are not all on the drawing: the number that stands there, None if it found no room, and where."""

    number: int | None
    at: Spot
    names: tuple[str, ...]


class Naming(NamedTuple):
    """All words and badges of a view as text of SVG, and the boxes they take.

    `marked` are the numbers of the findings that found room, `listed` the names that have to stand below.
    """

    parts: tuple[str, ...]
    boxes: tuple[Box, ...]
    marked: tuple[int, ...]
    listed: tuple[Listed, ...]


def naming(
    scene: Scene, looks: Mapping[str, CircuitLook], paper: Paper, ghosts: Sequence[Ghost], badges: Sequence[Badge]
) -> Naming:
    """Return the words of a view: badges find room first, then components, holes, hot things, lines, poses."""
    room = _room(scene, paper, ghosts)
    leaders, shown, boxes, marked = [], [], [], []
    for number, level, at in badges:
        label = room.place([at], *mark_size(number))
        if label is None:
            continue
        leaders += _led(label, level)
        middle = (label.box.left + label.box.right) / 2.0, (label.box.top + label.box.bottom) / 2.0
        shown.append(level_mark(*middle, number, level))
        boxes.append(label.box)
        marked.append(number)
    written, listed = _placed(room, _words(scene, looks, paper, ghosts))
    for words, lines, label in written:
        leaders += _led(label, "soft")
        shown.append(_written(words, lines, label))
        boxes.append(label.box)
    return Naming((*leaders, *shown), tuple(boxes), tuple(marked), tuple(listed))


def number_words(number: int) -> str:
    """Return a number that stands for names which are listed below."""
    return f"#{number}"


Placed = tuple[Words, tuple[str, ...], Label]


def _placed(room: Room, named: Iterable[Words]) -> tuple[list[Placed], list[Listed]]:
    """Return names with their lines and their room; what has none gets a number of its own, or one with others."""
    found: list[Placed] = []
    listed: list[Listed] = []
    missed: list[Words] = []
    for words in named:
        lines = words.lines(len(listed) + 1)
        label = room.place(words.at, *_extent(lines, words.size))
        if label is None:
            missed.append(words)
            continue
        found.append((words, lines, label))
        if not words.few:
            listed.append(Listed(len(listed) + 1, words.at[0], words.names[_MOST_LINES - 1 :]))
    squares: dict[tuple[int, int], list[Words]] = {}
    for words in _numbered(room, missed, found, listed, _NEAR):
        square = floor(words.at[0][0] / _SHARED_MM), floor(words.at[0][1] / _SHARED_MM)
        squares.setdefault(square, []).append(words)
    shared = (
        Words(
            tuple(dict.fromkeys(name for words in squares[square] for name in words.names)), squares[square][0].at, 0.0
        )
        for square in sorted(squares)
    )
    left = _numbered(room, shared, found, listed, 2.0 * MOST_COST)
    return found, [*listed, *(Listed(None, words.at[0], words.names) for words in left)]


def _numbered(
    room: Room, named: Iterable[Words], found: list[Placed], listed: list[Listed], most: float
) -> list[Words]:
    """Put a number for each of these names, and return those whose numbers find no room either."""
    room.allow(_TRIES_OF_NUMBERS)
    left: list[Words] = []
    for words in named:
        number = len(listed) + 1
        lines = (number_words(number),)
        label = room.place(words.at, *_extent(lines, _POSE_MM), most=most)
        if label is None:
            left.append(words)
            continue
        found.append((words._replace(size=_POSE_MM), lines, label))
        listed.append(Listed(number, words.at[0], words.names))
    return left


def _extent(lines: Sequence[str], size: float) -> Spot:
    """Return how wide and high lines are at most."""
    wide = max(words_mm(line, size) for line in lines)
    return wide + 0.6, len(lines) * size * _LINE + 0.4


def _room(scene: Scene, paper: Paper, ghosts: Sequence[Ghost]) -> Room:
    """Return the paper with all marks and lines on it."""
    marks = list(_marks(scene, paper))
    passed = [*_passed(scene, paper)]
    for sort, rest, gone in (move for ghost in ghosts for move in ghost.moves):
        (x, y), (half, tall) = gone, HALF[sort]
        corners = [(x - half, y - tall), (x + half, y - tall), (x + half, y + tall), (x - half, y + tall)]
        passed += (*_stepped([rest, gone]), *_stepped([*corners, corners[0]]))
    room = Room(min(spot[0] for spot in (*passed, *(spot for spot, _ in marks))))
    for at, size in marks:
        room.mark(Box(at[0] - size[0], at[1] - size[1], at[0] + size[0], at[1] + size[1]))
    room.line(passed)
    return room


def _led(label: Label, colour: str) -> list[str]:
    """Return the line from words to what they name, with a dot there."""
    if label.leader is None:
        return []
    x, y = label.leader[0]
    return [path(label.leader, colour, 0.15), f'<circle cx="{n(x)}" cy="{n(y)}" r="0.4" class="f-{colour}"/>']


def _written(words: Words, lines: Sequence[str], label: Label) -> str:
    """Return words in their box, on paper that lets lines behind them show faintly."""
    box = label.box
    # the box is as wide as words can get; what stands behind them is hidden for their usual width only
    wide = (box.right - box.left) * _USUAL
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor]
    left = box.left + share * (box.right - box.left - wide)
    size = f'width="{n(wide)}" height="{n(box.bottom - box.top)}"'
    back = f'<rect x="{n(left)}" y="{n(box.top)}" {size} fill-opacity="0.8" class="f-paper"/>'
    step, x = words.size * _LINE, box.left + 0.3 + share * (box.right - box.left - 0.6)
    rows = [
        text(x, box.top + 0.2 + (index + 0.8) * step, words.size, line, anchor=label.anchor, colour=words.colour)
        for index, line in enumerate(lines)
    ]
    return f'<g data-kind="label">{back}{"".join(rows)}</g>'


def _marks(scene: Scene, paper: Paper) -> Iterator[tuple[Spot, Spot]]:
    for item in scene.items:
        yield paper.at(item.at), HALF[item.sort]
    for hole in scene.holes:
        yield paper.at(hole.middle), (1.5, 1.5)


def _passed(scene: Scene, paper: Paper) -> Iterator[Spot]:
    """Yield points along lines, hoses and hot things, close together on paper."""
    for way in scene.ways:
        for piece in way.curve:
            count = 1 + int(length_of(piece) * paper.scale / _PACE_MM) if isinstance(piece, Arc) else 1
            spots = [paper.at(point_at(piece, step / count)) for step in range(count + 1)]
            yield from _stepped(spots)
    for hot in scene.hot:
        spots = list(_stepped([paper.at(point) for point in hot.path]))
        yield spots[0]
        for a, b in pairwise(spots):
            yield from _across(a, b, hot.radius_mm * paper.scale)


def _across(a: Spot, b: Spot, radius: float) -> Iterator[Spot]:
    """Yield points across a bar at one of its points, on the way to the next."""
    length = dist(a, b) or 1.0
    count = min(int(radius / _PACE_MM), _MOST_ACROSS)
    for step in range(-count, count + 1):
        off = step * _PACE_MM / length
        yield a[0] - (b[1] - a[1]) * off, a[1] + (b[0] - a[0]) * off


def _stepped(spots: Sequence[Spot]) -> Iterator[Spot]:
    yield spots[0]
    for (x, y), (to_x, to_y) in pairwise(spots):
        count = 1 + int(dist((x, y), (to_x, to_y)) / _PACE_MM)
        yield from ((x + (to_x - x) * step / count, y + (to_y - y) * step / count) for step in range(1, count + 1))


def _words(scene: Scene, looks: Mapping[str, CircuitLook], paper: Paper, ghosts: Sequence[Ghost]) -> Iterator[Words]:
    """Yield what is named, what matters most first."""
    yield from _together((item.tag, (paper.at(item.at),), "ink") for item in scene.items)
    for hole in scene.holes:
        yield Words((hole.name,), (paper.at(hole.middle),), TAG_MM)
    for hot in scene.hot:
        ends = hot.path[len(hot.path) // 2], hot.path[0], hot.path[-1]
        yield Words((hot.name,), tuple(map(paper.at, ends)), TAG_MM, "vermillion")
    yield from _together(
        (way.tag, _stations(way, paper), looks.get(way.refs[0], NO_CIRCUIT).colour) for way in scene.ways
    )
    yield from _together(
        (
            (ghost.pose, (spot,), "soft")
            for ghost in ghosts
            if not ghost.combined and (spot := ghost.farthest) is not None
        ),
        _POSE_MM,
    )


def _stations(way: Way, paper: Paper) -> tuple[Spot, ...]:
    """Return points along a line that its tag may stand beside, its middle first."""
    length = sum(map(length_of, way.curve))
    return tuple(paper.at(along(way.curve, share * length)) for share in _SHARES)


def _together(named: Iterable[tuple[str, tuple[Spot, ...], str]], size: float = TAG_MM) -> list[Words]:
    """Return names as words by where they are, those of one colour that are in one place together, each once."""
    found: dict[tuple[int, int, str], tuple[tuple[Spot, ...], dict[str, None]]] = {}
    for name, spots, colour in named:
        square = round(spots[0][0] / _ALIKE_MM), round(spots[0][1] / _ALIKE_MM), colour
        found.setdefault(square, (spots, {}))[1][name] = None
    return [Words(tuple(names), spots, size, key[2]) for key, (spots, names) in found.items()]

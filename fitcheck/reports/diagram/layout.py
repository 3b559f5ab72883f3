"""A scheme laid out: columns, order, heights, and the ways of all wires."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from fitcheck.reports.diagram.boxes import Box, Roof, box, mm
from fitcheck.reports.diagram.channels import Turn, turns
from fitcheck.reports.diagram.folding import Fold, band_of, gutter, next_top, ranks
from fitcheck.reports.diagram.heights import STRAIGHT, heights
from fitcheck.reports.diagram.layers import columns
from fitcheck.reports.diagram.ordering import Levels, Link, levels, ordered
from fitcheck.reports.diagram.record import GRID_MM, Layout, Placed, PlacedPin, Run, Scheme
from fitcheck.reports.diagram.straighten import Stand
from fitcheck.reports.diagram.towers import Tower, roof_mm, stand, towers, wide_mm
from fitcheck.reports.drawing import Spot

_TRACK_MM: Final = 1.8
_LEAST_CHANNEL_MM: Final = 4.0


class _Sides(NamedTuple):
    """The pins of a node from top to bottom, and how far below its top each wire meets it."""

    left: tuple[int, ...]
    right: tuple[int, ...]
    rows: dict[int, int]


def laid_out(scheme: Scheme) -> Layout:
    """Return a scheme with all its places. Same scheme, same places."""
    stood = towers(scheme)
    risen = {floor.node for each in stood.values() for tower in each for floor in tower.floors}
    upright = {wire for each in stood.values() for tower in each for wire in tower.wires}
    kept = [place for place in range(len(scheme.nodes)) if place not in risen]
    number = {place: index for index, place in enumerate(kept)}
    wires = tuple(
        wire._replace(a=number[wire.a], b=number[wire.b])
        for index, wire in enumerate(scheme.wires)
        if index not in upright
    )
    ground = scheme._replace(nodes=tuple(scheme.nodes[place] for place in kept), wires=wires)
    roofs = {
        number[place]: Roof(
            roof_mm(scheme, place, each), *wide_mm(scheme, place, each), tuple(tower.pin for tower in each)
        )
        for place, each in stood.items()
    }
    layout = _Laying(ground, roofs).layout()
    return _with_towers(scheme, layout, stood, number)


def _with_towers(scheme: Scheme, layout: Layout, stood: dict[int, tuple[Tower, ...]], number: dict[int, int]) -> Layout:
    placed, runs = list(layout.placed), list(layout.runs)
    for place, each in stood.items():
        under = placed[number[place]]
        tops: list[PlacedPin] = []
        for part in stand(scheme, place, each, under):
            if isinstance(part, Placed):
                placed.append(part)
            elif isinstance(part, Run):
                runs.append(part)
            else:
                tops.append(part)
        roof = min(pin.y for pin in tops) - under.y
        placed[number[place]] = under._replace(y=under.y + roof, height=under.height - roof, top=tuple(tops))
    return layout._replace(placed=tuple(placed), runs=tuple(sorted(runs, key=lambda run: run.joint)))


class _Laying:
    def __init__(self, scheme: Scheme, roofs: dict[int, Roof]) -> None:
        self.scheme = scheme
        self.roofs = roofs
        found = columns(scheme)
        self.levels: Levels = levels(found)
        self.order = ordered(scheme, self.levels)
        self.boxes = self._boxes()
        self.sides = self._sides()
        self.tops = heights(self.levels, self.order, self.boxes, self._wants())
        self.links: list[list[Link]] = [[] for _ in self.order]
        for link in self.levels.links:
            self.links[self.levels.column[link.a]].append(link)
        self.turns: dict[Link, list[Turn]] = {}
        self.starts: list[float] = []
        self.widths: list[float] = []
        self.channels: list[float] = []
        self.lifts: list[float] = []
        self.folds: dict[int, Fold] = {}
        self._columns()

    def layout(self) -> Layout:
        """Return all places."""
        placed = tuple(self._placed(place) for place in range(len(self.boxes)))
        runs = self._runs(placed)
        high = max((each.y + each.height for each in placed), default=0.0)
        lowest = max((y for run in runs for way in run.ways for _, y in way), default=0.0)
        wide = max((start + each for start, each in zip(self.starts, self.widths, strict=True)), default=0.0)
        wide += max(((len(fold.leaves) + 1) * _TRACK_MM for fold in self.folds.values()), default=0.0)
        return Layout(wide, max(high, lowest), placed, runs)

    def _boxes(self) -> list[Box]:
        left: list[list[int]] = [[] for _ in self.scheme.nodes]
        right: list[list[int]] = [[] for _ in self.scheme.nodes]
        for link in self.levels.links:
            if link.b_pin >= 0:
                left[link.b].append(link.b_pin)
            if link.a_pin >= 0:
                right[link.a].append(link.a_pin)
        return [
            box(node, left[place], right[place], self.roofs.get(place)) for place, node in enumerate(self.scheme.nodes)
        ]

    def _sides(self) -> list[_Sides]:
        """Return the pins of each node in the order of what they lead to, so that no two wires cross there."""
        rank = {place: row for column in self.order for row, place in enumerate(column)}
        leads: dict[tuple[int, int], int] = {}
        for link in self.levels.links:
            leads[link.a, link.a_pin] = rank[link.b]
            leads[link.b, link.b_pin] = rank[link.a]
        found = []
        for place, size in enumerate(self.boxes):
            left, right = (
                tuple(sorted(side, key=lambda pin: (leads.get((place, pin), len(rank)), pin)))
                for side in (size.left, size.right)
            )
            rows = {pin: size.pin_row(side, at) for side in (left, right) for at, pin in enumerate(side)}
            found.append(_Sides(left, right, rows))
        return found

    def _row(self, place: int, pin: int) -> int:
        return self.sides[place].rows[pin] if place < len(self.sides) else 0

    def _wants(self) -> list[tuple[list[Stand], list[Stand]]]:
        wants: list[tuple[list[Stand], list[Stand]]] = [([], []) for _ in self.levels.column]
        for link in self.levels.links:
            alone = len(self.levels.right[link.a]) == 1 == len(self.levels.left[link.b])
            weight = STRAIGHT if alone else 1
            offset = self._row(link.a, link.a_pin) - self._row(link.b, link.b_pin)
            wants[link.b][0].append(Stand(link.a, offset, weight))
            wants[link.a][1].append(Stand(link.b, -offset, weight))
        return wants

    def _columns(self) -> None:
        """Set where each column starts and how wide it is, where the tracks behind it start, and what is folded."""
        rooms, tracks = [], []
        for column, links in zip(self.order, self.links, strict=True):
            self.widths.append(
                max((self.boxes[place].wide_mm for place in column if place < len(self.boxes)), default=0.0)
            )
            ends = [(self._height(link.a, link.a_pin), self._height(link.b, link.b_pin)) for link in links]
            found, count = turns(ends)
            self.turns |= dict(zip(links, found, strict=True))
            rooms.append(max((count + 1) * _TRACK_MM, _LEAST_CHANNEL_MM))
            tracks.append(count)
        spans = [self._span(column) for column in self.order]
        high = max((bottom for _, bottom in spans), default=0.0)
        bands = band_of([wide + room for wide, room in zip(self.widths, rooms, strict=True)], high)
        x, top = 0.0, 0.0
        for index, wide in enumerate(self.widths):
            if index and bands[index] != bands[index - 1]:
                x, top = self._folded(index - 1, bands, spans, top)
            lowest = min(low for band, (low, _) in zip(bands, spans, strict=True) if band == bands[index])
            self.lifts.append(top - lowest)
            self.starts.append(x)
            self.channels.append(x + wide + (rooms[index] - (tracks[index] - 1) * _TRACK_MM) / 2.0)
            x += wide + rooms[index]

    def _span(self, column: Sequence[int]) -> tuple[float, float]:
        """Return between which heights a column stands."""
        ends = [self.tops[place] + (self.boxes[place].high if place < len(self.boxes) else 0) for place in column]
        return mm(min(self.tops[place] for place in column)), mm(max(ends))

    def _folded(
        self, last: int, bands: Sequence[int], spans: Sequence[tuple[float, float]], top: float
    ) -> tuple[float, float]:
        """Fold behind a column; return where the next column starts and how high its band begins."""
        within = [span for band, span in zip(bands, spans, strict=True) if band == bands[last]]
        bottom = top + max(low for _, low in within) - min(high for high, _ in within)
        links = self.links[last]
        leaves = ranks({link.wire: self._height(link.a, link.a_pin) for link in links})
        enters = ranks({link.wire: self._height(link.b, link.b_pin) for link in links})
        right = self.starts[last] + self.widths[last] + _TRACK_MM
        self.folds[last] = Fold(right, gutter(bottom), 0.0, _TRACK_MM, leaves, enters)
        return (len(links) + 2) * _TRACK_MM, next_top(bottom, len(links), _TRACK_MM)

    def _height(self, place: int, pin: int) -> int:
        return self.tops[place] + self._row(place, pin)

    def _placed(self, place: int) -> Placed:
        node, size, sides = self.scheme.nodes[place], self.boxes[place], self.sides[place]
        column = self.levels.column[place]
        x = self.starts[column] + (self.widths[column] - size.wide_mm) / 2.0
        y = mm(self.tops[place]) + self.lifts[column]
        body = (x + size.middle_mm - size.body_mm / 2.0, y + mm(size.head), size.body_mm, mm(size.body))
        ends = (x, x + size.wide_mm)
        left, right = (
            tuple(PlacedPin(node.pins[pin], end, y + mm(sides.rows[pin])) for pin in pins)
            for end, pins in zip(ends, (sides.left, sides.right), strict=True)
        )
        return Placed(node, x, y, size.wide_mm, mm(size.high), body, left, right)

    def _runs(self, placed: Sequence[Placed]) -> tuple[Run, ...]:
        """Return the ways of all joints, in the order of the file."""
        by_wire: dict[int, list[Link]] = {}
        for link in self.levels.links:
            by_wire.setdefault(link.wire, []).append(link)
        found: dict[int, list[tuple[Spot, ...]]] = {}
        for wire, links in by_wire.items():
            found.setdefault(self.scheme.wires[wire].joint, []).append(self._way(links, placed))
        runs = []
        for each in self.scheme.wires:
            if each.joint in found:
                pin = self.scheme.nodes[each.a].pins[each.a_pin]
                runs.append(Run(each.joint, tuple(found.pop(each.joint)), pin.mechanical, pin.colour))
        return tuple(runs)

    def _way(self, links: Sequence[Link], placed: Sequence[Placed]) -> tuple[Spot, ...]:
        first, last = links[0], links[-1]
        y = self._drawn_at(first.a, first.a_pin)
        points = [(placed[first.a].x + placed[first.a].width, y)]
        for link in links:
            column = self.levels.column[link.a]
            end = self._drawn_at(link.b, link.b_pin)
            if column in self.folds:
                points += self.folds[column].way(link.wire, y, end)
            else:
                for turn in self.turns[link]:
                    x = self.channels[column] + turn.track * _TRACK_MM
                    points += [(x, y), (x, y := turn.to * GRID_MM + self.lifts[column])]
            y = end
        points.append((placed[last.b].x, y))
        return tuple(points)

    def _drawn_at(self, place: int, pin: int) -> float:
        return mm(self._height(place, pin)) + self.lifts[self.levels.column[place]]

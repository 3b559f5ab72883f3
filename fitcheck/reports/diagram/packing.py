"""Builds that fall into many parts: each part is laid out by itself, and the parts are put on one sheet.

What is joined stays together; parts that are small stand together in columns of their own, so that the circuits of one
car are in line. Sheets of paper are about 1.4 times as wide as high (ISO 216), and so is the whole, where it can be.
"""

from collections.abc import Iterator, Sequence
from math import log
from typing import Final

from fitcheck.reports.diagram.layout import laid_out
from fitcheck.reports.diagram.record import Layout, Placed, PlacedPin, Run, Scheme
from fitcheck.reports.drawing import Spot

_ONE_CAR: Final = 80
_TOGETHER: Final = 48
"""A build of so many symbols at most is laid out in common columns; parts of a larger one, so many at a time."""
_GAP_MM: Final = 9.0
_PAPER: Final = 1.414


def packed(scheme: Scheme) -> Layout:
    """Return a scheme with all its places on one sheet."""
    if not scheme.nodes:
        return Layout(0.0, 0.0, (), ())
    layouts = [laid_out(part) for part in _parts(scheme)]
    if len(layouts) == 1:
        return layouts[0]
    spots, wide, high = min(_shelved(layouts), key=lambda way: _unlike_paper(way[1], way[2]))
    placed: list[Placed] = []
    runs: list[Run] = []
    for layout, (x, y) in zip(layouts, spots, strict=True):
        placed += [moved(each, x, y) for each in layout.placed]
        runs += [_moved_run(each, x, y) for each in layout.runs]
    return Layout(wide, high, tuple(placed), tuple(sorted(runs, key=lambda run: run.joint)))


def _unlike_paper(wide: float, high: float) -> float:
    """Return how far the proportion of a sheet is from that of paper."""
    return abs(log(max(wide, 1.0) / max(high, 1.0) / _PAPER))


def _shelved(layouts: Sequence[Layout]) -> Iterator[tuple[list[Spot], float, float]]:
    """Yield ways of putting parts in rows: where each part stands, and the width and height of all."""
    widest = max(layout.width for layout in layouts)
    for count in range(1, 2 + int(3.0 * len(layouts) ** 0.5)):
        most = count * (widest + _GAP_MM)
        spots: list[Spot] = []
        x = y = row = wide = 0.0
        for layout in layouts:
            if x and x + layout.width > most:
                x, y, row = 0.0, y + row + _GAP_MM, 0.0
            spots.append((x, y))
            wide = max(wide, x + layout.width)
            x += layout.width + _GAP_MM
            row = max(row, layout.height)
        yield spots, wide, y + row


def _parts(scheme: Scheme) -> Iterator[Scheme]:
    """Yield the parts of a scheme that are laid out by themselves; what is joined to nothing comes last, one by one."""
    near: list[list[int]] = [[] for _ in scheme.nodes]
    for index, wire in enumerate(scheme.wires):
        near[wire.a].append(index)
    groups = _groups(scheme)
    most = _ONE_CAR if len(scheme.nodes) <= _ONE_CAR else _TOGETHER
    together: list[int] = []
    for group in groups:
        if len(group) == 1:
            continue
        if together and len(together) + len(group) > most:
            yield _part(scheme, near, together)
            together = []
        together += group
    if together:
        yield _part(scheme, near, together)
    yield from (_part(scheme, near, group) for group in groups if len(group) == 1)


def _groups(scheme: Scheme) -> list[list[int]]:
    """Return the nodes that are joined to each other, each group and all groups in the order of the file."""
    near: list[list[int]] = [[] for _ in scheme.nodes]
    for wire in scheme.wires:
        near[wire.a].append(wire.b)
        near[wire.b].append(wire.a)
    seen: set[int] = set()
    groups = []
    for start in range(len(scheme.nodes)):
        if start in seen:
            continue
        seen.add(start)
        group = [start]
        for here in group:
            for other in near[here]:
                if other not in seen:
                    seen.add(other)
                    group.append(other)
        groups.append(sorted(group))
    return groups


def _part(scheme: Scheme, near: Sequence[list[int]], group: Sequence[int]) -> Scheme:
    """Return some nodes of a scheme with the wires between them; `near` are the numbers of the wires of each node."""
    number = {place: index for index, place in enumerate(sorted(group))}
    own = sorted(index for place in number for index in near[place])
    wires = tuple(wire._replace(a=number[wire.a], b=number[wire.b]) for wire in (scheme.wires[index] for index in own))
    return scheme._replace(nodes=tuple(scheme.nodes[place] for place in number), wires=wires)


def moved(placed: Placed, x: float, y: float) -> Placed:
    """Return a placed node moved by so much."""
    body = placed.body
    return placed._replace(
        x=placed.x + x,
        y=placed.y + y,
        body=(body[0] + x, body[1] + y, body[2], body[3]),
        left=_moved_pins(placed.left, x, y),
        right=_moved_pins(placed.right, x, y),
        top=_moved_pins(placed.top, x, y),
    )


def _moved_pins(pins: Sequence[PlacedPin], x: float, y: float) -> tuple[PlacedPin, ...]:
    return tuple(
        pin._replace(x=pin.x + x, y=pin.y + y, foot=pin.foot + x if pin.foot is not None else None) for pin in pins
    )


def _moved_run(run: Run, x: float, y: float) -> Run:
    return run._replace(ways=tuple(tuple((a + x, b + y) for a, b in way) for way in run.ways))

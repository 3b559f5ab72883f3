"""A bent tube from above, from the side, from the front and in isometric view, as drawings to print."""

from collections.abc import Iterator
from math import hypot
from typing import Final, NamedTuple

from fitcheck.build.curves import Arc, Curve, Piece, point_at
from fitcheck.build.routes import Point
from fitcheck.making.shape import plus
from fitcheck.making.sheet import Sheet
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.make_curve import (
    FRONT,
    ISOMETRIC,
    PLAN,
    SIDE,
    Projection,
    Spot,
    controls,
    curve_of,
    direction,
    parts,
    traced,
)
from fitcheck.reports.make_labels import Labels

_PROJECTIONS: Final = (PLAN, SIDE, FRONT, ISOMETRIC)
_IN_THE_CAR: Final = (
    "Plan, from above: forward is right",
    "Side, from the car's right: forward is right",
    "Front, from ahead: the car's left is right",
    "Isometric, from behind, above and right",
)
_OF_ITS_OWN: Final = ("Plan, from above", "Side", "End", "Isometric")
_PARTS_OF: Final = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)
_SCALES: Final = (2.0, *(1.0 / (each * 10.0**size) for size in range(8) for each in _PARTS_OF))
_FREE_SCALES: Final = tuple(2.0 * 0.9**step for step in range(160))
_ROOM: Final = 10.0
"""Round each view, for its labels."""
_HEAD: Final = 5.0
_WIDE: Final = svg.PAGE_MM - 2.0 * svg.MARGIN_MM
_HALF: Final = _WIDE / 2.0
_LEAST_TUBE: Final = 0.9
"""A tube that comes out thinner is drawn this wide [mm on paper]."""
_OUTLINE: Final = 0.25
_END_ON: Final = 0.15
"""Of a direction as it is seen: less, and the tube is seen nearly from its end."""
_HIDDEN: Final = 0.98
"""Of a direction away from the eye: more, and its face is seen no longer."""
_SEAM: Final = 0.05
"""Each part is drawn this much into its neighbours [mm on paper], so that no gap shows."""


class _Cell(NamedTuple):
    """Room for a view on paper: from the left margin, its row, its size. Index into the projections."""

    view: int
    row: int
    x: float
    width: float
    most: float


_SQUARE: Final = (
    _Cell(0, 0, 0.0, _HALF, 62.0),
    _Cell(3, 0, _HALF, _HALF, 62.0),
    _Cell(1, 1, 0.0, _HALF, 62.0),
    _Cell(2, 1, _HALF, _HALF, 62.0),
)
_LONG: Final = (
    _Cell(0, 0, 0.0, _WIDE, 44.0),
    _Cell(1, 1, 0.0, _WIDE, 44.0),
    _Cell(2, 2, 0.0, _HALF, 52.0),
    _Cell(3, 2, _HALF, _HALF, 52.0),
)


class _Extent(NamedTuple):
    left: float
    low: float
    right: float
    high: float

    @property
    def size(self) -> Spot:
        return self.right - self.left, self.high - self.low


def views(made: Sheet, y: float) -> tuple[list[str], float]:
    """Return the four views beginning at `y`, and where they end; a sentence if the shape is not known."""
    curve = curve_of(made)
    if curve is None or made.tube.od_mm is None:
        return svg.block(svg.MARGIN_MM, y + 4.0, 3.4, _WIDE, _not_drawn(made))
    points = traced(curve)
    extents = [_extent(each, points, made.tube.od_mm) for each in _PROJECTIONS]
    cells = max((_SQUARE, _LONG), key=lambda cells: _scale(cells, extents))
    scale = _scale(cells, extents)
    body, y = svg.block(svg.MARGIN_MM, y + 4.0, 3.4, _WIDE, _words(made, scale))
    for row in range(cells[-1].row + 1):
        drawn = [cell for cell in cells if cell.row == row]
        tall = max(_fitted(cell, extents, scale) * extents[cell.view].size[1] for cell in drawn) + 2.0 * _ROOM
        for cell in drawn:
            body += _view(made, curve, cell, extents[cell.view], _fitted(cell, extents, scale), (y, tall))
        y += _HEAD + tall
    return body, y


def _not_drawn(made: Sheet) -> str:
    if made.given == "length":
        return "No views: only a length is given, the shape of this line is not known."
    return "No views: the shape of this line is not known, since a rotation is not given."


def _words(made: Sheet, scale: float) -> str:
    ratio = f"1 : {1.0 / scale:g}" if scale <= 1.0 else f"{scale:g} : 1"
    words = f"Plan, side and {'front' if made.given == 'points' else 'end'} {ratio}, isometric as large as it fits."
    if (made.tube.od_mm or 0.0) * scale < _LEAST_TUBE:
        words += " The tube is drawn thicker than that."
    if made.given == "points":
        return words
    return f"{words} The line is given as legs: the views have their own right and up, not the car's."


def _extent(view: Projection, points: list[Point], od: float) -> _Extent:
    spots = [view.at(point) for point in points]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    half = od / 2.0
    return _Extent(min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half)


def _scale(cells: tuple[_Cell, ...], extents: list[_Extent]) -> float:
    """Return the largest scale at which the three orthogonal views fit."""
    return next((scale for scale in _SCALES if _all_fit(cells, extents, scale)), _SCALES[-1])


def _all_fit(cells: tuple[_Cell, ...], extents: list[_Extent], scale: float) -> bool:
    return all(_fits(cell, extents[cell.view], scale) for cell in cells if cell.view != 3)


def _fits(cell: _Cell, extent: _Extent, scale: float) -> bool:
    width, height = extent.size
    return width * scale + 2.0 * _ROOM <= cell.width and height * scale + 2.0 * _ROOM <= cell.most


def _fitted(cell: _Cell, extents: list[_Extent], scale: float) -> float:
    if cell.view != 3:
        return scale
    return next((each for each in _FREE_SCALES if _fits(cell, extents[3], each)), _FREE_SCALES[-1])


def _view(
    made: Sheet, curve: Curve, cell: _Cell, extent: _Extent, scale: float, place: tuple[float, float]
) -> Iterator[str]:
    """Yield one view with its name and labels; `place` is where its row begins and how tall it is."""
    top, tall = place[0] + _HEAD, place[1]
    left = svg.MARGIN_MM + cell.x
    names = _IN_THE_CAR if made.given == "points" else _OF_ITS_OWN
    yield svg.text(left, place[0] + 3.0, 3.2, names[cell.view], bold=True)
    width, height = extent.size
    corner = left + (cell.width - width * scale) / 2.0, top + (tall + height * scale) / 2.0
    view = _Paper(_PROJECTIONS[cell.view], scale, (corner[0] - extent.left * scale, corner[1] + extent.low * scale))
    od = max((made.tube.od_mm or 0.0) * scale, _LEAST_TUBE)
    yield f'<g class="view-{cell.view}">'
    yield from _tube(curve, view, od)
    yield "</g>"
    frame = left + 3.0, top + 3.0, left + cell.width - 3.0, top + tall - 3.0
    yield from _labels(made, curve, view, Labels(_passed(curve, view), od / 2.0, frame))


class _Paper(NamedTuple):
    """A view on paper: y goes down there."""

    view: Projection
    scale: float
    origin: Spot

    def at(self, point: Point) -> Spot:
        x, y = self.view.at(point)
        return self.origin[0] + x * self.scale, self.origin[1] - y * self.scale


def _tube(curve: Curve, paper: _Paper, od: float) -> Iterator[str]:
    """Yield the tube in outline, what is nearer over what is behind."""
    drawn = [(paper.view.depth(point_at(piece, 0.5)), _part(piece, paper, od)) for piece in parts(curve)]
    for piece, share, sign in ((curve[0], 0.0, -1.0), (curve[-1], 1.0, 1.0)):
        out = plus((0.0, 0.0, 0.0), direction(piece, share), sign)
        if paper.view.depth(out) > -_HIDDEN:
            drawn.append((paper.view.depth(point_at(piece, share)) + od, _face(piece, share, paper, od)))
    yield from (shape for _, shape in sorted(drawn, key=lambda each: each[0]))


def _part(piece: Piece, paper: _Paper, od: float) -> str:
    """Return one part of the tube: black, and white inside; with a round where it is seen from its end."""
    way = _path(piece, paper)
    shapes = []
    for share in (0.0, 1.0):
        if hypot(*paper.view.at(direction(piece, share))) < _END_ON:
            x, y = paper.at(point_at(piece, share))
            shapes.append(f'<circle cx="{svg.n(x)}" cy="{svg.n(y)}" r="{svg.n(od / 2.0)}"/>')
    inner = svg.n(max(od - 2.0 * _OUTLINE, 0.0))
    shapes.append(f'<path d="{way}" fill="none" stroke="#000" stroke-width="{svg.n(od)}"/>')
    shapes.append(f'<path class="tube" d="{way}" fill="none" stroke="#fff" stroke-width="{inner}"')
    return "".join(shapes) + ' stroke-linecap="round"/>'


def _face(piece: Piece, share: float, paper: _Paper, od: float) -> str:
    """Return the end face of a tube: a line across it, or its round if that is what is seen."""
    x, y = paper.at(point_at(piece, share))
    across, up = paper.view.at(direction(piece, share))
    seen = hypot(across, up)
    if seen < _END_ON:
        radius = svg.n(od / 2.0 - _OUTLINE / 2.0)
        look = f'fill="#fff" stroke="#000" stroke-width="{svg.n(_OUTLINE)}"'
        return f'<circle class="face" cx="{svg.n(x)}" cy="{svg.n(y)}" r="{radius}" {look}/>'
    half = od / 2.0 / seen
    return svg.line([(x - up * half, y - across * half), (x + up * half, y + across * half)], width=2.0 * _OUTLINE)


def _path(piece: Piece, paper: _Paper) -> str:
    """Return a part's centre-line on paper, a little longer at both ends."""
    spots = [paper.at(point) for point in controls(piece)]
    ends = [
        paper.at(plus(point_at(piece, share), direction(piece, share), sign * _SEAM / paper.scale))
        for share, sign in ((0.0, -1.0), (1.0, 1.0))
    ]
    told = [f"{svg.n(x)} {svg.n(y)}" for x, y in (ends[0], *spots, ends[1])]
    way = f"L{told[2]}" if len(spots) == 2 else f"C{' '.join(told[2:5])}"
    return f"M{told[0]} L{told[1]} {way} L{told[-1]}"


def _passed(curve: Curve, paper: _Paper) -> Iterator[Spot]:
    """Yield spots along the tube on paper, at most a label's width apart."""
    for piece in parts(curve):
        ends = paper.at(point_at(piece, 0.0)), paper.at(point_at(piece, 1.0))
        count = 2 + int(hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]) / 1.5)
        yield from (paper.at(point_at(piece, step / count)) for step in range(count + 1))


def _labels(made: Sheet, curve: Curve, paper: _Paper, labels: Labels) -> Iterator[str]:
    ends = ((curve[0], 0.0, -1.0, "A"), (curve[-1], 1.0, 1.0, "B"))
    for piece, share, sign, name in ends:
        x, y = paper.view.at(direction(piece, share))
        yield from labels.add(name, paper.at(point_at(piece, share)), (sign * x, -sign * y), boxed=True)
    arcs = [piece for piece in curve if isinstance(piece, Arc)]
    for index, arc in enumerate(arcs, 1):
        middle = point_at(arc, 0.5)
        x, y = paper.view.at(plus(middle, arc.centre, -1.0))
        yield from labels.add(str(index), paper.at(middle), (x, -y) if hypot(x, y) > 1e-6 else (0.0, -1.0))

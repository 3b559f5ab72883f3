"""A view on paper: scale, grid and scale bar. Lengths in mm of the car in, mm on paper out, y downwards."""

from collections.abc import Iterable, Iterator
from math import ceil, floor, log10
from typing import Final, NamedTuple

from fitcheck.build.load import MM
from fitcheck.build.routes import Point
from fitcheck.measures import number
from fitcheck.reports.drawing import Spot, path, text
from fitcheck.reports.make_curve import Projection
from fitcheck.reports.plan.labels import Box
from fitcheck.reports.plan.views import Look

WIDE_MM: Final = 236.0
HIGH_MM: Final = 150.0
"""What is drawn fits into this, so that it prints on A4 with its words round it."""
_RATIOS: Final = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5, 8.0)
_STEPS: Final = (1.0, 2.0, 5.0)
_INCHES: Final = (1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 36.0, 72.0)
_GRID_MM: Final = 15.0
"""No two lines of the grid come nearer on paper."""
_BAR_MM: Final = 30.0
_SMALL: Final = 2.1


class Paper(NamedTuple):
    """A projection to scale; the car's origin is the paper's."""

    view: Projection
    scale: float

    def at(self, point: Point) -> Spot:
        """Return where a point is seen."""
        x, y = self.view.at(point)
        return x * self.scale, -y * self.scale


def scaled(look: Look, boxes: Iterable[tuple[Point, float]]) -> Paper:
    """Return the paper on which all points are seen, each with so much round it [mm of the car]."""
    seen = [(*look.projection.at(point), more) for point, more in boxes]
    wide = max(x + more for x, _, more in seen) - min(x - more for x, _, more in seen)
    high = max(y + more for _, y, more in seen) - min(y - more for _, y, more in seen)
    return Paper(look.projection, 1.0 / _ratio(max(wide / WIDE_MM, high / HIGH_MM)))


def _ratio(least: float) -> float:
    """Return how many times smaller than the car paper is: a round figure, one at least."""
    if least <= 1.0:
        return 1.0
    size = 10.0 ** floor(log10(least))
    return next(step * size for step in (*_RATIOS, 10.0) if step * size >= least * (1.0 - 1e-9))


def ratio_words(paper: Paper) -> str:
    """Return the scale as people write it."""
    return f"1 : {number(1.0 / paper.scale, 1)}"


def step_of(unit: str, least_mm: float) -> float:
    """Return the smallest round step in the user's unit that is at least so long [mm of the car].

    >>> step_of("mm", 150.0), step_of("in", 150.0), step_of("m", 150.0)
    (200.0, 6.0, 0.2)
    """
    least = least_mm / MM[unit]
    if unit == "in" and least <= _INCHES[-1]:
        return next(step for step in _INCHES if step >= least)
    size = 10.0 ** floor(log10(least))
    return next(round(step * size, 12) for step in (*_STEPS, 10.0) if step * size >= least * (1.0 - 1e-9))


def grid(paper: Paper, look: Look, unit: str, frame: Box) -> Iterator[str]:
    """Yield the lines of the grid within a frame, each with its coordinate in the user's unit, and the frame."""
    step = step_of(unit, _GRID_MM / paper.scale)
    pitch = step * MM[unit] * paper.scale
    axis, sign = look.across
    for index in range(ceil(frame.left / pitch), floor(frame.right / pitch) + 1):
        x = index * pitch
        yield path([(x, frame.top), (x, frame.bottom)], "faint", 0.15 if index else 0.4)
        yield text(x, frame.bottom + 3.0, _SMALL, _told(sign * index * step), anchor="middle", colour="soft")
    yield text(frame.right, frame.bottom + 6.0, _SMALL, f"{axis} in {spelt(unit)}", anchor="end", colour="soft")
    axis, sign = look.upright
    for index in range(ceil(frame.top / pitch), floor(frame.bottom / pitch) + 1):
        y = index * pitch
        yield path([(frame.left, y), (frame.right, y)], "faint", 0.15 if index else 0.4)
        yield text(frame.left - 1.0, y + 0.7, _SMALL, _told(-sign * index * step), anchor="end", colour="soft")
    yield text(frame.left, frame.top - 1.2, _SMALL, f"{axis} in {spelt(unit)}", colour="soft")
    corners = [(frame.left, frame.top), (frame.right, frame.top), (frame.right, frame.bottom)]
    yield path([*corners, (frame.left, frame.bottom), corners[0]], "soft", 0.2)


def spelt(unit: str) -> str:
    """Return what a unit of length is called after `in`: `mm`, but `inches`."""
    return "inches" if unit == "in" else unit


def _told(value: float) -> str:
    return number(value + 0.0, 6)


def bar(paper: Paper, unit: str, x: float, y: float, wide_mm: float) -> Iterator[str]:
    """Yield the scale bar from a point, with its length in the user's unit, and how wide a sheet the scale is for."""
    step = step_of(unit, _BAR_MM / paper.scale)
    end = x + step * MM[unit] * paper.scale
    yield f'<g data-mark="scale-bar">{path([(x, y), (end, y)], "ink", 0.5)}'
    yield "".join(path([(each, y - 1.4), (each, y + 1.4)], "ink", 0.5) for each in (x, end)) + "</g>"
    wide = f"{number(wide_mm / MM[unit], 2)} in" if unit == "in" else f"{number(wide_mm, 1)} mm"
    words = f"{number(step, 6)} {unit}; {ratio_words(paper)} if this drawing is {wide} wide"
    yield text(end + 2.5, y + 0.9, 2.5, words)


def arrows(look: Look, x: float, y: float) -> Iterator[str]:
    """Yield two arrows below a height that say which way the car lies, about 24 mm wide and 14 mm high."""
    y += 13.0 if any(down < 0 for (_, down), _ in look.arrows) else 1.0
    for (right, down), words in look.arrows:
        tip = x + 9.0 * right, y + 9.0 * down
        back = x + 7.0 * right, y + 7.0 * down
        yield path([(x, y), tip], "ink", 0.5)
        yield path([(back[0] + down, back[1] + right), tip, (back[0] - down, back[1] - right)], "ink", 0.5)
        anchor = {-1: "end", 0: "middle", 1: "start"}[right]
        yield text(
            tip[0] + 1.5 * right, tip[1] + (3.2 if down > 0 else -1.2 if down < 0 else 0.9), 2.5, words, anchor=anchor
        )

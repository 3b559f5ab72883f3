"""Hot things as they are seen: as thick as they are, in a hatched band as wide as lines must keep away.

A round bar about a path is seen as a bar of the same width about the path as it is seen, whatever the direction; so is
what must be kept clear.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, hypot, sqrt
from typing import Final

from fitcheck.reports.drawing import Spot, path, safe, stroke
from fitcheck.reports.plan.paper import Paper
from fitcheck.reports.plan.scene import Hot
from fitcheck.reports.svg_parts import n, path_data

_HATCH_MM: Final = 2.4
_EDGE_MM: Final = 0.3
_LEAST_MM: Final = 0.6
_WAY: Final = (sqrt(0.5), -sqrt(0.5))
_ROUND: Final = 'stroke-linecap="round" stroke-linejoin="round"'
Span = tuple[float, float]


def bands(hots: Sequence[Hot], paper: Paper) -> Iterator[str]:
    """Yield what lines must keep out of, hatched; bands that overlap are one."""
    wide = [([paper.at(point) for point in hot.path], (hot.radius_mm + hot.clearance_mm) * paper.scale) for hot in hots]
    yield from (_bar(spots, 2.0 * reach, "vermillion") for spots, reach in wide)
    yield from (_bar(spots, 2.0 * (reach - _EDGE_MM), "paper") for spots, reach in wide if reach > _EDGE_MM)
    yield from hatching([(spots, reach - _EDGE_MM) for spots, reach in wide if reach > _EDGE_MM])


def bars(hots: Sequence[Hot], paper: Paper) -> Iterator[str]:
    """Yield hot things as thick as they are."""
    for hot in hots:
        spots = [paper.at(point) for point in hot.path]
        shape = _bar(spots, max(2.0 * hot.radius_mm * paper.scale, _LEAST_MM), "soft")
        yield f'<g data-tag="{safe(hot.name)}" data-kind="heat"><title>{safe(hot.name)}</title>{shape}</g>'


def _bar(spots: Sequence[Spot], width: float, colour: str) -> str:
    """Return a round bar of a width through points; a disc if they are all one."""
    if all(spot == spots[0] for spot in spots):
        x, y = spots[0]
        return f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(width / 2.0)}" class="f-{colour}"/>'
    return stroke(path_data(spots), colour, width, _ROUND)


def hatching(bands: Sequence[tuple[Sequence[Spot], float]]) -> Iterator[str]:
    """Yield slanting lines over bands: each a path with how far it reaches to both sides."""
    pieces = [(a, b, reach) for spots, reach in bands for a, b in (list(pairwise(spots)) or [(spots[0], spots[0])])]
    if not pieces:
        return
    offsets = [(_across(spot), reach) for a, b, reach in pieces for spot in (a, b)]
    low = ceil(min(off - reach for off, reach in offsets) / _HATCH_MM)
    high = floor(max(off + reach for off, reach in offsets) / _HATCH_MM)
    for index in range(low, high + 1):
        off = index * _HATCH_MM
        start = off * -_WAY[1], off * _WAY[0]
        spans = (span for a, b, reach in pieces if (span := _span(start, a, b, reach)) is not None)
        for one, other in merged(spans):
            ends = [(start[0] + t * _WAY[0], start[1] + t * _WAY[1]) for t in (one, other)]
            yield path(ends, "vermillion", 0.12)


def merged(spans: Iterable[Span]) -> list[Span]:
    """Return stretches with those that overlap put together.

    >>> merged([(5.0, 7.0), (0.0, 2.0), (1.0, 3.0)])
    [(0.0, 3.0), (5.0, 7.0)]
    """
    found: list[Span] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1]:
            found[-1] = found[-1][0], max(found[-1][1], high)
        else:
            found.append((low, high))
    return found


def _across(spot: Spot) -> float:
    return spot[0] * -_WAY[1] + spot[1] * _WAY[0]


def _span(start: Spot, a: Spot, b: Spot, reach: float) -> Span | None:
    """Return from where to where a slanting line lies within a reach of a straight; None if it does nowhere.

    What is within reach is convex: two discs and the rectangle between them, so that the parts make one stretch.
    """
    parts = [part for part in (_disc(start, a, reach), _disc(start, b, reach), _slab(start, a, b, reach)) if part]
    return (min(low for low, _ in parts), max(high for _, high in parts)) if parts else None


def _disc(start: Spot, middle: Spot, reach: float) -> Span | None:
    off = _across(middle) - _across(start)
    if abs(off) >= reach:
        return None
    half = sqrt(reach**2 - off**2)
    at = (middle[0] - start[0]) * _WAY[0] + (middle[1] - start[1]) * _WAY[1]
    return at - half, at + half


def _slab(start: Spot, a: Spot, b: Spot, reach: float) -> Span | None:
    length = hypot(b[0] - a[0], b[1] - a[1])
    if length <= 0.0:
        return None
    u = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    off = start[0] - a[0], start[1] - a[1]
    low, high = float("-inf"), float("inf")
    for axis, least, most in ((u, 0.0, length), ((-u[1], u[0]), -reach, reach)):
        at, speed = off[0] * axis[0] + off[1] * axis[1], _WAY[0] * axis[0] + _WAY[1] * axis[1]
        if abs(speed) < 1e-12:
            if not least <= at <= most:
                return None
            continue
        ends = sorted(((least - at) / speed, (most - at) / speed))
        low, high = max(low, ends[0]), min(high, ends[1])
    return (low, high) if low < high else None

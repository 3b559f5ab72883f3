"""Marks of components, clips and holes, and lines and hoses as they are seen. Lengths in mm on paper, y downwards."""

from math import hypot, radians
from typing import Final

from fitcheck.build.curves import Arc, Curve, Piece, part_of
from fitcheck.build.routes import Point
from fitcheck.reports.circuit_looks import CircuitLook
from fitcheck.reports.drawing import Spot, path, safe, stroke
from fitcheck.reports.make_curve import controls
from fitcheck.reports.plan.paper import Paper
from fitcheck.reports.plan.routing import ClipMark, Way
from fitcheck.reports.plan.scene import HoleMark, Item
from fitcheck.reports.svg_parts import n, path_data

HALF: Final = {
    "source": (2.2, 1.4),
    "brake": (1.7, 1.7),
    "tank": (2.0, 2.0),
    "valve": (1.7, 1.7),
    "fitting": (0.9, 0.9),
}
"""Half width and half height of each mark."""
_FILLS: Final = {"brake": "soft", "fitting": "ink"}
LINE_MM: Final = 0.7
_HOSE_MM: Final = 1.7
_HOLLOW_MM: Final = 0.8
_PART_RAD: Final = radians(45.0)
_CLIP_MM: Final = 1.3
_LEAST_HOLE: Final = 0.9


def way(drawn: Way, look: CircuitLook, paper: Paper) -> str:
    """Return a line as it is seen, or a hose as two lines with nothing between, each with its ends."""
    data = curve_data(drawn.curve, paper)
    dash = f'stroke-dasharray="{look.dash}"' if look.dash else ""
    if drawn.sort == "hose":
        shape = stroke(data, look.colour, _HOSE_MM, dash) + stroke(data, "paper", _HOLLOW_MM)
    else:
        shape = stroke(data, look.colour, LINE_MM, f'stroke-linejoin="round" {dash}'.strip())
    told = f"{drawn.sort} {drawn.tag}: {drawn.part_id}, {look.name}"
    ends = "".join(_end(spot, look.colour, drawn.sort) for spot in _ends(drawn.curve, paper))
    return f'<g data-tag="{safe(drawn.tag)}" data-kind="{drawn.sort}"><title>{safe(told)}</title>{shape}{ends}</g>'


def _ends(curve: Curve, paper: Paper) -> tuple[Spot, Spot]:
    return paper.at(controls(curve[0])[0]), paper.at(controls(curve[-1])[-1])


def _end(spot: Spot, colour: str, sort: str) -> str:
    x, y = spot
    place = f'cx="{n(x)}" cy="{n(y)}"'
    if sort == "hose":
        return f'<circle {place} r="1.1" class="s-{colour} f-paper" stroke-width="0.4"/>'
    return f'<circle {place} r="0.55" class="f-{colour}"/>'


def ghost(curve: Curve, paper: Paper, dash: str) -> str:
    """Return a line in another pose: thin and grey, in the pose's dashes."""
    return stroke(curve_data(curve, paper), "soft", 0.2, dash)


def curve_data(curve: Curve, paper: Paper) -> str:
    """Return the data of a path along a curve as it is seen: an arc in cubic curves, which a parallel view keeps.

    A cubic curve for at most 45 degrees leaves its arc by less than 1e-5 of the radius.
    """
    steps: list[str] = []
    for piece in curve:
        for part in _split(piece):
            spots = [paper.at(point) for point in controls(part)]
            if not steps:
                steps.append(path_data(spots[:1]))
            told = " ".join(f"{n(x)} {n(y)}" for x, y in spots[1:])
            steps.append(f"L{told}" if len(spots) == 2 else f"C{told}")
    return " ".join(steps)


def _split(piece: Piece) -> list[Piece]:
    if not isinstance(piece, Arc):
        return [piece]
    count = max(1, -int(-piece.angle_rad / _PART_RAD // 1))
    length = piece.radius_mm * piece.angle_rad
    return [
        part
        for index in range(count)
        for part in part_of((piece,), index * length / count, (index + 1) * length / count)
    ]


def item(drawn: Item, paper: Paper) -> str:
    """Return the mark of a component, with lines to its ports that lie elsewhere."""
    spot = paper.at(drawn.at)
    stubs = "".join(path([spot, paper.at(port)], "ink", 0.4) for port in drawn.ports)
    told = f"{drawn.tag}: {drawn.part_id}" + ("" if drawn.own else ", where its joint is")
    place = f'data-tag="{safe(drawn.tag)}" data-kind="component"'
    return f"<g {place}><title>{safe(told)}</title>{stubs}{item_mark(drawn.sort, spot)}</g>"


def item_mark(sort: str, spot: Spot, ghostly: bool = False, dash: str = "") -> str:
    """Return the mark of a sort of component around a point; thin, grey and see-through for one in another pose."""
    x, y = spot
    half, tall = HALF[sort]
    look = f'class="s-ink f-{_FILLS.get(sort, "paper")}" stroke-width="0.5"'
    if ghostly:
        look = f'fill="none" class="s-soft" stroke-width="0.2"{dash and f" {dash}"}'
    if sort == "tank":
        return f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(half)}" {look}/>'
    if sort == "valve":
        return _polygon([(x, y - tall), (x + half, y), (x, y + tall), (x - half, y)], look)
    if sort == "brake":
        cut = half * 0.45
        corners = [(half, cut), (cut, half), (-cut, half), (-half, cut), (-half, -cut), (-cut, -half), (cut, -half)]
        return _polygon([(x + a, y + b) for a, b in (*corners, (half, -cut))], look)
    place = f'x="{n(x - half)}" y="{n(y - tall)}" width="{n(2.0 * half)}" height="{n(2.0 * tall)}"'
    return f"<rect {place} {look}/>"


def _polygon(corners: list[Spot], look: str) -> str:
    points = " ".join(f"{n(x)},{n(y)}" for x, y in corners)
    return f'<polygon points="{points}" {look}/>'


def clip(mark: ClipMark, paper: Paper) -> str:
    """Return a clip: a bar across its line, or round it where that is seen from its end; thin if only proposed."""
    told = f"clip {mark.tag} on {mark.line}" if mark.tag is not None else f"clip proposed on {mark.line}"
    shape = clip_shape(paper.at(mark.at), _seen(mark.way, paper), mark.tag is not None)
    return f'<g data-kind="clip" data-line="{safe(mark.line)}"><title>{safe(told)}</title>{shape}</g>'


def clip_shape(spot: Spot, way: Spot, placed: bool) -> str:
    """Return a clip's mark on a line that goes this way on paper; of a way of no length, from its end."""
    x, y = spot
    width = 0.9 if placed else 0.3
    length = hypot(*way)
    if length < 0.3:
        return f'<circle cx="{n(x)}" cy="{n(y)}" r="1" fill="none" class="s-ink" stroke-width="{n(width)}"/>'
    across = -way[1] / length * _CLIP_MM, way[0] / length * _CLIP_MM
    return path([(x - across[0], y - across[1]), (x + across[0], y + across[1])], "ink", width)


def _seen(way: Point, paper: Paper) -> Spot:
    x, y = paper.view.at(way)
    return x, -y


def hole(mark: HoleMark, paper: Paper) -> str:
    """Return a panel hole: a ring of its size, or as small as can be seen, with a cross through it."""
    x, y = paper.at(mark.middle)
    radius = max((mark.hole_mm or 0.0) / 2.0 * paper.scale, _LEAST_HOLE)
    return f'<g data-tag="{safe(mark.name)}" data-kind="hole">{hole_shape((x, y), radius)}</g>'


def hole_shape(spot: Spot, radius: float) -> str:
    """Return a ring with a cross."""
    x, y = spot
    ring = f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(radius)}" fill="none" class="s-ink" stroke-width="0.3"/>'
    reach = radius + 0.9
    return (
        ring + path([(x - reach, y), (x + reach, y)], "ink", 0.2) + path([(x, y - reach), (x, y + reach)], "ink", 0.2)
    )

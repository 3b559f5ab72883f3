"""Where things are, in mm: ports, ends and the corners of lines.

The build file gives points in its own `coordinates` unit; everything here is in mm, x forward, y left, z up
(ISO 8855). What the file does not say is None, never a guess.
"""

from collections.abc import Sequence

from fitcheck.build.benders import bend_radius
from fitcheck.build.graph import End, PortGraph
from fitcheck.build.load import MM
from fitcheck.build.model import Corner, Leg, RouteWords
from fitcheck.build.routes import Bend, Route
from fitcheck.build.words import told_corners

Position = tuple[float, float, float]


def end_position(graph: PortGraph, ref: str) -> Position | None:
    """Return where an end is, in mm, or None if the file does not say.

    Its own place counts first: the `at` of a line's end, or the component's `at` with the port's offset. An
    end without one is where the end joined to it is.
    """
    end = graph.ends.get(ref)
    if end is None:
        return None
    own = _own_position(graph, end)
    if own is not None:
        return own
    for joint in graph.joints_at.get(ref, ()):
        for other in joint.ends:
            if other.ref != ref and (position := _own_position(graph, other)) is not None:
                return position
    return None


def corner_points(graph: PortGraph, tag: str) -> list[Position] | None:
    """Return the corners of a line between its two ends, in mm; None if it has no route, or one of legs.

    A route in words has corners where it states a heading and the place of an end is known.
    """
    line = graph.build.file.lines.get(tag)
    if line is None or line.route is None:
        return None
    if isinstance(line.route, RouteWords):
        placed = placed_corners(graph, tag, _told_by(graph, tag, line.route))
        return list(placed[1:-1]) if placed is not None else None
    points: list[Position] = []
    for entry in line.route:
        if isinstance(entry, Leg):
            return None
        points.append(_in_mm(graph, entry.at if isinstance(entry, Corner) else entry))
    return points


def placed_corners(graph: PortGraph, tag: str, corners: Sequence[Position]) -> tuple[Position, ...] | None:
    """Return corners told from a line's first end, moved to where that is, else so that the last is at `to`.

    None if there are none, or neither place is known.
    """
    if not corners:
        return None
    start, end = end_position(graph, f"{tag}.from"), end_position(graph, f"{tag}.to")
    there, own = (start, corners[0]) if start is not None else (end, corners[-1])
    if there is None:
        return None
    dx, dy, dz = (a - b for a, b in zip(there, own, strict=True))
    return tuple((x + dx, y + dy, z + dz) for x, y, z in corners)


def _told_by(graph: PortGraph, tag: str, words: RouteWords) -> tuple[Position, ...]:
    """Return the corners of a route in words from its first end; of a U nobody knows them without its radius."""
    stated = [float(leg.bend) if leg.bend is not None else None for leg in words[:-1]]
    radii = [bend_radius(graph.build, tag, graph.fitted[tag].part, mm).mm for mm in stated]
    bends = (Bend(float(leg.angle or 0.0), radius) for leg, radius in zip(words, radii, strict=False))
    return told_corners(words.ways, Route(tuple(float(leg.leg) for leg in words), tuple(bends)))


def route_points(graph: PortGraph, tag: str) -> list[Position] | None:
    """Return a line's corners in mm with its two ends in front and behind, each where it is known.

    None if the line has no route, or one of measured legs, which are lengths and no points.
    """
    corners = corner_points(graph, tag)
    if corners is None:
        return None
    first, last = end_position(graph, f"{tag}.from"), end_position(graph, f"{tag}.to")
    return [*([first] if first else []), *corners, *([last] if last else [])]


def place_field(graph: PortGraph, ref: str) -> str:
    """Return the field of the build file that would say where an end is."""
    end = graph.ends.get(ref)
    if end is not None and end.fitted.section == "components":
        return f"components.{end.tag}.at"
    for joint in graph.joints_at.get(ref, ()):
        for other in joint.ends:
            if other.fitted.section == "components":
                return f"components.{other.tag}.at"
    tag, _, name = ref.partition(".")
    return f"lines.{tag}.ends.{name}.at"


def _own_position(graph: PortGraph, end: End) -> Position | None:
    if end.tube_end:
        stated = end.stated.at if end.stated is not None else None
        return _in_mm(graph, stated) if stated is not None else None
    if end.fitted.section != "components":
        return None
    at = graph.build.file.components[end.tag].at
    if at is None:
        return None
    x, y, z = _in_mm(graph, at)
    dx, dy, dz = end.port.offset if end.port is not None and end.port.offset else (0.0, 0.0, 0.0)
    return x + dx, y + dy, z + dz


def _in_mm(graph: PortGraph, point: Position) -> Position:
    unit = MM[graph.build.file.coordinates]
    x, y, z = point
    return x * unit, y * unit, z * unit

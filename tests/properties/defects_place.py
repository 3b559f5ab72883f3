"""Lines that cannot be bent as drawn, come too near to something, or are held badly.

A line is laid by saying where its ends are and where its corners; nothing else of these builds has a place.
"""

from typing import Any

from tests.properties.edited import Made, made
from tests.properties.editing import Edit

_WIDE = "30 mm"
"""A radius that every tube stands."""
_WIDER = "60 mm"
"""So wide that every tube could be bent to half of it."""
_ACROSS: list[Any] = [{"at": [400, 0, 0], "bend": _WIDE}]
_LOOP: list[Any] = [{"at": [0, -300, 0], "bend": _WIDE}, {"at": [400, -300, 0], "bend": _WIDE}]
_GROMMET = {4.75: "grommet-3-16", 6.35: "grommet-1-4", 6.0: "grommet-1-4"}


def _height(edit: Edit) -> float:
    """Return a height at which nothing of the build is yet: defects do not run into each other."""
    laid = sum("at" in entry.get("ends", {}).get("from", {}) for entry in edit.plan["lines"].values())
    return 1000.0 * laid


def _raised(point: Any, up: float) -> Any:
    if isinstance(point, dict):
        return point | {"at": _raised(point["at"], up)}
    return [point[0], point[1], point[2] + up] if up else list(point)


def _laid(edit: Edit, line: str, start: list[float], route: list[Any], end: list[float], up: float) -> str:
    """Lay a line from a place along corners to another, all of it raised, and return its tag."""
    entry = edit.plan["lines"][line]
    entry.pop("length", None)
    ends = entry.setdefault("ends", {})
    ends["from"] = ends.get("from", {}) | {"at": _raised(start, up)}
    ends["to"] = ends.get("to", {}) | {"at": _raised(end, up)}
    entry["route"] = [_raised(corner, up) for corner in route]
    return line


def _one_laid(edit: Edit, route: list[Any], end: list[float]) -> str:
    line = edit.pick(edit.lines())
    return _laid(edit, line, [0, 0, 0], route, end, _height(edit))


def _heated(edit: Edit, right: float) -> None:
    """Put something hot so far to the right of where the next line is laid, and along it."""
    up = _height(edit)
    path = [_raised(point, up) for point in ([-500, -right, 0], [900, -right, 0])]
    edit.plan["heat"] = {"exhaust": {"path": path, "radius": "20 mm"}}


def radius_under_the_limit(edit: Edit) -> Made:
    """A bend as tight as no tool makes it."""
    return made("bend-tight", _one_laid(edit, [{"at": [400, 0, 0], "bend": "5 mm"}], [400, 300, 0]))


def leg_shorter_than_its_bend(edit: Edit) -> Made:
    """A corner so near to the end that its bend has no room."""
    return made("bend-tight", _one_laid(edit, _ACROSS, [400, 20, 0]))


def bends_close_together(edit: Edit) -> Made:
    """Two bends with 3 mm of straight tube between."""
    route = [{"at": [400, 0, 0], "bend": _WIDER}, {"at": [400, 123, 0], "bend": _WIDER}]
    return made("bend-crowded", _one_laid(edit, route, [800, 123, 0]))


def bend_close_to_the_end(edit: Edit) -> Made:
    """A bend with 17 mm of straight tube before the flare."""
    return made("bend-crowded", _one_laid(edit, [{"at": [400, 0, 0], "bend": _WIDER}], [400, 77, 0]))


def length_measured_wrong(edit: Edit) -> Made:
    """A length that is not that of the route."""
    line = _one_laid(edit, _ACROSS, [400, 300, 0])
    edit.plan["lines"][line]["length"] = "600 mm"
    return made("length-disagrees", line)


def length_less_than_the_way(edit: Edit) -> Made:
    """A length that does not reach from end to end."""
    line = _one_laid(edit, _ACROSS, [400, 300, 0])
    del edit.plan["lines"][line]["route"]
    edit.plan["lines"][line]["length"] = "450 mm"
    return made("length-disagrees", line)


def straight_line(edit: Edit) -> Made:
    """A line between two fitted parts that has no bend."""
    parts = edit.plan["components"]
    between = [
        tag
        for tag in edit.lines()
        if all(edit.plan["lines"][tag][name].partition(".")[0] in parts for name in ("from", "to"))
    ]
    line = edit.pick(between)
    return made("line-dead-straight", _laid(edit, line, [0, 0, 0], [], [500, 0, 0], _height(edit)))


def line_beside_the_exhaust(edit: Edit) -> Made:
    """A line some 47 mm from something hot."""
    _heated(edit, 70)
    return made("near-heat", _one_laid(edit, _ACROSS, [400, 300, 0]))


def loop_beside_the_exhaust(edit: Edit) -> Made:
    """A line whose middle leg is some 28 mm from something hot, and could be nearer to its ends."""
    _heated(edit, 350)
    return made("near-heat", _one_laid(edit, _LOOP, [400, 0, 0]))


def loop_that_touches_a_line(edit: Edit) -> Made | None:
    """Two lines, of which one runs into the middle leg of the other."""
    lines = edit.lines()
    if len(lines) < 2:
        return None
    one = edit.pick(lines)
    other = edit.pick([line for line in lines if line != one])
    up = _height(edit)
    _laid(edit, one, [0, 0, 0], _LOOP, [400, 0, 0], up)
    _laid(edit, other, [150, -302, -200], [{"at": [150, -302, 100], "bend": _WIDE}], [150, -600, 100], up)
    return made("lines-touching", one, other)


def lines_that_cross(edit: Edit) -> Made | None:
    """Two lines that run through each other."""
    lines = edit.lines()
    if len(lines) < 2:
        return None
    one = edit.pick(lines)
    other = edit.pick([line for line in lines if line != one])
    up = _height(edit)
    _laid(edit, one, [0, 0, 0], _ACROSS, [400, 300, 0], up)
    _laid(edit, other, [200, -200, 0], [{"at": [200, 250, 0], "bend": _WIDE}], [0, 250, 0], up)
    return made("lines-touching", one, other)


def _through_a_wall(edit: Edit, **panel: str) -> str:
    route = [*_ACROSS, {"at": [400, 150, 0], "through": "wall"}, {"at": [400, 300, 0], "bend": _WIDE}]
    line = _one_laid(edit, route, [800, 300, 0])
    edit.plan["panels"] = {"wall": {"thickness": "1.2 mm", **panel}}
    return line


def bare_hole(edit: Edit) -> Made:
    """A line through a sheet without a grommet."""
    return made("panel-unguarded", _through_a_wall(edit, hole="12 mm"))


def bare_hole_too_small(edit: Edit) -> Made:
    """A line through a hole that is too small for any grommet."""
    return made("panel-unguarded", _through_a_wall(edit, hole="8 mm"))


def hole_smaller_than_its_grommet(edit: Edit) -> Made:
    """A hole that the grommet does not go into."""
    line = _through_a_wall(edit, hole="9 mm")
    edit.plan["panels"]["wall"]["grommet"] = _GROMMET[edit.size(line)]
    return made("panel-misfit", "wall")


def hole_for_another_grommet(edit: Edit) -> Made:
    """A hole that the grommet falls through."""
    line = _through_a_wall(edit, hole="30 mm")
    edit.plan["panels"]["wall"]["grommet"] = _GROMMET[edit.size(line)]
    return made("panel-misfit", "wall")


def ready_made_line_too_large_for_its_hole(edit: Edit) -> Made:
    """A line bought with both ends formed, whose nuts do not go through the panel."""
    line = _through_a_wall(edit, hole="12 mm")
    size = edit.size(line)
    edit.plan["panels"]["wall"] |= {"grommet": _GROMMET[size], "hole": "12 mm" if size < 5.0 else "13 mm"}
    ends = edit.plan["lines"][line]["ends"]
    for name in ("from", "to"):
        ends[name] |= {"formed": True, "across": "20 mm"}
    return made("fixing-trapped", f"{line}.from", f"{line}.to")


def clips_far_apart(edit: Edit) -> Made:
    """Clips that hold a line twice where three are needed."""
    line = edit.pick(edit.lines())
    edit.plan["lines"][line]["length"] = "900 mm"
    edit.plan["consumables"] = {"clips": {"spacing": "500 mm"}}
    return made("clip-sparse", line)

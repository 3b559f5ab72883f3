"""Where a finding is on the car."""

from collections.abc import Iterator

from fitcheck.build.graph import PortGraph
from fitcheck.build.positions import end_position
from fitcheck.build.routes import Point
from fitcheck.checks.findings import Finding
from fitcheck.reports.plan.scene import Scene


class Places:
    """The places of the findings of one build."""

    def __init__(self, graph: PortGraph, scene: Scene) -> None:
        self._graph = graph
        self._tags: dict[str, Point] = {hole.name: hole.middle for hole in scene.holes}
        self._tags |= {hot.name: hot.path[len(hot.path) // 2] for hot in scene.hot}
        for item in reversed(scene.items):
            self._tags[item.body] = item.at
        self._tags |= {way.tag: way.middle for way in scene.ways}
        self._tags |= {item.tag: item.at for item in scene.items}

    def of(self, finding: Finding) -> Point | None:
        """Return where a finding is [mm]: where two things come nearest, else the first of its places that is known."""
        points = finding.evidence.get("points_mm")
        if isinstance(points, list) and points and _is_point(points[0]):
            x, y, z = points[0]
            return float(x), float(y), float(z)
        return next((place for name in finding.at for place in self._named(name)), None)

    def _named(self, name: str) -> Iterator[Point]:
        """Yield where an end, a tag, or the outlet of a circuit is, if that is known; of an end, else its owner's."""
        circuit = self._graph.build.file.circuits.get(name)
        for ref in (name, circuit.from_ if circuit is not None and name not in self._graph.fitted else name):
            place = end_position(self._graph, ref) or self._tags.get(ref) or self._tags.get(ref.partition(".")[0])
            if place is not None:
                yield place


def _is_point(value: object) -> bool:
    return (
        isinstance(value, (tuple, list)) and len(value) == 3 and all(isinstance(each, (int, float)) for each in value)
    )

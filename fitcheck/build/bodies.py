"""Which body each thing is on."""

from typing import NamedTuple

import networkx as nx

from fitcheck.build.graph import Joint, PortGraph
from fitcheck.build.load import CHASSIS
from fitcheck.naming import in_order


class Placed(NamedTuple):
    """A component that says what it is on."""

    tag: str
    body: str


class Bodies:
    """The body of every component: its own `on`, else that of what it is screwed into, else the chassis.

    `rigid` are the joints that hold two components together without tube or hose; `clashes` are those
    clusters of them that say two different bodies, each once, with the joint nearest to the clash.
    """

    def __init__(self, graph: PortGraph) -> None:
        self.graph = graph
        components = graph.build.file.components
        self.rigid = [
            joint for joint in graph.joints if joint.kind in ("pair", "banjo") and len(_components(joint)) > 1
        ]
        cluster: nx.Graph[str] = nx.Graph()
        cluster.add_nodes_from(components)
        for joint in self.rigid:
            first, *others = _components(joint)
            cluster.add_edges_from(((first, other) for other in others), joint=joint)
        self.clashes: list[tuple[Joint, Placed, Placed]] = []
        self._body: dict[str, str] = {}
        for tags in nx.connected_components(cluster):
            self._settle(cluster, sorted(tags, key=in_order))

    def of(self, tag: str) -> str:
        """Return the body that a component is on."""
        return self._body.get(tag, CHASSIS)

    def of_line(self, tag: str) -> list[tuple[str, str]]:
        """Return, for both ends of a line, the end it is joined to and that end's body; fewer if unknown."""
        found: list[tuple[str, str]] = []
        for name in ("from", "to"):
            own = f"{tag}.{name}"
            others = [end for joint in self.graph.joints_at.get(own, ()) for end in joint.ends if end.ref != own]
            if others and others[0].fitted.section == "components":
                found.append((others[0].ref, self.of(others[0].tag)))
        return found

    def _settle(self, cluster: "nx.Graph[str]", tags: list[str]) -> None:
        components = self.graph.build.file.components
        stated = [(tag, on) for tag in tags if (on := components[tag].on) is not None]
        for tag in tags:
            self._body[tag] = components[tag].on or (stated[0][1] if stated else CHASSIS)
        if len({body for _, body in stated}) < 2:
            return
        first = Placed(*stated[0])
        second = Placed(*next((tag, body) for tag, body in stated if body != first.body))
        path = nx.shortest_path(cluster, first.tag, second.tag)
        joint: Joint = cluster.edges[path[0], path[1]]["joint"]
        self.clashes.append((joint, first, second))


def _components(joint: Joint) -> list[str]:
    """Return the tags of the components in a joint, without hoses and lines."""
    return [end.tag for end in joint.ends if end.fitted.section == "components"]

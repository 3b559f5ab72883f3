"""Which body each thing is on."""

from collections import deque
from itertools import pairwise
from typing import NamedTuple

import networkx as nx

from fitcheck.build.graph import Joint, PortGraph
from fitcheck.build.load import CHASSIS
from fitcheck.naming import in_order


class Placed(NamedTuple):
    """A component and the body that it is on."""

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
            fitted = [end for end in others if end.fitted.section == "components"]
            if fitted:
                nearest = min(fitted, key=lambda end: in_order(end.ref))
                found.append((nearest.ref, self.of(nearest.tag)))
        return found

    def _spread(self, cluster: "nx.Graph[str]", stated: dict[str, str]) -> None:
        """Give every component of a cluster the body of the nearest one that states its own."""
        self._body |= stated
        queue = deque(stated)
        while queue:
            here = queue.popleft()
            for tag in sorted(cluster[here], key=in_order):
                if tag not in self._body:
                    self._body[tag] = self._body[here]
                    queue.append(tag)

    def _settle(self, cluster: "nx.Graph[str]", tags: list[str]) -> None:
        components = self.graph.build.file.components
        stated = [(tag, on) for tag in tags if (on := components[tag].on) is not None]
        self._spread(cluster, dict(stated))
        if len({body for _, body in stated}) < 2:
            return
        other = next(tag for tag, body in stated if body != stated[0][1])
        path = nx.shortest_path(cluster, stated[0][0], other)
        near, far = next((a, b) for a, b in pairwise(path) if self._body[a] != self._body[b])
        joint: Joint = cluster.edges[near, far]["joint"]
        self.clashes.append((joint, Placed(near, self._body[near]), Placed(far, self._body[far])))


def _components(joint: Joint) -> list[str]:
    """Return the tags of the components in a joint, without hoses and lines."""
    return [end.tag for end in joint.ends if end.fitted.section == "components"]

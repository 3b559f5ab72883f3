"""The one graph of a build: a node for each port and each tube end, an edge for each passage and joint.

A reference that means nothing (`tee_frnt.left`) is kept as a problem for the file rules. So that one
slip of the pen is one finding, the rest of the build is then read as if the nearest free port had been
meant, and the joint is marked `assumed`: no joint rule judges it.
"""

from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import Literal, NamedTuple

import networkx as nx

from fitcheck.build.load import Build
from fitcheck.build.model import LineEnd
from fitcheck.build.refs import tag_of
from fitcheck.build.units import units_of
from fitcheck.catalog.part import Part, Port
from fitcheck.measures import LengthUnit, Units

Path = tuple[str | int, ...]
Section = Literal["components", "lines", "hoses"]
JointKind = Literal["pair", "tube", "tubes", "banjo", "mechanical"]


class Fitted(NamedTuple):
    """One component, line or hose of the build. `part` is None if no catalog has it, or it is unfit here."""

    tag: str
    section: Section
    part_id: str
    part: Part | None
    path: Path


class End(NamedTuple):
    """A node of the graph: a port of a fitted part, or an end of a tube.

    `port` is None for a tube's end and for a port of a part that no catalog has.
    """

    ref: str
    fitted: Fitted
    port: Port | None
    tube_end: bool = False
    stated: LineEnd | None = None

    @property
    def known(self) -> bool:
        """True if the catalog says what this end is."""
        return self.fitted.part is not None

    @property
    def tag(self) -> str:
        """The tag of the component, line or hose this end belongs to."""
        return self.fitted.tag


class Joint(NamedTuple):
    """Ends brought together: two of them, or a port and the banjo eyes its bolt clamps.

    `path` is where the file says so. `assumed` joints rest on a reference that had to be guessed.
    """

    ends: tuple[End, ...]
    kind: JointKind
    path: Path
    bolt: str | None = None
    washers: int | None = None
    assumed: bool = False

    @property
    def refs(self) -> tuple[str, ...]:
        """The references of its ends: the port first, of two equal sides the external one."""
        return tuple([end.ref for end in self.ends])  # a list first: read often, and in half of the time


class UnknownPart(NamedTuple):
    """A part id that means nothing here, and why."""

    tag: str
    part_id: str
    reason: str
    path: Path


class UnknownRef(NamedTuple):
    """A reference that means nothing, why, and what was assumed for the rest of the check."""

    ref: str
    reason: str
    path: Path
    assumed: str | None


class PortGraph:
    """A build read against its catalogs. `excused` ends are joined to something that means nothing.

    `graph` is a `networkx.Graph` whose nodes are references (`caliper_fl.inlet`) and whose edges have a
    `kind`: `passage` or `joint`. A joint of a mechanical port with any other end is no edge: nothing can
    flow there. `shorted` are joints of two ends that a passage joins already. Built in time linear in the
    build.
    """

    def __init__(
        self,
        build: Build,
        fitted: dict[str, Fitted],
        ends: dict[str, End],
        joints: tuple[Joint, ...],
        unknown_parts: tuple[UnknownPart, ...],
        unknown_refs: tuple[UnknownRef, ...],
        excused: frozenset[str],
    ) -> None:
        self.build = build
        self.fitted = fitted
        self.ends = ends
        self.joints = joints
        self.unknown_parts = unknown_parts
        self.unknown_refs = unknown_refs
        self.excused = excused
        self.graph: nx.Graph[str] = nx.Graph()
        self.graph.add_nodes_from(ends)
        for a, b in self._passages():
            self.graph.add_edge(a, b, kind="passage")
        self.shorted: list[Joint] = []
        for joint in joints:
            self._add(joint)

    @cached_property
    def units(self) -> Units:
        """What the build's author measures in, and is answered in."""
        return units_of(self.build.file)

    @property
    def unit(self) -> LengthUnit:
        """What lengths are told in, `mm` or `in`."""
        return self.units.length

    def _add(self, joint: Joint) -> None:
        if len({end.port is not None and end.port.mechanical for end in joint.ends}) > 1:
            return
        first, *others = joint.refs
        for other in others:
            if other == first:
                continue
            if self.graph.get_edge_data(first, other, {}).get("kind") == "passage":
                self.shorted.append(joint)
            self.graph.add_edge(first, other, kind="joint")

    def _passages(self) -> Iterator[tuple[str, str]]:
        """Yield the edges inside parts: each group of ports in one chain, so that no part makes a loop."""
        by_tag: dict[str, list[str]] = {}
        for ref, end in self.ends.items():
            if not end.known or end.tube_end:
                by_tag.setdefault(end.tag, []).append(ref)
        for refs in by_tag.values():
            yield from pairwise(refs)
        for item in self.fitted.values():
            if item.part is None or item.section == "lines":
                continue
            for group in item.part.passages:
                refs = [f"{item.tag}.{name}" for name in group if not item.part.ports[name].mechanical]
                yield from pairwise(refs)

    @cached_property
    def joints_at(self) -> dict[str, list[Joint]]:
        """Return the joints that each end takes part in."""
        found: dict[str, list[Joint]] = {}
        for joint in self.joints:
            for ref in joint.refs:
                found.setdefault(ref, []).append(joint)
        return found

    def joined(self, ref: str) -> bool:
        """Return whether anything is joined to this end."""
        return ref in self.joints_at

    def path_of(self, ref: str) -> Path:
        """Return where the file states the thing that `ref` (an end or a tag) belongs to."""
        tag = tag_of(ref)
        item = self.fitted.get(tag)
        return item.path if item is not None else ()

"""What rules share: the graph, the networks, the facts of each joint, computed once and only if asked for."""

from collections.abc import Mapping
from functools import cached_property
from typing import Any

from fitcheck.build.bodies import Bodies
from fitcheck.build.circuits import Circuits
from fitcheck.build.fixings import Fixings, fixings
from fitcheck.build.graph import Joint, Path, PortGraph
from fitcheck.build.hose_reach import Reach, Reaches
from fitcheck.build.runs import Run, runs
from fitcheck.checks.findings import Finding, Level, Unchecked
from fitcheck.checks.gaps import Gaps
from fitcheck.checks.joint_facts import JointFacts, judge
from fitcheck.hydraulics.outlets import Outlets, outlets
from fitcheck.measures import LengthUnit, Units


class Context:
    """One build under check. Rules read it and never change it.

    `found`, `unchecked` and `looked` fill as rules are run, for the rule that looks at the others' answers.
    """

    def __init__(self, graph: PortGraph) -> None:
        self.graph = graph
        self.file = graph.build.file
        self.found: list[Finding] = []
        self.unchecked: list[Unchecked] = []
        self.looked: dict[str, int] = {}
        self._fixings: dict[int, Fixings] = {}

    @property
    def units(self) -> Units:
        """What the user measures in."""
        return self.graph.units

    @property
    def unit(self) -> LengthUnit:
        """What lengths are told in, `mm` or `in`."""
        return self.graph.unit

    @cached_property
    def circuits(self) -> Circuits:
        """What feeds what."""
        return Circuits(self.graph)

    @cached_property
    def outlets(self) -> Outlets:
        """Which piston presses what."""
        return outlets(self.graph, self.circuits)

    @cached_property
    def bodies(self) -> Bodies:
        """What each thing is on."""
        return Bodies(self.graph)

    @cached_property
    def gaps(self) -> Gaps:
        """What is not fed, and which open ends that explains."""
        return Gaps(self.graph, self.circuits)

    @cached_property
    def runs(self) -> Mapping[str, Run]:
        """How each line runs, by its tag."""
        return runs(self.graph)

    @cached_property
    def reaches(self) -> tuple[Reach, ...]:
        """How each hose hangs whose part is known, in the order of the file."""
        return tuple(Reaches(self.graph, self.bodies).all())

    @cached_property
    def facts(self) -> tuple[JointFacts, ...]:
        """What can be said of each joint that is neither a guess nor a port with itself, in the order of the file."""
        return tuple(
            judge(joint, self.fixings(joint))
            for joint in self.graph.joints
            if not joint.assumed and all(end.known for end in joint.ends) and len(set(joint.refs)) > 1
        )

    def fixings(self, joint: Joint) -> Fixings:
        """Return what a joint needs besides its two sides."""
        key = id(joint)
        if key not in self._fixings:
            self._fixings[key] = fixings(self.graph, joint)
        return self._fixings[key]

    def finding(
        self,
        rule: str,
        level: Level,
        message: str,
        at: tuple[str, ...],
        path: Path,
        evidence: Mapping[str, Any] | None = None,
    ) -> Finding:
        """Return a finding placed where the file states the thing at `path`."""
        place = self.graph.build.place(path)
        return Finding(rule, level, message, at, place, evidence or {}, told_in=self.unit)

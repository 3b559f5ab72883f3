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

_Form = tuple[object, ...]


def _form(joint: Joint) -> _Form | None:
    """Return what joints are alike in: their parts, ports and stated fixings; None where an end states its own."""
    if joint.assumed or any(end.stated is not None for end in joint.ends):
        return None
    ends = [
        (end.fitted.section, end.fitted.part_id, end.port.name if end.port is not None else None) for end in joint.ends
    ]
    return (joint.kind, joint.bolt, joint.washers, *ends)


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
        self._needs: dict[_Form, Fixings] = {}
        self._sound: dict[_Form, JointFacts] = {}

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
            self._judged(joint)
            for joint in self.graph.joints
            if not joint.assumed and all(end.known for end in joint.ends) and len(set(joint.refs)) > 1
        )

    def _judged(self, joint: Joint) -> JointFacts:
        """Return what can be said of a joint; where nothing is wrong that is the same for all of its form."""
        form = _form(joint)
        sound = self._sound.get(form) if form is not None else None
        if sound is not None:
            return sound._replace(joint=joint)
        facts = judge(joint, self.fixings(joint))
        if form is not None and facts.rule is None:
            self._sound[form] = facts
        return facts

    def fixings(self, joint: Joint) -> Fixings:
        """Return what a joint needs besides its two sides."""
        found = self._fixings.get(id(joint))
        if found is None:
            form = _form(joint)
            found = self._needs.get(form) if form is not None else None
            if found is None:
                found = fixings(self.graph, joint)
            if form is not None:
                self._needs[form] = found
            self._fixings[id(joint)] = found
        return found

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

"""One component, line or hose with another part in its place: which joints seal then, port by port.

Each joint is judged by the code that judges the build's own joints. What decides is the form of the ports, not the
part, so a verdict is found once for each form and kept for as long as the catalogs are.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple
from weakref import WeakKeyDictionary

from fitcheck.build.assemble import brought_together
from fitcheck.build.fixings import Fixings
from fitcheck.build.graph import End, Fitted, Joint, PortGraph
from fitcheck.build.model import BanjoJoint
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding
from fitcheck.checks.joint import short_engagement
from fitcheck.checks.joint_facts import JointFacts, judge
from fitcheck.standards.seats import seat as seat_named

Form = tuple[Any, ...]
Names = Mapping[str, str]
"""What a port in use is called on the new part, by what it is called now."""


class Verdict(NamedTuple):
    """What decides about one joint, without words: the rule that speaks, what could not be judged, what is fitted."""

    rule: str | None
    error: bool
    blind: tuple[str, ...]
    fixings: Fixings


class Tried(NamedTuple):
    """One joint with the new part: its number among the joints of the tag, and how it does.

    `sound` is False if it has a fault at level error, or a rule cannot judge it that can now. `doubtful` is True if it
    is sound, but a rule warns, or could not judge it before either. `refit` is True if it seals with another flare,
    nut, sleeve, bolt, washer or clip than now.
    """

    number: int
    sound: bool
    doubtful: bool
    refit: bool


_VERDICTS: WeakKeyDictionary[Shelf, dict[Form, Verdict]] = WeakKeyDictionary()


class Exchange:
    """The joints of one tag, to be judged with other parts in its place."""

    def __init__(self, context: Context, tag: str) -> None:
        self.context = context
        self.graph: PortGraph = context.graph
        self.item: Fitted = self.graph.fitted[tag]
        everything = [joint for joint in self.graph.joints if any(end.tag == tag for end in joint.ends)]
        self.joints = [joint for joint in everything if _can_be_judged(joint, tag)]
        self.unjudged = tuple(joint.refs for joint in everything if not _can_be_judged(joint, tag))
        self.used = tuple(dict.fromkeys(self._used(everything)))
        self.own = [[port_of(end.ref) for end in joint.ends if end.tag == tag] for joint in self.joints]
        self._kept = _VERDICTS.setdefault(self.graph.build.shelf, {})
        self._others = [_others_form(joint, tag, self._banjo(joint)) for joint in self.joints]
        self._pressed = [self._outlet(joint) for joint in self.joints]
        self._exact: dict[Form, JointFacts] = {}
        self.now = [self._judged_now(joint, number) for number, joint in enumerate(self.joints)]
        self._now = [_verdict(facts, needs) for facts, needs in self.now]

    def _used(self, joints: Iterable[Joint]) -> Iterator[str]:
        """Yield the ports of the tag that the file names, in joints first."""
        tag = self.item.tag
        yield from (port_of(end.ref) for joint in joints for end in joint.ends if end.tag == tag)
        for circuit in self.graph.build.file.circuits.values():
            for ref in (circuit.from_, *circuit.feeds):
                if tag_of(ref) == tag and ref in self.graph.ends:
                    yield port_of(ref)

    def _banjo(self, joint: Joint) -> bool:
        """Return whether the file states the joint as a port and the eyes on its bolt."""
        if joint.path[0] != "joints":
            return False
        return isinstance(self.graph.build.file.joints[int(joint.path[1])], BanjoJoint)

    def _outlet(self, joint: Joint) -> str | None:
        """Return the outlet that puts the joint under pressure, or None."""
        networks = (self.context.circuits.of(ref) for ref in joint.refs)
        return next((network.outlets[0] for network in networks if network is not None and network.outlets), None)

    def _judged_now(self, joint: Joint, number: int) -> tuple[JointFacts, Fixings]:
        if self.item.part is None:
            missing = (("part-unknown", f"{self.item.section}.{self.item.tag}.part"),)
            return JointFacts(joint, None, "note", "", unchecked=missing), Fixings()
        return judged(self.graph, joint, self._pressed[number])

    def with_part(self, number: int, part: Part, names: Names) -> Joint:
        """Return a joint with `part` in place of the present one, its ports by their new names."""
        joint, tag = self.joints[number], self.item.tag
        fitted = self.item._replace(part=part, part_id=part.id)
        ends = tuple(_refitted(end, fitted, part, names) if end.tag == tag else end for end in joint.ends)
        return brought_together(ends, self._banjo(joint), joint)

    def facts(self, number: int, part: Part, names: Names) -> JointFacts:
        """Return everything that can be said of a joint with `part` in place, in words that name that part."""
        own = tuple((name, _port(part, name)) for name in self.names_at(number, names))
        key = (number, own, part.material, part.max_pressure, part.od, part.wall)
        facts = self._exact.get(key)
        if facts is None:
            joint = self.with_part(number, part, names)
            facts = self._exact[key] = judged(self.graph, joint, self._pressed[number])[0]
        return _speaking_of(facts, part, self.item.tag)

    def names_at(self, number: int, names: Names) -> list[str]:
        """Return what the ports that a joint uses are called on the new part; empty if one of them is lost."""
        try:
            return [names[name] for name in self.own[number]]
        except KeyError:
            return []

    def tried(self, number: int, part: Part, names: Names) -> Tried:
        """Return how a joint does with `part` in place; every port that it uses must be in `names`."""
        then, now = self._verdict(number, part, names), self._now[number]
        sound = not then.error and not (then.blind and Counter(then.blind) - Counter(now.blind))
        doubtful = sound and (then.rule is not None or bool(then.blind))
        return Tried(
            number, sound, doubtful, sound and self.item.part is not None and _refit(now.fixings, then.fixings)
        )

    def fixings(self, number: int, part: Part, names: Names) -> Fixings:
        """Return what a joint needs with `part` in place."""
        return self._verdict(number, part, names).fixings

    def _verdict(self, number: int, part: Part, names: Names) -> Verdict:
        own = tuple(_form(_port(part, name), part) for name in self.names_at(number, names))
        key = (self._others[number], own, self._pressed[number] is not None)
        found = self._kept.get(key)
        if found is None:
            facts, needs = judged(self.graph, self.with_part(number, part, names), self._pressed[number])
            found = self._kept[key] = _verdict(facts, needs)
        return found


def judged(graph: PortGraph, joint: Joint, outlet: str | None) -> tuple[JointFacts, Fixings]:
    """Return what the joint rules say of `joint`, and what it needs besides its sides.

    The rules of engagement and of seats that are not made for the pressure from `outlet` speak where none else does.
    """
    probe = Context(graph)
    needs = probe.fixings(joint)
    facts = judge(joint, needs)
    if facts.level == "error" and facts.rule is not None:
        return facts, needs
    weak = _weak_seat(joint) if outlet is not None else None
    if weak is not None:
        message = f"a {weak} joint under pressure from {outlet}"
        return facts._replace(
            rule="unpressurised-part", level="error", message=message, evidence={"outlet": outlet}
        ), needs
    probe.facts = (facts,)
    for said in short_engagement.find(probe):
        if isinstance(said, Finding) and (said.level == "error" or facts.rule is None):
            rule, level, message, evidence = said.rule, said.level, said.message, said.evidence
            facts = facts._replace(rule=rule, level=level, message=message, evidence=evidence)
    return facts, needs


def _weak_seat(joint: Joint) -> str | None:
    seats = (end.port.seat for end in joint.ends if end.port is not None and end.port.seat is not None)
    return next((seat for seat in seats if not seat_named(seat).pressure), None)


def _can_be_judged(joint: Joint, tag: str) -> bool:
    """Return whether all that a joint brings together is known, apart from the part to be exchanged."""
    return not joint.assumed and all(end.known or end.tag == tag for end in joint.ends) and len(set(joint.refs)) > 1


def _refitted(end: End, fitted: Fitted, part: Part, names: Names) -> End:
    name = names[port_of(end.ref)]
    port = None if end.tube_end else part.ports[name]
    return end._replace(ref=f"{fitted.tag}.{name}", fitted=fitted, port=port)


def _port(part: Part, name: str) -> Port | None:
    return part.ports.get(name) if part.kind != "tube" else None


def _form(port: Port | None, part: Part | None) -> Form:
    """Return all that a joint rule can see of one side: the port but for its name, and the part's own figures."""
    own = (part.material, part.max_pressure, part.od, part.wall) if part is not None else ()
    return (*port[1:], *own) if port is not None else own


def _others_form(joint: Joint, tag: str, banjo: bool) -> Form:
    """Return all that the joint rules can see of a joint but for the part of `tag`."""
    sides: list[Form] = []
    for end in joint.ends:
        stated = (end.stated.flare, end.stated.nut, end.stated.sleeve) if end.stated is not None else ()
        sides.append((end.tube_end, *stated, *(_form(end.port, end.fitted.part) if end.tag != tag else ("own",))))
    return (banjo, joint.bolt, joint.washers, *sides)


def _verdict(facts: JointFacts, needs: Fixings) -> Verdict:
    error = facts.rule is not None and facts.level == "error"
    return Verdict(facts.rule, error, tuple(sorted(rule for rule, _ in facts.unchecked)), needs)


def _refit(now: Fixings, then: Fixings) -> bool:
    """Return whether another flare or other fixings than now would have to be fitted."""
    return now.flare != then.flare or _ids(now) != _ids(then)


def _ids(needs: Fixings) -> list[tuple[str, int, str]]:
    return [(item.word, item.quantity, item.part.id if item.part is not None else item.wanted) for item in needs.items]


def _speaking_of(facts: JointFacts, part: Part, tag: str) -> JointFacts:
    """Return facts that were found with one part as they are for another of the very same form."""
    said = next((end.fitted.part_id for end in facts.joint.ends if end.tag == tag), part.id)
    if said == part.id:
        return facts
    ends = tuple(
        end._replace(
            fitted=end.fitted._replace(part=part, part_id=part.id),
            port=None if end.tube_end else part.ports[port_of(end.ref)],
        )
        if end.tag == tag
        else end
        for end in facts.joint.ends
    )
    lead = f"parts.{said}."
    unchecked = tuple(
        (rule, f"parts.{part.id}.{missing[len(lead) :]}" if missing.startswith(lead) else missing)
        for rule, missing in facts.unchecked
    )
    evidence = dict(facts.evidence)
    if "metals" in evidence:
        evidence["metals"] = [
            {**metal, "part": part.id} if metal["part"] == said else metal for metal in evidence["metals"]
        ]
    return facts._replace(joint=facts.joint._replace(ends=ends), unchecked=unchecked, evidence=evidence)

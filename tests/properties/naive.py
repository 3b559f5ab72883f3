"""A second, slow reading of a build, written to be read: plain dicts and sets, nothing shared with the program.

It knows the build file's format, the generic catalog's rows and eight sentences on how joints seal; it
shares no code with `fitcheck.build` or `fitcheck.checks`. Threads mate here if their designations are equal,
which holds for every two threads of the generic catalog. Builds with unknown parts or references are not for it.
"""

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from tests.properties.generic_parts import ROWS, Port, Row

Plan = dict[str, Any]
NUT_SIDE = {"inverted-flare": "external", "bubble": "external", "cone-37": "internal", "cone-45": "internal"}
"""Seats that a flared tube can go to, and the side of its nut."""
LOOSE_KINDS = {"banjo bolt", "washer", "nut", "sleeve", "tube", "clip", "grommet", "fluid"}
BRAKES = {"caliper", "wheel cylinder"}
CONSUMERS = BRAKES | {"slave cylinder"}


@dataclass
class Naive:
    """What the slow reading says of a build.

    `wrong` holds, for each joint that is wrong, the rule that speaks and the joint's ends; `open` the ends that
    nothing is joined to and that need something; `twice` the ends joined more than once; `fed_by` the outlets
    that reach each consumer; `joined_outlets` the sets of outlets between which fluid passes.
    """

    wrong: set[tuple[str, frozenset[str]]] = field(default_factory=set)
    open: set[str] = field(default_factory=set)
    twice: set[str] = field(default_factory=set)
    fed_by: dict[str, frozenset[str]] = field(default_factory=dict)
    joined_outlets: set[frozenset[str]] = field(default_factory=set)
    waters: list[set[str]] = field(default_factory=list)

    @property
    def unfed(self) -> set[str]:
        """The consumers that no outlet reaches."""
        return {ref for ref, outlets in self.fed_by.items() if not outlets}

    def water_of(self, ref: str) -> set[str]:
        """Return everything that shares fluid with an end."""
        return next(water for water in self.waters if ref in water)


def look(plan: Plan, house: dict[str, Row] | None = None) -> Naive:
    """Read a build slowly."""
    return _Look(plan, house or {}).all()


class _Look:
    def __init__(self, plan: Plan, house: dict[str, Row]) -> None:
        self.plan = plan
        self.house = house
        self.ports: dict[str, Port] = {}  # every port of a component or hose
        self.tubes: dict[str, float] = {}  # every end of a line, and its outside diameter
        self.kinds: dict[str, str] = {}  # kind of part, by tag
        self.rows: dict[str, Row] = {}
        self.collect()

    def collect(self) -> None:
        for section in ("components", "hoses"):
            for tag, entry in self.plan.get(section, {}).items():
                row = self.rows[tag] = self.row(entry["part"])
                self.kinds[tag] = row["kind"]
                for name, port in row.get("ports", {}).items():
                    self.ports[f"{tag}.{name}"] = port
        for tag, entry in self.plan.get("lines", {}).items():
            for name in ("from", "to"):
                self.tubes[f"{tag}.{name}"] = number(self.row(entry["tube"])["od"])

    def row(self, part_id: str) -> Row:
        return self.house[part_id] if part_id in self.house else ROWS[part_id]

    def joints(self) -> list[list[str]]:
        """Return every joint once: what stands under joints, then both ends of lines and hoses."""
        found: list[list[str]] = []
        for joint in self.plan.get("joints", []):
            if isinstance(joint, list):
                found.append(joint)
            elif "ports" in joint:
                found.append(joint["ports"])
            else:
                found.append([joint["port"], *joint["eyes"]])
        for section in ("lines", "hoses"):
            for tag, entry in self.plan.get(section, {}).items():
                for name in ("from", "to"):
                    if name in entry:
                        found.append([f"{tag}.{name}", entry[name]])
        once: list[list[str]] = []
        said: list[set[str]] = []
        for refs in found:
            pairs = [{refs[0], ref} for ref in refs[1:]]
            if not all(pair in said for pair in pairs):
                once.append(refs)
                said += pairs
        return once

    def all(self) -> Naive:
        answer = Naive()
        joints = self.joints()
        for refs in joints:
            rule = self.fault(refs)
            if rule is None and self.bolt_differs(refs):
                rule = "thread-mismatch"
            if rule is not None:
                answer.wrong.add((rule, frozenset(refs)))
        times = [ref for refs in joints for ref in set(refs)]
        answer.twice = {ref for ref in times if times.count(ref) > 1} | {
            refs[0] for refs in joints if len(set(refs)) < len(refs)
        }
        answer.open = {ref for ref in [*self.ports, *self.tubes] if self.must_be_joined(ref)} - set(times)
        answer.waters = self.waters(joints)
        outlets = {ref for ref in self.ports if self.is_outlet(ref)}
        for ref in self.ports:
            if self.kind_of(ref) in CONSUMERS and not mechanical(self.ports[ref]):
                answer.fed_by[ref] = frozenset(answer.water_of(ref) & outlets)
        answer.joined_outlets = {frozenset(water & outlets) for water in answer.waters if len(water & outlets) > 1}
        return answer

    def kind_of(self, ref: str) -> str:
        return self.kinds.get(ref.partition(".")[0], "line")

    def is_outlet(self, ref: str) -> bool:
        tag, _, name = ref.partition(".")
        return name in self.rows[tag].get("outlets", [])

    def is_feed(self, ref: str) -> bool:
        tag, _, name = ref.partition(".")
        if tag not in self.rows or self.kinds[tag] != "master cylinder":
            return False
        row = self.rows[tag]
        if "feeds" in row:
            return name in row["feeds"]
        return not self.is_outlet(ref) and not mechanical(self.ports[ref])

    def must_be_joined(self, ref: str) -> bool:
        """Tell an end that carries fluid; what feeds a master cylinder is another question."""
        if ref in self.tubes:
            return True
        return not mechanical(self.ports[ref]) and self.kind_of(ref) not in LOOSE_KINDS and not self.is_feed(ref)

    def waters(self, joints: list[list[str]]) -> list[set[str]]:
        """Return the sets of ends that share fluid: begin with each alone and pour together until nothing changes."""
        waters = [{ref} for ref in [*self.ports, *self.tubes] if ref in self.tubes or not mechanical(self.ports[ref])]
        for refs in [*joints, *self.insides()]:
            wet = [ref for ref in refs if ref in self.tubes or not mechanical(self.ports[ref])]
            if len(wet) < len(refs):
                continue
            for a, b in pairwise(wet):
                one = next(water for water in waters if a in water)
                two = next(water for water in waters if b in water)
                if one is not two:
                    one |= two
                    waters.remove(two)
        return waters

    def insides(self) -> list[list[str]]:
        """Return, for each part, the groups of its ports between which fluid passes inside."""
        groups = [[f"{tag}.from", f"{tag}.to"] for tag in self.plan.get("lines", {})]
        for tag, row in self.rows.items():
            names = [name for name, port in row.get("ports", {}).items() if not mechanical(port)]
            if "passages" in row:
                groups += [[f"{tag}.{name}" for name in group] for group in row["passages"]]
            elif row["kind"] != "master cylinder":
                groups.append([f"{tag}.{name}" for name in names])
        return groups

    def fault(self, refs: list[str]) -> str | None:
        """Return which rule speaks of a joint, None if it seals as far as its two sides go."""
        if len(set(refs)) < len(refs):
            return None
        tubes = [ref for ref in refs if ref in self.tubes]
        ports = [ref for ref in refs if ref in self.ports]
        if len(tubes) == 2:
            return "fixing-missing"
        if any(mechanical(self.ports[ref]) for ref in ports):
            return self.rod_fault(ports)
        if tubes:
            return self.tube_fault(self.ports[ports[0]], self.tubes[tubes[0]])
        eyes = [ref for ref in ports if "eye" in self.ports[ref]]
        if eyes:
            return self.banjo_fault([ref for ref in ports if ref not in eyes], eyes)
        return self.pair_fault(*(self.ports[ref] for ref in ports))

    def rod_fault(self, ports: list[str]) -> str | None:
        """A rod goes into a rod's place: opposite sides, equal threads."""
        if not all(mechanical(self.ports[ref]) for ref in ports) or len(ports) < 2:
            return "seat-mismatch"
        a, b = (self.ports[ref] for ref in ports)
        if a.get("gender") == b.get("gender"):
            return "gender-clash"
        return "thread-mismatch" if a.get("thread") != b.get("thread") else None

    def tube_fault(self, port: Port, od: float) -> str | None:
        """A tube's end wants a port with a cone in it or on it, for a nut of the other side and for its size."""
        if port["seat"] not in NUT_SIDE:
            return "seat-mismatch"
        if port["gender"] == NUT_SIDE[port["seat"]]:
            return "gender-clash"
        return None if one_size(number(port["tube"]), od) else "tube-size-mismatch"

    def banjo_fault(self, bored: list[str], eyes: list[str]) -> str | None:
        """An eye wants a flat land round an internal thread, and a bolt that just goes through."""
        if len(bored) != 1:
            return "seat-mismatch"
        port = self.ports[bored[0]]
        if port["gender"] == "external":
            return "gender-clash"
        if port["seat"] != "washer-face":
            return "seat-mismatch"
        for ref in eyes:
            if not 0 <= round(number(self.ports[ref]["eye"]) - across(port["thread"]), 4) <= 0.8:
                return "tube-size-mismatch"
        return None

    def bolt_differs(self, refs: list[str]) -> bool:
        """Tell whether a banjo bolt stated for these ends has another thread than their port."""
        for joint in self.plan.get("joints", []):
            if isinstance(joint, dict) and joint.get("bolt") and [joint["port"], *joint["eyes"]] == refs:
                bolt = self.row(joint["bolt"])["ports"]["bolt"]
                return bool(bolt["thread"] != self.ports[joint["port"]].get("thread"))
        return False

    def pair_fault(self, a: Port, b: Port) -> str | None:
        """Gender speaks first, then thread, then seat, then size."""
        if a["gender"] == b["gender"]:
            return "gender-clash"
        if "thread" in a and "thread" in b and a["thread"] != b["thread"]:
            return "thread-mismatch"
        if a["seat"] != b["seat"]:
            return "seat-mismatch"
        key = "tube" if a["seat"] in NUT_SIDE else "hose" if a["seat"] == "push-on" else None
        return None if key is None or one_size(number(a[key]), number(b[key])) else "tube-size-mismatch"


def mechanical(port: Port) -> bool:
    """Return whether a port carries force, not fluid."""
    return "pattern" in port or "reach" in port


def across(thread: str) -> float:
    """Return the outside diameter of a thread in mm: what a metric or an inch designation begins with."""
    if thread.startswith("M"):
        return float(thread[1:].split("x")[0])
    whole, _, part = thread.split("-")[0].partition("/")
    return float(whole) / float(part or 1) * 25.4


def number(value: Any) -> float:
    """Return a length in mm, from the index or as a catalog file states it."""
    return float(value.removesuffix(" mm")) if isinstance(value, str) else float(value)


def one_size(a: float, b: float) -> bool:
    """Return whether two sizes count as one."""
    return abs(a - b) <= 0.1 + 1e-9

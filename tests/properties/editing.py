"""Changing a build that is a plain dict: finding places in it, cutting lines open, giving it parts of its own.

Every function that adds something leaves a valid build valid.
"""

from collections.abc import Callable, Iterator, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from hypothesis import strategies as st

from tests.properties.generic_parts import ROWS, Port, Row, closers, takes_tube, tees
from tests.properties.growing import Draw, Plan

_LENGTHS = ("od", "wall", "length", "bore", "stroke", "bend_radius", "inside", "outside", "thickness")


class NoPlaceError(Exception):
    """A build has no place for a defect."""


class Stub(NamedTuple):
    """A port closed by a plug, cap, switch or gauge: the joint's index, the closer's end, the port."""

    index: int
    end: str
    port: str


@dataclass
class Edit:
    """A build under change: its dict, its own catalog, and where choices come from."""

    plan: Plan
    draw: Draw
    house: dict[str, Row] = field(default_factory=dict)

    @classmethod
    def of(cls, plan: Plan, draw: Draw, house: dict[str, Row] | None = None) -> "Edit":
        """Return an edit of a copy of the build."""
        empty: Plan = {"components": {}, "joints": [], "lines": {}, "hoses": {}}
        return cls(deepcopy(plan | {key: plan.get(key, none) for key, none in empty.items()}), draw, dict(house or {}))

    def pick(self, choices: Sequence[Any]) -> Any:
        """Return one of the choices.

        Raises:
            NoPlaceError: there are none: the defect has no place in this build.
        """
        if not choices:
            raise NoPlaceError
        return self.draw(st.sampled_from(choices))

    def tag(self, word: str) -> str:
        """Return a tag that the build does not have yet."""
        taken = {tag for section in ("components", "lines", "hoses") for tag in self.plan.get(section, {})}
        return next(f"{word}_{number}" for number in range(1, 999) if f"{word}_{number}" not in taken)

    def fit(self, part_id: str, like: str | None = None) -> str:
        """Fit a part, on the body of the component `like`, and return its tag."""
        tag = self.tag("new")
        on = self.body(like) if like is not None else None
        self.plan["components"][tag] = {"part": part_id} | ({"on": on} if on else {})
        return tag

    def body(self, tag: str) -> str | None:
        """Return the body that a component says it is on, or else what is screwed to it; None for the chassis."""
        seen, queue = {tag}, [tag]
        while queue:
            here = queue.pop(0)
            on = self.plan["components"][here].get("on")
            if on is not None:
                found: str = on
                return None if found == "chassis" else found
            for tags in ({ref.partition(".")[0] for ref in refs_of(joint)} for joint in self.plan["joints"]):
                more = sorted(tags & set(self.plan["components"]) - seen) if here in tags else []
                seen |= set(more)
                queue += more
        return None

    def part(self, ref: str) -> str:
        """Return the id of the part that a reference or a tag belongs to."""
        tag = ref.partition(".")[0]
        entry = self.plan["components"].get(tag) or self.plan["hoses"][tag]
        found: str = entry["part"]
        return found

    def port(self, ref: str) -> Port:
        """Return the port that a reference means."""
        found: Port = self.row(self.part(ref))["ports"][ref.partition(".")[2]]
        return found

    def row(self, part_id: str) -> Row:
        """Return a part's row, those of the build's own catalog under the part that they were copied from."""
        return ROWS[part_id.removeprefix("own-").removesuffix("-small")]

    def kind(self, tag: str) -> str:
        """Return the kind of a component or hose."""
        found: str = self.row(self.part(tag))["kind"]
        return found

    def of_kind(self, *kinds: str) -> list[str]:
        """Return the tags of components of these kinds."""
        return [tag for tag in self.plan["components"] if self.kind(tag) in kinds]

    def size(self, line: str) -> float:
        """Return the size that a line's tube counts as."""
        od: float = ROWS[self.plan["lines"][line]["tube"]]["od"]
        return min((4.75, 6.0, 6.35), key=lambda size: abs(size - od))

    def lines(self, size: float | None = None) -> list[str]:
        """Return the tags of lines, of one size if one is given."""
        return [tag for tag in self.plan["lines"] if size is None or self.size(tag) == size]

    def neighbour(self, line: str) -> str | None:
        """Return a component at an end of a line: what is put into the line goes on the same body."""
        ends = (self.plan["lines"][line][name].partition(".")[0] for name in ("from", "to"))
        return next((tag for tag in ends if tag in self.plan["components"]), None)

    def cut(self, line: str, near: str, far: str) -> str:
        """Lead a line into one port instead, and a new line from another on to where it went; return its tag."""
        entry = self.plan["lines"][line]
        entry.pop("ends", None)
        tag = self.tag("newline")
        self.plan["lines"][tag] = {"from": far, "to": entry["to"], "tube": entry["tube"]}
        entry["to"] = near
        return tag

    def tee_into(self, line: str, wanted: Callable[[str, str], bool]) -> str:
        """Cut a line open with a tee and return the tee's third port, which is still open."""
        choices = [
            (tee, near, far, third)
            for tee, near, far in tees(self.size(line))
            for third in ROWS[tee]["ports"]
            if third not in (near, far) and wanted(tee, third)
        ]
        tee, near, far, third = self.pick(choices)
        tag = self.fit(tee, like=self.neighbour(line))
        self.cut(line, f"{tag}.{near}", f"{tag}.{far}")
        return f"{tag}.{third}"

    def stubs(self) -> Iterator[Stub]:
        """Yield the ports closed by a plug, cap, switch or gauge."""
        for index, joint in enumerate(self.plan["joints"]):
            refs = joint if isinstance(joint, list) else joint.get("ports", [])
            for end, port in (refs, refs[::-1]) if len(refs) == 2 else ():
                tag = end.partition(".")[0]
                if tag in self.plan["components"] and self.kind(tag) in ("plug", "cap", "pressure switch", "gauge"):
                    yield Stub(index, end, port)

    def stub(self, wanted: Callable[[Port], bool] = lambda port: True) -> Stub:
        """Return a closed port of the wanted form: one that is there, or one made by cutting a line open."""
        there = [stub for stub in self.stubs() if wanted(self.port(stub.port))]
        if there and self.draw(st.booleans()):
            found: Stub = self.pick(there)
            return found
        line = self.pick(self.lines())
        fitting = [
            tee
            for tee in tees(self.size(line))
            for third in ROWS[tee[0]]["ports"]
            if third not in tee[1:] and wanted(ROWS[tee[0]]["ports"][third]) and closers(tee[0], third)
        ]
        if not fitting:
            line = self.pick(self.lines(4.75))
        port = self.tee_into(line, lambda tee, third: bool(closers(tee, third)) and wanted(ROWS[tee]["ports"][third]))
        return self.close(port)

    def close(self, port: str) -> Stub:
        """Close an open port with something that fits."""
        part_id, own = self.pick(closers(self.part(port), port.partition(".")[2]))
        end = f"{self.fit(part_id)}.{own}"
        self.plan["joints"].append([end, port])
        return Stub(len(self.plan["joints"]) - 1, end, port)

    def open_tube_port(self, line: str) -> str:
        """Cut a line open with a tee and return its third port, open, which takes the same tube."""
        size = self.size(line)
        return self.tee_into(line, lambda tee, third: takes_tube(ROWS[tee]["ports"][third], size))

    def rename(self, turn: dict[str, str]) -> None:
        """Write other references in place of some, wherever the build names them."""
        self.plan = renamed(self.plan, turn)

    def drop(self, tag: str) -> None:
        """Take a component out, with the joints that name it."""
        del self.plan["components"][tag]
        self.plan["joints"] = [
            joint for joint in self.plan["joints"] if all(ref.partition(".")[0] != tag for ref in refs_of(joint))
        ]

    def own(self, part_id: str, **changes: Any) -> str:
        """Add a copy of a generic part to the build's own catalog, something about it changed; return its id."""
        name = part_id if part_id.startswith("own-") else f"own-{part_id}"
        self.house.setdefault(name, as_entry(self.row(part_id))).update(changes)
        self.plan["catalogs"] = ["house.yaml"]
        return name

    def own_port(self, part_id: str, port: str, **changes: Any) -> str:
        """Add a copy of a generic part of which one port is changed; return its id."""
        name = self.own(part_id)
        self.house[name]["ports"][port] |= changes
        return name


def refs_of(joint: Any) -> list[str]:
    """Return all references of a joint as the file states it."""
    if isinstance(joint, list):
        return list(joint)
    return list(joint["ports"]) if "ports" in joint else [joint["port"], *joint["eyes"]]


def renamed(node: Any, turn: dict[str, str]) -> Any:
    """Return a tree of plain values with other words in place of some."""
    if isinstance(node, dict):
        return {key: renamed(value, turn) for key, value in node.items()}
    if isinstance(node, list):
        return [renamed(value, turn) for value in node]
    return turn.get(node, node) if isinstance(node, str) else node


def as_entry(row: Row) -> Row:
    """Return a row of the generic catalog as a catalog file would state it: lengths with their unit."""
    kept = ("kind", "passages", "outlets", "feeds", "ends", "bleeder", "one_way", "fluid_families", "material", "eyes")
    entry: Row = {key: deepcopy(row[key]) for key in kept if key in row}
    entry |= {key: f"{row[key]} mm" for key in _LENGTHS if key in row}
    entry |= {key: f"{row[key]} MPa" for key in ("setting",) if key in row}
    entry["ports"] = {
        name: {key: value if isinstance(value, str) else f"{value} mm" for key, value in found.items()}
        for name, found in row.get("ports", {}).items()
    }
    return entry

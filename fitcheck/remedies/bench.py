"""The build under repair: what cures look at, and how joints are written into its file."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from math import dist
from typing import Final

from fitcheck.build.assemble import brought_together
from fitcheck.build.bodies import Bodies
from fitcheck.build.fixings import Fixings, fixings
from fitcheck.build.graph import End, Fitted, Joint, Path
from fitcheck.build.load import CHASSIS, Build
from fitcheck.build.model import BanjoJoint, PairJoint
from fitcheck.build.positions import end_position
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.offers import Offers
from fitcheck.catalog.part import CONSUMERS, KINDS, Part, Port
from fitcheck.changes import Append, Change, Drop, Plain, Put
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.joint_facts import judge
from fitcheck.remedies.adapters import Bridges
from fitcheck.remedies.bridge_prices import prices_of
from fitcheck.remedies.remedy import fresh_tag
from fitcheck.remedies.room import Room

PLAIN: Final = ("plug", "cap", "union", "bulkhead union", "tee", "elbow", "adapter")
"""Kinds that do nothing but join or close."""
OWN_WORK: Final = CONSUMERS | {"master cylinder", "pedal box", "proportioning valve", "residual valve"}
"""Kinds that turn force and pressure into each other, or hold pressure back: two of them differ by more than ports."""
SLACK: Final = 1.1
"""How much longer than the straight distance a hose is at least (common practice, no source)."""
NEW: Final = "new part"
"""What stands for the tag of a part that is not fitted yet."""

MOST_MOVES: Final = 40
"""Findings for which a line is led another way; of more the rest is counted as not looked for."""


class Bench:
    """One build that has been checked. Cures read it; it never changes, but counts what takes them long."""

    def __init__(self, context: Context, report: Report) -> None:
        self.context = context
        self.report = report
        self.graph = context.graph
        self.build: Build = context.graph.build
        self.file = context.file
        self.shelf = self.build.shelf
        self._reached: dict[object, tuple[tuple[str, str, str], ...] | None] = {}
        self._judged: dict[tuple[object, ...], bool] = {}
        self._moves = 0

    def may_move(self) -> bool:
        """Return whether one more line may be looked for another way for: in a tangle that takes long for each."""
        self._moves += 1
        return not self.moves_spent

    @property
    def moves_spent(self) -> bool:
        """Whether lines were left where they are because too many are too near to something."""
        return self._moves > MOST_MOVES

    @cached_property
    def bodies(self) -> Bodies:
        """Which body each component is on."""
        return Bodies(self.graph)

    @cached_property
    def joint_of(self) -> Mapping[frozenset[str], Joint]:
        """The joints of the build by the ends that they bring together."""
        return {frozenset(joint.refs): joint for joint in self.graph.joints}

    @cached_property
    def places(self) -> Mapping[str, tuple[Path, ...]]:
        """Every place in the file that names an end, by the reference written there."""
        found: dict[str, list[Path]] = {}
        for path, ref in _references(self.build):
            found.setdefault(ref, []).append(path)
        return {ref: tuple(paths) for ref, paths in found.items()}

    @cached_property
    def _forms(self) -> Counter[tuple[object, object]]:
        ports = (end.port for end in self.graph.ends.values() if end.port is not None)
        return Counter((port.thread and port.thread.key, port.seat) for port in ports)

    def common(self, port: Port) -> int:
        """Return how many ports of the build have this thread and seat: for those the builder has tools and nuts."""
        return self._forms[port.thread and port.thread.key, port.seat]

    @cached_property
    def tubes(self) -> tuple[Part, ...]:
        """Every tube of the catalogs, those that the build uses first and the most used of them in front."""
        used = Counter(line.tube for line in self.file.lines.values())
        return tuple(sorted(self.shelf.of_kind("tube"), key=lambda part: -used[part.id]))

    @cached_property
    def hoses(self) -> tuple[Part, ...]:
        """Every brake hose of the catalogs with two ends, those that the build uses first."""
        used = Counter(hose.part for hose in self.file.hoses.values())
        hoses = (part for part in self.shelf.of_kind("hose") if len(part.fluid_ports()) == 2)
        return tuple(sorted(hoses, key=lambda part: -used[part.id]))

    @cached_property
    def offers(self) -> Offers | None:
        """Every offer of the build, read once for all that is priced; None if it names no offer files."""
        return self.build.offers() if self.file.offers else None

    @cached_property
    def _prices(self) -> dict[str, Fraction]:
        found, currency = prices_of(self.build, kinds=KINDS, offers=self.offers)
        return {part: price.unit_price for part, price in found.items() if price.currency == currency}

    def price(self, part_id: str) -> Fraction | None:
        """Return what one piece costs in the currency of most offers, None where no offer tells."""
        return self._prices.get(part_id) if self.file.offers else None

    @cached_property
    def feed_hoses(self) -> tuple[Part, ...]:
        """Every feed hose of the catalogs, those that the build uses first."""
        used = Counter(hose.part for hose in self.file.hoses.values())
        return tuple(sorted(self.shelf.of_kind("feed hose"), key=lambda part: -used[part.id]))

    def part(self, tag: str) -> Part | None:
        """Return the part that a tag is fitted with, None if no catalog has it."""
        item = self.graph.fitted.get(tag)
        return item.part if item is not None else None

    def port(self, ref: str) -> Port | None:
        """Return the port that a reference means; None for tube ends and what no catalog has."""
        end = self.graph.ends.get(ref)
        return end.port if end is not None else None

    def is_line(self, ref: str) -> bool:
        """Return whether an end, or the tag it belongs to, is a line."""
        return tag_of(ref) in self.file.lines

    def seals(self, one: End, other: End) -> bool:
        """Return whether two ends make a sound joint as they are: the judgement of the joint rules, nothing less."""
        if one.tube_end and other.tube_end:
            return False
        ends = (other, one) if one.tube_end else (one, other)
        if any(end.port is None for end in ends if not end.tube_end):
            return False
        key = tuple(_form(end) for end in ends)
        if key not in self._judged:
            joint = brought_together(ends, False, Joint(ends, "pair", ()))
            needs = fixings(self.graph, joint) if joint.kind != "mechanical" else Fixings()
            facts = judge(joint, needs)
            self._judged[key] = (facts.rule is None or facts.level == "note") and not facts.unchecked
        return self._judged[key]

    def reach(self, one: End, other: End) -> tuple[tuple[str, str, str], ...] | None:
        """Return the shortest chain of adapters from one end to another, empty if they join, None if there is none.

        Each adapter is its id and the names of its ports that face the first end and the second.
        """
        if self.seals(one, other):
            return ()
        if any(end.port is None and not end.tube_end for end in (one, other)):
            return None
        key = (_form(one), _form(other))
        if key not in self._reached:
            chains = self.bridges.between(one, other, most=1)
            self._reached[key] = tuple((step.part, step.near, step.far) for step in chains[0].steps) if chains else None
        return self._reached[key]

    def chained(
        self, one: str, other: str, steps: Sequence[tuple[str, str, str]], taken: Sequence[str] = ()
    ) -> tuple[list[Change], tuple[str, ...]]:
        """Return the changes that join two ends that nothing joins with a chain of adapters, and the parts it takes."""
        changes: list[Change] = []
        tags = list(taken)
        here = one
        for part_id, near, far in steps:
            tags.append(fresh_tag(self.build, "adapter", one, tags))
            changes += [Put(("components", tags[-1]), self.component(part_id)), *self.join(here, f"{tags[-1]}.{near}")]
            here = f"{tags[-1]}.{far}"
        return [*changes, *self.join(here, other)], tuple(part_id for part_id, _, _ in steps)

    @cached_property
    def bridges(self) -> Bridges:
        """The search for adapters; it remembers what joins."""
        return Bridges(self.graph)

    @cached_property
    def room(self) -> Room:
        """Lines and hot things, for lines that could run otherwise."""
        return Room(self.context)

    def body_of(self, ref: str) -> str | None:
        """Return the body that an end is on, None for the chassis; of a line or hose that of what it is joined to."""
        tag = tag_of(ref)
        if tag in self.file.components:
            body = self.bodies.of(tag)
            return None if body == CHASSIS else body
        if tag in self.file.lines:
            on = {body for _, body in self.bodies.of_line(tag)} - {CHASSIS}
            return min(on) if on else None
        for joint in self.graph.joints_at.get(ref, ()):
            for end in joint.ends:
                if end.ref != ref and end.fitted.section == "components":
                    return self.body_of(end.ref)
        return None

    def old_way(self, *tags: str) -> Iterator[str]:
        """Yield what has to be measured again of lines that go elsewhere from now on."""
        for tag in tags:
            line = self.file.lines.get(tag)
            stated = [key for key in ("route", "length") if line is not None and getattr(line, key) is not None]
            if stated:
                yield f"{' and '.join(stated)} of {tag}: of the old way, measure again"

    def distance(self, one: str, other: str) -> float | None:
        """Return how far apart two ends are in a straight line [mm], None where the file does not say."""
        places = [end_position(self.graph, ref) for ref in (one, other)]
        return None if places[0] is None or places[1] is None else dist(places[0], places[1])

    def reaching(self, one: str, other: str, least: float | None = None) -> tuple[Part, ...]:
        """Return the hoses that are long enough between two ends, and at least `least` [mm] long.

        Where the file says where both ends are, the shortest come first, and none is shorter than 1.1 times the
        straight distance (common practice, no source): a hose must hang, and the parts move.
        """
        apart = self.distance(one, other)
        wanted = max(least or 0.0, SLACK * (apart or 0.0))
        found = [part for part in self.hoses if part.length is None or part.length >= wanted]
        return tuple(sorted(found, key=lambda part: part.length or 0.0)) if wanted else tuple(found)

    def component(self, part_id: str, on: str | None = None) -> Plain:
        """Return the entry of a component as the file writes it."""
        entry: dict[str, Plain] = {"part": part_id}
        return entry if on is None else {**entry, "on": on}

    def stated(self, one: str, other: str) -> list[Path]:
        """Return every place in the file that brings these two ends together: joints, and ends of lines and hoses."""
        found: list[Path] = []
        for own, there in ((one, other), (other, one)):
            tag, name = tag_of(own), port_of(own)
            for section in ("lines", "hoses"):
                entry = getattr(self.file, section).get(tag)
                if entry is not None and getattr(entry, "from_" if name == "from" else name, None) == there:
                    found.append((section, tag, name))
        pair = {one, other}
        for index, entry in enumerate(self.file.joints):
            if isinstance(entry, BanjoJoint):
                if entry.port in pair and pair - {entry.port} <= set(entry.eyes):
                    found.append(("joints", index))
            elif set(entry.ports if isinstance(entry, PairJoint) else entry) == pair:
                found.append(("joints", index))
        return found

    def unjoin(self, one: str, other: str) -> tuple[list[Change], list[Path]]:
        """Return the changes that take a joint apart, and the places that must be written anew: ends of lines.

        A line must go from somewhere to somewhere, so that the place of its own end can only get another value.
        """
        changes: list[Change] = []
        again: list[Path] = []
        for path in self.stated(one, other):
            if path[0] == "lines":
                again.append(path)
            elif path[0] == "joints" and isinstance(entry := self.file.joints[int(path[1])], BanjoJoint):
                changes += _without_eye(path, entry, one if one in entry.eyes else other)
            else:
                changes.append(Drop(path))
        return changes, again

    def join(self, one: str, other: str, hoses: frozenset[str] = frozenset()) -> list[Change]:
        """Return the changes that bring two ends together: at the end of a line, of one of `hoses`, or as a joint.

        What the file states of a line's end (flare, nut, sleeve) was for what it went into before, and goes.
        """
        for own, there in ((one, other), (other, one)):
            tag = tag_of(own)
            if tag in self.file.lines:
                return [Put(("lines", tag, port_of(own)), there), *self.unstated(own)]
            if own in hoses:
                return [Put(("hoses", tag, port_of(own)), there)]
        return [Append(("joints",), [one, other])]

    def unstated(self, own: str, keys: tuple[str, ...] = ("flare", "nut", "sleeve")) -> list[Change]:
        """Return the changes that take out what the file states of a line's end; nothing if it states none of it."""
        tag, name = tag_of(own), port_of(own)
        ends = self.file.lines[tag].ends
        end = getattr(ends, "from_" if name == "from" else name) if ends is not None else None
        said = set(end.model_fields_set) if end is not None else set()
        gone = [key for key in keys if key in said]
        if not gone:
            return []
        if set(gone) < said:
            return [Drop(("lines", tag, "ends", name, key)) for key in gone]
        both = ends is not None and ends.from_ is not None and ends.to is not None
        return [Drop(("lines", tag, "ends", name) if both else ("lines", tag, "ends"))]

    def between(self, one: str, other: str, chain: list[tuple[str, str]]) -> list[Change]:
        """Return the changes that put fittings between two joined ends: `chain` has each one's near and far end."""
        changes, _ = self.unjoin(one, other)
        hoses = frozenset(f"{path[1]}.{path[2]}" for path in self.stated(one, other) if path[0] == "hoses")
        changes = [change for change in changes if not (isinstance(change, Drop) and _end_at(change.path) in hoses)]
        here = one
        for near, far in chain:
            changes += self.join(here, near, hoses)
            here = far
        changes += self.join(here, other, hoses)
        return changes

    def renamed(self, turn: Mapping[str, str]) -> list[Change]:
        """Return the changes that write other references in place of some, wherever the file names them."""
        return [Put(path, new) for old, new in turn.items() for path in self.places.get(old, ())]


def bare(end: End) -> End:
    """Return a tube's end without what the file states of it: it was for what the end goes into now."""
    return end._replace(stated=None) if end.tube_end else end


def fitted_end(part: Part, port: Port, tag: str = NEW) -> End:
    """Return an end of a part that is not fitted yet."""
    return End(f"{tag}.{port.name}", Fitted(tag, "components", part.id, part, ()), port)


def tube_end(part: Part, tag: str = NEW) -> End:
    """Return an end of a tube that is not fitted yet."""
    return End(f"{tag}.from", Fitted(tag, "lines", part.id, part, ()), None, True)


def _end_at(path: Path) -> str:
    return f"{path[1]}.{path[2]}" if len(path) == 3 else ""


def _without_eye(path: Path, entry: BanjoJoint, eye: str) -> list[Change]:
    if len(entry.eyes) == 1:
        return [Drop(path)]
    index = entry.eyes.index(eye)
    changes: list[Change] = [Drop((*path, "eyes", index))]
    return changes + [Drop((*path, key)) for key in ("bolt", "washers") if getattr(entry, key) is not None]


def _form(end: End) -> tuple[object, ...]:
    """Return what decides whether an end joins another."""
    if end.tube_end:
        part = end.fitted.part
        said = end.stated
        own = (said.flare, said.nut, said.sleeve) if said is not None else None
        return ("tube", part and part.od, part and part.wall, part and part.material, own)
    port = end.port
    assert port is not None
    return (port.thread and port.thread.key, port.gender, port.seat, port.tube, port.hose, port.eye, port.pattern)


def _references(build: Build) -> Iterator[tuple[Path, str]]:
    file = build.file
    for index, entry in enumerate(file.joints):
        if isinstance(entry, BanjoJoint):
            yield ("joints", index, "port"), entry.port
            yield from ((("joints", index, "eyes", n), ref) for n, ref in enumerate(entry.eyes))
        else:
            ports = entry.ports if isinstance(entry, PairJoint) else entry
            base: Path = ("joints", index, "ports") if isinstance(entry, PairJoint) else ("joints", index)
            yield from (((*base, n), ref) for n, ref in enumerate(ports))
    for section in ("lines", "hoses"):
        for tag, entry in getattr(file, section).items():
            for name, ref in (("from", entry.from_), ("to", entry.to)):
                if ref is not None:
                    yield (section, tag, name), ref
    for tag, circuit in file.circuits.items():
        yield ("circuits", tag, "from"), circuit.from_
        yield from ((("circuits", tag, "feeds", n), ref) for n, ref in enumerate(circuit.feeds))
    for index, accepted in enumerate(file.accept):
        if "." in accepted.at:
            yield ("accept", index, "at"), accepted.at

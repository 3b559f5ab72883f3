"""Every adapter of the catalogs, filed by the interfaces of its two ports, and which interfaces join.

An *interface* is what decides whether a port joins another: thread, gender, seat, and size of tube, hose or eye.
Parts with the same two interfaces are one `Link`, so that 200,000 parts that share interfaces cost a search nothing
extra. Whether two interfaces join is the judgement of the joint rules, made once for each pair of them.

Depth and length of a thread are no part of an interface: threads that mate do so over any engagement, which the
tests prove for the trade's list.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from fractions import Fraction
from math import lcm
from typing import Any, Final, NamedTuple, TypeAlias

from fitcheck.bom.record import Price
from fitcheck.build.fixings import Fixings, fixings
from fitcheck.build.graph import End, Fitted, Joint, JointKind, PortGraph
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.checks.joint_facts import HOSE_WITHIN_MM, JointFacts, judge
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.sizes import SAME_WITHIN_MM, same_tube
from fitcheck.standards.threads import Thread, fit

KINDS: Final = ("union", "adapter", "elbow", "bulkhead union")
"""Kinds of part that can stand between two ends, the plainest first: an elbow wants room, a bulkhead a hole."""
_PLAIN: Final = {"union": 0, "adapter": 0, "elbow": 1, "bulkhead union": 2}
_OTHER: Final = {"external": "internal", "internal": "external"}
_BUCKET_MM: Final = 0.25
"""Width of the drawers that ports are filed in by tube size; wider than what counts as one size."""

Form: TypeAlias = tuple[Any, ...]


class Interface(NamedTuple):
    """What decides whether a port joins another. The thread by its designation; lengths in mm."""

    thread: str | None
    gender: str | None
    seat: str | None
    tube: float | None
    hose: float | None
    eye: float | None


class Candidate(NamedTuple):
    """One part of a link, in the order of preference: priced ones first, cheaper, rated higher, plainer, by id.

    `price` is in whole steps of `Adapters.step`. `worse` is the pressure rating [MPa] with its sign turned, 0 if it
    is not known. `ports` are the names of the port at the link's first interface and of the other.
    """

    unpriced: int
    price: int
    worse: float
    bends: int
    part: str
    ports: tuple[str, str]


class Link:
    """All parts that lead from one interface to another, either way round."""

    __slots__ = ("_ranked", "ends", "parts", "worse")

    def __init__(self, ends: tuple[int, int]) -> None:
        self.ends = ends
        self.parts: list[Candidate] = []
        self.worse = 0.0
        self._ranked = False

    def add(self, part: Candidate) -> None:
        """File a part; `worse` keeps the best rating of all."""
        self.parts.append(part)
        self.worse = min(self.worse, part.worse)
        self._ranked = False

    def ranked(self) -> list[Candidate]:
        """Return the parts, best first; sorted at first use."""
        if not self._ranked:
            self.parts.sort()
            self._ranked = True
        return self.parts


class Adapters:
    """The adapters of one shelf, priced by `prices` (part id to price of one), ready to be searched.

    Prices in `currency` are compared; a price in any other counts as unknown: no rate of exchange is invented.
    `families` are the fluid families of the parts that state theirs; `kept` is for searches, to keep by duty which
    parts of a link stand it.
    """

    def __init__(self, graph: PortGraph, prices: Mapping[str, Price], currency: str | None) -> None:
        self.graph = graph
        self.currency = currency
        self.prices = prices
        own = [price.unit_price for price in prices.values() if price.currency == currency]
        self._per_unit = lcm(*(price.denominator for price in own))
        self.step = Fraction(1, self._per_unit)
        self.interfaces: list[Interface] = []
        self.ports: list[Port] = []
        self.forms: list[Form] = []
        self.links: list[dict[int, Link]] = []
        self.families: dict[str, tuple[str, ...]] = {}
        self.kept: dict[Any, dict[tuple[int, int], list[Candidate]]] = {}
        self._numbers: dict[Interface, int] = {}
        self._by_thread: dict[tuple[str, str], dict[Form | None, list[int]]] = {}
        self._by_tube: dict[int, list[int]] = {}
        self._eyes: list[int] = []
        self._mates: dict[int, frozenset[int]] = {}
        self._onward: dict[int, frozenset[int]] = {}
        self._back: dict[int, frozenset[int]] = {}
        self._of_end: dict[tuple[Form, bool], frozenset[int]] = {}
        self._mating: dict[tuple[str, str, str], tuple[Form | None, ...]] = {}
        for part, ports in _two_ported(graph.build.shelf):
            self._file(part, *ports)

    def mates(self, number: int) -> frozenset[int]:
        """Return the interfaces that join this one."""
        found = self._mates.get(number)
        if found is None:
            found = self._mates[number] = self.joining(_loose_end(self.ports[number]))
        return found

    def onward(self, number: int) -> frozenset[int]:
        """Return the interfaces that one adapter, joined to this one, leads to."""
        found = self._onward.get(number)
        if found is None:
            found = self._onward[number] = self.beyond(self.mates(number))
        return found

    def back(self, number: int) -> frozenset[int]:
        """Return the interfaces from which one adapter leads to this one."""
        found = self._back.get(number)
        if found is None:
            found = self._back[number] = _union(self.mates(near) for near in self.links[number])
        return found

    def beyond(self, near: Iterable[int]) -> frozenset[int]:
        """Return the interfaces at the far side of adapters whose near side is one of these."""
        return _union(self.links[number] for number in near)

    def warm(self) -> None:
        """Judge every pair of interfaces that could join now, instead of when a search first asks."""
        for number in range(len(self.interfaces)):
            self.onward(number)
            self.back(number)

    def joining(self, end: End, lenient: bool = False) -> frozenset[int]:
        """Return the interfaces of adapters that join `end` with nothing to be said against it.

        With `lenient`, what `end` itself does not say (the size of its tube, its wall) is held against nobody.
        """
        key = (key_of(end), lenient)
        found = self._of_end.get(key)
        if found is None:
            near = self._could(end, lenient)
            joins = (n for n in near if self.join(end, _loose_end(self.ports[n]), lenient))
            found = self._of_end[key] = frozenset(joins)
        return found

    def but_for_size(self, end: End, lenient: bool = False) -> frozenset[int]:
        """Return the interfaces that would join `end` if only the size of tube or hose were the same."""
        port = end.port
        if end.tube_end:
            drawers: Iterable[list[int]] = self._by_tube.values()
        elif port is None or port.seat is None or port.gender is None or port.eye is not None:
            return frozenset()
        else:
            other = _OTHER[port.gender]
            by_thread = self._by_thread.get((port.seat, other), {})
            drawers = (by_thread[key] for key in self._mating_keys(port, other, by_thread))
        numbers = (number for drawer in drawers for number in drawer)
        return frozenset(n for n in numbers if self._only_size(end, _loose_end(self.ports[n]), lenient))

    def _only_size(self, a: End, b: End, lenient: bool) -> bool:
        joint = joint_of(a, b)
        facts = judge(joint, self.needs(joint))
        others = facts.evidence.get("also", ())
        return facts.rule == "tube-size-mismatch" and not others and self._said(facts, lenient)

    def join(self, a: End, b: End, lenient: bool = False) -> bool:
        """Return whether two ends seal as they are: the judgement of the joint rules, nothing less.

        With `lenient`, a field that only an end outside the catalogs lacks is no reason against it.
        """
        joint = joint_of(a, b)
        if joint.kind == "mechanical":
            return False
        facts = judge(joint, self.needs(joint))
        return facts.rule is None and self._said(facts, lenient)

    @staticmethod
    def _said(facts: JointFacts, lenient: bool) -> bool:
        """Return whether everything could be looked at, or with `lenient` all that the catalogs should say."""
        return not facts.unchecked or (lenient and all(not field.startswith(_LOOSE) for _, field in facts.unchecked))

    def needs(self, joint: Joint) -> Fixings:
        """Return the fixings of a joint, stated or chosen."""
        return fixings(self.graph, joint)

    def _file(self, part: Part, near: Port, far: Port) -> None:
        a, b = self._number(near), self._number(far)
        names = (near.name, far.name)
        if a > b:
            a, b, names = b, a, names[::-1]
        link = self.links[a].get(b)
        if link is None:
            link = self.links[a][b] = self.links[b][a] = Link((a, b))
        price = self.prices.get(part.id)
        known, steps = False, 0
        if price is not None and price.currency == self.currency:
            known = True
            steps = price.unit_price.numerator * (self._per_unit // price.unit_price.denominator)
        worse = -float(part.max_pressure) if part.max_pressure is not None else 0.0
        link.add(Candidate(int(not known), steps, worse, _PLAIN[part.kind], part.id, names))
        if part.fluid_families is not None:
            self.families[part.id] = part.fluid_families

    def _number(self, port: Port) -> int:
        interface = interface_of(port)
        number = self._numbers.get(interface)
        if number is None:
            number = self._numbers[interface] = len(self.interfaces)
            self.interfaces.append(interface)
            plain = Port("", port.thread, port.gender, port.seat, port.tube, port.hose, port.eye)
            self.ports.append(plain)
            self.forms.append(form_of_port(port))
            self.links.append({})
            self._shelve(number, plain)
        return number

    def _shelve(self, number: int, port: Port) -> None:
        """Put an interface into the drawers that `_could` looks into; one that no rule could pass into none."""
        if port.eye is not None:
            self._eyes.append(number)
        elif port.seat is not None and port.gender is not None:
            key = port.thread.key if port.thread is not None else None
            self._by_thread.setdefault((port.seat, port.gender), {}).setdefault(key, []).append(number)
            if port.tube is not None and seat_named(port.seat).tube_end:
                self._by_tube.setdefault(int(port.tube / _BUCKET_MM), []).append(number)

    def _could(self, end: End, lenient: bool) -> Iterator[int]:
        """Yield the interfaces worth judging against `end`: every one that joins it is among them."""
        port = end.port
        if end.tube_end:
            yield from self._for_tube(end, lenient)
        elif port is None or port.mechanical:
            return
        elif port.eye is not None:
            for group in self._by_thread.get(("washer-face", "internal"), {}).values():
                yield from group
        else:
            if port.seat == "washer-face" and port.gender == "internal":
                yield from self._eyes
            yield from self._for_port(port)

    def _for_tube(self, end: End, lenient: bool) -> Iterator[int]:
        od = end.fitted.part.od if end.fitted.part is not None else None
        if od is None:
            if lenient:
                for group in self._by_tube.values():
                    yield from group
            return
        drawer = int(od / _BUCKET_MM)
        for near in (drawer - 1, drawer, drawer + 1):
            for number in self._by_tube.get(near, ()):
                tube = self.interfaces[number].tube
                if tube is not None and same_tube(tube, od):
                    yield number

    def _for_port(self, port: Port) -> Iterator[int]:
        if port.seat is None or port.gender is None:
            return
        other = _OTHER[port.gender]
        by_thread = self._by_thread.get((port.seat, other), {})
        for key in self._mating_keys(port, other, by_thread):
            for number in by_thread.get(key, ()):
                if _near(port.tube, self.interfaces[number].tube, SAME_WITHIN_MM) and _near(
                    port.hose, self.interfaces[number].hose, HOSE_WITHIN_MM
                ):
                    yield number

    def _mating_keys(
        self, port: Port, other: str, by_thread: Mapping[Form | None, list[int]]
    ) -> Collection[Form | None]:
        """Return the keys of the threads that mate with the port's among those of one drawer."""
        if port.thread is None or port.seat == "push-on":
            return tuple(by_thread)
        at = (port.thread.designation, other, str(port.seat))
        found = self._mating.get(at)
        if found is None:
            pairs = ((key, self.ports[numbers[0]].thread) for key, numbers in by_thread.items())
            found = self._mating[at] = tuple(
                key for key, thread in pairs if thread is not None and _mate(port.thread, thread, other)
            )
        return found


_LOOSE: Final = "parts.an adapter."
_FITTED: Final = Fitted("an adapter", "components", "an adapter", Part("an adapter", "adapter", "", {}, ()), ())


def _loose_end(port: Port) -> End:
    return End("an adapter", _FITTED, port)


def adapter_end(part: Part, name: str) -> End:
    """Return the end that one port of a part is while it is fitted nowhere."""
    return End(f"{part.id}.{name}", Fitted(part.id, "components", part.id, part, ()), part.ports[name])


def interface_of(port: Port) -> Interface:
    """Return the interface of a port."""
    thread = port.thread.designation if port.thread is not None else None
    return Interface(thread, port.gender, port.seat, port.tube, port.hose, port.eye)


def form_of_port(port: Port) -> Form:
    """Return thread and seat: what a builder means by one standard of port."""
    return (port.thread.key if port.thread is not None else None, port.seat)


def key_of(end: End) -> Form:
    """Return what decides what an end joins: for a tube its size, wall, material and what is stated of its end."""
    if end.tube_end:
        part = end.fitted.part
        return ("tube", part and part.od, part and part.wall, part and part.material, end.stated)
    return (*interface_of(end.port), end.port.mechanical) if end.port is not None else ("unknown",)


def joint_of(a: End, b: End) -> Joint:
    """Return the joint that two ends make, read as the graph of a build reads it."""
    if a.tube_end and b.tube_end:
        return Joint((a, b), "tubes", ())
    if a.tube_end or b.tube_end:
        return Joint((b, a) if a.tube_end else (a, b), "tube", ())
    kind: JointKind = "pair"
    ports = [end.port for end in (a, b) if end.port is not None]
    if any(port.mechanical for port in ports):
        kind = "mechanical"
    elif any(port.eye is not None for port in ports):
        kind = "banjo"
        if ports[0].eye is not None:
            a, b = b, a
    elif ports[0].gender != "external":
        a, b = b, a
    return Joint((a, b), kind, ())


def _two_ported(shelf: Shelf) -> Iterator[tuple[Part, tuple[Port, Port]]]:
    """Yield every part that is one plain way through from one port to another, with the two."""
    for kind in KINDS:
        for part in shelf.of_kind(kind):
            ports = part.fluid_ports()
            if len(ports) == 2 and part.one_way is None:
                near, far = ports
                if any(near.name in group and far.name in group for group in part.passages):
                    yield part, (near, far)


def _union(sets: Iterable[Iterable[int]]) -> frozenset[int]:
    return frozenset().union(*sets)


def _near(a: float | None, b: float | None, within: float) -> bool:
    return a is None or b is None or abs(a - b) <= within + 1e-9


APART_MM: Final = 1.0
"""Threads whose nominal diameters [mm] are further apart never mate: the tests prove it for every thread."""


def _mate(thread: Thread, mate: Thread, gender_of_mate: str) -> bool:
    if abs(thread.nominal_mm - mate.nominal_mm) > APART_MM:
        return False
    outer, inner = (mate, thread) if gender_of_mate == "external" else (thread, mate)
    return fit(outer, inner).verdict == "mates"


_MADE: Final[list[Adapters]] = []
_KEPT: Final = 4


def adapters_of(graph: PortGraph, prices: Mapping[str, Price] | None = None, currency: str | None = None) -> Adapters:
    """Return the adapters of the build's shelf; those of the last few shelves are kept while prices stay the same."""
    prices = prices or {}
    for made in _MADE:
        if made.graph.build.shelf is graph.build.shelf and made.prices == prices and made.currency == currency:
            return made
    made = Adapters(graph, prices, currency)
    _MADE[:] = [made, *_MADE[: _KEPT - 1]]
    return made

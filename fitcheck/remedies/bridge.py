"""Chains of adapters that join two ends, best first, each proven to be the best that is left.

The search runs over interfaces (`fitcheck.remedies.interfaces`), not over parts, and gives chains in the order of
their `Rank`. Chains from which an adapter could be left out are none: they add a leak path for nothing.

Why the order is exact: chains of one adapter are given before those of two, and so on, and for each length every
interface is known from which the other end can still be reached in the steps that are left. Working backwards, the
least price, the best rating and the fewest foreign forms of any way on from each such interface are found. Partial
chains then wait in a heap under a key of what they have and what the way on costs at least, criterion by criterion.
Prices add up, so their bound is met; the lowest rating and the set of forms do not add up, but each of their bounds
is never worse than any true value, so the whole key, compared criterion by criterion, never is. What leaves the heap
complete is therefore no worse than anything still in it (best-first search with a bound that never overstates).
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial
from heapq import heappop, heappush
from itertools import count, islice
from typing import Final, NamedTuple, TypeAlias

from fitcheck.build.graph import End
from fitcheck.catalog.part import Port
from fitcheck.measures import Units, rating_text, told_apart
from fitcheck.quantities import render
from fitcheck.remedies.interfaces import Adapters, Candidate, Form, Link, adapter_end, form_of_port
from fitcheck.standards.seats import seat as seat_named

LONGEST: Final = 4
"""Most adapters in a chain unless more are asked for. Every adapter is one more joint that can leak."""

Tie: TypeAlias = tuple[float, int, str]
Rank: TypeAlias = tuple[int, int, int, float, int, tuple[Tie, ...]]
"""What chains are ordered by: adapters; parts without a comparable price; price; lowest rating with its sign turned,
0 if one is unknown; forms that neither end has; then part by part the higher rating, the plainer kind, the id."""
Way: TypeAlias = tuple[int, int, float, int]
"""What a way on costs at least: parts without price, price, rating with its sign turned, foreign forms."""


class Step(NamedTuple):
    """One adapter of a chain: the port that faces the first end, and the one that faces the second."""

    part: str
    near: str
    far: str


class Chain(NamedTuple):
    """Adapters that join two ends, from the first to the second.

    `price` is what those with a price in the currency of most offers cost together, None if none has; `unpriced`
    counts the others. `rating` is the lowest pressure rating [MPa], None if one of them is unknown. `foreign` counts
    the forms of thread and seat that neither end has.
    """

    steps: tuple[Step, ...]
    rank: Rank
    price: Fraction | None
    unpriced: int
    rating: float | None
    foreign: int

    @property
    def parts(self) -> tuple[str, ...]:
        """The ids of its parts, in order."""
        return tuple(step.part for step in self.steps)


class Duty(NamedTuple):
    """What a chain must stand: pressure [MPa], fluid family, and whether it is under brake pressure at all.

    What is None is not asked for. A rating that the catalog does not give is let pass, and ranks last.
    """

    pressure: float | None = None
    family: str | None = None
    pressurised: bool = False

    @staticmethod
    def between(first: End, second: End, pressure: float | None = None, family: str | None = None) -> "Duty":
        """Return the duty between two ends: under brake pressure if that is given, or if both are made for it."""
        return Duty(pressure, family, pressure is not None or (weak_seat(first) is None and weak_seat(second) is None))


FREE: Final = Duty()


class Bridge:
    """The chains between two ends of one shelf of adapters under one duty; `longest` is the most adapters in one.

    With `lenient`, what the ends do not say of themselves may be anything.
    """

    def __init__(
        self,
        adapters: Adapters,
        first: End,
        second: End,
        duty: Duty = FREE,
        longest: int = LONGEST,
        lenient: bool = False,
    ) -> None:
        self.adapters = adapters
        self.ends = (first, second)
        self.duty = duty
        self.longest = longest
        self.lenient = lenient
        self.direct = _carries_fluid(first) and _carries_fluid(second) and adapters.join(first, second, lenient)
        self.starts, self.goals = (self._sound(adapters.joining(end, lenient)) for end in self.ends)
        self._own = {form_of_port(end.port) for end in (first, second) if end.port is not None}
        self._usable = adapters.kept.setdefault(duty, {})

    @property
    def units(self) -> Units:
        """What pressures are told in: psi if they are asked for in psi, else as the build's author measures."""
        units = self.adapters.graph.units
        asked = render(0.0, "pressure", getattr(self.duty.pressure, "text", None))
        return units._replace(pressure="1 psi") if asked.endswith(("psi", "lbf/in2")) else units

    def best(self, most: int) -> tuple[Chain, ...]:
        """Return the best chains, at most so many; none if the ends join as they are."""
        return tuple(islice(self.chains(), most))

    def shortest(self, most: int) -> tuple[Chain, ...]:
        """Return the best of the chains with the fewest adapters, at most so many."""
        return next((found for chains in self._lengths() if (found := tuple(islice(chains, most)))), ())

    def chains(self) -> Iterator[Chain]:
        """Yield every chain, best first; of chains of the same parts turned round only one."""
        for chains in self._lengths():
            yield from chains

    def _lengths(self) -> Iterator[Iterator[Chain]]:
        for many in range(1, 1 if self.direct else self.longest + 1):
            layers = self._layers(many)
            if layers is not None:
                yield _Length(self, layers).chains()

    def usable(self, link: Link) -> Sequence[Candidate]:
        """Return the parts of a link that stand the duty, best first."""
        if self.duty == FREE:
            return link.ranked()
        found = self._usable.get(link.ends)
        if found is None:
            sound = len(self._sound(frozenset(link.ends))) == len(set(link.ends))
            found = self._usable[link.ends] = [part for part in link.ranked() if self._stands(part)] if sound else []
        return found

    def _sound(self, numbers: frozenset[int]) -> frozenset[int]:
        """Return those of some interfaces that are fit for brake pressure, if that is asked for."""
        if not self.duty.pressurised:
            return numbers
        return frozenset(number for number in numbers if not _weak(self.adapters.ports[number]))

    def _stands(self, part: Candidate) -> bool:
        pressure, family = self.duty.pressure, self.duty.family
        if pressure is not None and part.worse and -part.worse < pressure:
            return False
        families = self.adapters.families.get(part.part) if family is not None else None
        return families is None or family in families

    def refusal(self, part_id: str) -> str | None:
        """Return why a part does not stand the duty, None if nothing is known against it: the reasons of `usable`."""
        part = self.adapters.graph.build.shelf.get(part_id)
        if part is None:
            return None
        duty = self.duty
        for port in part.fluid_ports() if duty.pressurised else ():
            if _weak(port):
                return f"its {port.seat} port is not fit for brake pressure"
        if duty.pressure is not None and part.max_pressure is not None and part.max_pressure < duty.pressure:
            has, asked = told_apart(part.max_pressure, duty.pressure, partial(rating_text, units=self.units))
            return f"rated {has}, {asked} asked for"
        if duty.family is not None and part.fluid_families is not None and duty.family not in part.fluid_families:
            return f"made for {' and '.join(part.fluid_families) or 'no'} fluid, not for {duty.family}"
        return None

    def foreign(self, link: Link) -> frozenset[Form]:
        """Return the forms of a link that neither end has."""
        forms = self.adapters.forms
        return frozenset(form for number in link.ends if (form := forms[number]) not in self._own)

    def strange(self, link: Link) -> int:
        """Return how many forms of a link neither end has."""
        one, other = (self.adapters.forms[number] for number in link.ends)
        return (one not in self._own) + (other != one and other not in self._own)

    def _layers(self, many: int) -> list[set[int]] | None:
        """Return for each adapter of a chain of `many` what its far side can be, None if there is no such chain.

        Met in the middle, so that neither side is searched further than half the way.
        """
        onward, back = self.adapters.onward, self.adapters.back
        half = (many + 1) // 2
        ahead = [set(self.adapters.beyond(self.starts))]
        for _ in range(half - 1):
            ahead.append(set().union(*map(onward, ahead[-1] - self.goals)))
        behind = [set(self.goals)]
        for _ in range(many - half):
            behind.append(set().union(*map(back, behind[-1])) - self.goals)
        layers: list[set[int]] = [set() for _ in range(many)]
        layers[half - 1] = ahead[half - 1] & behind[many - half]
        for at in range(half - 1, 0, -1):
            layers[at - 1] = {n for n in ahead[at - 1] - self.goals if not onward(n).isdisjoint(layers[at])}
        for at in range(half, many):
            layers[at] = {n for n in behind[many - at - 1] if not back(n).isdisjoint(layers[at - 1])}
        return layers if all(layers) else None


class _Partial(NamedTuple):
    """A chain that has not arrived: its parts, what they cost, and the interfaces that it has passed."""

    steps: tuple[Step, ...] = ()
    unpriced: int = 0
    price: int = 0
    worse: float = -float("inf")
    forms: frozenset[Form] = frozenset()
    ties: tuple[Tie, ...] = ()
    far: tuple[int, ...] = ()


class _Choice(NamedTuple):
    """A partial chain about to take one of the parts that lead from interface `near` to `far`: number `at`."""

    chain: _Partial
    link: Link
    near: int
    far: int
    at: int


class _Length:
    """The chains of one length, best first. `layers` says what the far side of each adapter can be."""

    def __init__(self, bridge: Bridge, layers: list[set[int]]) -> None:
        self.bridge = bridge
        self.layers = layers
        self.many = len(layers)
        self.heap: list[tuple[Rank, int, _Choice]] = []
        self.counter = count()
        self.ways: list[dict[int, Way]] = [{} for _ in layers]
        self.ways[-1] = dict.fromkeys(layers[-1], (0, 0, -float("inf"), 0))
        for at in range(self.many - 2, -1, -1):
            known: dict[int, Way | None] = {}
            for far in layers[at]:
                nears = self._near(far)
                for near in nears:
                    if near not in known:
                        known[near] = self._way_on(at + 1, near)
                ways = [way for near in nears if (way := known[near]) is not None]
                if ways:
                    self.ways[at][far] = _best(ways)

    def chains(self) -> Iterator[Chain]:
        """Yield the chains of this length in the order of their ranks."""
        seen: set[tuple[str, ...]] = set()
        self._open(_Partial(), self.bridge.starts)
        while self.heap:
            rank, _, choice = heappop(self.heap)
            parts = self.bridge.usable(choice.link)
            if choice.at + 1 < len(parts):
                self._push(choice._replace(at=choice.at + 1))
            chain = self._taken(choice, parts[choice.at])
            if len(chain.steps) < self.many:
                self._open(chain, self._near(choice.far))
                continue
            done = _chain(self.bridge, chain.steps, rank)
            if done.parts not in seen:
                seen.add(done.parts)
                yield done

    def _near(self, far: int) -> frozenset[int]:
        """Return what joins here and not the first end already: from there the way is shorter."""
        return self.bridge.adapters.mates(far) - self.bridge.starts

    def _links(self, near: int, at: int) -> list[tuple[int, Link]]:
        """Return the links from `near` to what the far side of adapter number `at` can be."""
        links = self.bridge.adapters.links[near]
        return [(far, links[far]) for far in links.keys() & self.ways[at].keys()]

    def _way_on(self, at: int, near: int) -> Way | None:
        """Return what the way on from `near` costs at least, None if there is none."""
        usable, strange, ways = self.bridge.usable, self.bridge.strange, self.ways[at]
        found = []
        for far, link in self._links(near, at):
            parts = usable(link)
            if parts:
                unpriced, price, worse, forms = ways[far]
                first = parts[0]
                worse, forms = max(worse, link.worse), max(forms, strange(link))
                found.append((first.unpriced + unpriced, first.price + price, worse, forms))
        return _best(found) if found else None

    def _open(self, chain: _Partial, nears: frozenset[int]) -> None:
        """Put every way to take one more adapter into the heap, except past an end that it joins already."""
        mates = self.bridge.adapters.mates
        for near in nears:
            if any(near in mates(far) for far in chain.far[:-1]):
                continue
            for far, link in self._links(near, len(chain.steps)):
                if self.bridge.usable(link):
                    self._push(_Choice(chain, link, near, far, 0))

    def _push(self, choice: _Choice) -> None:
        chain, part = choice.chain, self.bridge.usable(choice.link)[choice.at]
        way = self.ways[len(chain.steps)][choice.far]
        bound = (
            self.many,
            chain.unpriced + part.unpriced + way[0],
            chain.price + part.price + way[1],
            max(chain.worse, part.worse, way[2]),
            max(len(chain.forms | self.bridge.foreign(choice.link)), way[3]),
            (*chain.ties, _tie(part)),
        )
        heappush(self.heap, (bound, next(self.counter), choice))

    def _taken(self, choice: _Choice, part: Candidate) -> _Partial:
        chain = choice.chain
        return _Partial(
            (*chain.steps, _step(choice.link, part, choice.near)),
            chain.unpriced + part.unpriced,
            chain.price + part.price,
            max(chain.worse, part.worse),
            chain.forms | self.bridge.foreign(choice.link),
            (*chain.ties, _tie(part)),
            (*chain.far, choice.far),
        )


def _step(link: Link, part: Candidate, near: int) -> Step:
    return Step(part.part, *(part.ports if near == link.ends[0] else part.ports[::-1]))


def _chain(bridge: Bridge, steps: tuple[Step, ...], rank: Rank) -> Chain:
    many, unpriced, price, worse, foreign, _ = rank
    known = price * bridge.adapters.step if unpriced < many else None
    return Chain(steps, rank, known, unpriced, -worse if worse else None, foreign)


def one_part(bridge: Bridge, link: Link, part: Candidate, near: int) -> Chain:
    """Return a single part as a chain, its port at interface `near` to the first end, whether it joins or not."""
    rank = (1, part.unpriced, part.price, part.worse, len(bridge.foreign(link)), (_tie(part),))
    return _chain(bridge, (_step(link, part, near),), rank)


def _best(ways: Sequence[Way]) -> Way:
    """Return the least of each criterion among several ways on: no way is better than that."""
    unpriced, price, _, _ = min(ways)
    return unpriced, price, min(way[2] for way in ways), min(way[3] for way in ways)


def _tie(part: Candidate) -> Tie:
    return part.worse, part.bends, part.part


def _weak(port: Port) -> bool:
    return port.seat is not None and not seat_named(port.seat).pressure


def weak_seat(end: End) -> str | None:
    """Return the seat of an end that is not made for brake pressure, None if it is or is not known."""
    return end.port.seat if end.port is not None and _weak(end.port) else None


def _carries_fluid(end: End) -> bool:
    return end.tube_end or (end.port is not None and not end.port.mechanical)


def meetings_of(bridge: Bridge, chain: Chain) -> tuple[tuple[End, End], ...]:
    """Return the ends that a chain brings together, in order from the first end to the second."""
    shelf = bridge.adapters.graph.build.shelf
    ends = [bridge.ends[0]]
    for step in chain.steps:
        part = shelf.get(step.part)
        assert part is not None  # chains are made of parts of this shelf
        ends += [adapter_end(part, step.near), adapter_end(part, step.far)]
    ends.append(bridge.ends[1])
    return tuple(zip(ends[::2], ends[1::2], strict=True))

"""Which port of a new part takes the place of which port of the old one.

Ports of one duty only: outlets for outlets, feeds for feeds, mechanical for mechanical. Of all ways the one is taken
that loses fewest ports, connects inside the part what was connected, and makes most joints seal; equal names where
that is no worse.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import permutations, product
from math import perm, prod
from typing import Final, NamedTuple

from fitcheck.catalog.part import Part
from fitcheck.remedies.exchange import Exchange, Names, Tried

MOST_PORTS: Final = 4
"""With more ports in use than this only equal names, and then the order in the catalog, are tried."""
_MOST_WAYS: Final = 1_000


class Match(NamedTuple):
    """One way of naming the ports in use on the new part, and how each joint does.

    `lost` are ports in use that the new part has not; `spare` how many of its fluid ports would be open that had no
    counterpart in the old part. `same_ways` is False if it connects other ports than the old part, `same_direction`
    if its one way is another.
    """

    names: Names
    lost: tuple[str, ...]
    spare: tuple[str, ...]
    same_ways: bool
    same_direction: bool
    tried: tuple[Tried, ...]

    @property
    def wrong(self) -> int:
        """How much would have to change besides the part: joints that do not seal, ports lost, ports left open."""
        return sum(not each.sound for each in self.tried) + len(self.lost) + len(self.spare)

    @property
    def rank(self) -> tuple[int, ...]:
        """What ways are sorted by, best first; of equal ones the first tried stays, which keeps most names."""
        return (
            len(self.lost),
            not self.same_ways,
            not self.same_direction,
            sum(not each.sound for each in self.tried),
            sum(each.refit for each in self.tried),
            sum(each.doubtful for each in self.tried),
        )


def best_match(exchange: Exchange, part: Part) -> Match:
    """Return the best way in which `part` can take the place of the present one."""
    found: Match | None = None
    for names in _ways(exchange, part):
        match = _match(exchange, part, names)
        if not any(match.rank):
            return match
        if found is None or match.rank < found.rank:
            found = match
    assert found is not None  # there is always a way, if only one that loses every port
    return found


def may_take(exchange: Exchange, part: Part) -> bool:
    """Return False if `part` cannot take the place whatever its ports are called: one is lost, or a joint never seals.

    A quick look that spares most parts the search for the best way; what it lets pass may still fail.
    """
    old = exchange.item.part
    if exchange.item.section == "lines" or old is None:
        return True
    theirs = {duty: _of_duty(part.ports, part, duty) for duty in _DUTIES}
    duties = Counter(_duty(old, name) for name in exchange.used if name in old.ports)
    if any(len(theirs[duty]) < count for duty, count in duties.items()):
        return False
    for number, (name, *others) in enumerate(exchange.own):
        if others or name not in old.ports:
            continue
        if not any(exchange.tried(number, part, {name: new}).sound for new in theirs[_duty(old, name)]):
            return False
    return True


def _ways(exchange: Exchange, part: Part) -> Iterator[Names]:
    """Yield ways of naming the ports in use on the new part, equal names first."""
    used, old = exchange.used, exchange.item.part
    if exchange.item.section == "lines":
        yield {name: name for name in used}
        return
    groups = [(_of_duty(used, old, duty), _of_duty(part.ports, part, duty)) for duty in _DUTIES]
    if old is None:
        groups = [(list(used), list(part.ports))]
    same = {name: name for mine, theirs in groups for name in mine if name in theirs}
    yield dict(_filled(same, groups))
    many = prod(perm(max(len(mine), len(theirs)), len(mine)) for mine, theirs in groups)
    if len(used) > MOST_PORTS or many > _MOST_WAYS:
        return
    for ways in product(*(_group_ways(mine, theirs) for mine, theirs in groups)):
        yield {name: new for way in ways for name, new in way.items()}


_DUTIES: Final = ("mechanical", "outlet", "feed", "way")


def _of_duty(names: Iterable[str], part: Part | None, duty: str) -> list[str]:
    return [name for name in names if part is not None and name in part.ports and _duty(part, name) == duty]


def _duty(part: Part, name: str) -> str:
    if part.ports[name].mechanical:
        return "mechanical"
    if name in part.outlets:
        return "outlet"
    return "feed" if name in part.feeds else "way"


def _filled(same: Names, groups: Sequence[tuple[list[str], list[str]]]) -> Iterator[tuple[str, str]]:
    """Yield equal names, and for the ports without one what is left of their duty, in order."""
    taken = set(same.values())
    for mine, theirs in groups:
        free = iter([name for name in theirs if name not in taken])
        for name in mine:
            new = same.get(name) or next(free, None)
            if new is not None:
                yield name, new


def _group_ways(mine: list[str], theirs: list[str]) -> Iterator[Names]:
    lacking: list[str | None] = [None] * max(0, len(mine) - len(theirs))
    for way in permutations([*theirs, *lacking], len(mine)):
        yield {name: new for name, new in zip(mine, way, strict=True) if new is not None}


def _match(exchange: Exchange, part: Part, names: Names) -> Match:
    old = exchange.item.part
    lost = tuple(name for name in exchange.used if name not in names)
    tried = tuple(
        exchange.tried(number, part, names)
        for number in range(len(exchange.joints))
        if not lost or exchange.names_at(number, names)
    )
    fluid = (exchange.item.section == "lines" or old is None) or _ways_kept(old, part, names)
    return Match(
        names, lost, _spare(exchange, part, names), fluid, old is None or _direction_kept(old, part, names), tried
    )


def _ways_kept(old: Part, new: Part, names: Names) -> bool:
    """Return whether the new part connects just those of the ports in use that the old one connects."""
    return _connected(old, names) == {
        tuple(sorted((first, second)))
        for first in names
        for second in names
        if first < second and _share(new, names[first], names[second])
    }


def _connected(part: Part, names: Iterable[str]) -> set[tuple[str, ...]]:
    mine = list(names)
    return {(a, b) for a in mine for b in mine if a < b and _share(part, a, b)}


def _share(part: Part, first: str, second: str) -> bool:
    return any(first in group and second in group for group in part.passages)


def _direction_kept(old: Part, new: Part, names: Names) -> bool:
    if old.one_way is None or new.one_way is None:
        return old.one_way == new.one_way
    return all(names.get(name, there) == there for name, there in zip(old.one_way, new.one_way, strict=True))


def _spare(exchange: Exchange, part: Part, names: Names) -> tuple[str, ...]:
    """Return the fluid ports of `part` that would be open, but for as many as are open of the present part."""
    old, taken = exchange.item.part, set(names.values())
    spare = [port.name for port in part.fluid_ports() if port.name not in taken]
    used = set(exchange.used)
    open_now = [port.name for port in old.fluid_ports() if port.name not in used] if old is not None else []
    first = [name for name in spare if name in open_now]
    others = [name for name in spare if name not in open_now]
    return tuple([*first, *others][len(open_now) :])

"""Chains that the search refused though they would stand before what it gave, and why."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from fitcheck.checks.joint_facts import judge
from fitcheck.remedies.bridge import FREE, Bridge, Chain, Rank, meetings_of, one_part
from fitcheck.remedies.interfaces import joint_of

MOST_REFUSED: Final = 8
"""Most refused chains that are told."""


class Refused(NamedTuple):
    """A chain that is not offered, and every reason: what it is not rated for, or where sizes differ."""

    chain: Chain
    reasons: tuple[str, ...]


class Refusals(NamedTuple):
    """The refused chains, best first; `more` says whether there are others behind those told."""

    told: tuple[Refused, ...]
    more: bool


def refusals(bridge: Bridge, shown: Sequence[Chain], most: int = MOST_REFUSED) -> Refusals:
    """Return the chains that would rank before the last of `shown`, or at all if none is, had they not been refused.

    Looked at are all chains that join and fail the duty (pressure, fluid, seat), and single adapters that would join
    if only the size of tube or hose at one of the two ends were the same.
    """
    last = shown[-1].rank if shown else None
    found = [*_unfit(bridge, last, most), *_sized(bridge, last, most)]
    found.sort(key=lambda refused: refused.chain.rank)
    return Refusals(tuple(found[:most]), len(found) > most)


def _unfit(bridge: Bridge, last: Rank | None, most: int) -> Iterator[Refused]:
    """Yield chains of sound joints with a part that does not stand the duty, one more than `most` at the most."""
    free = Bridge(bridge.adapters, *bridge.ends, FREE, bridge.longest, bridge.lenient)
    many = 0
    for chain in free.chains():
        if many > most or (last is not None and chain.rank > last):
            return
        reasons = tuple(f"{part}: {why}" for part in dict.fromkeys(chain.parts) if (why := bridge.refusal(part)))
        if reasons:
            many += 1
            yield Refused(chain, reasons)


def _sized(bridge: Bridge, last: Rank | None, most: int) -> Iterator[Refused]:
    """Yield single adapters that fail by a size at one end alone; the few best of each pair of interfaces."""
    if bridge.direct:
        return
    adapters = bridge.adapters
    sides = [adapters.joining(end, bridge.lenient) for end in bridge.ends]
    nearly = [adapters.but_for_size(end, bridge.lenient) for end in bridge.ends]
    for near in sides[0] | nearly[0]:
        for far, link in adapters.links[near].items():
            good, nearly_good = (near in sides[0], far in sides[1]), (near in nearly[0], far in nearly[1])
            if (good[0], nearly_good[1]) != (True, True) and (nearly_good[0], good[1]) != (True, True):
                continue
            for part in link.ranked()[: most + 1]:
                chain = one_part(bridge, link, part, near)
                if last is None or chain.rank < last:
                    yield Refused(chain, tuple(_size_faults(bridge, chain)))


def _size_faults(bridge: Bridge, chain: Chain) -> Iterator[str]:
    for ends in meetings_of(bridge, chain):
        joint = joint_of(*ends)
        facts = judge(joint, bridge.adapters.needs(joint))
        if facts.rule is not None:
            yield facts.message
    for part in chain.parts:
        why = bridge.refusal(part)
        if why is not None:
            yield f"{part}: {why}"

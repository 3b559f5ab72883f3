"""The adapters that join two ends, best first, and those refused, for people."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from fitcheck.bom.record import Price
from fitcheck.build.fixings import tube_od
from fitcheck.build.graph import End, Joint
from fitcheck.catalog.money import Money
from fitcheck.catalog.part import Part
from fitcheck.checks.joint_facts import judge
from fitcheck.checks.joint_words import describe
from fitcheck.measures import rating_text
from fitcheck.remedies.bridge import Bridge, Chain, meetings_of
from fitcheck.remedies.bridge_refused import Refusals, Refused
from fitcheck.remedies.interfaces import joint_of
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.sizes import same_tube, size_name

ORDER = "best first: fewest added joints, then price, then pressure rating, then fewest new forms"
NOT_IN_PRICE = "Prices are of the adapters alone: nuts, bolts and washers come on top."


class Answer(NamedTuple):
    """What was asked and found: the search, its best chains, and the refused ones if they were asked for."""

    bridge: Bridge
    chains: tuple[Chain, ...]
    refusals: Refusals | None = None


def bridge_text(answer: Answer, *, width: int = WIDTH) -> str:
    """Return the answer as text: one numbered block for each chain, then what was refused, then the caution."""
    lines = [*_head(answer, width), *_line(answer.bridge, width), *_chains(answer, width), *_refused(answer, width)]
    return "\n".join([*lines, *caution_lines(width)])


def end_words(end: End) -> str:
    """Return what an end is, in words."""
    if end.tube_end:
        od = tube_od(end)
        return f"end of {size_name(od)} tube" if od is not None else "end of a tube of unknown size"
    return describe(end.port) if end.port is not None else "unknown"


def price_of(answer: Answer, part_id: str) -> Price | None:
    """Return the price of one piece, in whatever currency it is."""
    return answer.bridge.adapters.prices.get(part_id)


def money_of(price: Fraction, currency: str) -> Money:
    """Return an exact price as money, rounded up to 0.01."""
    return Money(Decimal(ceil(price * 100)).scaleb(-2), currency)


def cost_of(answer: Answer, chain: Chain) -> Money | None:
    """Return what the priced parts of a chain cost together, None if none has a comparable price."""
    currency = answer.bridge.adapters.currency
    return money_of(chain.price, currency) if chain.price is not None and currency is not None else None


def why_not_direct(bridge: Bridge) -> str | None:
    """Return what keeps the two ends from joining as they are, None if nothing does."""
    if bridge.direct:
        return None
    joint = joint_of(*bridge.ends)
    facts = judge(joint, bridge.adapters.needs(joint))
    if facts.rule is not None:
        return facts.message
    return f"not known: {', '.join(field for _, field in facts.unchecked)}"


def gaps_of(bridge: Bridge, joint: Joint) -> tuple[str, ...]:
    """Return what of a joint could not be judged, because one of its ends does not say it."""
    facts = judge(joint, bridge.adapters.needs(joint))
    gaps = [f"{rule} not checked: {_missing(field)}" for rule, field in facts.unchecked]
    if bridge.duty.family is not None and any(end.port is not None and end.port.seat == "o-ring" for end in joint.ends):
        gaps.append(f"not checked: whether the rubber of the O-ring stands {bridge.duty.family} fluid")
    return tuple(gaps)


def _missing(field: str) -> str:
    """Return the missing field as one word and the end it is missing from."""
    if not field.startswith("parts."):
        return f"needs {field}"
    name, _, key = field.removeprefix("parts.").rpartition(".")
    return f"{name.removesuffix('.ports.port')} does not say its {key}"


class Line(NamedTuple):
    """A rigid line that would join two ports without any adapter: its tube [mm], and the flare at either end."""

    tube: float
    flares: tuple[str, str]


def line_between(bridge: Bridge) -> Line | None:
    """Return the line that would join the two ends, None if they are not two ports for one size of tube."""
    flares, sizes = [], []
    for end in bridge.ends:
        seat = seat_named(end.port.seat) if end.port is not None and end.port.seat is not None else None
        if seat is None or end.port is None or seat.flare is None or end.port.gender not in seat.port_genders:
            return None
        flares.append(seat.flare)
        sizes.append(end.port.tube)
    a, b = sizes
    return Line(a, (flares[0], flares[1])) if a is not None and b is not None and same_tube(a, b) else None


def part_of(bridge: Bridge, part_id: str) -> Part:
    """Return a part of the search's own shelf."""
    part = bridge.adapters.graph.build.shelf.get(part_id)
    assert part is not None  # chains are made of parts of this shelf
    return part


def _head(answer: Answer, width: int) -> Iterator[str]:
    bridge = answer.bridge
    for lead, end in zip(("FROM  ", "TO    "), bridge.ends, strict=True):
        words = end_words(end)
        yield from paragraph(f"{end.ref}: {words}" if words != end.ref else words, width, lead, "      ")
    duty = bridge.duty
    asked = [f"at least {rating_text(duty.pressure, bridge.units)}"] if duty.pressure is not None else []
    asked += [f"{duty.family} fluid"] if duty.family is not None else []
    asked += ["seats fit for brake pressure"] if duty.pressurised else []
    yield from paragraph(", ".join(asked) or "nothing asked of pressure and fluid", width, "DUTY  ", "      ")
    yield ""
    reason = why_not_direct(bridge)
    if reason is None:
        yield from paragraph("They join as they are: no adapter is needed.", width)
        yield from _joint(bridge, bridge.ends, 0, width)
    else:
        yield from paragraph(f"They do not join as they are: {reason}.", width)


def _line(bridge: Bridge, width: int) -> Iterator[str]:
    line = line_between(bridge)
    if line is not None and not bridge.direct:
        first, second = (end.ref for end in bridge.ends)
        flares = f"{line.flares[0]} at {first}, {line.flares[1]} at {second}"
        yield ""
        yield from paragraph(f"Without any adapter a line of {size_name(line.tube)} tube joins them: {flares}.", width)


def _chains(answer: Answer, width: int) -> Iterator[str]:
    if answer.bridge.direct:
        return
    yield ""
    if not answer.chains:
        most = count_of(answer.bridge.longest, "adapter")
        looked = count_of(len(answer.bridge.adapters.interfaces), "form of port", "forms of port")
        yield from paragraph(f"No chain of up to {most} joins them ({looked} looked at).", width)
        return
    yield from paragraph(f"{count_of(len(answer.chains), 'chain')}, {ORDER}.", width)
    for number, chain in enumerate(answer.chains, start=1):
        yield ""
        yield from _chain(answer, number, chain, width)
    if any(chain.price is not None for chain in answer.chains):
        yield ""
        yield from paragraph(NOT_IN_PRICE, width)


def _chain(answer: Answer, number: int, chain: Chain, width: int) -> Iterator[str]:
    words = [f"adds {count_of(len(chain.steps), 'joint')}, each a place that can leak", _cost(answer, chain)]
    words.append(_rating(answer, chain))
    yield from paragraph("; ".join(words), width, f"{number}. ", "   ")
    for place, step in enumerate(chain.steps):
        part = part_of(answer.bridge, step.part)
        yield from paragraph(f"{_letter(place)} {part.id}", width, "   ", "     ")
        yield from paragraph(part.description or part.kind, width, "     ")
        if len(chain.steps) > 1 or price_of(answer, part.id) is not None:
            yield from paragraph(_figures(answer, part), width, "     ")
    for place, ends in enumerate(meetings_of(answer.bridge, chain)):
        yield from _joint(answer.bridge, ends, place, width)


def _cost(answer: Answer, chain: Chain) -> str:
    cost = cost_of(answer, chain)
    if cost is None:
        return "price not known"
    return str(cost) if not chain.unpriced else f"{cost} and {count_of(chain.unpriced, 'part')} without a known price"


def _rating(answer: Answer, chain: Chain) -> str:
    if chain.rating is not None:
        return f"rated {rating_text(chain.rating, answer.bridge.units)}"
    asked = answer.bridge.duty.pressure
    if asked is None:
        return "rating not known"
    return f"rating not known, so nothing says that it stands {rating_text(asked, answer.bridge.units)}"


def _figures(answer: Answer, part: Part) -> str:
    price = price_of(answer, part.id)
    words = ["price not known"]
    if price is not None:
        words = [f"{money_of(price.unit_price, price.currency)} at {price.supplier}"]
        if price.currency != answer.bridge.adapters.currency:
            words.append("in another currency, so not compared")
    rated = part.max_pressure
    words.append(f"rated {rating_text(rated, answer.bridge.units)}" if rated is not None else "rating not known")
    return "; ".join(words)


def _letter(place: int) -> str:
    return f"({place + 1})"


def _joint(bridge: Bridge, ends: tuple[End, End], place: int, width: int) -> Iterator[str]:
    """Yield joint number `place` of a chain: what meets, what else it needs, and what of it could not be judged."""
    joint = joint_of(*ends)
    fixings = bridge.adapters.needs(joint)
    needs = [f"{fixings.flare} flare"] if fixings.flare else []
    for item in fixings.items:
        name = item.part.id if item.part is not None else item.wanted
        needs.append(f"{item.quantity} {name}" if item.quantity > 1 else name)
    first, second = _side(bridge, ends[0], place - 1), _side(bridge, ends[1], place)
    tail = f": {', '.join(needs)}" if needs else ""
    yield from paragraph(f"- {first} with {second}{tail}", width, "   ", "     ")
    for gap in gaps_of(bridge, joint):
        yield from paragraph(gap, width, "     ")


def _side(bridge: Bridge, end: End, place: int) -> str:
    """Return an end by name, or a port of an adapter by its number in the chain, and the form of it."""
    if any(end is one for one in bridge.ends):
        described = not end.fitted.path
        return end.ref if described or end.tube_end else f"{end.ref} ({end_words(end)})"
    assert end.port is not None  # the ends of adapters are ports
    return f"{end.port.name} of {_letter(place)} ({end_words(end)})"


def _refused(answer: Answer, width: int) -> Iterator[str]:
    refusals = answer.refusals
    if refusals is None:
        return
    yield ""
    if not refusals.told:
        yield from paragraph("Nothing was refused that would stand before these.", width)
        return
    more = ", the first of more" if refusals.more else ""
    yield from paragraph(f"REFUSED ({len(refusals.told)}{more})", width)
    for refused in refusals.told:
        yield from _one_refused(refused, width)


def _one_refused(refused: Refused, width: int) -> Iterator[str]:
    yield from paragraph(", then ".join(refused.chain.parts), width, "- ", "  ")
    for reason in refused.reasons:
        yield from paragraph(reason, width, "  ", "    ")

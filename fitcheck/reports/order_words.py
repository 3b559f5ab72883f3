"""Parts of a purchase plan in words: what the text, the tables and the mail share."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from fitcheck.bom.cutting import LeftOut
from fitcheck.bom.need import MM3_PER_ML, SPARE, Need
from fitcheck.bom.ordering.record import CircuitReady, FromStock, Line, Order, Plan
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer
from fitcheck.catalog.rates import Rate, Rates
from fitcheck.measures import cut_length, number
from fitcheck.reports.bom_words import decimal_text
from fitcheck.reports.plain import columns, count_of, first_few


class LineWords(NamedTuple):
    """One line of an order in words.

    `description` is that of the part that is got, "" if nobody says. `needs` are what it serves,
    `instead` the parts that it takes the place of. `arrives` is the day on which it is here with the rest of its order.
    """

    number: str
    part: str
    description: str
    pack: str
    needs: tuple[Need, ...]
    instead: tuple[str, ...]
    over: str
    arrives: date | None

    @property
    def places(self) -> tuple[str, ...]:
        """What it is for: tags, ends, the build as a whole, spares."""
        return tuple(dict.fromkeys(place for need in self.needs for place in places_of(need)))


def line_words(plan: Plan, order: Order, line: Line) -> LineWords:
    """Return a line of one of the plan's orders in words."""
    needs = tuple(need for serves in line.serves for need in plan.needs if need.part == serves.part)
    return LineWords(
        number=line.offer.number or "",
        part=line.offer.part,
        description=line.description or description_of(plan, line.offer.part),
        pack=pack_text(line.offer._replace(per=length_of(line)), line.packs, plan.told_in),
        needs=needs,
        instead=tuple(serves.part for serves in line.serves if serves.substitute),
        over=over_text(plan, line) if line.over else "",
        arrives=order.day_of(line),
    )


def over_text(plan: Plan, line: Line) -> str:
    """Return how much more of a line comes than is needed."""
    fluid = any(need.unit == "ml" for serves in line.serves for need in plan.needs if need.part == serves.part)
    return f"{amount_text(line.over, 'ml' if fluid else 'each')} more than needed"


def description_of(plan: Plan, part: str) -> str:
    """Return how the plan's needs describe a part; "" if none of them is for it."""
    return next((described(need) for need in plan.needs if need.part == part), "")


def described(need: Need) -> str:
    """Return a need's description; of a stated part that no catalog has it says why."""
    return f"UNKNOWN: {need.description}" if need.unlisted else need.description


def instead_text(plan: Plan, parts: Iterable[str]) -> str:
    """Return what something takes the place of: `in place of nut-a (Tube nut)`."""
    named = [f"{part} ({words})" if (words := description_of(plan, part)) else part for part in parts]
    return f"in place of {', '.join(named)}"


def length_of(line: Line) -> float | None:
    """Return how long one piece of cut goods is [mm]: as the offer says, else as the part comes; a reel's step."""
    return line.offer.per if line.offer.per is not None else next(iter(line.lengths), None)


def pack_text(offer: Offer, packs: int, unit: str = "mm") -> str:
    """Return what comes in a pack: `pack of 10`, `500 ml`, `3000 mm in one piece, priced by 1000 mm`; else ""."""
    words = [f"pack of {offer.pack}"] if offer.pack > 1 else []
    if offer.per is not None:
        each = cut_length(offer.per, unit)
        whole = f"{cut_length(offer.per * packs, unit)} in one piece, priced by {each}"
        words.append(whole if offer.to_length else each)
    if offer.contents is not None:
        words.append(f"{number(offer.contents / MM3_PER_ML)} ml")
    return ", each ".join(words)


def amount_text(count: int, unit: str) -> str:
    """Return an amount with its unit: `4`, `750 ml`, `3 pieces`."""
    return f"{count} ml" if unit == "ml" else count_of(count, "piece") if unit == "mm" else str(count)


def need_name(need: Need) -> str:
    """Return the part's id, or that no catalog has one."""
    return need.part if need.part is not None else f"no part ({need.kind})"


def place_name(place: str) -> str:
    """Return a place of a need, or that it is for the build as a whole."""
    return place or "the build"


def places_of(need: Need) -> tuple[str, ...]:
    """Return what a need is for, each place once: what the bill counts, what the work uses, `spare` last."""
    named = [place_name(use.place) for use in need.uses if use.origin != "spare"]
    named += [piece.tag for piece in need.pieces if piece.tag != SPARE]
    return tuple(dict.fromkeys([*named, *([SPARE] if need.spare else [])]))


def for_text(needs: Iterable[Need], most: int = 4) -> str:
    """Return what needs are for, the first few: `for a, b and 3 more, 2 spare`."""
    found = tuple(needs)
    places = [place for need in found for place in places_of(need) if place != SPARE]
    spare = sum(need.spare for need in found)
    named = [*([first_few(places, most)] if places else []), *([f"{spare} spare"] if spare else [])]
    return f"for {', '.join(named)}" if named else ""


def money(amount: Money) -> str:
    """Return money with two decimals, or up to four where it has more: `12.50 GBP`."""
    return f"{decimal_text(Fraction(amount.amount), 4)} {amount.currency}"


def day(value: date | None, unknown: str = "not stated") -> str:
    """Return a day as ISO 8601 writes it, or that it is not known."""
    return date.isoformat(value)[:10] if value is not None else unknown


def supplier_text(order: Order) -> str:
    """Return the supplier's name with the tag that the files use."""
    supplier = order.supplier
    return supplier.name if supplier.name == supplier.tag else f"{supplier.name} ({supplier.tag})"


def carriage_text(order: Order) -> str:
    """Return how an order's carriage comes about, and what is not in it."""
    shipping = order.supplier.shipping
    if shipping is None:
        return "nothing is said about carriage: it is not in this plan"
    if shipping.free_over is not None and not order.carriage.amount and not order.goods < shipping.free_over:
        return f"free: goods are worth {money(shipping.free_over)} or more"
    if not shipping.by_weight:
        return "the same for every order"
    without = f", without the weight of {', '.join(order.unweighed)}, which is not stated" if order.unweighed else ""
    return f"by weight, {number(order.weight or 0.0, 3)} kg{without}"


def rates_of(plan: Plan, order: Order) -> tuple[Rate, ...]:
    """Return the plan's rates that lead from an order's currency to the plan's; none if they are the same."""
    return Rates(plan.rates).way(order.total.currency, order.home.currency) or ()


def home_text(plan: Plan, order: Order) -> str:
    """Return an order's total in the plan's currency with the rates behind it; "" if that is its own currency."""
    if order.home.currency == order.total.currency:
        return ""
    rates = ", ".join(map(str, rates_of(plan, order))) or "a rate that the plan does not state"
    return f"{money(order.home)} at {rates}"


def arrives_text(order: Order) -> str:
    """Return when an order is here."""
    if order.arrives is None:
        return "nobody states when it is here: no lead time is given"
    first = "what is ready is sent at once, the last of it is" if order.supplier.part_deliveries else "all of it is"
    return f"{first} here on {day(order.arrives)}"


def headline(plan: Plan) -> str:
    """Return the plan in one line: orders, cost, the day; what is missing or not known."""
    bought = f"{count_of(len(plan.orders), 'order')}, {money(plan.cost)}" if plan.orders else "nothing to buy"
    words = [f"{plan.build}: what to buy, as of {day(plan.on)}: {bought}"]
    if plan.missing:
        cannot = f"cannot be here by {day(plan.by)}" if plan.by is not None else "cannot be bought"
        words.append(f"{count_of(len(plan.missing), 'part')} {cannot}")
    elif plan.finish is None:
        words.append("nobody knows when all is here")
    else:
        words.append(f"all here on {day(plan.finish)}")
    unknown = sum(len(need.unknown) for need in plan.needs)
    if unknown:
        words.append(f"{count_of(unknown, 'amount')} not known")
    return ", ".join(words)


def asked_text(plan: Plan) -> str:
    """Return whether the day that was asked for is kept; "" if none was."""
    if plan.by is None:
        return ""
    if plan.complete and plan.finish is not None and plan.finish <= plan.by:
        return f"Asked for by {day(plan.by)}: all is here by then"
    return f"Asked for by {day(plan.by)}: NOT everything is here by then"


def errors_text(errors: int) -> str:
    """Return that a build with findings at level error is not to be ordered for; "" without any."""
    if not errors:
        return ""
    words = f"check finds {count_of(errors, 'error')} in this build: do not order before"
    return f"{words} {'it is' if errors == 1 else 'they are'} put right (fitcheck check)"


def left_out(plan: Plan) -> tuple[LeftOut, ...]:
    """Return the offers and deliveries that were not looked at, those of the cutting list included, each once."""
    return tuple(dict.fromkeys([*plan.left_out, *(offer for part in plan.cuts for offer in part.ignored)]))


def least_gap(plan: Plan) -> Fraction:
    """Return by how many per cent of its cost a plan could be cheaper at most, rounded up to a tenth."""
    cost = Fraction(plan.cost.amount)
    gap = (cost - Fraction(plan.bound.least)) / cost if cost else Fraction(0)
    return Fraction(ceil(gap * 1000), 10)


def proof_text(plan: Plan) -> str:
    """Return what is proven of a plan's cost, and by how much it could be cheaper where something is not."""
    apart = uncounted_text(plan)
    if plan.bound.open:
        return f"not proven: {'; '.join(plan.bound.open)}{apart}"
    if not plan.bound.optimal and least_gap(plan) > 0:
        most = number(float(least_gap(plan)), 1)
        return f"not proven in the time given: at most {most} % could be saved{apart}"
    days = [order.arrives for order in plan.orders]
    also = ["lacks as little"] if plan.missing else []
    if plan.by is not None and all(here is not None and here <= plan.by for here in days):
        also.append(f"is here by {day(plan.by)}")
    such = f" that {' and '.join(also)}" if also else ""
    return f"proven: no plan from these offers{such} costs less{apart}"


def uncounted_text(plan: Plan) -> str:
    """Return which carriage no sum and no proof counts: not stated, or by a weight not stated; "" if all is known."""
    unstated = [order.supplier.tag for order in plan.orders if order.supplier.shipping is None]
    unweighed = [order.supplier.tag for order in plan.orders if order.unweighed]
    words = [f"the carriage of {', '.join(unstated)}, which is not stated"] if unstated else []
    words += [f"weights not stated in the carriage of {', '.join(unweighed)}"] if unweighed else []
    return f"; not counted: {' and '.join(words)}" if words else ""


def filled_up(order: Order) -> Money | None:
    """Return what of an order is bought only to reach its smallest order or free carriage; None if nothing is."""
    needed = sum((_needed(line) for line in order.lines), Decimal(0))
    supplier = order.supplier
    sums = [supplier.minimum_order, supplier.shipping.free_over if supplier.shipping is not None else None]
    reached = any(money is not None and needed < money.amount <= order.goods.amount for money in sums)
    return Money(order.goods.amount - needed, order.goods.currency) if reached and needed < order.goods.amount else None


def _needed(line: Line) -> Decimal:
    """Return what the packs of a line cost that its needs take, at the price that is paid."""
    served = sum(serves.quantity for serves in line.serves)
    total = served + line.over
    packs = -(-served * line.packs // total) if total else line.packs
    return (line.price.amount * packs).quantize(Decimal("0.01"), ROUND_HALF_UP)


def missing_heading(plan: Plan) -> str:
    """Return what parts are that a plan does not bring."""
    return f"CANNOT BE HERE BY {day(plan.by)}" if plan.by is not None else "CANNOT BE BOUGHT"


def stock_text(taken: FromStock, needs: Sequence[Need], unit: str = "mm") -> str:
    """Return what is taken off the shelf or out of what is coming, and what for."""
    need = next((need for need in needs if need.part == taken.serves.part), None)
    if taken.lengths:
        cut = ", ".join(cut_length(length, unit) for length in taken.lengths)
        what = f"{taken.part}, {count_of(taken.quantity, 'length')}: {cut}"
    else:
        what = f"{amount_text(taken.quantity, need.unit if need is not None else 'each')} {taken.part}"
    words = [what, *([f"in place of {taken.serves.part}"] if taken.serves.substitute else [])]
    use = for_text([need]) if need is not None else ""
    return ", ".join([*words, *([use] if use else [])])


def due_text(taken: FromStock, on: date) -> str:
    """Return when something is here that is coming, seen from the day `on`, and from whom."""
    if taken.due is None:
        due = "nobody knows when"
    else:
        due = f"due {day(taken.due)}" if taken.due >= on else f"was due {day(taken.due)}, overdue"
    return f"{due}, from {taken.supplier}" if taken.supplier else due


def ready_day(ready: CircuitReady, on: date) -> str:
    """Return the first day of a circuit: `now`, a day, or why there is none."""
    if ready.day is None:
        return "parts missing" if ready.short else "not known"
    return "now" if ready.day <= on else day(ready.day)


def column_width(header: str, *cells: str) -> int:
    """Return how wide a column of a table becomes: as wide as its widest cell, or its header and two columns more."""
    return max(len(header) + 2, *(columns(cell) for cell in cells))

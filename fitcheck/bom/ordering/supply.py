"""What comes when, need by need: off the shelf, on its way, in the plan's orders."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from math import floor
from typing import Final, NamedTuple

from fitcheck.bom.need import MM3_PER_ML, Need
from fitcheck.bom.ordering.record import FromStock, Line, Order, Plan
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.stock import Stock

_DUST: Final = 1e-9


class Supply(NamedTuple):
    """So much of a part, for one need: pieces or millilitres, or lengths of cut goods.

    `day` is when it is here, None if nobody knows; `who` is the supplier then, and else the reason. `here` is True for
    what is on the shelf.
    """

    part: str
    quantity: int
    day: date | None
    who: str = ""
    here: bool = False


class Wait(NamedTuple):
    """How long so much of one need takes: the `day` on which it is here, None for never or nobody knows.

    `here`, `coming` and `short` count it. `gate` is what comes last, with the supplier; if `day` is None all that is on
    no known day, with the reason.
    """

    day: date | None
    here: int = 0
    coming: int = 0
    short: int = 0
    gate: tuple[tuple[str, str], ...] = ()


def words(need: Need) -> str:
    """Return what a need is called: its part, or what would do."""
    return need.part or need.description


def in_order(supplies: Iterable[Supply]) -> list[Supply]:
    """Return what is here, then what comes day by day, then what comes on no known day."""
    return sorted(supplies, key=lambda one: (not one.here, one.day is None, one.day or date.max))


def ordered(on: date, order: Order, line: Line, quantity: int) -> Supply:
    """Return so much of a line of an order that goes out on the day `on`."""
    day = order.day_of(line)
    if day is None:
        return Supply(line.offer.part, quantity, None, f"{order.supplier.tag}: no lead time is given")
    return Supply(line.offer.part, quantity, max(day, on), order.supplier.tag)


def coming(on: date, part: str, quantity: int, due: date | None, supplier: str | None) -> Supply:
    """Return so much of what is on its way, as of the day `on`: nobody knows when comes what is overdue."""
    if due is not None and due >= on:
        return Supply(part, quantity, due, supplier or "on its way")
    late = f"was due {due}" if due is not None else "on no known day"
    return Supply(part, quantity, None, f"on its way from {supplier}, {late}" if supplier else f"on its way, {late}")


def taken(on: date, entry: FromStock, quantity: int) -> Supply:
    """Return so much of what a plan takes off the shelf, or out of what is on its way."""
    if entry.coming:
        return coming(on, entry.part, quantity, entry.due, entry.supplier)
    return Supply(entry.part, quantity, on, here=True)


def waited(on: date, used: Sequence[Supply], short: int, lacking: tuple[str, str]) -> Wait:
    """Return how long it takes until all that is `used` is here; `short` more are `lacking`: what, and why."""
    here = sum(supply.quantity for supply in used if supply.here)
    total = sum(supply.quantity for supply in used)
    never = [(supply.part, supply.who) for supply in used if supply.day is None] + [lacking] * (short > 0)
    if never:
        return Wait(None, here, total - here, short, tuple(dict.fromkeys(never)))
    day = max((supply.day for supply in used if supply.day is not None), default=on)
    last = [(supply.part, supply.who) for supply in used if supply.day == day and day > on]
    return Wait(day, here, total - here, 0, tuple(dict.fromkeys(last)))


def together(on: date, waits: Sequence[Wait]) -> Wait:
    """Return how long all of several needs take, and what comes last."""
    days = [wait.day for wait in waits]
    day = None if None in days else max((day for day in days if day is not None), default=on)
    last = dict.fromkeys(entry for wait in waits if wait.day == day for entry in wait.gate)
    counts = (sum(counted) for counted in zip(*(wait[1:4] for wait in waits), strict=True))
    here, coming_, short = tuple(counts) or (0, 0, 0)
    return Wait(day, here, coming_, short, tuple(last))


class Supplies:
    """What there is for each need that is counted, as a plan shares it out.

    What the plan gives to nobody is for the need of that very part, or else for the first that the part stands in for:
    the rest of a pack, what more there is on the shelf, what comes later than the plan has use for.
    """

    def __init__(self, shelf: Shelf, plan: Plan, stock: Stock) -> None:
        self.shelf = shelf
        self.plan = plan
        self.stock = stock
        self._units = {need.part: need.unit for need in plan.needs if need.part is not None and need.unit != "mm"}
        self._home = {part: part for part in self._units}
        self._found: dict[str, list[Supply]] = defaultdict(list)
        self._reasons = {_key(lacking.need): lacking.reasons for lacking in plan.missing}
        for entry in plan.stock:
            if not entry.lengths:
                self._add(entry.serves.part, taken(plan.on, entry, entry.quantity))
                self._home.setdefault(entry.part, entry.serves.part)
        for order in plan.orders:
            for line in order.lines:
                self._line(order, line)
        for supply in list(self._left()):
            self._add(self._home[supply.part], supply)

    def of(self, need: Need) -> list[Supply]:
        """Return what there is for a counted need, the first first."""
        return in_order(self._found[need.part]) if need.part in self._found else []

    def here(self, need: Need) -> int:
        """Return how much of a counted need is on the shelf."""
        return sum(supply.quantity for supply in self.of(need) if supply.here)

    def reason(self, need: Need) -> str:
        """Return why a need is not met: the plan's own reason if it has just one."""
        reasons = self._reasons.get(_key(need))
        if reasons is None:
            return "no catalog has such a part" if need.part is None else "nothing in the plan is for it"
        return reasons[0] if len(reasons) == 1 else "cannot be bought"

    def wait(self, need: Need, quantity: int) -> Wait:
        """Return how long so much of a counted need takes if nobody else has any of it."""
        used, open_ = [], quantity
        for supply in self.of(need):
            if open_ > 0:
                used.append(supply._replace(quantity=min(supply.quantity, open_)))
                open_ -= used[-1].quantity
        return waited(self.plan.on, used, open_, (words(need), self.reason(need)))

    def _line(self, order: Order, line: Line) -> None:
        for serves in line.serves:
            if serves.part in self._units:
                self._add(serves.part, ordered(self.plan.on, order, line, serves.quantity))
                self._home.setdefault(line.offer.part, serves.part)
        home = self._home.get(line.offer.part)
        if home is not None and not line.lengths:
            self._add(home, ordered(self.plan.on, order, line, line.over))

    def _add(self, part: str, supply: Supply) -> None:
        if part in self._units and supply.quantity > 0:
            self._found[part].append(supply)

    def _left(self) -> Iterator[Supply]:
        """Yield what is on the shelf and on its way, and the plan gives to nobody."""
        on = self.plan.on
        given = Counter[tuple[str, bool, date | None, str | None]]()
        for each in (entry for entry in self.plan.stock if not entry.lengths):
            given[each.part, each.coming, _ahead(on, each.due), each.supplier] += each.quantity
        for part in self._home:
            here = self._amount(part, self.stock.quantity(part), self.stock.contents(part))
            yield Supply(part, here - given[part, False, None, None], on, here=True)
        for entry in self.stock.coming:
            if entry.part in self._home:
                key = (entry.part, True, _ahead(on, entry.due), entry.supplier)
                comes = self._amount(entry.part, entry.quantity, entry.contents or 0.0)
                used = min(given[key], comes)
                given[key] -= used
                yield coming(on, entry.part, comes - used, entry.due, entry.supplier)

    def _amount(self, part: str, quantity: int, contents: float) -> int:
        """Return so many pieces as they are counted, or the millilitres in them, rounded down."""
        if self._units.get(self._home[part]) != "ml":
            return quantity
        made = self.shelf.get(part)
        each = made.volume if made is not None and made.volume is not None else 0.0
        return floor((contents + quantity * each) / MM3_PER_ML + _DUST)


def _ahead(on: date, due: date | None) -> date | None:
    return due if due is not None and due >= on else None


def _key(need: Need) -> tuple[str, str]:
    return words(need), need.unit

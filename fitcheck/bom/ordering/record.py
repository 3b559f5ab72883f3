"""The purchase plan as plain records: what is taken off the shelf, what is bought from whom, what cannot be had."""

from datetime import date
from decimal import Decimal
from typing import NamedTuple

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.need import Need
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer, Supplier
from fitcheck.catalog.rates import Rate
from fitcheck.measures import LengthUnit


class Serves(NamedTuple):
    """How much of what is got serves the need of the part `part`: pieces, millilitres, or lengths of cut goods.

    `substitute` is True if the need is for another part than the one that is got.
    """

    part: str
    quantity: int
    substitute: bool = False


class Line(NamedTuple):
    """One line of an order: so many packs of an offer.

    `price` is for each pack, price breaks applied; `cost` for all of them, to the cent. Of goods cut to length `packs`
    counts the offer's `per`, all in one piece. `arrives` is the day on which this line alone would be here, None if
    nobody states a lead time. `over` is how much more comes than is needed, in pieces or millilitres, because of packs,
    breaks or a smallest order. `lengths` are the lengths that come, of cut goods [mm].
    `description` is that of the part in the catalogs.
    """

    offer: Offer
    packs: int
    price: Money
    cost: Money
    arrives: date | None
    serves: tuple[Serves, ...]
    over: int = 0
    lengths: tuple[float, ...] = ()
    description: str = ""

    @property
    def pieces(self) -> int:
        """How many pieces come."""
        return 1 if self.offer.to_length else self.packs * self.offer.pack


class Order(NamedTuple):
    """What is bought from one supplier in one go.

    `goods`, `carriage` and `total` are in the supplier's currency, to the cent; `home` is the total in the plan's. The
    lines add up to `goods`. `weight` [kg] is what is known to be sent; `unweighed` are parts without a weight, which
    carriage by weight then leaves out. `arrives` is the day on which all of it is here, None if nobody states it.
    """

    supplier: Supplier
    lines: tuple[Line, ...]
    goods: Money
    carriage: Money
    total: Money
    home: Money
    arrives: date | None
    weight: float | None = None
    unweighed: tuple[str, ...] = ()

    def day_of(self, line: Line) -> date | None:
        """Return the day on which a line is here: with the whole order, unless what is ready is sent at once."""
        return line.arrives if self.supplier.part_deliveries else self.arrives


class FromStock(NamedTuple):
    """What is taken off the shelf, or out of what is coming, for one need.

    `quantity` in pieces or millilitres; of cut goods it is the number of `lengths` [mm] that are cut into. `due` is
    None for what is here; of what is coming it is the day, and None with `coming` True if nobody knows when.
    """

    part: str
    quantity: int
    serves: Serves
    lengths: tuple[float, ...] = ()
    coming: bool = False
    due: date | None = None
    supplier: str | None = None


class Missing(NamedTuple):
    """A need that the plan does not meet: how much of it is short, and why, offer by offer."""

    need: Need
    short: int
    reasons: tuple[str, ...]


class Bound(NamedTuple):
    """What is proven of a plan's cost: no plan costs less than `least`.

    `seconds` is the time the solver was given. `open` says in words what was not looked at: where there is anything,
    the plan is not proven, and `least` holds only for what was.
    """

    least: Decimal
    optimal: bool
    seconds: float
    open: tuple[str, ...] = ()

    def gap(self, cost: Decimal) -> float:
        """Return by which share of `cost` a plan could be cheaper at most."""
        return float((cost - self.least) / cost) if cost else 0.0


class Plan(NamedTuple):
    """A purchase plan of a build, as of the moment `on`.

    `cost` is the sum of the orders in the currency `cost.currency`. `finish` is the day on which everything is here;
    None if something is missing or nobody knows when it comes. `by` is the day that was asked for. `cuts` say what tube
    is cut from what. `left_out` are offers that were not looked at, and why. `rates` are the stated rates that the sum
    rests on. `told_in` is what lengths are told in.
    """

    build: str
    on: date
    needs: tuple[Need, ...]
    orders: tuple[Order, ...]
    stock: tuple[FromStock, ...]
    missing: tuple[Missing, ...]
    cost: Money
    finish: date | None
    bound: Bound
    cuts: tuple[CutPart, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    rates: tuple[Rate, ...] = ()
    by: date | None = None
    told_in: LengthUnit = "mm"

    @property
    def complete(self) -> bool:
        """True if every need that is known is met."""
        return not self.missing


class TradeOff(NamedTuple):
    """One row of the trade-off between cost and date: to have everything by `finish` costs `cost` at least.

    `finish` is None if nobody knows the day. `missing` counts the needs that it does not meet, or not for certain.
    """

    finish: date | None
    cost: Money
    orders: int
    optimal: bool
    missing: int = 0


class CircuitReady(NamedTuple):
    """When one circuit can be finished and filled, if it is made before all others.

    `day` is the first day on which all that it takes is here; None if something is missing or comes on a day that
    nobody knows. `gate` are the parts that hold it up until then, with the supplier or the reason; empty if all is
    here. `here`, `coming` and `short` count its parts: on the shelf, on the way or in the plan, not to be had.
    """

    circuit: str
    day: date | None
    gate: tuple[tuple[str, str], ...]
    here: int
    coming: int
    short: int


class Doable(NamedTuple):
    """What can be made with what is on the shelf alone: whole circuits, and single lines, hoses and components.

    `lacking` says for each place that cannot be made what it lacks: part ids.
    """

    circuits: tuple[str, ...]
    places: tuple[str, ...]
    lacking: tuple[tuple[str, tuple[str, ...]], ...]


class Readiness(NamedTuple):
    """Circuits in the order in which they can be ready, what is for no circuit, and what can be made now."""

    circuits: tuple[CircuitReady, ...]
    doable: Doable

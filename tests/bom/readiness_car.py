"""A small invented car with two circuits, and plans written by hand for it, for tests of what is ready when."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.need import SPARE, Need, Use
from fitcheck.bom.nesting.record import Bar, Coil, Cut, Nest, Proof, Source
from fitcheck.bom.ordering.record import Bound, CircuitReady, FromStock, Line, Missing, Order, Plan, Readiness, Serves
from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer, Supplier
from fitcheck.catalog.stock import Stock

CATALOG = """\
catalog: 1
parts:
  box:
    kind: pedal box
    ports: {rod_1: {pattern: pushrod}, rod_2: {pattern: pushrod}, foot: {pattern: two 8 mm at 57 mm}}
  plate: {kind: union, ports: {top: {pattern: two 8 mm at 57 mm}}}
  tank:
    kind: reservoir
    ports:
      front: {seat: push-on, gender: external, hose: 8 mm}
      rear: {same as: front}
    passages: [[front], [rear]]
  pump:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
      rod: {pattern: pushrod}
    outlets: [out]
    feeds: [feed]
  twin-pump:
    kind: master cylinder
    ports:
      one: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      two: {same as: one}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [one, two]
    feeds: [feed]
  brake:
    kind: caliper
    ports: {pipe: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
  pipe: {kind: tube, od: 4.75 mm, wall: 0.7 mm}
  drip:
    kind: feed hose
    ports: {from: {hose: 8 mm, seat: push-on, gender: internal}, to: {hose: 8 mm, seat: push-on, gender: internal}}
  rubber: {kind: grommet}
  juice: {kind: fluid, volume: 250 mL}
"""
CAR = """\
build: 1
name: Plover
catalogs: [house.yaml]
components:
  box: {part: box}
  plate: {part: plate}
  tank: {part: tank}
  mc_f: {part: pump}
  mc_r: {part: pump}
  fl: {part: brake}
  rl: {part: brake}
  odd: {part: brake}
joints:
  - [box.rod_1, mc_f.rod]
  - [box.rod_2, mc_r.rod]
  - [plate.top, box.foot]
lines:
  front: {from: mc_f.out, to: fl.pipe, tube: pipe, length: 300 mm}
  rear: {from: mc_r.out, to: rl.pipe, tube: pipe, length: 500 mm, route: [{at: [0, 0, 0], through: wall}]}
hoses:
  feed_f: {part: drip, from: tank.front, to: mc_f.feed, length: 200 mm}
  feed_r: {part: drip, from: tank.rear, to: mc_r.feed, length: 200 mm}
panels:
  wall: {grommet: rubber}
  floor: {grommet: rubber}
circuits:
  front: {from: mc_f.out, feeds: [fl.pipe]}
"""
ON = date(2026, 11, 30)
FRONT, REAR = "front", "mc_r.out"


def day(number: int) -> date:
    """Return the day so many days after the plan's."""
    return ON + timedelta(days=number)


def car(folder: Path, text: str = CAR) -> PortGraph:
    """Write the car and its catalog, and return its graph."""
    (folder / "house.yaml").write_text(CATALOG, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return assemble(load(folder))


def need(part: str, *places: str, unit: str = "each", **more: object) -> Need:
    """Return a need for one of a part in each place; a number before a place, as in `2 fl`, for so many."""
    uses = []
    for place in places:
        count, _, name = place.rpartition(" ")
        uses.append(Use(name, int(count or 1)))
    return Need(part, "part", part, unit, tuple(uses))._replace(**more)  # type: ignore[arg-type]


BOX = need("box", "box")
PLATE = need("plate", "plate")
TANK = need("tank", "tank")
PUMP = need("pump", "mc_f", "mc_r")
BRAKE = need("brake", "fl", "rl")
NUT = need("nut", "front.from", "front.to", "rear.from", "rear.to")
PIPE = need("pipe", unit="mm", pieces=(Cut("front", 310.0), Cut("rear", 510.0), Cut(SPARE, 510.0)))
JUICE = Need("juice", "fluid", "juice", "ml", (Use("", 400, "work"),))


def shop(tag: str, **more: object) -> Supplier:
    """Return a supplier."""
    return Supplier(tag, tag, "GBP")._replace(**more)


PENCE = Money(Decimal("1.00"), "GBP")


def order(supplier: Supplier | str, arrives: date | None, *lines: Line) -> Order:
    """Return an order of these lines; what it costs is of no matter here."""
    seller = shop(supplier) if isinstance(supplier, str) else supplier
    return Order(seller, lines, PENCE, PENCE, PENCE, PENCE, arrives)


def line(
    part: str, quantity: int, *, by: date | None = None, over: int = 0, instead: str = "", lengths: Sequence[float] = ()
) -> Line:
    """Return a line that brings so many of a part, for its own need or `instead` of another part."""
    serves = (Serves(instead or part, quantity, bool(instead)),)
    return Line(Offer(part, shop("any"), PENCE), 1, PENCE, PENCE, by, serves, over, tuple(lengths))


def here(part: str, quantity: int, *lengths: float, instead: str = "") -> FromStock:
    """Return what the plan takes off the shelf."""
    return FromStock(part, quantity, Serves(instead or part, quantity, bool(instead)), lengths)


def due(part: str, quantity: int, on: date | None, *lengths: float, supplier: str | None = "yard") -> FromStock:
    """Return what the plan takes out of what is on its way."""
    return FromStock(part, quantity, Serves(part, quantity), lengths, True, on, supplier)


def plan_of(
    needs: Iterable[Need],
    stock: Iterable[FromStock] = (),
    orders: Iterable[Order] = (),
    missing: Iterable[Missing] = (),
    cuts: Iterable[CutPart] = (),
) -> Plan:
    """Return a plan."""
    bound = Bound(Decimal(0), True, 1.0)
    parts = (tuple(needs), tuple(orders), tuple(stock), tuple(missing))
    return Plan("Plover", ON, *parts, PENCE, None, bound, tuple(cuts))


def cut_list(*bars: tuple[bool, float, Sequence[str]], left_out: Sequence[LeftOut] = ()) -> CutPart:
    """Return the cutting list of the pipe: each bar an offcut or not, how long, and the tags of its pieces."""
    made = tuple(
        Bar(Source(offcut, number), mm, tuple(Cut(tag, 100.0) for tag in tags), 0.0)
        for number, (offcut, mm, tags) in enumerate(bars)
    )
    coils = tuple(Coil(mm) for _, mm, _ in bars)
    nest = Nest(made, (), (), None, Fraction(0), 0.0, 0.0, Proof(Fraction(0), None, None)) if bars else None
    return CutPart("pipe", "pipe", "offers", coils, (), None, nest, (), tuple(left_out))


def ready(found: Readiness, name: str) -> CircuitReady:
    """Return what is said of one circuit."""
    (one,) = (each for each in found.circuits if each.circuit == name)
    return one


EMPTY = Stock.empty()

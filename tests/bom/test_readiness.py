"""When each circuit can be finished, and what can be made now: plans written by hand for a small car."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.need import SPARE, Need, Use
from fitcheck.bom.nesting.record import Bar, Coil, Cut, Nest, Proof, Source
from fitcheck.bom.ordering.belonging import Belonging
from fitcheck.bom.ordering.readiness import readiness
from fitcheck.bom.ordering.record import (
    Bound,
    CircuitReady,
    FromStock,
    Line,
    Missing,
    Order,
    Plan,
    Readiness,
    Serves,
)
from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer, Supplier
from fitcheck.catalog.stock import Coming, Stock, Stocked

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


@pytest.fixture(name="graph")
def _graph(tmp_path: Path) -> PortGraph:
    """The car."""
    return car(tmp_path)


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


def test_which_circuits_a_place_is_for(graph: PortGraph) -> None:
    """Lines, ends, feeds, cylinders, pedals, panels: each is for the circuits that cannot do without it."""
    belonging = Belonging(graph)
    assert belonging.names == (FRONT, REAR)
    assert {
        place: sorted(belonging.of(place)) for place in ("front", "front.to", "fl", "mc_f", "feed_f", "mc_f.feed")
    } == {
        "front": [FRONT],
        "front.to": [FRONT],
        "fl": [FRONT],
        "mc_f": [FRONT],
        "feed_f": [FRONT],
        "mc_f.feed": [FRONT],
    }
    assert sorted(belonging.of("tank.rear")) == [REAR]
    for shared in ("tank", "box", "plate", "box.rod_1", ""):
        assert sorted(belonging.of(shared)) == [FRONT, REAR]
    assert sorted(belonging.of("wall")) == [REAR]
    for other in ("odd", "odd.pipe", "floor", "nowhere"):
        assert belonging.of(other) == {""}


def test_a_reservoir_over_a_twin_cylinder_is_for_both_circuits(tmp_path: Path) -> None:
    """Nobody knows which feed is for which outlet: a feed is for all outlets of its cylinder; a nut for its own."""
    text = CAR.replace("mc_f: {part: pump}", "mc_f: {part: twin-pump}").replace("mc_f.out", "mc_f.one")
    text = text.replace("from: mc_r.out", "from: mc_f.two").replace("  - [box.rod_1, mc_f.rod]\n", "")
    belonging = Belonging(car(tmp_path, text))
    assert belonging.names == (FRONT, "mc_f.two", REAR)
    assert sorted(belonging.of("feed_f")) == sorted(belonging.of("mc_f")) == [FRONT, "mc_f.two"]
    assert sorted(belonging.of("rear.from")) == ["mc_f.two"]


def test_circuits_that_begin_in_one_place_or_nowhere(tmp_path: Path) -> None:
    """Two names for one circuit are both told; a circuit that begins nowhere is never ready, and says why."""
    begin = {"also": "fl.pipe", "lost": "mc_g.out", "foot": "box.rod_1"}
    graph = car(tmp_path, CAR + "".join(f"  {name}: {{from: {ref}, feeds: []}}\n" for name, ref in begin.items()))
    belonging = Belonging(graph)
    assert belonging.names == (FRONT, "also", "lost", "foot", REAR)
    assert sorted(belonging.of("front")) == ["also", FRONT]
    found = readiness(graph, plan_of([BRAKE], [here("brake", 2)]), EMPTY)
    assert [(each.circuit, each.day) for each in found.circuits] == [
        (FRONT, ON),
        ("also", ON),
        (REAR, ON),
        ("lost", None),
        ("foot", None),
    ]
    assert ready(found, "lost").gate == (("mc_g.out", "nothing here has the tag mc_g; nearest is mc_f"),)
    assert ready(found, "foot").gate == (("box.rod_1", "box.rod_1 carries force, not fluid"),)
    assert found.doable.circuits == (FRONT, "also", REAR)


def test_circuits_that_are_crossed(tmp_path: Path) -> None:
    """Two outlets that feed one another are one circuit, under the first of them."""
    text = CAR.replace("to: rl.pipe", "to: mc_f.out").split("circuits:")[0]
    assert Belonging(car(tmp_path, text)).names == ("mc_f.out",)


def test_a_build_without_circuits(tmp_path: Path) -> None:
    """Where nothing makes pressure all is for no circuit, what is for the whole build included."""
    graph = car(tmp_path, "build: 1\ncatalogs: [house.yaml]\ncomponents: {fl: {part: brake}}\n")
    found = readiness(graph, plan_of([need("brake", "fl"), JUICE], [here("brake", 1), here("juice", 400)]), EMPTY)
    assert found.circuits == (CircuitReady("", ON, (), 1, 0, 0),)
    assert (found.doable.circuits, found.doable.places) == ((), ("fl",))


def test_everything_on_the_shelf(graph: PortGraph) -> None:
    """With all of it here each circuit is ready at once, holds up for nothing, and can be made."""
    needs = (BOX, PLATE, TANK, PUMP, BRAKE, NUT, PIPE, JUICE, need("brake-odd", "odd"))
    stock = [here(each.part or "", each.quantity) for each in needs if each.unit != "mm"]
    cuts = [cut_list((True, 2000.0, ["front", "rear", SPARE]))]
    found = readiness(graph, plan_of(needs, [*stock, here("pipe", 1, 2000.0)], cuts=cuts), EMPTY)
    assert found.circuits == (
        CircuitReady(FRONT, ON, (), 8, 0, 0),
        CircuitReady(REAR, ON, (), 8, 0, 0),
        CircuitReady("", ON, (), 1, 0, 0),
    )
    assert (found.doable.circuits, found.doable.places, found.doable.lacking) == ((FRONT, REAR), ("odd",), ())


def test_the_gate_is_what_comes_last(graph: PortGraph) -> None:
    """A circuit waits for the last of its parts, and names it with who sends it; the one ready first comes first."""
    orders = [
        order("slow", day(9), line("pump", 1), line("brake", 1)),
        order("quick", day(2), line("nut", 4), line("pump", 1), line("brake", 1)),
    ]
    found = readiness(graph, plan_of([need("pump", "2 mc_f"), BRAKE, NUT], orders=orders), EMPTY)
    assert found.circuits == (
        CircuitReady(REAR, day(2), (("brake", "quick"), ("nut", "quick")), 0, 3, 0),
        CircuitReady(FRONT, day(9), (("pump", "slow"),), 0, 5, 0),
    )


def test_each_circuit_is_served_first(graph: PortGraph) -> None:
    """Two nuts here and two later are two nuts at once for either circuit, not for both of them."""
    nuts = [here("nut", 2)]
    found = readiness(graph, plan_of([NUT], nuts, [order("hall", day(3), line("nut", 2))]), EMPTY)
    assert found.circuits == (CircuitReady(FRONT, ON, (), 2, 0, 0), CircuitReady(REAR, ON, (), 2, 0, 0))
    assert found.doable.circuits == (FRONT,)
    assert (found.doable.places, found.doable.lacking) == ((), (("rear", ("nut",)),))


def test_part_deliveries(graph: PortGraph) -> None:
    """An order comes when its last line is ready, unless its supplier sends at once what is ready."""
    lines = (line("brake", 2, by=day(1)), line("pump", 2, by=day(5)))
    needs = [BRAKE]
    whole = readiness(graph, plan_of(needs, orders=[order("hall", day(5), *lines)]), EMPTY)
    parts = readiness(graph, plan_of(needs, orders=[order(shop("hall", part_deliveries=True), day(5), *lines)]), EMPTY)
    assert (ready(whole, FRONT).day, ready(parts, FRONT).day) == (day(5), day(1))


def test_days_that_nobody_knows(graph: PortGraph) -> None:
    """What comes without a day holds a circuit up for good: no lead time, no due date, a due date that is past."""
    needs = [PUMP, BRAKE, TANK, BOX]
    stock = [due("brake", 2, None), due("tank", 1, day(-3)), due("box", 1, None, supplier=None)]
    found = readiness(graph, plan_of(needs, stock, [order("hall", None, line("pump", 2))]), EMPTY)
    assert ready(found, FRONT) == CircuitReady(
        FRONT,
        None,
        (
            ("pump", "hall: no lead time is given"),
            ("brake", "on its way from yard, on no known day"),
            ("tank", f"on its way from yard, was due {day(-3)}"),
            ("box", "on its way, on no known day"),
        ),
        0,
        4,
        0,
    )


def test_what_comes_by_its_due_date(graph: PortGraph) -> None:
    """What is on its way counts from the day it is due; today's is no delay, and yet not on the shelf."""
    stock = [due("brake", 2, day(4)), due("pump", 2, day(4), supplier=None), due("nut", 4, ON)]
    found = readiness(graph, plan_of([PUMP, BRAKE], stock[:2]), EMPTY)
    assert ready(found, REAR) == CircuitReady(REAR, day(4), (("pump", "on its way"), ("brake", "yard")), 0, 2, 0)
    today = readiness(graph, plan_of([NUT], stock[2:]), EMPTY)
    assert ready(today, REAR) == CircuitReady(REAR, ON, (), 0, 2, 0)
    assert today.doable.circuits == ()


def test_a_substitute_serves_the_need_it_is_for(graph: PortGraph) -> None:
    """What stands in for a part counts for it, and is what the circuit waits for."""
    stock, orders = [here("stop", 1, instead="brake")], [order("hall", day(3), line("halt", 1, instead="brake"))]
    found = readiness(graph, plan_of([need("brake", "2 fl", "0 rl")], stock, orders), EMPTY)
    assert ready(found, FRONT) == CircuitReady(FRONT, day(3), (("halt", "hall"),), 1, 1, 0)


def test_what_the_plan_gives_to_nobody(graph: PortGraph) -> None:
    """The rest of a pack, of the shelf and of what is on its way is there for whoever comes first."""
    nut = need("nut", "3 front.from", "3 rear.from")
    late = order("late", day(9), line("nut", 3))
    early = order("early", day(2), line("nut", 1, over=2))
    found = readiness(graph, plan_of([nut], orders=[late, early]), EMPTY)
    assert ready(found, FRONT) == CircuitReady(FRONT, day(2), (("nut", "early"),), 0, 3, 0)
    for stock, first, count in (
        (Stock([Stocked("nut", 3)]), ON, 3),
        (Stock([Stocked("nut", 2)], [Coming("nut", 4, due=day(1))]), day(1), 2),
        (Stock([], [Coming("nut", 3, due=day(1)), Coming("nut", 1, due=day(-1))]), day(1), 0),
    ):
        found = readiness(graph, plan_of([nut], orders=[late]), stock)
        assert (ready(found, FRONT).day, ready(found, FRONT).here) == (first, count)


def test_nothing_of_the_shelf_counts_twice(graph: PortGraph) -> None:
    """What the plan takes off the shelf, or out of what is coming, is not there a second time."""
    nut = need("nut", "3 front.from")
    stock = Stock([Stocked("nut", 2)], [Coming("nut", 1, supplier="yard", due=day(1))])
    taken = [here("nut", 2), due("nut", 1, day(1))]
    assert ready(readiness(graph, plan_of([nut], taken), stock), FRONT).day == day(1)
    more = need("nut", "4 front.from")
    assert ready(readiness(graph, plan_of([more], taken), stock), FRONT).day is None


def test_what_is_overdue_counts_once(graph: PortGraph) -> None:
    """What is coming and overdue is the same whether the plan takes from it or not: there is no day for it."""
    stock = Stock([], [Coming("nut", 3, supplier="yard", due=day(-2))])
    nut = need("nut", "4 front.from")
    found = readiness(graph, plan_of([nut], [due("nut", 2, None)]), stock)
    assert (ready(found, FRONT).coming, ready(found, FRONT).short) == (3, 1)


def test_what_stands_in_is_left_over_too(graph: PortGraph) -> None:
    """More of a part that stands in for another and is needed nowhere else is there for that other need."""
    stock = Stock([Stocked("stop", 2)])
    found = readiness(graph, plan_of([need("brake", "2 fl")], [here("stop", 1, instead="brake")]), stock)
    assert ready(found, FRONT) == CircuitReady(FRONT, ON, (), 2, 0, 0)


def test_what_cannot_be_had(graph: PortGraph) -> None:
    """A circuit that lacks something has no day: one reason is told, several are in the plan; no plan, no reason."""
    gone, thing = need("pump", "mc_f"), Need(None, "nut", "M10x1 nut", "each", (Use("front.to", 2),))
    missing = [Missing(gone, 1, ("hall: has 0",)), Missing(BRAKE, 1, ("hall: has 1", "yard: has 0"))]
    found = readiness(graph, plan_of([gone, BRAKE, thing, TANK], [here("brake", 1)], missing=missing), EMPTY)
    assert ready(found, FRONT) == CircuitReady(
        FRONT,
        None,
        (
            ("pump", "hall: has 0"),
            ("M10x1 nut", "no catalog has such a part"),
            ("tank", "nothing in the plan is for it"),
        ),
        1,
        0,
        4,
    )
    both = need("brake", "2 fl")
    missing = [Missing(both, 1, ("hall: has 1", "yard: has 0"))]
    found = readiness(graph, plan_of([both], [here("brake", 1)], missing=missing), EMPTY)
    assert ready(found, FRONT).gate == (("brake", "cannot be bought"),)


def test_amounts_that_nobody_knows(graph: PortGraph) -> None:
    """A length or a fixing that is not known leaves its circuits without a day; fluid that is not known does not."""
    length = "lines.rear.length is not given"
    needs = [
        need("pipe", unit="mm", unknown=(("rear", length),)),
        need("fixings", unknown=(("fl.pipe and front.to", "parts.brake.ports.pipe.seat is not given"),)),
        JUICE._replace(unknown=(("fl", "components.fl.volume is not given"),)),
    ]
    found = readiness(graph, plan_of(needs, [here("juice", 400)]), EMPTY)
    assert found.circuits == (
        CircuitReady(FRONT, None, (("fixings", "parts.brake.ports.pipe.seat is not given"),), 0, 0, 0),
        CircuitReady(REAR, None, (("pipe", length),), 0, 0, 0),
    )
    assert found.doable.circuits == ()
    assert found.doable.lacking == (("front", ("fixings",)), ("rear", ("pipe",)))


def test_fluid_is_for_every_circuit(graph: PortGraph) -> None:
    """Every circuit is filled; millilitres are not counted among the parts, but that they are short."""
    some = [here("juice", 150)]
    found = readiness(graph, plan_of([JUICE], some, [order("hall", day(2), line("juice", 250))]), EMPTY)
    assert found.circuits == tuple(CircuitReady(name, day(2), (("juice", "hall"),), 0, 0, 0) for name in (FRONT, REAR))
    found = readiness(graph, plan_of([JUICE], some), EMPTY)
    assert ready(found, REAR) == CircuitReady(REAR, None, (("juice", "nothing in the plan is for it"),), 0, 0, 1)
    bottles = Stock([Stocked("juice", 1, contents=150_000.0)])
    assert ready(readiness(graph, plan_of([JUICE], some), bottles), REAR).day == ON  # 250 ml in a bottle, 150 loose
    cans = Stock([], [Coming("juice", 0, contents=250_000.0, due=day(3))])
    assert ready(readiness(graph, plan_of([JUICE], some), cans), REAR).day == day(3)


def test_spares_hold_nothing_up(graph: PortGraph) -> None:
    """Spares and the spare piece of tube may come later, or never."""
    nut = need("nut", "front.to", "rear.to")._replace(uses=(Use("front.to", 1), Use("", 4, "spare")))
    cuts = [cut_list((True, 900.0, ["front", "rear"]), left_out=[LeftOut(SPARE, "no length for it can be had")])]
    found = readiness(graph, plan_of([nut, PIPE], [here("nut", 1), here("pipe", 1, 900.0)], cuts=cuts), EMPTY)
    assert found.circuits == (CircuitReady(FRONT, ON, (), 2, 0, 0), CircuitReady(REAR, ON, (), 1, 0, 0))


def test_what_the_work_uses_up(graph: PortGraph) -> None:
    """Clips hold up the circuit of their line; the line itself can be made without."""
    clip = Need("clip", "clip", "clip", "each", (Use("front", 2, "work"),))
    found = readiness(graph, plan_of([clip, NUT], [here("nut", 4)], [order("hall", day(1), line("clip", 2))]), EMPTY)
    assert found.circuits == (
        CircuitReady(REAR, ON, (), 2, 0, 0),
        CircuitReady(FRONT, day(1), (("clip", "hall"),), 2, 2, 0),
    )
    assert (found.doable.circuits, found.doable.places) == ((REAR,), ("front",))


def test_a_piece_is_here_when_its_length_is(graph: PortGraph) -> None:
    """The cutting list says which piece comes off the shelf, off a coil that is bought, out of what is coming."""
    cuts = [cut_list((True, 400.0, ["front"]), (False, 7620.0, ["rear", SPARE]))]
    orders = [order("hall", day(6), line("pipe", 1, lengths=(7620.0,)))]
    found = readiness(graph, plan_of([PIPE], [here("pipe", 1, 400.0)], orders, cuts=cuts), EMPTY)
    assert found.circuits == (
        CircuitReady(FRONT, ON, (), 1, 0, 0),
        CircuitReady(REAR, day(6), (("pipe", "hall"),), 0, 1, 0),
    )
    assert (found.doable.circuits, found.doable.lacking) == ((FRONT,), (("rear", ("pipe",)),))
    stock = [here("pipe", 1, 400.0), due("pipe", 1, day(2), 600.0)]
    cuts = [cut_list((True, 400.0, ["front"]), (True, 600.0, ["rear"]))]
    found = readiness(graph, plan_of([PIPE], stock, cuts=cuts), EMPTY)
    assert ready(found, REAR) == CircuitReady(REAR, day(2), (("pipe", "yard"),), 0, 1, 0)


def test_of_equal_lengths_the_first_is_cut_first(graph: PortGraph) -> None:
    """Either circuit could have the one length that is here, but only one of them can be made from it."""
    cuts = [cut_list((True, 600.0, ["front"]), (True, 600.0, ["rear"]))]
    stock = [due("pipe", 1, day(2), 600.0), here("pipe", 1, 600.0)]
    found = readiness(graph, plan_of([PIPE], stock, cuts=cuts), EMPTY)
    assert [each.day for each in found.circuits] == [ON, ON]
    assert (found.doable.circuits, found.doable.lacking) == ((FRONT,), (("rear", ("pipe",)),))


def test_a_circuit_of_two_equal_lengths(graph: PortGraph) -> None:
    """A circuit that takes two equal lengths waits for the second; with one of them nothing of it is whole."""
    pipe = PIPE._replace(pieces=(Cut("front", 310.0), Cut("feed_f", 310.0)))
    cuts = [cut_list((True, 400.0, ["front"]), (True, 400.0, ["feed_f"]))]
    stock = [here("pipe", 1, 400.0), due("pipe", 1, day(3), 400.0)]
    found = readiness(graph, plan_of([pipe], stock, cuts=cuts), EMPTY)
    assert ready(found, FRONT) == CircuitReady(FRONT, day(3), (("pipe", "yard"),), 1, 1, 0)
    assert found.doable.circuits == (REAR,)
    found = readiness(graph, plan_of([pipe], stock[:1], cuts=cuts), EMPTY)
    assert ready(found, FRONT) == CircuitReady(FRONT, None, (("pipe", "nothing in the plan is for it"),), 1, 0, 1)


def test_two_pieces_of_one_length(graph: PortGraph) -> None:
    """A length that has been cut into for one circuit is still there for the other's piece of it."""
    cuts = [cut_list((True, 900.0, ["front", "rear"]), (True, 900.0, ["feed_r"]))]
    pipe = PIPE._replace(pieces=(*PIPE.pieces, Cut("feed_r", 100.0)))
    found = readiness(graph, plan_of([pipe], [here("pipe", 2, 900.0, 900.0)], cuts=cuts), EMPTY)
    assert found.doable.circuits == (FRONT, REAR)
    found = readiness(graph, plan_of([pipe], [here("pipe", 1, 900.0)], cuts=cuts), EMPTY)
    assert (found.doable.circuits, found.doable.places) == ((FRONT,), ("rear",))


def test_a_piece_that_is_in_no_length(graph: PortGraph) -> None:
    """What the cutting list leaves out is never, for its reason."""
    cuts = [
        cut_list((True, 400.0, ["front"]), left_out=[LeftOut("rear", "510.0 mm is longer than the longest there is")])
    ]
    found = readiness(graph, plan_of([PIPE], [here("pipe", 1, 400.0)], cuts=cuts), EMPTY)
    gate = (("pipe", "510.0 mm is longer than the longest there is"),)
    assert ready(found, REAR) == CircuitReady(REAR, None, gate, 0, 0, 1)


@pytest.mark.parametrize(
    ("lengths", "front", "rear", "circuits"),
    [
        ((), None, None, ()),
        ((400.0,), ON, None, (FRONT,)),
        ((600.0,), ON, ON, (FRONT,)),
        ((310.0, 600.0), ON, ON, (FRONT, REAR)),
        ((900.0,), ON, ON, (FRONT, REAR)),
    ],
)
def test_offcuts_that_are_in_no_plan(
    graph: PortGraph, lengths: tuple[float, ...], front: date | None, rear: date | None, circuits: tuple[str, ...]
) -> None:
    """Where a plan cannot meet the whole need, what is on the shelf is still cut from as far as it goes."""
    lost = [LeftOut(piece.tag, "no length for it can be had") for piece in PIPE.pieces]
    stock = Stock([Stocked("pipe", 0, lengths)])
    found = readiness(graph, plan_of([PIPE], cuts=[cut_list(left_out=lost)]), stock)
    assert (ready(found, FRONT).day, ready(found, REAR).day) == (front, rear)
    assert found.doable.circuits == circuits
    for one in (each for each in found.circuits if each.day is None):
        assert one == CircuitReady(one.circuit, None, (("pipe", "no length for it can be had"),), 0, 0, 1)


def test_what_can_be_made_by_itself(graph: PortGraph) -> None:
    """Where no circuit is whole, places are made in the order of the file until something runs out."""
    needs = [TANK, PUMP, BRAKE, NUT, PIPE, need("drip", unit="mm", pieces=(Cut("feed_f", 200.0), Cut("feed_r", 200.0)))]
    cuts = [cut_list((True, 900.0, ["front", "rear"])), cut_list((True, 300.0, ["feed_f"]))._replace(part="drip")]
    stock = [here("pump", 1), here("brake", 2), here("nut", 3), here("pipe", 1, 900.0), here("drip", 1, 300.0)]
    found = readiness(graph, plan_of(needs, stock, cuts=cuts), EMPTY)
    assert found.doable.circuits == ()
    assert found.doable.places == ("mc_f", "fl", "rl", "front", "feed_f")
    assert found.doable.lacking == (
        ("tank", ("tank",)),
        ("mc_r", ("pump",)),
        ("rear", ("nut",)),
        ("feed_r", ("drip",)),
    )


def test_shared_parts_are_taken_once(graph: PortGraph) -> None:
    """The second circuit finds pedals, reservoir and fluid where the first one has put them."""
    needs = [BOX, TANK, PUMP, JUICE]
    stock = [here("box", 1), here("tank", 1), here("pump", 2), here("juice", 400)]
    assert readiness(graph, plan_of(needs, stock), EMPTY).doable.circuits == (FRONT, REAR)


NEEDS = (BOX, TANK, PUMP, BRAKE, NUT, JUICE)
_DAYS = st.one_of(st.none(), st.integers(0, 6))


class Share(NamedTuple):
    """So much of a part: how it comes (`here`, `due`, `bought`), and after how many days, None if nobody knows."""

    part: str
    much: int
    how: str
    after: int | None


@st.composite
def shared_out(draw: st.DrawFn) -> list[Share]:
    """Draw where each part comes from, in up to three shares; now and then some of it from nowhere."""
    found = []
    for each in NEEDS:
        left = each.quantity
        for _ in range(draw(st.integers(1, 3))):
            much = draw(st.integers(0, left))
            how = draw(st.sampled_from(["here", "here", "due", "bought"]))
            found.append(Share(each.part or "", much, how, 0 if how == "here" else draw(_DAYS)))
            left -= much
        if draw(st.integers(0, 3)):
            found.append(Share(each.part or "", left, "here", 0))
    return [share for share in found if share.much]


def plan_from(shares: Iterable[Share]) -> Plan:
    """Return the plan in which the parts come so."""
    stock, orders = [], []
    for part, much, how, number in shares:
        when = day(number) if number is not None else None
        if how == "bought":
            orders.append(order("hall", when, line(part, much)))
        else:
            stock.append(here(part, much) if how == "here" else due(part, much, when))
    return plan_of(NEEDS, stock, orders)


TAKES: Mapping[str, Mapping[str, int]] = {
    FRONT: {"box": 1, "tank": 1, "pump": 1, "brake": 1, "nut": 2, "juice": 400},
    REAR: {"box": 1, "tank": 1, "pump": 1, "brake": 1, "nut": 2, "juice": 400},
}


def first_day(shares: Sequence[Share], takes: Mapping[str, int]) -> date | None:
    """Return the first day on which there is enough of everything, by looking at every day."""
    for number in range(7):
        there = dict.fromkeys(takes, 0)
        for part, much, _, when in shares:
            there[part] += much if when is not None and when <= number else 0
        if all(there[part] >= takes[part] for part in takes):
            return day(number)
    return None


@pytest.fixture(scope="module", name="once")
def _once(tmp_path_factory: pytest.TempPathFactory) -> PortGraph:
    """The car, read once for all examples."""
    return car(tmp_path_factory.mktemp("car"))


_BRIEF = settings(
    derandomize=True,
    database=None,
    deadline=None,
    max_examples=400,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)


@_BRIEF
@given(shares=shared_out())
def test_the_first_day_is_the_first_with_enough(once: PortGraph, shares: list[Share]) -> None:
    """Looking at every day gives the same day; the circuits come in its order; the gate is what comes on that day."""
    found = readiness(once, plan_from(shares), EMPTY)
    for one in found.circuits:
        assert one.day == first_day(shares, TAKES[one.circuit])
        assert one.here + one.coming + one.short - (("juice", "nothing in the plan is for it") in one.gate) == 6
        assert bool(one.gate) == (one.day != ON)
        for part, _ in one.gate if one.day is not None else ():
            assert any(
                share.part == part and day(share.after) == one.day for share in shares if share.after is not None
            )
    days = [one.day or date.max for one in found.circuits]
    assert days == sorted(days)


@_BRIEF
@given(shares=shared_out())
def test_all_here_is_ready_now(once: PortGraph, shares: list[Share]) -> None:
    """Once everything is on the shelf no circuit waits, and all can be made, however it had been shared out."""
    got = [here(each.part or "", each.quantity) for each in NEEDS]
    found = readiness(once, plan_from(shares)._replace(stock=tuple(got), orders=()), EMPTY)
    assert [one.day for one in found.circuits] == [ON, ON]
    assert found.doable.circuits == (FRONT, REAR)


@_BRIEF
@given(
    shares=shared_out(), more=st.dictionaries(st.sampled_from([each.part or "" for each in NEEDS]), st.integers(0, 3))
)
def test_more_on_the_shelf_makes_nothing_later(once: PortGraph, shares: list[Share], more: dict[str, int]) -> None:
    """Stock that the plan did not know of brings each circuit forward, or leaves it where it is."""
    plan = plan_from(shares)
    known = [Stocked(taken.part, taken.quantity) for taken in plan.stock if not taken.coming]
    fluid = sum(each.quantity for each in known if each.part == "juice")
    known = [each for each in known if each.part != "juice"] + [Stocked("juice", 0, contents=fluid * 1000.0)]
    before = readiness(once, plan, Stock(known))
    after = readiness(once, plan, Stock([*known, *(Stocked(part, count) for part, count in more.items())]))
    for one in before.circuits:
        then = ready(after, one.circuit)
        assert (then.day or date.max) <= (one.day or date.max)
        assert then.here >= one.here


@_BRIEF
@given(shares=shared_out())
def test_nothing_is_made_from_more_than_there_is(once: PortGraph, shares: list[Share]) -> None:
    """Counted again, what can be made takes no more than the shelf holds, and what lacks something really does."""
    doable = readiness(once, plan_from(shares), EMPTY).doable
    left = {
        each.part or "": sum(much for part, much, how, _ in shares if (part, how) == (each.part, "here"))
        for each in NEEDS
    }
    whole = {FRONT: {"mc_f", "fl", "front"}, REAR: {"mc_r", "rl", "rear"}}
    made = {place for name in doable.circuits for place in whole[name]} | set(doable.places)
    made |= {"box", "tank"} if doable.circuits else set()
    takes = {"box": "box", "tank": "tank", "mc_f": "pump", "mc_r": "pump", "fl": "brake", "rl": "brake"}
    for place in made:
        left["nut" if place in ("front", "rear") else takes[place]] -= 2 if place in ("front", "rear") else 1
    left["juice"] -= 400 if doable.circuits else 0
    assert min(left.values()) >= 0
    assert made | {place for place, _ in doable.lacking} == {*takes, "front", "rear"}
    assert all(left[part] < (2 if part == "nut" else 1) for _, parts in doable.lacking for part in parts)

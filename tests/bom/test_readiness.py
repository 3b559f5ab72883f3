"""When each circuit can be finished: what belongs to it, and on which day that is here."""

from pathlib import Path

import pytest

from fitcheck.bom.cutting import LeftOut
from fitcheck.bom.need import SPARE, Need, Use
from fitcheck.bom.ordering.belonging import Belonging
from fitcheck.bom.ordering.readiness import readiness
from fitcheck.bom.ordering.record import CircuitReady, Missing
from fitcheck.build.graph import PortGraph
from fitcheck.catalog.stock import Coming, Stock, Stocked
from tests.bom.readiness_car import (
    BOX,
    BRAKE,
    CAR,
    EMPTY,
    FRONT,
    JUICE,
    NUT,
    ON,
    PIPE,
    PLATE,
    PUMP,
    REAR,
    TANK,
    car,
    cut_list,
    day,
    due,
    here,
    line,
    need,
    order,
    plan_of,
    ready,
    shop,
)


@pytest.fixture(name="graph")
def _graph(tmp_path: Path) -> PortGraph:
    """The car."""
    return car(tmp_path)


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

"""Which pieces can be cut when, and what can be made with what is on the shelf."""

from datetime import date
from pathlib import Path

import pytest

from fitcheck.bom.cutting import LeftOut
from fitcheck.bom.need import SPARE
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.ordering.readiness import readiness
from fitcheck.bom.ordering.record import CircuitReady
from fitcheck.build.graph import PortGraph
from fitcheck.catalog.stock import Stock, Stocked
from tests.bom.readiness_car import (
    BOX,
    BRAKE,
    EMPTY,
    FRONT,
    JUICE,
    NUT,
    ON,
    PIPE,
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
)


@pytest.fixture(name="graph")
def _graph(tmp_path: Path) -> PortGraph:
    """The car."""
    return car(tmp_path)


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
    for one in found.circuits:
        assert (one.here, one.coming, one.short) == ((1, 0, 0) if one.day is not None else (0, 0, 1))
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

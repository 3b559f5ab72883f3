"""What holds for every plan: the first day is the first with enough, and nothing is made from more than there is."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from fitcheck.bom.ordering.readiness import readiness
from fitcheck.bom.ordering.record import Plan
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
    PUMP,
    REAR,
    TANK,
    car,
    day,
    due,
    here,
    line,
    order,
    plan_of,
    ready,
)

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

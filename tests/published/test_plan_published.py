"""The purchase plan against published problems that are purchases in other words.

Sources:

- OR-Library, uncapacitated warehouse location, files cap71 to cap74 and the optima printed in its file `uncapopt`. A
  customer is a want, a warehouse a seller with one lot for each customer, its fixed cost the carriage. The four share
  their customers; they differ in the fixed cost.
- "Selected Applications of Nonlinear Programming" (1968), chapter 3, pages 28 to 36, the evaluation of bids: data as
  repeated in a solver's model library; the optimum of 15 210 109.512 is from memory, and worked by hand below.
- A textbook's exercise on fixed charges, computers from three vendors, in two sets of figures (as repeated in two
  archives of questions, which give no answer): every amount tried below.
- A solver's library of examples, two vendors with price breaks, one on all units, one on those past the break (its
  answer was not to be had): every amount tried below.
"""

from decimal import Decimal
from itertools import product
from pathlib import Path
from typing import NamedTuple

import pytest

from fitcheck.bom.ordering.problem import Amount, Answer, Lot, Problem, Seller, Tier, Want, cost
from fitcheck.bom.ordering.solve import solve
from tests.bom.plan_faults import faults

DATA = Path(__file__).parents[1] / "data" / "cap71.txt"
OPTIMA = {7500: "932615.750", 12500: "977799.400", 17500: "1010641.450", 25000: "1034976.975"}
"""For each fixed cost of a warehouse the least total: cap71, cap72, cap73, cap74."""


class Bid(NamedTuple):
    """What one vendor asks for an amount in one range: so much once, and so much for each."""

    vendor: str
    setup: Decimal
    price: Decimal
    least: int
    most: int


def bid(line: str) -> Bid:
    """Return a bid as a table has it: vendor, setup, price, least and most."""
    vendor, setup, price, least, most = line.split()
    return Bid(vendor, Decimal(setup), Decimal(price), int(least), int(most))


def whole(figure: Decimal) -> Amount:
    """Return a figure that has to be whole as an amount of money."""
    assert figure == int(figure)
    return Amount(int(figure), int(figure))


def proven(problem: Problem) -> tuple[Answer, int]:
    """Return the plan that meets everything, proven and without fault, and its cost."""
    answer = solve(problem, 60.0)
    spent = cost(problem, answer.packs)
    assert (faults(problem, answer), sum(answer.short)) == ([], 0)
    assert answer.least == spent
    return answer, spent


def warehouses() -> tuple[list[Decimal], list[list[Decimal]]]:
    """Return the fixed cost of each warehouse, and for each customer its demand and what each warehouse asks."""
    words = [Decimal(word) for word in DATA.read_text("ascii").split()]
    count, customers = int(words[0]), int(words[1])
    rows = words[2 + 2 * count :]
    return words[3 : 2 + 2 * count : 2], [rows[i * (count + 1) : (i + 1) * (count + 1)] for i in range(customers)]


def test_the_instance_is_whole() -> None:
    """16 warehouses, 50 customers, a demand of 58 268 in all; each cost is its demand times a figure of four places."""
    fixed, rows = warehouses()
    assert (fixed.count(Decimal(7500)), fixed.count(Decimal(0)), len(fixed)) == (15, 1, 16)
    assert (len(rows), sum(row[0] for row in rows)) == (50, 58268)
    assert all(len(row) == 17 for row in rows)
    assert all(price / demand * 10_000 % 125 == 0 for demand, *prices in rows for price in prices)


@pytest.mark.parametrize("charge", OPTIMA)
def test_warehouse_location(charge: int) -> None:
    """The plan costs the published optimum, to the last of its figures."""
    fixed, rows = warehouses()
    sellers = tuple(Seller(flat=whole(Decimal(charge if one else 0) * 10_000)) for one in fixed)
    lots = tuple(
        Lot(customer, warehouse, 1, (Tier(1, whole(price * 10_000)),))
        for customer, (_, *prices) in enumerate(rows)
        for warehouse, price in enumerate(prices)
    )
    wants = tuple(Want(((customer,),), ((1,),)) for customer in range(len(rows)))
    _, spent = proven(Problem((0,) * len(rows), lots, sellers, wants))
    assert Decimal(spent) / 10_000 == Decimal(OPTIMA[charge])


def purchase_of(needed: Decimal, bids: list[Bid], unit: Decimal, scale: int) -> tuple[Problem, list[Bid]]:
    """Return the purchase of so much of one good, counted in a unit, each bid with a seller of its own.

    Where a vendor's price falls past a break for what is past it alone, its bids have setups that rise: total cost is
    then the least of straight lines, so that no two bids of one vendor together cost less than one of them.
    """
    sellers, lots = [], []
    for number, each in enumerate(bids):
        price = whole(each.price * unit * scale)
        sellers.append(Seller(minimum=int(each.least / unit) * price.own, flat=whole(each.setup * scale)))
        lots.append(Lot(0, number, 1, (Tier(1, price),), int(each.most / unit)))
    wants = (Want(((0,),), ((whole(needed / unit).own,),)),)
    return Problem((0,), tuple(lots), tuple(sellers), wants), bids


BIDS = """
a 3855.84 61.150 0 33000
b 125804.84 68.099 22000 70000
b 269304.84 66.049 70000 100000
b 464304.84 64.099 100000 150000
b 761304.84 62.119 150000 160000
c 13456.00 62.190 0 165600
d 6583.98 72.488 0 12000
e 0 70.150 0 42000
e 84000 68.150 42000 77000
"""


def test_evaluation_of_bids() -> None:
    """All of a and c and the rest from e: 2 021 805.84 and 10 312 120.00 and 41 000.48 at 70.15."""
    unit, needed = Decimal("0.16"), Decimal("239600.48")
    problem, bids = purchase_of(needed, [bid(line) for line in BIDS.strip().splitlines()], unit, 100_000)
    answer, spent = proven(problem)
    bought = {bids[place][:3]: count * unit for place, count in enumerate(answer.packs) if count}
    assert bought == {bids[0][:3]: 33000, bids[5][:3]: 165600, bids[7][:3]: Decimal("41000.48")}
    assert Decimal(spent) / 100_000 == Decimal("15210109.512")


COMPUTERS = {
    "first figures": (1100, "1 5000 500 200 500", "2 4000 350 200 900", "3 6000 250 200 400"),
    "second figures": (1300, "1 5000 600 200 500", "2 4000 400 200 900", "3 6000 300 200 600"),
}


@pytest.mark.parametrize(("figures", "by_hand"), [("first figures", 355_000), ("second figures", 470_000)])
def test_smallest_orders_and_carriage(figures: str, by_hand: int) -> None:
    """No vendor sells fewer than 200, each asks for its delivery once: the least of all amounts, tried in fifties."""
    needed, *lines = COMPUTERS[figures]
    problem, bids = purchase_of(Decimal(needed), [bid(line) for line in lines], Decimal(1), 1)
    amounts = [[0, *range(each.least, each.most + 1, 50)] for each in bids]
    tried = min(
        sum(int(each.setup + each.price * count) for each, count in zip(bids, counts, strict=True) if count)
        for counts in product(*amounts)
        if sum(counts) >= needed
    )
    assert proven(problem)[1] == tried == by_hand


ALL_UNITS = {1: 9, 1000: 8, 2500: 7, 7500: 5, 15000: 3}
"""From how many on vendor a asks how much for each of all."""
PAST_THE_BREAK = {1200: 8, 3000: 7, 7500: 6, 14000: 4, 20000: 2}
"""Up to how many vendor b asks how much for each past the amount before."""
LINES = "b 0 8 0 1200, b 1200 7 0 3000, b 4200 6 0 7500, b 19200 4 0 14000, b 47200 2 0 20000"
"""The same as straight lines: 1200 * 8 is 1200 + 1200 * 7, and so on."""


def asked_by_a(count: int) -> int:
    """Return what vendor a asks for so many."""
    return count * [price for packs, price in ALL_UNITS.items() if packs <= count][-1] if count else 0


def asked_by_b(count: int) -> int:
    """Return what vendor b asks for so many."""
    starts = [0, *PAST_THE_BREAK]
    return sum(
        max(min(count, end) - start, 0) * at for start, (end, at) in zip(starts, PAST_THE_BREAK.items(), strict=False)
    )


@pytest.mark.parametrize(
    ("needed", "from_a", "by_hand"),
    [(900, 0, 7200), (1500, 0, 11_700), (3200, 3200, 22_400), (6000, 7500, 37_500), (13_000, 15_000, 45_000)],
)
def test_price_breaks_of_two_vendors(needed: int, from_a: int, by_hand: int) -> None:
    """For the 6000 of the example 7500 are bought from a at 5; for others too it is the least of all amounts, tried."""
    problem, _ = purchase_of(Decimal(needed), [bid(line) for line in LINES.split(", ")], Decimal(1), 1)
    tiers = tuple(Tier(packs, Amount(price, price)) for packs, price in ALL_UNITS.items())
    lots = (*problem.lots, Lot(0, len(problem.sellers), 1, tiers, 20_000))
    answer, spent = proven(problem._replace(lots=lots, sellers=(*problem.sellers, Seller())))
    hundreds = range(0, 20_001, 100)
    tried = min(asked_by_a(a) + asked_by_b(max(needed - a, 0)) for a in hundreds)
    assert (answer.packs[-1], spent, tried) == (from_a, by_hand, by_hand)

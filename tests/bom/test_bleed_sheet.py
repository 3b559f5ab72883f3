"""The fluid of a bleeding sheet: containers of least cost, against trying every choice; parts of a sheet."""

from datetime import datetime
from decimal import Decimal
from itertools import product
from math import ceil
from pathlib import Path

import pytest

from fitcheck.bom.bleed_sheet import BleedSheet, bleed_sheet, of_circuits
from tests.hydraulics.bleed_cars import car

OFFERS = """\
offers: 1
suppliers:
  shop: {name: Shop (invented), currency: GBP}
prices:
  - {part: fluid-dot-4, supplier: shop, number: S, price: %s GBP, contents: 250 mL}
  - {part: fluid-dot-4, supplier: shop, number: M, price: %s GBP, contents: 500 mL}
  - {part: fluid-dot-4, supplier: shop, number: L, price: %s GBP, contents: 1 L}
"""
ON = datetime(2026, 12, 1)


def sheet(folder: Path, prices: tuple[str, str, str] | None = None) -> BleedSheet:
    """Return the sheet of the car, with fluid on offer at these prices."""
    if prices is None:
        return bleed_sheet(car(folder), ON)
    (folder / "offers.yaml").write_text(OFFERS % prices, encoding="utf-8")
    return bleed_sheet(car(folder, "offers: [offers.yaml]\n"), ON)


@pytest.mark.parametrize(
    "prices", [("3.00", "5.60", "9.80"), ("3.00", "7.00", "20.00"), ("9.00", "5.00", "10.50"), ("2.00", "3.90", "7.70")]
)
def test_containers_are_the_cheapest_choice(prices: tuple[str, str, str], tmp_path: Path) -> None:
    """No choice of containers that holds enough costs less than the one that is told."""
    found = sheet(tmp_path, prices)
    (need,) = found.needs
    sizes, costs = (250, 500, 1000), [Decimal(price) for price in prices]
    counts = [range(ceil(need.quantity / size) + 1) for size in sizes]
    least = min(
        sum(many * cost for many, cost in zip(choice, costs, strict=True))
        for choice in product(*counts)
        if sum(many * size for many, size in zip(choice, sizes, strict=True)) >= need.quantity
    )
    assert found.plan is not None
    assert found.plan.cost.amount == least
    assert found.plan.bound.optimal


def test_the_need_is_two_and_a_half_fills(tmp_path: Path) -> None:
    """What is bought is 2.5 times what the sheet says that it takes to fill, rounded to 10 ml."""
    found = sheet(tmp_path)
    held = sum(one.mm3 for one in found.bleed.holdings) / 1000.0
    assert found.needs[0].quantity == pytest.approx(2.5 * held, abs=5.5)
    assert found.needs[0].quantity % 10 == 0


def test_without_offers_only_the_volume_is_told(tmp_path: Path) -> None:
    """Where nothing is offered and nothing is on the shelf there is no plan."""
    assert (sheet(tmp_path).plan, sheet(tmp_path).why_no_plan) == (None, "")


def test_some_circuits_alone(tmp_path: Path) -> None:
    """A sheet of one circuit has its ways, its master cylinder, its test and its feeds; the fluid to have stays."""
    whole = sheet(tmp_path)
    part = of_circuits(whole, ["rear"])
    assert [way.at for way in part.bleed.ways] == ["rr", "rl"]
    assert [master.tag for master in part.bleed.masters] == ["mc_rear"]
    assert [test.name for test in part.tests.tests] == ["rear"]
    assert {tag for one in part.tests.feeds for tag in one.at} >= {"feed_r.from", "feed_r.to"}
    assert [one.circuits for one in part.bleed.holdings] == [("front", "rear", "clutch"), ("rear",)]
    assert part.needs == whole.needs

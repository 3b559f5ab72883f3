"""What the sheet for filling, bleeding and leak-testing is made from: the ways, the tests, the fluid to have."""

from collections.abc import Collection
from datetime import datetime
from typing import NamedTuple

from fitcheck.bom.need import Need
from fitcheck.bom.nesting.record import NoSolverError
from fitcheck.bom.ordering.market import Shop, Terms
from fitcheck.bom.ordering.plan import purchase_plan
from fitcheck.bom.ordering.record import Plan
from fitcheck.bom.ordering.shop import shop_of
from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.hydraulics.bleed import Bleed, bleed
from fitcheck.hydraulics.leak_test import LeakTests, leak_tests
from fitcheck.measures import Units


class BleedSheet(NamedTuple):
    """Everything that the sheet says, as values.

    `needs` are the fluids to have; `plan` says in which containers they come cheapest by themselves, carriage included.
    It is None where nothing is offered, or where no solver is there, which `why_no_plan` then says. `units` are what it
    is told in.
    """

    bleed: Bleed
    tests: LeakTests
    needs: tuple[Need, ...] = ()
    plan: Plan | None = None
    why_no_plan: str = ""
    units: Units = Units()


def bleed_sheet(graph: PortGraph, on: datetime, circuits: Circuits | None = None) -> BleedSheet:
    """Return the sheet of a build whose fluid is ordered at the moment `on`.

    Raises:
        InputError: an offer file or the stock file cannot be read.
    """
    circuits = circuits or Circuits(graph)
    found = bleed(graph, circuits)
    shop = shop_of(graph, spares=False)
    fluids = tuple(need for need in shop.needs if need.kind == "fluid")
    plan, why = _containers(shop._replace(needs=fluids), on)
    return BleedSheet(found, leak_tests(graph, circuits, found), fluids, plan, why, graph.units)


def of_circuits(sheet: BleedSheet, names: Collection[str]) -> BleedSheet:
    """Return the part of a sheet that is about some circuits; the fluid to have stays that of the whole build."""
    tests = tuple(test for test in sheet.tests.tests if set(test.circuits) & set(names))
    outlets = {ref for test in tests for ref in test.outlets}
    ways = tuple(way for way in sheet.bleed.ways if way.outlet in outlets)
    masters = tuple(master for master in sheet.bleed.masters if outlets & set(master.outlets))
    tags = {master.tag for master in masters} | {tag for master in masters for tag in master.tanks}
    feeds = tuple(one for one in sheet.tests.feeds if tags & {tag_of(ref) for ref in one.at})
    holdings = tuple(one for one in sheet.bleed.holdings if set(one.circuits) & set(names))
    at = {way.at for way in ways}
    doubtful = tuple(tag for tag in sheet.bleed.doubtful if tag in at)
    found = sheet.bleed._replace(holdings=holdings, masters=masters, ways=ways, doubtful=doubtful)
    return sheet._replace(bleed=found, tests=LeakTests(tests, feeds))


def _containers(shop: Shop, on: datetime) -> tuple[Plan | None, str]:
    """Return the cheapest containers, or why there are none to be told."""
    if not shop.needs or not (shop.offers.offers or shop.stock.entries):
        return None, ""
    try:
        return purchase_plan(shop, Terms(on)), ""
    except NoSolverError as error:
        return None, str(error)

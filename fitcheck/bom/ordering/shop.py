"""What a purchase for a build is planned from: what is needed, offered and there."""

from fitcheck.bom.fluid import families
from fitcheck.bom.needs import needs
from fitcheck.bom.ordering.market import Shop, Terms
from fitcheck.bom.ordering.plan import purchase_plan
from fitcheck.bom.ordering.readiness import readiness
from fitcheck.bom.ordering.record import Plan, Readiness
from fitcheck.bom.take_off import take_off
from fitcheck.build.graph import PortGraph


def shop_of(graph: PortGraph, *, spares: bool = True, consumables: bool = True) -> Shop:
    """Return what a plan for a build is made from.

    Raises:
        InputError: an offer file or the stock file cannot be read.
    """
    build = graph.build
    needed = needs(graph, take_off(graph), spares=spares, consumables=consumables)
    return Shop(build.file.name, needed, build.offers(), build.stock(), build.shelf, families(build))


def planned(graph: PortGraph, terms: Terms) -> tuple[Plan, Readiness]:
    """Return the cheapest plan for a build, and when its circuits can be finished."""
    shop = shop_of(graph)
    plan = purchase_plan(shop, terms)
    return plan, readiness(graph, plan, shop.stock)

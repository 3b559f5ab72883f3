"""What a purchase for a build is planned from: what is needed, offered and there."""

from fitcheck.bom.fluid import families
from fitcheck.bom.needs import needs
from fitcheck.bom.ordering.market import Shop, Terms
from fitcheck.bom.ordering.plan import purchase_plan, soonest
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
    return Shop(build.file.name, needed, build.offers(), build.stock(), build.shelf, families(build), graph.unit)


def planned(graph: PortGraph, terms: Terms, shop: Shop | None = None, *, soon: bool = False) -> tuple[Plan, Readiness]:
    """Return the cheapest plan for a build, or the `soon`est, and when its circuits can be finished.

    `shop` is what it is made from; the whole build with spares and consumables if it is left out.

    Raises:
        As `purchase_plan`.
    """
    shop = shop or shop_of(graph)
    plan = soonest(shop, terms) if soon else purchase_plan(shop, terms)
    return plan, readiness(graph, plan, shop.stock)


def lacking(plan: Plan) -> bool:
    """Return whether something that is needed cannot be had, or nobody knows how much of it is needed."""
    return bool(plan.missing) or any(need.unknown and need.unit != "ml" for need in plan.needs)

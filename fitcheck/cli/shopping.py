"""What the verbs that plan a purchase share: what is needed, offered and there for a build."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fitcheck.bom.ordering.market import Shop, Terms
    from fitcheck.bom.ordering.record import Plan, Readiness
    from fitcheck.checks.context import Context


def shop_of(context: "Context", *, spares: bool = True, consumables: bool = True) -> "Shop":
    """Return what a plan for a build is made from.

    Raises:
        InputError: an offer file or the stock file cannot be read.
    """
    from fitcheck.bom.fluid import families
    from fitcheck.bom.needs import needs
    from fitcheck.bom.ordering.market import Shop
    from fitcheck.bom.take_off import take_off

    build = context.graph.build
    needed = needs(context.graph, take_off(context.graph), spares=spares, consumables=consumables)
    return Shop(build.file.name, needed, build.offers(), build.stock(), build.shelf, families(build))


def planned(context: "Context", terms: "Terms") -> "tuple[Plan, Readiness]":
    """Return the cheapest plan for a build, and when its circuits can be finished."""
    from fitcheck.bom.ordering.plan import purchase_plan
    from fitcheck.bom.ordering.readiness import readiness

    shop = shop_of(context)
    plan = purchase_plan(shop, terms)
    return plan, readiness(context.graph, plan, shop.stock)

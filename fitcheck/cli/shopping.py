"""What a purchase for a checked build is planned from."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fitcheck.bom.ordering.market import Shop
    from fitcheck.checks.context import Context


def shop_of(context: "Context", *, spares: bool = True, consumables: bool = True) -> "Shop":
    """Return what a plan for a build is made from.

    Raises:
        InputError: an offer file or the stock file cannot be read.
    """
    from fitcheck.bom.ordering.shop import shop_of as shop

    return shop(context.graph, spares=spares, consumables=consumables)

"""The purchase plan as whole numbers: goods, lots, sellers and wants; what a choice of packs costs, and why it may not.

Money is in ten-thousandths, once in the seller's own currency (for a smallest order, and for free carriage) and once in
the plan's. Weight is in milligrams. There is no time in it: lots that come too late are left out before.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

MONEY: Final = 10_000
"""Units of money in one: prices have at most four places."""


class Amount(NamedTuple):
    """An amount of money: in the seller's own currency, and in the plan's."""

    own: int
    home: int


class Tier(NamedTuple):
    """The price of each pack if at least so many `packs` are taken."""

    packs: int
    price: Amount


class Lot(NamedTuple):
    """One offer: packs of one good by one seller.

    A pack holds so many of the good. `tiers` go from few packs to many, the first from 1 on. `stock` is how many packs
    there are, None if as many as one likes.
    """

    good: int
    seller: int
    holds: int
    tiers: tuple[Tier, ...]
    stock: int | None = None
    weight: int = 0

    def price(self, packs: int) -> Amount:
        """Return the price of each pack if so many are taken."""
        return next((tier.price for tier in reversed(self.tiers) if tier.packs <= packs), self.tiers[0].price)


class Step(NamedTuple):
    """What carriage costs up to a weight."""

    up_to: int
    price: Amount


class Seller(NamedTuple):
    """One supplier: smallest order, carriage as one flat amount or in steps of weight, free from a sum of goods on."""

    minimum: int = 0
    flat: Amount = Amount(0, 0)
    steps: tuple[Step, ...] = ()
    free_over: int | None = None
    packing: int = 0


class Want(NamedTuple):
    """One need.

    `classes` are groups of goods that do as well as each other; `choices` are ways to meet the need, each with how many
    of every class it takes. What is plainly counted has one class and one choice. `worth` is what it counts if it
    cannot be met at all; `whole` is True if it is met so or not at all. No good is in two classes of one want. The
    first good of a class is the one that was asked for.
    """

    classes: tuple[tuple[int, ...], ...]
    choices: tuple[tuple[int, ...], ...]
    worth: int = 1
    whole: bool = False

    @property
    def counted(self) -> bool:
        """True if part of it can be met: so many of one class."""
        return not self.whole and len(self.choices) == 1 and len(self.classes) == 1


class Problem(NamedTuple):
    """Needs to be met, at least cost, from what is `held` already of each good and from lots of sellers."""

    held: tuple[int, ...]
    lots: tuple[Lot, ...]
    sellers: tuple[Seller, ...]
    wants: tuple[Want, ...]


class Answer(NamedTuple):
    """A plan: the packs of each lot, the choice of each want (None if not met), which want takes what.

    `flows` has (want, good, how many). `short` is how much each want lacks. `least` is what is proven: no plan that
    lacks as little costs less. `sure` is False if it was not proven in time that no plan lacks less.
    """

    packs: tuple[int, ...]
    chosen: tuple[int | None, ...]
    flows: tuple[tuple[int, int, int], ...]
    short: tuple[int, ...]
    least: int
    sure: bool = True


def carriage(problem: Problem, seller: int, goods: int, weight: int) -> Amount | None:
    """Return what a seller takes for sending goods of this worth and weight; None if such an order is not taken.

    `goods` is in the seller's own currency; `weight` is without packing.
    """
    sells = problem.sellers[seller]
    if goods < sells.minimum:
        return None
    heavy = weight + sells.packing
    step = next((step for step in sells.steps if heavy <= step.up_to), None)
    if sells.steps and step is None:
        return None
    if sells.free_over is not None and goods >= sells.free_over:
        return Amount(0, 0)
    return step.price if step is not None else sells.flat


def cost(problem: Problem, packs: Sequence[int]) -> int | None:
    """Return what so many packs of each lot cost with carriage, in the plan's currency; None if it is not taken."""
    total = 0
    for seller in range(len(problem.sellers)):
        bought = [
            (lot, count) for lot, count in zip(problem.lots, packs, strict=True) if count and lot.seller == seller
        ]
        if not bought:
            continue
        if any(lot.stock is not None and count > lot.stock for lot, count in bought):
            return None
        prices = [(lot.price(count), count) for lot, count in bought]
        goods = sum(price.own * count for price, count in prices)
        sent = carriage(problem, seller, goods, sum(lot.weight * count for lot, count in bought))
        if sent is None:
            return None
        total += sum(price.home * count for price, count in prices) + sent.home
    return total

"""Invented purchases of any size for the benchmarks: what a car's parts and their suppliers look like as numbers.

Prices run from a washer's to a caliper's; packs, breaks, smallest orders and carriage are of the kind that small
suppliers state: common practice, no source.
"""

from random import Random

from fitcheck.bom.ordering.problem import MONEY, Amount, Lot, Problem, Seller, Step, Tier, Want

CENT = MONEY // 100
GRAM = 1000
"""Milligrams: the problem's unit of weight."""


def purchase(seed: int, wants: int = 400, sellers: int = 12, foreign: int = 0, share: float = 1.0) -> Problem:
    """Return a purchase: each good is offered by 3 to all sellers, every tenth want has a substitute.

    The last `foreign` sellers charge in a currency of their own, so that no common cent divides the sums. Goods cost a
    `share` of the usual: the smaller it is, the more carriage and smallest orders decide where to buy.
    """
    draw = Random(seed)
    rates = [1.0] * (sellers - foreign) + [round(draw.uniform(0.8, 1.3), 4) for _ in range(foreign)]
    asked = [_want(draw, number, wants) for number in range(wants)]
    goods = max(good for want in asked for good in want.classes[0]) + 1
    lots = [lot for good in range(goods) for lot in _offers(draw, good, rates, share)]
    held = tuple(draw.randint(1, 3) if draw.random() < 0.1 else 0 for _ in range(goods))
    return Problem(held, tuple(lots), tuple(_sellers(draw, rates)), tuple(asked))


def _want(draw: Random, number: int, wants: int) -> Want:
    """Return so many of one good; every tenth may be met by another good too, of its own or of another want."""
    count = draw.choice((1, 1, 1, 2, 2, 4, 4, 8, 12))
    if number % 10:
        return Want(((number,),), ((count,),))
    other = wants + number // 10 if draw.random() < 0.5 else (number + draw.randrange(1, wants)) % wants
    return Want(((number, other),), ((count,),))


def _offers(draw: Random, good: int, rates: list[float], share: float) -> list[Lot]:
    """Return what 3 to all sellers ask for one good; what costs less than 2.00 often comes in packs."""
    base = 0.2 * 400 ** draw.random()
    weight = int(GRAM * (4 + 25 * base**0.8))
    found = []
    for seller in sorted(draw.sample(range(len(rates)), draw.randint(min(3, len(rates)), len(rates)))):
        holds = draw.choice((1, 5, 10)) if base < 2 else draw.choice((1, 1, 1, 1, 5)) if base < 10 else 1
        price = max(base * holds * draw.uniform(0.85, 1.25) * (1 if holds == 1 else 0.85), 0.2)
        stock = draw.randint(1, 20) if draw.random() < 0.2 else None
        tiers = tuple(Tier(packs, _amount(price * part * share, rates[seller])) for packs, part in _breaks(draw))
        found.append(Lot(good, seller, holds, tiers, stock, weight * holds))
    return found


def _breaks(draw: Random) -> list[tuple[int, float]]:
    """Return from how many packs on a share of the price is asked: breaks in 15 of 100 offers."""
    if draw.random() >= 0.15:
        return [(1, 1.0)]
    first = (draw.choice((2, 5)), round(draw.uniform(0.9, 0.97), 2))
    return [(1, 1.0), first] if draw.random() < 0.5 else [(1, 1.0), first, (first[0] * 5, first[1] - 0.05)]


def _sellers(draw: Random, rates: list[float]) -> list[Seller]:
    """Return sellers: of twelve 6 with flat carriage, 4 by weight, 2 with none; 4 minimums, 6 free from a sum on."""
    count = len(rates)
    order = draw.sample(range(count), count)
    picky = set(draw.sample(range(count), count // 3))
    generous = set(draw.sample(order[: count * 5 // 6], count // 2))
    found = []
    for seller, rate in enumerate(rates):
        place = order.index(seller)
        flat = _amount(draw.uniform(3.9, 12), rate) if place < count // 2 else Amount(0, 0)
        steps = _steps(draw, rate) if count // 2 <= place < count * 5 // 6 else ()
        minimum = draw.choice((15, 25, 50, 100)) * MONEY if seller in picky else 0
        free = draw.choice((75, 100, 150, 250, 500)) * MONEY if seller in generous else None
        found.append(Seller(minimum, flat, steps, free, 150 * GRAM if steps else 0))
    return found


def _steps(draw: Random, rate: float) -> tuple[Step, ...]:
    start = draw.uniform(3, 6)
    kilos = ((1, 1.0), (2, 1.3), (5, 1.8), (10, 2.5), (30, 4.0), (500, 12.0))
    return tuple(Step(kilo * 1000 * GRAM, _amount(start * times, rate)) for kilo, times in kilos)


def _amount(price: float, rate: float) -> Amount:
    """Return a price in whole cents, and what it is at home: rounded to the problem's own unit."""
    own = max(round(price * 100), 1) * CENT
    return Amount(own, round(own * rate))

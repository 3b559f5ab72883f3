"""Nesting against published cutting-stock and bin-packing instances.

Sources: the encyclopedia article "Cutting stock problem" (13 widths, 73 rolls, 0.401 % waste); OR-Library, bin packing,
file binpack1 (120 items each, best known numbers of bins as printed in the file); the textbook "Linear Programming"
(1983), page 195 (data; the optimum of 453 is from memory, and at least the printed linear bound of 452.25 rounded up);
a university problem set (data; the optimum of 47 is from memory, and at least the linear bound of 46.25 rounded up).
"""

from fractions import Fraction
from functools import cache

import pytest

from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Coil, Cut, Nest

ROLLS = "1380:22 1520:25 1560:12 1710:14 1820:18 1880:18 1930:20 2000:10 2050:12 2100:14 2140:16 2150:18 2200:20"
U120_00 = """
42 69 67 57 93 90 38 36 45 42 33 79 27 57 44 84 86 92 46 38 85 33 82 73 49 70 59 23 57 72 74 69 33 42 28 46 30 64 29 74
41 49 55 98 80 32 25 38 82 30 35 39 57 84 62 50 55 27 30 36 20 78 47 26 45 41 58 98 91 96 73 84 37 93 91 43 73 85 81 79
71 80 76 83 41 78 70 23 42 87 43 84 60 55 49 78 73 62 36 44 94 69 32 96 70 84 58 78 25 80 58 66 83 24 98 60 42 43 43 39
"""
U120_02 = """
38 100 60 42 20 69 24 23 92 32 84 36 65 84 34 68 64 33 69 27 47 21 85 88 59 61 50 53 37 75 64 84 74 57 83 28 31 97 61 36
46 37 96 80 53 51 68 90 64 81 66 67 80 37 92 67 64 31 94 45 80 28 76 29 64 38 48 40 29 44 81 35 51 48 67 24 46 38 76 22
30 67 45 41 29 41 79 21 25 90 62 34 73 50 79 66 59 42 90 79 70 66 80 35 62 98 97 37 32 75 91 91 48 26 23 32 100 46 29 26
"""
U120_08 = """
100 22 25 51 95 58 97 30 79 23 53 80 20 65 64 21 26 100 81 98 70 85 92 97 86 71 91 29 63 34 67 23 33 89 94 47 100 37 40
58 73 39 49 79 54 57 98 69 67 49 38 34 96 27 92 82 69 45 69 20 75 97 51 70 29 91 98 77 48 45 43 61 36 82 89 94 26 35 58
58 57 46 44 91 49 52 65 42 33 60 37 57 91 52 95 84 72 75 89 81 67 74 87 60 32 76 85 59 62 39 64 52 88 45 29 88 85 54 40
57
"""
INSTANCES = {
    "73 rolls of 5600": (5600, ROLLS, 73),
    "u120_00": (150, U120_00, 48),
    "u120_02": (150, U120_02, 46),
    "u120_08": (150, U120_08, 50),
    "textbook": (100, "45:97 36:610 31:395 14:211", 453),
    "problem set": (110, "20:48 45:35 50:24 55:10 75:8", 47),
}


def pieces_of(text: str) -> list[Cut]:
    """Return the pieces that text such as `45:97 36:610` or `42 69` lists."""
    pieces: list[Cut] = []
    for word in text.split():
        length, _, count = word.partition(":")
        pieces += [Cut(f"{length} no {number}", float(length)) for number in range(int(count or 1))]
    return pieces


@cache
def solved(name: str) -> Nest:
    """Return the plan for an instance."""
    stock, text, _ = INSTANCES[name]
    return nest(pieces_of(text), [Coil(float(stock))], seconds=60.0)


def test_instances_are_whole() -> None:
    """The items are as many as published: 219 for the rolls, 120 for each of the bin packing set."""
    assert len(pieces_of(ROLLS)) == 219
    assert [len(pieces_of(text)) for text in (U120_00, U120_02, U120_08)] == [120, 120, 120]


LONG = {"u120_02", "u120_08"}


@pytest.mark.parametrize("name", [pytest.param(name, marks=[pytest.mark.slow] * (name in LONG)) for name in INSTANCES])
def test_published_optimum(name: str) -> None:
    """As many bars as the known optimum, and proven."""
    stock, text, best = INSTANCES[name]
    plan = solved(name)
    assert plan.bought == (best,)
    assert plan.cost_proven
    assert plan.proof.least == Fraction(best * stock)
    assert sum(len(bar.cuts) for bar in plan.bars) == len(pieces_of(text))


def test_published_waste() -> None:
    """The article's waste of 0.401 % is that of the plan."""
    plan = solved("73 rolls of 5600")
    waste = 1 - plan.new_mm / float(plan.bought_mm)
    assert waste * 100 == pytest.approx(0.401, abs=0.0005)

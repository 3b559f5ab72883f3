"""Which sets of lengths are enough: against trying every set and every way of cutting."""

from functools import cache
from itertools import product
from random import Random

import pytest

from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.ordering.lengths import LengthClass, Sets, enough


def cuts(*lengths: float) -> list[Cut]:
    """Return pieces of these lengths."""
    return [Cut(f"p{number}", mm) for number, mm in enumerate(lengths)]


def fits(pieces: tuple[float, ...], bars: tuple[float, ...]) -> bool:
    """Return whether the pieces can be cut from the bars: by trying every bar for every piece."""

    @cache
    def place(number: int, left: tuple[float, ...]) -> bool:
        if number == len(pieces):
            return True
        for bar in range(len(left)):
            if left[bar] >= pieces[number]:
                rest = tuple(sorted((*left[:bar], left[bar] - pieces[number], *left[bar + 1 :])))
                if place(number + 1, rest):
                    return True
        return False

    return place(0, tuple(sorted(bars)))


def by_hand(pieces: tuple[float, ...], classes: list[LengthClass], offcuts: tuple[float, ...]) -> set[tuple[int, ...]]:
    """Return the smallest sets that are enough, of all there are."""
    ranges = [range((len(pieces) if each.most is None else each.most) + 1) for each in classes]
    if any(each.reel for each in classes):
        reach = [
            range(30) if each.reel and each.most is None else steps for each, steps in zip(classes, ranges, strict=True)
        ]
        ranges = [range(min(len(steps), 30)) for steps in reach]
    good = set()
    for counts in product(*ranges):
        bars = list(offcuts)
        for each, count in zip(classes, counts, strict=True):
            bars += [each.mm * count] if each.reel else [each.mm] * count
        if fits(pieces, tuple(bars)):
            good.add(counts)
    return {
        one
        for one in good
        if not any(other != one and all(b <= a for a, b in zip(one, other, strict=True)) for other in good)
    }


def test_one_length_is_counted() -> None:
    """Five pieces of 40 on lengths of 100 take three of them; nothing if the offcuts do."""
    assert enough(cuts(*[40.0] * 5), [LengthClass(100.0)], []) == Sets(((3,),), True)
    assert enough(cuts(40.0), [LengthClass(100.0)], [41.0]) == Sets(((0,),), True)
    assert enough(cuts(), [LengthClass(100.0)], []) == Sets(((0,),), True)


def test_a_reel_gives_one_piece_as_long_as_needed() -> None:
    """Off a reel in steps of 100 three pieces of 90 take 3 steps, not one each, for it comes in one piece."""
    assert enough(cuts(90.0, 90.0, 90.0), [LengthClass(100.0, reel=True)], []).sets == ((3,),)
    assert enough(cuts(250.0), [LengthClass(100.0, reel=True)], []).sets == ((3,),)


def test_kerf_is_taken_off() -> None:
    """Two pieces of 50 fit 100 without kerf, and do not with 1 mm between them."""
    assert enough(cuts(50.0, 50.0), [LengthClass(100.0)], [], 0.0).sets == ((1,),)
    assert enough(cuts(50.0, 50.0), [LengthClass(100.0)], [], 1.0).sets == ((2,),)


def test_what_cannot_be_cut_has_no_set() -> None:
    """A piece longer than every length, too few of them, or no lengths at all leave no set."""
    assert enough(cuts(101.0), [LengthClass(100.0)], []) == Sets((), True)
    assert enough(cuts(60.0, 60.0), [LengthClass(100.0, most=1)], []) == Sets((), True)
    assert enough(cuts(60.0), [], []) == Sets((), True)


@pytest.mark.slow
def test_many_kinds_of_length_say_that_not_all_was_tried() -> None:
    """With far more sets than are tried the answer says so, and what it has is enough."""
    pieces = cuts(*[97.0 - number for number in range(40)])
    found = enough(pieces, [LengthClass(100.0 + number) for number in range(5)], [])
    assert not found.all_tried
    assert found.sets


@pytest.mark.parametrize("seed", range(60))
def test_sets_agree_with_trying_everything(seed: int) -> None:
    """On random pieces, lengths, limits, reels and offcuts the smallest sets are those found by trying all."""
    draw = Random(seed)
    pieces = tuple(float(draw.randint(10, 60)) for _ in range(draw.randint(1, 6)))
    lengths = draw.sample(range(40, 130, 10), draw.randint(1, 3))
    classes = [LengthClass(float(mm), most=draw.choice((None, None, 1, 2))) for mm in lengths]
    if draw.random() < 0.4:
        classes[0] = LengthClass(25.0, reel=True, most=draw.choice((None, 4)))
    offcuts = tuple(float(draw.randint(20, 80)) for _ in range(draw.randint(0, 2)))
    found = enough(cuts(*pieces), classes, offcuts)
    assert found.all_tried
    assert set(found.sets) == by_hand(pieces, classes, offcuts)

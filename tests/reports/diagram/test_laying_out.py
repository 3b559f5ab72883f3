"""The steps of laying out, one by one: columns, order, heights, channels, folds, crossings."""

from itertools import combinations, pairwise, permutations

import pytest

from fitcheck.reports.diagram.channels import turns
from fitcheck.reports.diagram.crossings import count_crossings
from fitcheck.reports.diagram.folding import Fold, band_of, ranks
from fitcheck.reports.diagram.layers import Columns, columns
from fitcheck.reports.diagram.layout import laid_out
from fitcheck.reports.diagram.ordering import crossings, levels, ordered
from fitcheck.reports.diagram.record import Node, Pin, Scheme, Wire
from fitcheck.reports.diagram.straighten import Stand, straightened
from fitcheck.reports.drawing import Spot
from tests.reports.diagram.looking import faults

Way = list[Spot]


def scheme(count: int, *pairs: tuple[int, int]) -> Scheme:
    """Return plain boxes, some of them joined."""
    ends: list[list[Pin]] = [[] for _ in range(count)]
    wires = []
    for joint, (a, b) in enumerate(pairs):
        for place in (a, b):
            ends[place].append(Pin(f"n{place}.p{joint}", joint, "", "", ""))
        wires.append(Wire(joint, a, len(ends[a]) - 1, b, len(ends[b]) - 1))
    nodes = tuple(Node(f"n{place}", "components", "box", ("n",), "", tuple(pins)) for place, pins in enumerate(ends))
    return Scheme(nodes, tuple(wires), (), ())


def walked(wires: list[tuple[int, int]]) -> list[Way]:
    """Return the ways of wires through a channel of their own, tracks 1 apart."""
    found, count = turns(wires)
    ways = []
    for (start, _), steps in zip(wires, found, strict=True):
        way: Way = [(-1.0, float(start))]
        for turn in steps:
            way += [(float(turn.track), way[-1][1]), (float(turn.track), float(turn.to))]
        ways.append([*way, (float(count), way[-1][1])])
    return ways


def crossed(ways: list[Way]) -> int:
    """Return how often ways cross."""
    return count_crossings([(wire, a, b) for wire, way in enumerate(ways) for a, b in pairwise(way)])


def on_each_other(ways: list[Way]) -> bool:
    """Return whether two ways lie on one line for a while."""
    pieces = [(wire, a, b) for wire, way in enumerate(ways) for a, b in pairwise(way)]
    return any(one != other and _shared(a, b, c, d) > 0.0 for (one, a, b), (other, c, d) in combinations(pieces, 2))


def _shared(a: Spot, b: Spot, c: Spot, d: Spot) -> float:
    """Return over what length two pieces lie on each other."""
    for along, across in ((0, 1), (1, 0)):
        if a[across] == b[across] == c[across] == d[across]:
            ends = sorted((a[along], b[along])), sorted((c[along], d[along]))
            return min(ends[0][1], ends[1][1]) - max(ends[0][0], ends[1][0])
    return 0.0


@pytest.mark.parametrize("ends", list(permutations(range(0, 10, 2))))
def test_channel_crosses_no_more_than_the_order_asks(ends: tuple[int, ...]) -> None:
    """Five wires in any of the 120 orders: no two lie on each other; in order they never cross.

    Otherwise at most three times for each pair in the wrong order: a pair crosses an odd number of times.
    """
    wires = list(zip(range(0, 10, 2), ends, strict=True))
    ways = walked(wires)
    wrong = sum(a > b for a, b in combinations(ends, 2))
    assert not on_each_other(ways)
    assert [(way[0][1], way[-1][1]) for way in ways] == wires
    assert wrong <= crossed(ways) <= 3 * wrong


@pytest.mark.parametrize("shift", [-3, -1, 0, 1, 3])
def test_wires_that_all_go_the_same_way_do_not_cross(shift: int) -> None:
    """Wires in order that all rise or all fall turn one behind the other."""
    ways = walked([(row, row + shift) for row in range(0, 12, 2)])
    assert (crossed(ways), on_each_other(ways)) == (0, False)


def test_two_wires_that_change_places() -> None:
    """One of two wires that change places goes by a height of its own; they never lie on one line."""
    ways = walked([(0, 4), (4, 0)])
    assert (sorted(len(way) for way in ways), on_each_other(ways)) == ([4, 6], False)
    assert crossed(ways) in (1, 3)


def test_columns_are_the_longest_way() -> None:
    """A box stands one column behind the furthest of those before it."""
    found = columns(scheme(4, (0, 1), (1, 2), (0, 2), (2, 3)))
    assert found.of == (0, 1, 2, 3) or found.of[0] == 0
    assert all(found.of[a] < found.of[b] for a, _, b, _ in found.wires)


def test_a_system_that_branches_only_is_not_crossed() -> None:
    """A tree of 200 boxes, each joined to one that stands before it, has no crossing and no fault."""
    tree = scheme(200, *((place * 7 % max(place, 1) if place > 1 else 0, place) for place in range(1, 200)))
    layout = laid_out(tree)
    assert (layout.crossings, faults(layout)) == (0, [])


def test_sweeps_take_crossings_out() -> None:
    """Two columns joined crosswise are put in the order that has no crossing."""
    crosswise = Columns((0, 0, 0, 1, 1, 1), ((0, 0, 5, 0), (1, 0, 4, 0), (2, 0, 3, 0)))
    found = levels(crosswise)
    assert crossings(found, [[0, 1, 2], [3, 4, 5]]) == 3
    order = ordered(scheme(6, (0, 5), (1, 4), (2, 3)), found)
    assert crossings(found, order) == 0


def test_the_smallest_system_that_must_cross() -> None:
    """Three boxes each joined to three others must cross; that is told, and nothing overlaps."""
    layout = laid_out(scheme(6, *((a, b) for a in range(3) for b in range(3, 6))))
    assert layout.crossings >= 1
    assert faults(layout) == []


def test_what_is_in_line_is_moved_together() -> None:
    """A step in a row of three is taken out by moving what is in line, to the side where there is room."""
    wants: list[tuple[list[Stand], list[Stand]]] = [
        ([], [Stand(1, 0, 6)]),
        ([Stand(0, 0, 6)], [Stand(2, 0, 6)]),
        ([Stand(1, 0, 6)], []),
        ([], []),
        ([], []),
    ]
    free = [[0], [1], [2], [3], [4]]
    assert straightened([0, 2, 2, 0, 0], free, [1] * 5, wants)[:3] in ([0, 0, 0], [2, 2, 2])
    tight = [[3, 0, 4], [1], [2]]
    blocked = straightened([0, 2, 2, -3, 3], tight, [3] * 5, wants)
    assert blocked[:3] == [0, 0, 0]


def test_a_wide_diagram_goes_on_below() -> None:
    """A chain of sixty boxes is folded into bands of the width allowed, and nothing overlaps."""
    layout = laid_out(scheme(60, *((place, place + 1) for place in range(59))))
    rows = sorted({placed.body[1] for placed in layout.placed})
    assert len(rows) >= 2
    assert layout.width < 700.0
    assert (layout.crossings, faults(layout)) == (0, [])


def test_bands_are_of_like_width() -> None:
    """Columns are shared out evenly over as few bands as keep the width."""
    assert band_of([100.0] * 14, 20.0) == [0] * 5 + [1] * 5 + [2] * 4
    assert band_of([100.0] * 6, 20.0) == [0] * 6


def test_wires_in_order_go_round_a_fold_without_crossing() -> None:
    """Three wires in the same order in front of a fold and behind it do not cross on the way."""
    rows = {0: 0.0, 1: 5.0, 2: 9.0}
    fold = Fold(100.0, 20.0, 0.0, 1.0, ranks(rows), ranks(rows))
    ways = [[(90.0, y), *fold.way(wire, y, y + 40.0), (10.0, y + 40.0)] for wire, y in rows.items()]
    assert (crossed(ways), on_each_other(ways)) == (0, False)

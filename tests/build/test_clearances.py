"""Which lines come near to which: the tree of boxes leaves nothing out."""

from itertools import product
from random import Random

import pytest

from fitcheck.build.boxes import Tree, boxed
from fitcheck.build.clearances import Solid, gaps_among, gaps_between
from fitcheck.build.curves import chain, nearest
from fitcheck.build.poses import REST, Motion
from tests.build.test_curves import drawn


def solids(seed: int, many: int, word: str) -> list[Solid]:
    """Return random lines, every third on an axle that moves."""
    draw = Random(seed)
    still = (REST,)
    moves = (REST, Motion("bump", shift=(0.0, 0.0, 40.0)), Motion("droop", shift=(5.0, 0.0, -50.0)))
    return [
        Solid(f"{word}_{n}", drawn(draw, 2, 600.0), 2.4, *(("axle", moves) if n % 3 == 0 else ("chassis", still)))
        for n in range(many)
    ]


def slow_gap(one: Solid, other: Solid) -> float:
    """Return how near two solids come by looking at all pieces in all poses."""
    found = []
    for a, b in product(one.motions, other.motions):
        if one.body == other.body and (a.pose is not None or b.pose is not None):
            continue
        near = nearest(a.carried(one.curve), b.carried(other.curve))
        assert near is not None
        found.append(near.mm - one.radius_mm - other.radius_mm)
    return min(found)


@pytest.mark.parametrize("seed", range(3))
def test_lines_among_each_other(seed: int) -> None:
    """Every pair under the limit is found, with its smallest gap, and no other pair."""
    lines = solids(seed, 14, "line")
    slow = {(a.name, b.name): slow_gap(a, b) for i, a in enumerate(lines) for b in lines[i + 1 :]}
    found = {(gap.first, gap.second): gap.mm for gap in gaps_among(lines, 30.0)}
    assert set(found) == {pair for pair, gap in slow.items() if gap < 30.0}
    assert found
    for pair, mm in found.items():
        assert mm == pytest.approx(slow[pair], abs=0.021)


@pytest.mark.parametrize("seed", range(3))
def test_lines_against_others(seed: int) -> None:
    """Each pair has the limit of its own second side."""
    lines, hot = solids(seed, 8, "line"), solids(seed + 50, 5, "hot")
    wanted = [10.0, 30.0, 60.0, 100.0, 150.0]
    found = {(gap.first, gap.second): gap.mm for gap in gaps_between(lines, hot, wanted)}
    slow = {(a.name, b.name): slow_gap(a, b) for a in lines for b in hot}
    limit = {solid.name: mm for solid, mm in zip(hot, wanted, strict=True)}
    assert set(found) == {pair for pair, gap in slow.items() if gap < limit[pair[1]]}
    assert all(mm == pytest.approx(slow[pair], abs=0.021) for pair, mm in found.items())


def test_the_pose_is_that_of_the_smallest_gap() -> None:
    """A line on an axle is nearest to the chassis's in the pose that brings it there, and the witness says so."""
    moves = (REST, Motion("bump", shift=(0.0, 0.0, 40.0)), Motion("droop", shift=(0.0, 0.0, -50.0)))
    low = Solid("low", chain([(0, 0, 0), (100, 0, 0)]), 2.0, "axle", moves)
    high = Solid("high", chain([(50, -50, 60), (50, 50, 60)]), 3.0, "chassis", (REST,))
    (gap,) = gaps_among([low, high], 100.0)
    assert (gap.mm, gap.poses) == (15.0, ("bump", None))
    assert (gap.near.first.point, gap.near.second.point) == ((50.0, 0.0, 40.0), (50.0, 0.0, 60.0))


def test_a_tree_finds_what_comparing_all_boxes_finds() -> None:
    """The tree yields every box that meets another, and nothing else; an empty one yields nothing."""
    items = [box for n, solid in enumerate(solids(9, 30, "line")) for box in boxed(solid.curve, n, 5.0)]
    tree = Tree(items)
    for asked in items[::7]:
        meeting = [
            item
            for item in items
            if all(asked.box[k] <= item.box[k + 3] and item.box[k] <= asked.box[k + 3] for k in range(3))
        ]
        assert sorted(tree.near(asked.box)) == sorted(meeting)
    assert list(Tree([]).near(items[0].box)) == []

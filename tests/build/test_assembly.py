"""The order in which a line goes together: found if there is one, proven missing if there is none."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assembly import FROM, TO, Block, Job, Move, Opening, Ring, Tip, in_the_way, order

NUT = Tip(False, 12.8, 40.0, 10.0)
READY = NUT._replace(formed=True)
TIGHT = NUT._replace(straight_mm=20.0)
BENT = (40.0, 60.0, 40.0)


def job(first=NUT, last=NUT, *holes, rings=(), straights=BENT):
    """Return a line with two bends and a flaring tool that needs 25 mm."""
    openings = tuple(hole if isinstance(hole, Opening) else Opening("wall", hole) for hole in holes)
    return Job((first, last), tuple(rings), openings, straights, 25.0)


def acts(found):
    """Return an order in short words."""
    ends = {FROM: " from", TO: " to", None: ""}
    return [f"{move.act}{ends[move.end]}{' in car' if move.in_car else ''}" for move in found]


def test_nothing_in_the_way():
    """A line through no hole is formed and bent in any order; all of it happens once."""
    assert sorted(acts(order(job()))) == ["bend", "form from", "form to"]


def test_bare_end_leads_where_the_nut_does_not_pass():
    """One end goes through bare and is formed in the car, the other is finished before."""
    found = acts(order(job(NUT, NUT, 12.0)))
    assert found[-2:] == ["pass from", "form from in car"]
    assert "form to" in found[:2]


def test_nut_that_passes_is_flared_on_the_bench():
    """Flaring in the car is what is avoided first."""
    assert not any(move.in_car and move.act == "form" for move in order(job(NUT, NUT, 13.0)))


def test_a_hole_as_wide_as_the_nut_does_not_let_it_through():
    """A formed end has to be smaller than the hole."""
    assert order(job(READY, READY, 12.8)) is None
    assert order(job(READY, READY, 12.81)) is not None


def test_both_formed_and_too_large():
    """Two formed ends that pass no hole: the line goes together if either is bare, or the hole wider."""
    stuck = job(READY, READY, 12.0)
    assert order(stuck) is None
    assert in_the_way(stuck) == ((Block("formed", FROM),), (Block("formed", TO),), (Block("hole", 0),))


def test_two_narrow_holes_are_two_things_in_the_way():
    """Where one change is not enough, pairs that are enough are named."""
    stuck = job(READY, TIGHT._replace(formed=True), 12.0, 12.0)
    assert in_the_way(stuck)[0] == (Block("formed", FROM),)
    tight = job(READY._replace(straight_mm=20.0), TIGHT._replace(formed=True), 12.0, 12.0)
    assert (Block("hole", 0), Block("hole", 1)) in in_the_way(tight)
    assert all(len(blocks) == 2 for blocks in in_the_way(tight))


def test_no_room_for_the_tool_in_the_car():
    """An end with too little straight behind its nut cannot be the one that is formed in the car."""
    assert acts(order(job(TIGHT, NUT, 12.0)))[-1] == "form to in car"
    assert order(job(TIGHT, TIGHT, 12.0)) is None
    blocks = in_the_way(job(TIGHT, TIGHT, 12.0))
    assert blocks == ((Block("hole", 0),), (Block("room", FROM),), (Block("room", TO),))


def test_straight_tube_needs_no_room():
    """Without a bend behind it an end can be formed anywhere."""
    assert order(job(TIGHT, TIGHT, 12.0, straights=())) is not None


def test_fewer_bends_are_pulled_through():
    """Of two ends that pass, the one with fewer bends up to the hole leads."""
    late = Opening("wall", 14.0, (4.8, 4.8), (2, 0))
    assert "pass to" in acts(order(job(NUT, NUT, late)))


def test_bend_that_does_not_pass_a_thick_panel():
    """A bend too tight for a thick panel stays on its side: the other end leads."""
    thick = Opening("block", 14.0, (15.0, 4.8), (1, 1))
    assert "pass to" in acts(order(job(NUT, NUT, thick)))
    both = thick._replace(bends_mm=(15.0, 15.0))
    assert order(job(NUT, NUT, both)) is None
    assert in_the_way(job(NUT, NUT, both)) == ((Block("hole", 0),), (Block("bend", 0),))


def test_tube_may_start_between_two_panels():
    """Bends that pass neither of two thick panels lie between them: each end leads through its own."""
    holes = (Opening("front", 14.0, (4.8, 15.0), (0, 2)), Opening("rear", 14.0, (15.0, 4.8), (2, 0)))
    assert {(move.end, move.which) for move in order(job(NUT, NUT, *holes)) if move.act == "pass"} == {(0, 0), (1, 1)}


def test_things_go_on_in_their_order():
    """From one bare end the thing for the far end goes on first; none goes over a formed end."""
    rings = (Ring("seal"), Ring("guard"))
    found = order(job(READY, NUT, rings=rings))
    assert [move.which for move in found if move.act == "slide"] == [0, 1]
    assert [move.end for move in found if move.act == "slide"] == [TO, TO]
    assert order(job(READY, READY, rings=rings)) is None
    assert in_the_way(job(READY, READY, rings=rings)) == ((Block("formed", FROM),), (Block("formed", TO),))


@pytest.mark.parametrize(("length", "goes"), [(60.0, True), (60.1, False)])
def test_stiff_thing_needs_a_straight(length, goes):
    """What slides past no bend has to lie on one straight."""
    assert (order(job(rings=(Ring("spacer", length),))) is not None) is goes


def test_parked_thing_takes_the_room_of_the_tool():
    """A stiff thing that fits only behind the nut leaves no room to form that end in the car; on the other it does."""
    straights = (40.0, 5.0, 40.0)
    ring = Ring("spacer", 10.0)
    assert acts(order(job(NUT, NUT, 12.0, rings=(ring,), straights=straights)))[-1] == "form from in car"
    both = (ring, ring._replace(parked_mm=30.0))
    assert order(job(NUT, READY, 12.0, rings=both, straights=(40.0, 5.0, 40.0))) is not None
    assert order(job(NUT, READY, 12.0, rings=both[::-1], straights=(40.0, 5.0, 31.0))) is None


def may_go(work):
    """Return whether any order of single moves puts a line together: every one is tried.

    Bends are made one by one; every thing on the tube has a leg, and is pushed from leg to leg.
    """
    bends = max(len(work.straights_mm) - 1, 0)
    count = len(work.openings)
    formed = tuple(tip.formed for tip in work.tips)
    stack = [((), (), formed, frozenset(), (start, start)) for start in range(count + 1)]
    seen = set(stack)
    while stack:
        state = stack.pop()
        rings, _, formed, made, holes = state
        if all(formed) and len(made) == bends and holes == (0, count) and rings == tuple(range(len(work.rings))):
            return True
        for after in every_move(work, state, bends):
            if after not in seen:
                seen.add(after)
                stack.append(after)
    return False


def every_move(work, state, bends):
    """Yield every state that one single move leads to."""
    rings, legs, formed, made, holes = state
    yield from things_on(work, state, bends)
    yield from ends_formed(work, state, bends)
    for place, leg in enumerate(legs):
        for to in (leg - 1, leg + 1):
            moved = (*legs[:place], to, *legs[place + 1 :])
            stuck = min(leg, to) in made and work.rings[rings[place]].parked_mm
            there = 0 <= to <= bends and not stuck and all(a <= b for a, b in pairwise(moved))
            if there and lies(work, rings, moved, made):
                yield rings, moved, formed, made, holes
    for bend in set(range(bends)) - made:
        if holes[0] == holes[1] and lies(work, rings, legs, made | {bend}):
            yield rings, legs, formed, made | {bend}, holes
    if len(made) == bends:
        yield from holes_passed(work, state)


def things_on(work, state, bends):
    """Yield every thing slid on from a bare end, in any order."""
    rings, legs, formed, made, holes = state
    for side in (FROM, TO):
        for ring in set(range(len(work.rings))) - set(rings):
            row = ((ring, *rings), (0, *legs)) if side == FROM else ((*rings, ring), (*legs, bends))
            if not formed[side] and lies(work, *row, made):
                yield (*row, formed, made, holes)


def ends_formed(work, state, bends):
    """Yield every end formed that the tool has room for; in the car only if the other is."""
    rings, legs, formed, made, holes = state
    for side in (FROM, TO):
        end, beside = (0, 0) if side == FROM else (bends, bends - 1)
        taken = sum(work.rings[ring].parked_mm for ring, leg in zip(rings, legs, strict=True) if leg == end)
        tip = work.tips[side]
        room = beside not in made or tip.straight_mm - tip.nut_mm - taken >= work.grip_mm
        if not formed[side] and room and (holes[0] == holes[1] or formed[1 - side]):
            yield rings, legs, tuple(value or at == side for at, value in enumerate(formed)), made, holes


def holes_passed(work, state):
    """Yield every hole passed next, with either end leading."""
    rings, legs, formed, made, holes = state
    for side, which in ((FROM, holes[0] - 1), (TO, holes[1])):
        if 0 <= which < len(work.openings):
            hole = work.openings[which]
            small = not formed[side] or work.tips[side].across_mm < hole.hole_mm
            if small and hole.bends_mm[side] <= hole.hole_mm:
                yield rings, legs, formed, made, (min(holes[0], which), max(holes[1], which + 1))


def lies(work, rings, legs, made):
    """Return whether all that cannot pass bends lies on the straights between those made."""
    room, load = 0.0, 0.0
    for leg, straight in enumerate(work.straights_mm):
        room += straight
        load += sum(work.rings[ring].parked_mm for ring, at in zip(rings, legs, strict=True) if at == leg)
        if leg in made or leg == len(work.straights_mm) - 1:
            if load > room:
                return False
            room, load = 0.0, 0.0
    return True


TIPS = st.builds(Tip, st.booleans(), st.sampled_from([8.0, 12.0]), st.just(0.0), st.sampled_from([5.0, 12.0]))
HOLES = st.builds(
    Opening, st.just("wall"), st.sampled_from([7.0, 10.0, 14.0]), st.tuples(*[st.sampled_from([5.0, 9.0])] * 2)
)
RINGS = st.builds(Ring, st.just("ring"), st.sampled_from([0.0, 0.0, 10.0, 25.0]))


@st.composite
def jobs(draw):
    """Small lines of every kind: up to two bends, two holes, two things that ride."""
    straights = draw(
        st.sampled_from([0, 2, 2, 3]).flatmap(lambda n: st.tuples(*[st.sampled_from([15.0, 30.0, 40.0])] * n))
    )
    ends = straights or (30.0,)
    tips = draw(st.tuples(TIPS, TIPS))
    tips = (tips[0]._replace(straight_mm=ends[0]), tips[1]._replace(straight_mm=ends[-1]))
    rings = tuple(draw(st.lists(RINGS, max_size=2)))
    return Job(tips, rings, tuple(draw(st.lists(HOLES, max_size=2))), straights, draw(st.sampled_from([10.0, 20.0])))


@settings(derandomize=True, deadline=None, database=None, max_examples=600)
@given(jobs())
def test_search_agrees_with_trying_every_order(work):
    """An order is found exactly where one of all orders of single moves puts the line together."""
    assert (order(work) is not None) is may_go(work)


@settings(derandomize=True, deadline=None, database=None, max_examples=300)
@given(jobs())
def test_what_is_in_the_way_is_a_witness(work):
    """Of a line that goes together nothing is in the way; else a set helps, and no smaller one does."""
    found = in_the_way(work) if order(work) is None else ()
    formed = [Block("formed", side) for side in (FROM, TO) if work.tips[side].formed]
    if order(work) is None and len(found) == 0:
        assert len(formed) + len(work.openings) + len(work.rings) > 2
    assert len({len(blocks) for blocks in found}) <= 1


def test_many_bends_and_holes_are_a_few_states():
    """A line with ten bends, three holes and two things that ride is settled in at most a few hundred states."""
    holes = tuple(Opening(f"wall {index}", 12.0, (4.8, 4.8), (index, 10 - index)) for index in (2, 5, 8))
    work = Job((NUT, NUT), (Ring("seal"), Ring("guard")), holes, (40.0,) * 11, 25.0)
    found = order(work)
    assert Move("bend") in found
    assert len(found) == 2 + 2 + 1 + 3

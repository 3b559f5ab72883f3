"""Which end to start from, and when the other end is flared: both ends are tried, the plainest work is taken.

All marks are from one end and the bends are made in order from it. A plan is the better, in this order of weight:
- the flaring tool fits where end B is flared;
- fewer bends have to be turned by hand;
- fewer bends sweep through tube already bent;
- end B is flared after bending, so that its length can still be put right;
- any flaring tool does;
- fewer bends are pulled through a panel;
- less tube reaches towards the bench.
Of equals the line's own `from` is end A. An end that is flared in the car is end B, one that is formed already is end
A. Limits: other orders of bends are not tried.
"""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.build.benders import StraightsNeeded
from fitcheck.build.routes import straights
from fitcheck.making.bench import Room, rooms
from fitcheck.making.bend import Work, sheet_bends
from fitcheck.making.course import Course
from fitcheck.making.sheet import EndPlan, SheetBend, When
from fitcheck.making.slide_on import Passing


class Plan(NamedTuple):
    """One way of making a line: its course and ends from end A, its bends, when end B is flared.

    `room_b_mm` is what is left behind the nut at end B for the flaring tool [mm], None where it does not matter; `fits`
    says whether that is enough for a hand-held one at the least. `pulled` says that the end with more bends to pull
    through a panel leads.
    """

    course: Course
    ends: tuple[EndPlan, EndPlan]
    bends: tuple[SheetBend, ...]
    flare_b: When
    hand_flare: bool
    room_b_mm: float | None
    fits: bool = True
    pulled: bool = False

    @property
    def cost(self) -> tuple[float, ...]:
        """What makes one plan worse than another, the weightiest first."""
        return (
            not self.fits,
            sum(bend.hand for bend in self.bends),
            sum(bend.clash for bend in self.bends),
            self.flare_b == "before bends",
            self.hand_flare,
            self.pulled,
            round(sum(bend.tail_below_mm for bend in self.bends), 3),
            self.ends[0].name == "to",
        )


def best_plan(
    course: Course,
    ends: tuple[EndPlan, EndPlan],
    needs: StraightsNeeded,
    way: Passing | None,
    tube: tuple[float, str | None],
) -> Plan:
    """Return the plainest way of making a course; `tube` is its outside diameter [mm] and material.

    Raises:
        RouteError: a leg is shorter than its bends take.
    """
    plans = list(_plans(course, ends, needs, way, tube))
    return min(plans, key=lambda plan: plan.cost)


def _plans(
    course: Course,
    ends: tuple[EndPlan, EndPlan],
    needs: StraightsNeeded,
    way: Passing | None,
    tube: tuple[float, str | None],
) -> Iterator[Plan]:
    for turned in (False, True):
        own = course.backwards() if turned else course
        pair = (ends[1], ends[0]) if turned else ends
        if pair[1].formed and not pair[0].formed:
            continue  # all is measured from a finished end
        if way is not None and way.unsure and pair[1].name != way.lead and not (pair[0].formed or pair[1].formed):
            continue  # flared last, so that its nut can be offered to the hole first
        looked = _rooms(own, tube[0], pair[1].allowance_mm)
        if pair[1].formed:
            yield _plan(own, pair, needs, tube[1], "ready", looked)
            continue
        if way is not None and way.in_car and pair[1].name not in way.leads:
            continue
        if way is not None and way.in_car:
            plan = _plan(own, pair, needs, tube[1], "in the car", looked)
            yield plan._replace(pulled=pair[1].name != way.lead)
            continue
        yield _plan(own, pair, needs, tube[1], "after bends", looked)
        if own.route is not None and own.route.bends:
            yield _plan(own, pair, needs, tube[1], "before bends", looked)


def _rooms(course: Course, od_mm: float, spare_mm: float) -> tuple[Room, ...]:
    if course.route is None or course.points is None:
        return ()
    return rooms(course.points, course.route, od_mm, spare_mm)


def _plan(
    course: Course,
    ends: tuple[EndPlan, EndPlan],
    needs: StraightsNeeded,
    material: str | None,
    when: When,
    looked: tuple[Room, ...],
) -> Plan:
    early = when in ("before bends", "ready")
    first, last = ends
    work = Work(
        nut_a_mm=first.nut_mm,
        nut_b_mm=last.nut_mm if early else 0.0,
        spare_b_mm=0.0 if early else last.allowance_mm,
        material=material,
    )
    bends = sheet_bends(course, needs, work)
    if looked:
        bends = tuple(
            bend._replace(tail_below_mm=room.below_mm, clash=room.clash)
            for bend, room in zip(bends, looked, strict=True)
        )
    if early or course.route is None:
        return Plan(course, ends, bends, when, False, None)
    room = straights(course.route)[-1] - (last.nut_mm if last.taken_mm is None else last.taken_mm)
    return Plan(course, ends, bends, when, room < needs.grip_mm, room, room >= needs.grip_hand_mm)

"""What to do, in order of doing."""

from collections.abc import Iterator, Sequence

from fitcheck.making.order import Plan
from fitcheck.making.sheet import EndPlan, Hole, Letter, Step
from fitcheck.making.slide_on import Passing, end_fittings, grommets


def steps_of(
    plan: Plan, cut_mm: float, trim_mm: float, holes: Sequence[Hole], way: Passing | None, apart_mm: float | None
) -> tuple[Step, ...]:
    """Return the steps of making a line by `plan`; lengths in mm.

    Everything that goes on at end A is on before its flare. What is left goes on from end B before that flare: once
    both ends are flared nothing more goes on. `apart_mm` is the straight distance of both faces, None if not known.
    """
    return tuple(_steps(plan, cut_mm, trim_mm, holes, way, apart_mm))


def _steps(
    plan: Plan, cut_mm: float, trim_mm: float, holes: Sequence[Hole], way: Passing | None, apart_mm: float | None
) -> Iterator[Step]:
    first, last = plan.ends
    yield Step("cut", mm=cut_mm)
    yield Step("square", "A", trim_mm)
    yield from _formed("A", first, ())
    if plan.flare_b == "before bends":
        yield Step("trim", "B", plan.course.run_mm + last.allowance_mm)
        yield from _formed("B", last, holes)
    if plan.course.route is None:
        yield Step("fit")
    if plan.bends:
        yield Step("mark", "A")
    for index in range(len(plan.bends)):
        if index:
            yield Step("turn", bend=index)
        yield Step("bend", bend=index)
    if plan.flare_b == "after bends":
        yield _trimmed(plan)
        yield from _formed("B", last, holes)
    lead = letter_of(plan, way)
    if plan.flare_b == "in the car":
        yield _trimmed(plan)
        yield Step("check", mm=apart_mm)
        yield from _through(holes, "B", guard_first=True)
        yield from _formed("B", last, (), in_car=True)
        return
    yield Step("check", mm=apart_mm)
    if lead is not None:
        yield from _through(holes, lead, guard_first=False)


def _formed(letter: Letter, end: EndPlan, holes: Sequence[Hole], in_car: bool = False) -> Iterator[Step]:
    items = (*grommets(holes), *end_fittings(end))
    if items:
        yield Step("slide", letter, items=items, in_car=in_car)
    yield Step("flare", letter, in_car=in_car)


def _through(holes: Sequence[Hole], letter: Letter, guard_first: bool) -> Iterator[Step]:
    """Yield going through panels: a bare end through grommets in place, a finished one before they are pushed in."""
    guarded = tuple(hole for hole in holes if hole.grommet is not None)
    if guard_first and guarded:
        yield Step("guard", holes=guarded, in_car=True)
    yield Step("pass", letter, holes=tuple(holes), in_car=True)
    if not guard_first and guarded:
        yield Step("guard", holes=guarded, in_car=True)


def _trimmed(plan: Plan) -> Step:
    """Return cutting end B to length: what is left is measured from the end of the last bend, if there is one."""
    whole = plan.course.run_mm + plan.ends[1].allowance_mm
    if not plan.bends:
        return Step("trim", "B", whole)
    last = plan.bends[-1]
    return Step("trim", "B", whole - last.start_mm - last.arc_mm, len(plan.bends) - 1)


def letter_of(plan: Plan, way: Passing | None) -> Letter | None:
    """Return which end of a plan leads through the holes, None if there are none."""
    if way is None:
        return None
    if plan.flare_b == "in the car":
        return "B"
    return "A" if plan.ends[0].name == way.lead else "B"

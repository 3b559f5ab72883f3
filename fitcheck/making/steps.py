"""What to do, in order of doing."""

from collections.abc import Iterator, Sequence

from fitcheck.making.order import Plan
from fitcheck.making.sheet import EndPlan, Fitting, Hole, Letter, Step
from fitcheck.making.slide_on import Passing, end_fittings, grommets, rides


def steps_of(
    plan: Plan,
    cut_mm: float,
    trim_mm: float,
    holes: Sequence[Hole],
    way: Passing | None,
    apart_mm: float | None,
    slides: Sequence[str] = (),
) -> tuple[Step, ...]:
    """Return the steps of making a line by `plan`; lengths in mm. `slides` are parts in order from `from`.

    Everything that goes on at end A is on before its flare. What is left goes on from end B before that flare: once
    both ends are flared nothing more goes on. What rides on the tube goes on while that is straight. `apart_mm` is the
    straight distance of both faces, None if not known.
    """
    begun = _begun(plan, cut_mm, trim_mm, slides)
    return (*begun, *_steps(plan, holes, way, apart_mm))


def _begun(plan: Plan, cut_mm: float, trim_mm: float, slides: Sequence[str]) -> Iterator[Step]:
    """Yield all that is done before end B or a bend is: to length, end A finished, what rides on the tube put on."""
    first, last = plan.ends
    if plan.flare_b == "ready":
        yield Step("measure", mm=plan.course.run_mm)
        return
    yield Step("cut", mm=cut_mm)
    if not first.formed:
        yield Step("square", "A", trim_mm)
        yield from _formed("A", first, (), before=rides(slides, first.name))
    elif slides:
        yield Step("slide", "B", items=rides(slides, last.name))


def _steps(plan: Plan, holes: Sequence[Hole], way: Passing | None, apart_mm: float | None) -> Iterator[Step]:
    last = plan.ends[1]
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
        if riding := grommets(_led_by("A", plan, holes, way)):
            yield Step("slide", "B", items=riding)
        yield Step("check", mm=apart_mm)
        yield from _through("A", plan, holes, way)
        yield from _through("B", plan, holes, way, bare=True)
        yield from _formed("B", last, (), in_car=True)
        return
    yield Step("check", mm=apart_mm)
    if lead is not None:
        yield from _through("A", plan, holes, way)
        yield from _through("B", plan, holes, way)


def _formed(
    letter: Letter, end: EndPlan, holes: Sequence[Hole], in_car: bool = False, before: tuple[Fitting, ...] = ()
) -> Iterator[Step]:
    items = (*before, *grommets(holes), *end_fittings(end))
    if items:
        yield Step("slide", letter, items=items, in_car=in_car)
    yield Step("flare", letter, in_car=in_car)


def _through(
    letter: Letter, plan: Plan, holes: Sequence[Hole], way: Passing | None, bare: bool = False
) -> Iterator[Step]:
    """Yield going through the panels that an end leads through, the one farthest from it on the finished line first.

    A bare end goes through grommets in place; a finished one goes first, with the grommets on the tube behind it.
    """
    passed = _led_by(letter, plan, holes, way)
    if not passed:
        return
    guarded = tuple(hole for hole in passed if hole.grommet is not None)
    if bare and guarded:
        yield Step("guard", holes=guarded, in_car=True)
    yield Step("pass", letter, holes=passed[::-1] if letter == "A" else passed, in_car=True)
    if guarded and not bare:
        yield Step("guard", holes=guarded, in_car=True)


def _led_by(letter: Letter, plan: Plan, holes: Sequence[Hole], way: Passing | None) -> tuple[Hole, ...]:
    """Return the holes that an end leads through, in order from end A as `holes` are."""
    leads = way.leads[plan.ends[1].name] if way is not None else ()
    leads = leads[::-1] if plan.ends[0].name == "to" else leads
    name = plan.ends[0 if letter == "A" else 1].name
    return tuple(hole for hole, lead in zip(holes, leads, strict=True) if lead == name)


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

"""The steps of a bench sheet in sentences."""

from collections.abc import Callable
from typing import Final

from fitcheck.making.sheet import EndPlan, Sheet, SheetBend, Step
from fitcheck.measures import exact, tape
from fitcheck.reports.make_curve import NO_TURN_DEG
from fitcheck.reports.make_words import cut_words, degrees, fitting_text
from fitcheck.standards.flares import flare

_LINES: Final = {"start": "line for the start", "corner": "line for the corner at this angle", "middle": "middle line"}


def step_text(made: Sheet, step: Step, unit: str) -> str:
    """Return one step as a person is told it; lengths as a tape in `unit` (`mm` or `in`) shows them."""
    return _TOLD[step.act](made, step, unit)


def _cut(made: Sheet, step: Step, unit: str) -> str:
    if made.ends is not None and made.ends[0].formed:
        far = tape(step.mm or 0.0, unit)
        return f"End A is formed already. Cut the tube to {far} from its face ({cut_words(made, unit)})."
    return f"Cut {tape(step.mm or 0.0, unit)} of {made.tube.part} ({cut_words(made, unit)})."


def _measure(made: Sheet, step: Step, unit: str) -> str:
    far = tape(step.mm or 0.0, unit)
    return f"Both ends are formed already: nothing can be cut. Straight, it has to be {far} long from face to face."


def _square(made: Sheet, step: Step, unit: str) -> str:
    off = f", taking off {tape(step.mm, unit)}" if step.mm else ""
    return f"Make end {step.end} square{off}. Deburr it inside and outside, blow it out."


def _slide(made: Sheet, step: Step, unit: str) -> str:
    items = "; then ".join(fitting_text(item, step.end or "A") for item in step.items)
    where = "In the car, slide" if step.in_car else "Slide"
    return f"{where} on from end {step.end}: {items}."


def _flare(made: Sheet, step: Step, unit: str) -> str:
    end = _end(made, step)
    what, how = "flare", ""
    if end is not None and end.flare is not None:
        form = flare(end.flare)
        what, how = form.name, f" ({form.clamping})"
        if len(form.strokes) == 2:
            what += f" in two strokes, {' then '.join(form.strokes)}"
    last = " Nothing more goes on after this." if step.end == "B" else ""
    return f"{'In the car, form' if step.in_car else 'Form'} end {step.end}: {what}{how}.{last}"


def _mark(made: Sheet, step: Step, unit: str) -> str:
    marks = ", ".join(f"{tape(bend.mark_mm, unit)} (bend {index})" for index, bend in enumerate(made.bends, 1))
    return f"Mark, all from the face of end A: {marks}."


def _turn(made: Sheet, step: Step, unit: str) -> str:
    index = step.bend or 0
    turned = made.bends[index].rotation_deg
    name, before = f"bend {index + 1}", f"bend {index}"
    if turned is None:
        return f"Turn the tube in the tool until {name} goes the way the car needs: that is not given."
    if abs(turned) < NO_TURN_DEG:
        return f"Do not turn the tube: {name} goes the same way as {before}."
    if abs(turned) > 180.0 - NO_TURN_DEG:
        return f"Turn the tube half a turn (180 deg) in the tool: {name} goes the other way from {before}."
    plane, tube = ("clockwise", "anticlockwise") if turned > 0.0 else ("anticlockwise", "clockwise")
    much = degrees(abs(turned))
    return f"Turn the tube {much} {tube} in the tool, so that {name} goes {much} {plane} from {before}."


def _bend(made: Sheet, step: Step, unit: str) -> str:
    index = step.bend or 0
    bend = made.bends[index]
    name = f"Bend {index + 1}: {'a U of ' if bend.corner_mm is None else ''}{degrees(bend.angle_deg)}"
    if bend.hand:
        told = (
            f"{name}, turned by hand round a clamped die of radius {exact(bend.radius_mm, unit)}, starting at"
            f" {tape(bend.mark_mm, unit)}: {_why_by_hand(bend, unit)}."
        )
    else:
        tool = f" in {bend.tool}" if bend.tool is not None else f", radius {exact(bend.radius_mm, unit)}"
        pull = f"; pull to {degrees(bend.pull_deg)}, it springs back" if bend.pull_deg is not None else ""
        mark = f"mark {tape(bend.mark_mm, unit)} on the tool's {_LINES[bend.marks]}"
        told = f"{name}{tool}, end A in the clamp, {mark}{pull}."
    return f"{told}{_room(bend, unit)} Check the angle."


def _why_by_hand(bend: SheetBend, unit: str) -> str:
    if bend.held_mm >= bend.needed_mm:
        return "the mark for the tool would not lie on the tube"
    held, needed = tape(bend.held_mm, unit), tape(bend.needed_mm, unit)
    return f"there are {held} of straight to hold, the tool needs {needed}"


def _room(bend: SheetBend, unit: str) -> str:
    said = ""
    if bend.tail_below_mm:
        said += f" The bent part reaches {tape(bend.tail_below_mm, unit)} out of the plane of this bend, towards"
        said += " the bench: let it hang over the edge, or hold the tool the other way up."
    if bend.clash:
        said += " The loose end sweeps through what is bent already: spring it aside."
    return said


def _trim(made: Sheet, step: Step, unit: str) -> str:
    start = f"the end of bend {step.bend + 1}" if step.bend is not None else "the face of end A"
    along = " along the tube" if made.given == "length" else ""
    far = tape(step.mm or 0.0, unit)
    return f"Cut end B square {far}{along} from {start}. Deburr it inside and outside, blow it out."


def _fit(made: Sheet, step: Step, unit: str) -> str:
    end = made.ends[0] if made.ends is not None else None
    where = f" with end A in {end.joined}" if end is not None and end.joined is not None else ""
    return f"Bend the tube to fit on the car{where}: no bends are given."


def _guard(made: Sheet, step: Step, unit: str) -> str:
    return f"In the car, push in {', '.join(f'{hole.grommet} at {hole.panel}' for hole in step.holes)}."


def _pass(made: Sheet, step: Step, unit: str) -> str:
    end = _end(made, step)
    bare = made.flare_b == "in the car" and step.end == "B"
    state = "bare, " if bare else "with its nut, " if end is not None and end.nut else ""
    return f"In the car, put end {step.end} ({state}`{end.name if end else ''}`) through {_holes(step, unit)}."


def _holes(step: Step, unit: str) -> str:
    sizes = [(hole.panel, hole.hole_mm) for hole in step.holes]
    return ", ".join(f"{name} ({exact(mm, unit)})" if mm is not None else name for name, mm in sizes)


def _check(made: Sheet, step: Step, unit: str) -> str:
    if step.mm is None:
        return "Offer the tube up to the car; then rinse it through and blow it out."
    state = ", end B still bare" if made.flare_b == "in the car" else ""
    mm = step.mm
    return f"Check: {tape(mm, unit)} straight across from face to face{state}. Rinse the tube through and blow it out."


def _end(made: Sheet, step: Step) -> EndPlan | None:
    if made.ends is None:
        return None
    return made.ends[0] if step.end == "A" else made.ends[1]


_TOLD: Final[dict[str, Callable[[Sheet, Step, str], str]]] = {
    "cut": _cut,
    "square": _square,
    "slide": _slide,
    "flare": _flare,
    "mark": _mark,
    "turn": _turn,
    "bend": _bend,
    "fit": _fit,
    "trim": _trim,
    "guard": _guard,
    "pass": _pass,
    "check": _check,
    "measure": _measure,
}

"""A hole schedule in words: where, why so large, with which drills, what is wrong, what is not known."""

from collections.abc import Iterator, Mapping
from math import isclose
from typing import Final

from fitcheck.making.hole_sheet import DrillStep, HoleSchedule, Job, MetalSpeed, Spot
from fitcheck.making.sheet import Remark
from fitcheck.measures import exact, number
from fitcheck.reports.plain import count_of
from fitcheck.standards.drill_sizes import nearest_drill
from fitcheck.standards.drilling import figure

PUNCH: Final = "Centre-punch each hole, clamp the work, drill in the order given, deburr both sides, paint bare edges."
STEPS: Final = (
    "Steps are common practice, no source: from {one_go} on a pilot hole a little wider than the web of the next drill;"
    " for more than {twist} in sheet, up to {sheet} thick or of unknown thickness, a step drill or hole saw at the"
    " speed of the finished diameter."
)
CUTTING: Final = (
    "hardens where a drill rubs. Drill slowly, with steady heavy feed, always cutting: never let the drill rub, do not"
    " stop mid-hole. A sharp cobalt drill, cutting oil (trade articles on drilling stainless steel)."
)
KEEP_CUTTING: Final = (
    "caution: slow, steady heavy feed, keep the drill cutting, never let it rub, do not stop mid-hole; sharp cobalt"
    " drill, cutting oil"
)
_FORMULA: Final = {"mm": "1000 v / (pi d), v in m/min, d in mm", "in": "12 v / (pi d), v in ft/min, d in inches"}
MOST_FIELDS: Final = 6
"""So many fields that are not known are named of one kind of hole; JSON names all."""
WHATS: Final = {
    "panel": "panel hole",
    "bracket": "bracket hole",
    "bracket screw": "screw of a bracket",
    "clip": "clip",
}
WHY: Final = {
    "needs": "needed by {part}",
    "suits": "as the build states; {part} needs {need}",
    "stated": "as {field} states",
    "tap": "to be tapped {thread}",
    "screw": "a {screw} screw passes, fine fit (medium {medium})",
    "nobody": "not known",
}
WRONG: Final = {
    "hole-disagrees": "the build states {stated} for {panel}, {part} needs {need}",
    "several-in-hole": "{panel} has several parts in it: {parts}",
    "too-thick": "{panel} is {thick} thick, {part} grips up to {grip}",
    "tube-too-thick": "{line} is {od} thick and does not pass {hole}",
    "bare-edge": "{lines} would pass a bare edge: the hole has no grommet",
    "bare-edge-grommet": "{lines} would pass a bare edge: {part} in a hole of {need} guards it",
    "thread-thin": "{thickness} of metal holds {turns} turns of {thread}, fewer than {least} (common practice, no"
    " source): weld or rivet a nut in",
}
LOOK_AT: Final = {
    "usual-screw": "{key}Taken to be screwed into holes tapped {thread} ({mark}).",
    "tap-drills-differ": "Sources differ on the tap drill: {used} is used, {mark} prints {other}.",
    "metal-unknown": "No drilling speed is known for {metal}; the table has {known}.",
    "machine-fast": "The machine's slowest speed, {rpm} rpm, is too fast for {drill}: at most {high} rpm is printed.",
    "drill-large": "{drill} is larger than the largest drill there is ({largest}).",
    "sheet-thin": "The sheet is thinner than the point of the {drill} drill ({point}, derived): clamp wood behind it.",
}
REMARKS: Final = {
    "tool-assumed": "Drills are taken to be of {tool}: state `tools.drills.kind`.",
    "mounting-unknown": "The holes that fix these to the car are in no catalog, drill to the part in hand: {tags}.",
}
_LENGTHS: Final = frozenset({"need", "stated", "thick", "grip", "od", "hole", "thickness", "largest", "point"})


def total(holes: HoleSchedule) -> str:
    """Return how many holes there are, as far as that is known."""
    known = sum(spot.many or 0 for job in holes.jobs for spot in job.spots)
    more = any(spot.many is None for job in holes.jobs for spot in job.spots)
    return f"{known}{' and more' if more else ''}"


def remark_text(remark: Remark, unit: str) -> str:
    """Return a remark of a job or of the whole schedule, in words."""
    for table in (WRONG, LOOK_AT, REMARKS, WHY):
        if remark.word in table:
            return table[remark.word].format_map(_told(remark.values, unit))
    raise KeyError(remark.word)


def _told(values: Mapping[str, str | float], unit: str) -> dict[str, str]:
    told = {name: _value(name, value, unit) for name, value in values.items()}
    if told.get("key"):
        told["key"] = f"{told['key']} is not given. "
    return told


def _value(name: str, value: str | float, unit: str) -> str:
    if isinstance(value, str):
        return value
    return exact(value, unit) if name in _LENGTHS else number(value, 0 if name in ("rpm", "high") else 1)


def title(job: Job, unit: str) -> str:
    """Return what holes a job makes: how many, of what diameter, whose."""
    many = f"{count_of(job.many, 'hole')}" if job.many is not None else "holes, number not known"
    size = drilled(job.mm, unit) if job.mm is not None else "diameter not known"
    tap = f", tapped {job.tap}" if job.tap is not None else ""
    return f"{WHATS[job.what]}: {size}{tap}, {many}"


def drilled(mm: float, unit: str) -> str:
    """Return a size as drills are sold by it, for who measures in inches with these beside it.

    >>> drilled(12.0, "mm"), drilled(12.0, "in"), drilled(11.90625, "in")
    ('12 mm', '12 mm (0.4724 in)', '15/32 in')
    """
    if unit == "mm":
        return exact(mm, "mm")
    inch = nearest_drill(mm, "in")
    return inch.name if isclose(inch.mm, mm, abs_tol=1e-4) else f"{exact(mm, 'mm')} ({exact(mm, unit)})"


def places(job: Job, unit: str) -> str:
    """Return where the holes of a job are."""
    return "; ".join(_spot(spot, unit) for spot in job.spots)


def _spot(spot: Spot, unit: str) -> str:
    many = f" x {spot.many}" if spot.many not in (None, 1) else ""
    at = f" at {point(spot.at, unit)}" if spot.at is not None else ""
    lines = [line for line in spot.lines if line != spot.name]
    passes = f" ({', '.join(lines)})" if lines else ""
    return f"{spot.name}{many}{passes}{at}"


def point(at: tuple[float, float, float], unit: str) -> str:
    """Return a place in the car: x, y, z in the user's unit.

    >>> point((1560.0, 420.0, 330.0), "mm")
    '1560, 420, 330 mm'
    """
    scale = 25.4 if unit == "in" else 1.0
    return f"{', '.join(number(value / scale, 2) for value in at)} {unit}"


def metal_text(job: Job, unit: str) -> str:
    """Return the metal of a job and its thickness, as far as they are known."""
    thick = f", {exact(job.thickness_mm, unit)} thick" if job.thickness_mm is not None else ""
    return f"{job.material or 'metal not known'}{thick}"


def tool_name(step: DrillStep) -> str:
    """Return one drill by kind and size."""
    return f"{'step drill or hole saw' if step.sheet_tool else 'drill'} {step.drill.name}"


def speed_cells(step: DrillStep, unit: str) -> tuple[str, str, str, str]:
    """Return turns a minute, those of all that is printed, the machine's setting, and the feed."""
    if step.speed is None:
        return "not known", "", "", ""
    low, used, high = (number(value, 0) for value in step.speed[:3])
    span = f"{low} to {high}" if low != high else low
    feed = f"{exact(step.feed.mm, unit)} a turn" if step.feed is not None else "steady, by hand"
    return used, span, number(step.set_rpm) if step.set_rpm is not None else "", feed


def step_words(step: DrillStep, unit: str) -> str:
    """Return one step of a hole: the drill, its speed, the machine's setting, its feed."""
    used, span, machine, feed = speed_cells(step, unit)
    if step.speed is None:
        return f"{tool_name(step)}: speed not known"
    setting = f", set {machine}" if machine else ""
    return f"{tool_name(step)}: {used} rpm ({span}){setting}; feed {feed}"


def finish(job: Job) -> str:
    """Return what is done to a drilled hole."""
    tap = f"countersink lightly, tap {job.tap}; " if job.tap is not None else ""
    grommet = f"; fit {job.grommet}" if job.grommet is not None else ""
    return f"{tap}deburr both sides{grommet}"


def metal_words(found: MetalSpeed, tool: str, unit: str) -> str:
    """Return what the speeds in one metal rest on."""
    factor, per = (60.0 / 304.8, "ft/min") if unit == "in" else (0.06, "m/min")
    low, used, high = (number(value * factor, 1) for value in found.surface[:3])
    span = f"{low} to {high}" if low != high else low
    return (
        f"{found.name}, {tool}: {used} {per} at the edge of the drill, of {span} printed ({found.surface.mark})."
        f" Feed of twist drills: {found.feed_mark}, for {exact(figure('feed_for').value, unit)}; less in proportion"
        " below (derived)."
    )


def notes(holes: HoleSchedule) -> Iterator[str]:
    """Yield what holds for all holes: order of work, steps, where speeds come from, cautions, what is not known."""
    if not holes.jobs:
        yield from (remark_text(remark, holes.unit) for remark in holes.remarks)
        return
    yield PUNCH
    names = {"one_go": "one_go", "sheet": "sheet", "twist": "twist_in_sheet"}
    yield STEPS.format_map({key: drilled(figure(name).value, holes.unit) for key, name in names.items()})
    for found in holes.metals:
        yield metal_words(found, holes.tool, holes.unit)
    if holes.metals:
        yield f"Turns a minute (rpm) are {_FORMULA[holes.unit]}; in brackets those of all that is printed."
    for found in holes.metals:
        if found.hardens:
            yield f"CAUTION: {found.name} {CUTTING}"
    yield from (remark_text(remark, holes.unit) for remark in holes.remarks)

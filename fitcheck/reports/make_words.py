"""Bench sheets in words: lengths as a tape shows them, what is wrong with a line, what to look at."""

from collections.abc import Mapping
from typing import Final

from fitcheck.making.sheet import EndPlan, Fitting, Remark, Sheet
from fitcheck.measures import exact, number, tape
from fitcheck.standards.sizes import size_name

VIEW: Final = (
    "End A is the end that all marks are measured from. Clockwise is as seen along the tube from end A towards end B."
)
FAULTS: Final = {
    "tube-unknown": "no catalog has the tube {part}",
    "od-unknown": "the catalog gives no outside diameter of {part}",
    "end-unknown": "flare and nut at {end} are not known: {reason}",
    "field-missing": "{field} is not given",
    "route-impossible": "{field}: {reason}",
    "bender-takes-not": "the bender {bender} does not take tube of {od}",
    "radius-not-made": "the bend at corner {corner} has a radius of {radius}; no listed bender makes it ({benders})",
    "radius-refused": "a bend has a radius of {radius}, under {size}, {limit}: the tube does not stand it",
    "nut-in-bend": "the straight at {end} is {straight}, its nut is at least {nut} long: the bend would"
    " be inside the nut",
    "hole-too-small": "the hole {panel} is {hole}, the tube is {od} thick",
    "no-room-to-flare": "{end} has to be flared after it went through the panel: behind the nut there are {room} of"
    " straight tube, a hand-held flaring tool needs {needed}",
    "end-too-large": "{what} of {end} is {least}{size} across, the hole {panel} is {hole}, and the end is formed"
    " already",
    "thing-off": "{thing} does not go onto {line}: both its ends are formed already",
    "thing-long": "{thing} slides past no bend of {line} and is longer than its longest straight, {room}",
    "bend-stuck": "a bend does not pass the panel {panel}, {size} thick: it needs a hole of {needed}, there is {hole}",
}
CONCERNS: Final = {
    "no-bender": "No bender is known for this tube: marks are where each bend starts, radius {radius},"
    " {source}. List yours under `tools.benders`.",
    "several-benders": "No single bender is known for this tube: marks are where each bend starts, radius {radius},"
    " {source}. Name one in {field}.",
    "radius-small": "A radius of {radius} is under {size}, {limit}: see that the tube does not flatten.",
    "offset-zero": "The bender {bender} states no offset and no mark of a test bend: its line is taken to be where the"
    " bend starts. Make one test bend first.",
    "springback-unknown": "The springback of {material} in the bender {bender} is not stated: pull until the bend stays"
    " at its angle, usually 1 to 3 deg further (common practice, no source).",
    "length-only": "Only a length can be gone by: bend this tube to fit on the car, or give {field}.",
    "rotation-unknown": "How far to turn the tube before bend {bends} is not given ({field}): take it from the car.",
    "u-bend": "Bend {bends} is a U, 180 deg in one sweep, and has no corner: with a bender for corner marks its start"
    " is marked, and goes on the line where the tool begins to bend. If the scale ends at 180 deg, springback is not"
    " pulled out: close the U by hand (common practice, no source).",
    "length-differs": "The build states {stated} from seat to seat, the route comes to {run}: the route is used.",
    "fitting-unknown": "No catalog has the {word} of {end}: {wanted}.",
    "nut-tight": "The straight at {end} is {straight}; a nut of {nut} (four outside diameters, common practice, no"
    " source) does not lie on it: measure your nut before you bend.",
    "clamp-assumed": "A bender is taken to need {clamp} of straight ({source}): state its `clamp`.",
    "grip-assumed": "The flaring tool is taken to need {grip} of straight ({source}): state `tools.flaring.grip`.",
    "nut-assumed": "Nuts are taken to be {nut} long (four outside diameters, common practice, no source):"
    " measure yours.",
    "hole-unknown": "{field} is not given: whether a nut passes was not looked at.",
    "grommet-none": "{field} is not given: guard the edge of the hole.",
    "passing-unsure": "Offer nut and formed end to the hole before flaring {end}: the build does not say whether they"
    " pass.",
    "formed-unsure": "Offer {end}, nut and all, to the hole first: the build does not say whether it passes.",
    "grommet-slit": "Both ends are formed: {grommet} of {panel} goes on only if it is slit.",
    "end-too-large-doubt": "By its usual size {what} of {end}, {size} across, does not pass {panel} ({hole}): measure"
    " it first.",
    "no-room-to-flare-doubt": "By the usual figures {end} has no room to be flared in the car: {room} of straight"
    " behind its nut, a flaring tool needs {needed}. Measure nut and tool first.",
    "thing-long-doubt": "{thing} may not slide past the bends of {line}: put it where it belongs before bending.",
    "clips-many": "A line of {run} has room for so many clips that their places are not listed.",
    "hand-flare": "Behind the nut at {end} there are {room} of straight tube, less than the {grip} of a bar-and-yoke"
    " tool: a hand-held flaring tool is needed.",
}
_LENGTHS: Final = frozenset(
    {"size", "od", "radius", "straight", "nut", "hole", "room", "needed", "stated", "run", "grip", "clamp"}
)
_FINE: Final = frozenset({"size", "od", "radius", "hole"})
"""Given figures, shown as they are; all others are shown as a tape shows them."""


def od_text(od_mm: float, unit: str) -> str:
    """Return the outside diameter of a tube: in inches by its name where it has one, `3/16 in`, else as `exact`."""
    name = size_name(od_mm)
    return name if unit == "in" and name.endswith(" in") else exact(od_mm, unit)


def degrees(angle: float) -> str:
    """Return an angle to the half degree, which is what a hand bender's scale shows."""
    return f"{number(round(angle * 2.0) / 2.0, 1)} deg"


def fault_text(fault: Remark, unit: str) -> str:
    """Return why a line cannot be made, in one sentence without its full stop."""
    return FAULTS[fault.word].format_map(_told(fault.values, unit))


def concern_text(concern: Remark, unit: str) -> str:
    """Return what to look at by hand, in sentences."""
    return CONCERNS[concern.word].format_map(_told(concern.values, unit))


def _told(values: Mapping[str, str | float], unit: str) -> dict[str, str]:
    return {key: _value(key, value, unit) for key, value in values.items()}


def _value(key: str, value: str | float, unit: str) -> str:
    if isinstance(value, str):
        return value
    if key not in _LENGTHS:
        return number(value)
    return exact(value, unit) if key in _FINE else tape(value, unit)


def fitting_text(item: Fitting, letter: str) -> str:
    """Return a nut, sleeve or grommet with the way it faces."""
    name = f"{item.word} ({item.wanted})"
    if item.part is not None:
        name = item.part if item.part.startswith(item.word) else f"{item.word} {item.part}"
    if item.word == "grommet":
        return f"{name} of {item.panel}"
    if item.word == "ride":
        return item.part or item.wanted
    if item.word == "sleeve":
        return f"{name}, its flared side towards end {letter}"
    side = {"external": "thread", "internal": "open, threaded side"}.get(item.gender or "", "thread")
    return f"{name}, {side} towards end {letter}"


def end_text(end: EndPlan, letter: str) -> str:
    """Return one end in a line: its name, where it goes, what it gets."""
    goes = f" into {end.joined}" if end.joined is not None else ""
    items = [item.part or f"{item.word} not in a catalog" for item in (end.nut, end.sleeve) if item is not None]
    ready = " (formed already)" if end.formed else ""
    return f"end {letter} is `{end.name}`{goes}: {', '.join([end.flare or 'flare not known', *items])}{ready}"


def cut_words(made: Sheet, unit: str) -> str:
    """Return what the length to cut is made up of."""
    assert made.ends is not None  # a sheet with a length to cut has both
    bare = [end for end in made.ends if not end.formed]
    flares = " + ".join(tape(end.allowance_mm, unit) for end in bare)
    each = "each end" if len(bare) > 1 else "end B"
    trim = f", trimmed off {each} {tape(made.trim_mm, unit)}" if made.trim_mm else ""
    used = "flares" if len(bare) > 1 else "flare"
    return f"finished {tape(made.run_mm or 0.0, unit)}, used up by the {used} {flares}{trim}"

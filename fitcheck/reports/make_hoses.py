"""Hose sheets in words: what to order or cut, how the hose hangs in every position, how to fit it, what is not known.

Source of how to fit: straight for two diameters behind each fitting, no twist: an aircraft maintenance text and a naval
training course on fluid lines. Bent in the plane of motion: a naval aviation course on clamps. Which end comes first,
and the check by hand: common practice, no source.
"""

from collections.abc import Iterator
from math import inf
from typing import Final

from fitcheck.build.hose_reach import SLACK
from fitcheck.build.load import CHASSIS
from fitcheck.making.hose_sheet import HoseEnd, HosePose, HoseSheet
from fitcheck.making.sheet import Remark
from fitcheck.measures import exact, fine, no_shorter, number, percent_short, tape, told_short
from fitcheck.reports.make_words import degrees
from fitcheck.reports.plain import paragraph

MOST_TOLD: Final = 12
"""Positions up to which all are told; of more, rest and those that govern."""
FAULTS: Final = {
    "hose-unknown": "no catalog has the hose {part}",
    "does-not-reach": "its ends are {chord} apart {where}, it is {usable} long at its shortest",
    "bends-tight": "it bends to a radius of {radius} {where}, it may bend to {allowed}",
}
CONCERNS: Final = {
    "slack-small": "Only {slack} % slack is left {where}; {wanted} % at the least is wanted (a naval training course on"
    " fluid lines).",
    "both-screw-in": "Both ends screw in and turn the hose with them: unless one of them swivels, the second winds the"
    " hose up.",
    "twisted": "The hose is twisted by up to {twist}, {where}. No source seen gives a limit: ask its maker.",
    "clip-unknown": "No catalog has the clip of {end}: {wanted}.",
}
ABOUT: Final = (
    "Hoses are taken to hang in the curve of least bending, their ends pointing where they like. How to fit them: two"
    " diameters straight and no twist by an aircraft maintenance text, in the plane of motion by a naval aviation"
    " course, the order by common practice, no source."
)
_HOLDS: Final = {
    "screws in": "screws in and turns the hose with it",
    "eye": "an eye under a banjo bolt",
    "nut": "held still while it is screwed together",
    "barb": "pushed on",
    "unknown": "how it is held is not known",
}


def hose_lines(sheet: HoseSheet, unit: str, width: int) -> Iterator[str]:
    """Yield the sheet of one hose as lines of text."""
    yield from paragraph(title(sheet, sheet.tag.upper()), width, "", "  ")
    for words in (*map(end_words, sheet.ends), *facts(sheet, unit)):
        yield from paragraph(words, width, "  ", "    ")
    if sheet.faults:
        yield from paragraph("Will not do:", width, "  ", "    ")
        for fault in sheet.faults:
            yield from paragraph(f"- {hose_fault(fault, unit)}", width, "  ", "    ")
    if sheet.poses:
        yield from paragraph("Positions:", width, "  ", "    ")
    for words in positions(sheet, unit):
        yield from paragraph(f"- {words}", width, "  ", "    ")
    steps = fitting_steps(sheet, unit)
    if steps:
        yield from paragraph("How to fit it:", width, "  ", "    ")
    for place, words in enumerate(steps, 1):
        yield from paragraph(f"{place}. {words}", width, "   ", " " * 6)
    yield from _rest(sheet, unit, width)


def _rest(sheet: HoseSheet, unit: str, width: int) -> Iterator[str]:
    if sheet.concerns:
        yield from paragraph("Look at:", width, "  ", "    ")
    for concern in sheet.concerns:
        yield from paragraph(f"- {hose_concern(concern, unit)}", width, "  ", "    ")
    if sheet.missing:
        yield from paragraph(missing_words(sheet), width, "  ", "    ")


def title(sheet: HoseSheet, name: str) -> str:
    """Return the head of a sheet: the name of the hose, its part and what that is."""
    return f"{name}: {sheet.part}" + (f" ({sheet.description})" if sheet.description else "")


def end_words(end: HoseEnd) -> str:
    """Return one end in a line: where it goes, what that is on, how it is held."""
    if end.joined is None:
        return f"`{end.name}` goes to nothing known: {_HOLDS[end.holds]}"
    on = "the chassis" if end.body == CHASSIS else end.body
    return f"`{end.name}` to {end.joined}, on {on}: {_HOLDS[end.holds]}"


def facts(sheet: HoseSheet, unit: str) -> Iterator[str]:
    """Yield the sentences on length and bend radius; nothing of a hose that no catalog has."""
    if not sheet.kind:
        return
    yield _length(sheet, unit)
    if sheet.needed_mm is not None:
        what = f"{number(100.0 * SLACK)} % slack" if sheet.governs == "reach" else "its bend radius"
        known = ", as far as is known" if sheet.missing else ""
        verb = "Cut" if sheet.cut else "Order"
        length = f"{no_shorter(sheet.needed_mm, unit)} or more"
        yield f"{verb} {length}: {what} asks for it {sheet.governs_where}, rounded up{known}."
    if sheet.bend_radius_mm is not None:
        yield f"It may bend to a radius of {exact(sheet.bend_radius_mm, unit)} (parts.{sheet.part}.bend_radius)."


def _length(sheet: HoseSheet, unit: str) -> str:
    if sheet.length_mm is None:
        return f"Its length is not known: {sheet.length_field}."
    words = f"Free length {tape(sheet.length_mm, unit)} ({sheet.length_field})"
    if sheet.pressed_mm is None:
        return f"{words}; it is under no pressure."
    share = number(100.0 * sheet.shrinks)
    return f"{words}; under pressure down to {tape(sheet.pressed_mm, unit)} ({share} % less: AC 43.13-1B, p 9-23)."


def positions(sheet: HoseSheet, unit: str) -> Iterator[str]:
    """Yield each position, rest first, those that govern marked; of very many only these."""
    marks = {"farthest": sheet.far, "nearest": sheet.near}
    if sheet.twisted is not None and abs(degrees_shown(sheet.twisted)) > 0.0:
        marks["most twisted"] = sheet.twisted
    shown = sheet.poses
    if len(shown) > MOST_TOLD:
        kept = [*sheet.poses[:1], *(pose for pose in marks.values() if pose is not None)]
        shown = tuple(pose for pose in sheet.poses if pose in kept)
    for pose in shown:
        names = [name for name, marked in marks.items() if marked == pose]
        named = f" ({', '.join(names)})" if names and len(sheet.poses) > 1 else ""
        yield f"{pose.where}{named}: {pose_words(pose, unit)}"
    if len(shown) < len(sheet.poses):
        yield f"{len(sheet.poses) - len(shown)} more positions, none of them nearer, farther or more twisted"


def degrees_shown(pose: HosePose) -> float:
    """Return the twist of a position as it is shown, to the half degree."""
    return round(pose.twist_deg * 2.0) / 2.0


def pose_words(pose: HosePose, unit: str) -> str:
    """Return how a hose hangs in one position."""
    words = [f"{tape(pose.chord_mm, unit)} apart"]
    if pose.slack_mm is not None and pose.slack is not None and pose.pressed_slack_mm is not None:
        share = f" ({number(100.0 * pose.slack, 1)} %)" if pose.slack >= 0.0 else ""
        words.append(f"{_left(pose.slack_mm, unit)}{share}")
        if pose.pressed_slack_mm != pose.slack_mm:
            words.append(f"under pressure {_left(pose.pressed_slack_mm, unit).removeprefix('slack ')}")
    if pose.radius_mm is not None:
        words.append("straight" if pose.radius_mm == inf else f"bends to {tape(pose.radius_mm, unit)}")
    if degrees_shown(pose):
        way = "clockwise" if pose.twist_deg > 0.0 else "anticlockwise"
        words.append(f"twisted {degrees(abs(pose.twist_deg))} {way} seen from `from`")
    return ", ".join(words)


def _left(slack_mm: float, unit: str) -> str:
    return f"slack {tape(slack_mm, unit)}" if slack_mm >= 0.0 else f"too short by {tape(-slack_mm, unit)}"


def fitting_steps(sheet: HoseSheet, unit: str) -> list[str]:
    """Return what to do, in order; nothing for a hose that will not do or that goes nowhere known."""
    if sheet.faults or all(end.joined is None for end in sheet.ends):
        return []
    steps = _pushed(sheet, unit) if all(end.holds == "barb" for end in sheet.ends) else list(_screwed(sheet, unit))
    return [*steps, _checked(sheet)]


def _pushed(sheet: HoseSheet, unit: str) -> list[str]:
    cut = (
        f"Cut {tape(sheet.length_mm, unit)} of {sheet.part} square"
        if sheet.length_mm is not None
        else (f"Measure it on the car and give {sheet.length_field}; then cut it square")
    )
    clips = " and ".join(dict.fromkeys(end.clip or end.clip_wanted for end in sheet.ends if end.clip_wanted)) or "clips"
    return [
        f"{cut if sheet.cut else 'Have it ready'}. Blow it out.",
        f"Slide on a clip for each end: {clips}.",
        "Push each end over the bead of its barb as far as it goes, and tighten its clip behind the bead.",
    ]


def _screwed(sheet: HoseSheet, unit: str) -> Iterator[str]:
    first, second = sheet.ends if sheet.first == "from" else sheet.ends[::-1]
    if sheet.cut and sheet.length_mm is not None:
        yield f"Have it made up to {tape(sheet.length_mm, unit)} ({sheet.length_field})."
    why = "it turns the hose with it" if first.holds == "screws in" else "it is held still and the hose hangs from it"
    yield f"Fit end `{first.name}` first, to {first.joined or 'what it goes to'}, and tighten it: {why}."
    yield (
        f"Bring end `{second.name}` to {second.joined or 'what it goes to'} and turn it until no twist is left in the"
        " hose: a line along it runs straight. Hold it so while you tighten it."
    )
    yield (
        "It is to bend in the plane in which its ends move, and to run straight for two of its diameters behind each"
        " end fitting."
    )


def _checked(sheet: HoseSheet) -> str:
    places = [pose.where for pose in (sheet.far, sheet.near) if pose is not None]
    where = " and ".join(dict.fromkeys(places))
    if len(sheet.poses) > 1:
        return f"Move what moves through all of its positions by hand, {where} above all: nothing pulls, kinks or rubs."
    return "See that nothing pulls, kinks or rubs, whatever moves near it."


def missing_words(sheet: HoseSheet) -> str:
    """Return the fields without which something of a sheet is not known."""
    return f"Not known, and so not looked at: {', '.join(dict.fromkeys(sheet.missing))}."


def hose_fault(fault: Remark, unit: str) -> str:
    """Return why a hose will not do, in one sentence without its full stop."""
    return FAULTS[fault.word].format_map(_told(fault, unit))


def hose_concern(concern: Remark, unit: str) -> str:
    """Return what to look at by hand, in sentences."""
    return CONCERNS[concern.word].format_map(_told(concern, unit))


def _told(remark: Remark, unit: str) -> dict[str, str]:
    told = {key: value for key, value in remark.values.items() if isinstance(value, str)}
    figures = {key: value for key, value in remark.values.items() if not isinstance(value, str)}
    told |= {key: _figure(key, value, unit) for key, value in figures.items()}
    if remark.word == "slack-small":
        told["slack"] = percent_short(figures["slack"], figures["wanted"])
    for short, least in (("usable", "chord"), ("radius", "allowed")):
        if {short, least} <= figures.keys() and told[short] == told[least]:
            told[short], told[least] = told_short(figures[short], figures[least], unit)
    return told


def _figure(key: str, value: float, unit: str) -> str:
    if key in ("slack", "wanted"):
        return number(100.0 * value, 1)
    if key == "twist":
        return degrees(value)
    told = {"allowed": exact, "radius": fine}.get(key, tape)
    return told(value, unit)

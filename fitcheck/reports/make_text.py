"""Bench sheets as text: each line's ends, its steps in order of doing, what to look at, or why it cannot be made.

Hoses come after the lines, holes after those.
"""

from collections.abc import Iterator

from fitcheck.making.hole_sheet import HoleSchedule
from fitcheck.making.sheet import Sheet, Sheets
from fitcheck.reports.make_clips import clips_text
from fitcheck.reports.make_holes import hole_lines
from fitcheck.reports.make_hoses import ABOUT, hose_lines
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_words import VIEW, concern_text, end_text, fault_text, od_text
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph


def make_text(made: Sheets, holes: HoleSchedule | None = None, *, width: int = WIDTH) -> str:
    """Return the bench sheets and the hole schedule for people, in lines of at most `width` columns."""
    lines = paragraph(f"{made.build}: bench sheets, {how_many(made)}", width)
    if made.sheets or not made.hoses:
        lines += paragraph(VIEW, width)
    for sheet in made.sheets:
        lines += ["", *_sheet(sheet, made.unit, width)]
    if made.hoses:
        lines += ["", *paragraph(ABOUT, width)] if made.sheets else paragraph(ABOUT, width)
    for hose in made.hoses:
        lines += ["", *hose_lines(hose, made.unit, width)]
    refused = [sheet.tag for sheet in made.sheets if sheet.faults]
    if refused:
        lines += ["", *paragraph(f"CANNOT BE MADE ({len(refused)}): {', '.join(refused)}", width, "", "  ")]
    unfit = [hose.tag for hose in made.hoses if hose.faults]
    if unfit:
        lines += ["", *paragraph(f"WILL NOT DO ({len(unfit)}): {', '.join(unfit)}", width, "", "  ")]
    if holes is not None and (holes.jobs or holes.remarks):
        lines += ["", *hole_lines(holes, width)]
    return "\n".join([*lines, *caution_lines(width)])


def how_many(made: Sheets) -> str:
    """Return how many lines and hoses there are sheets of: `10 lines, 5 hoses`."""
    hoses = count_of(len(made.hoses), "hose")
    lines = count_of(len(made.sheets), "line")
    if not made.hoses:
        return lines
    return f"{lines}, {hoses}" if made.sheets else hoses


def _sheet(sheet: Sheet, unit: str, width: int) -> Iterator[str]:
    tube = sheet.tube
    size = f", {od_text(tube.od_mm, unit)}" if tube.od_mm is not None else ""
    yield from paragraph(f"{sheet.tag.upper()}: {tube.part}{size}", width, "", "  ")
    for letter, end in zip("AB", sheet.ends or (), strict=False):
        yield from paragraph(end_text(end, letter), width, "  ", "    ")
    if sheet.faults:
        yield from paragraph("cannot be made:", width, "  ", "    ")
        for fault in sheet.faults:
            yield from paragraph(f"- {fault_text(fault, unit)}", width, "  ", "    ")
        return
    for place, step in enumerate(sheet.steps, 1):
        lead = f"{place:>4}. "
        yield from paragraph(
            f"{lead.strip()} {step_text(sheet, step, unit)}", width, lead[: -len(lead.lstrip())], " " * 6
        )
    if (clips := clips_text(sheet.clips, unit)) is not None:
        yield from paragraph(clips, width, "  ", "    ")
    if sheet.concerns:
        yield from paragraph("Look at:", width, "  ", "    ")
    for concern in sheet.concerns:
        yield from paragraph(f"- {concern_text(concern, unit)}", width, "  ", "    ")

"""Bench sheets as JSON: exact figures, in mm and degrees."""

from typing import Any

from fitcheck.making.hole_sheet import HoleSchedule
from fitcheck.making.sheet import EndPlan, Fitting, Sheet, SheetBend, Sheets, Step
from fitcheck.measures import rounded_mm
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_holes_data import holes_value
from fitcheck.reports.make_hose_json import hose_value
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_words import concern_text, fault_text
from fitcheck.reports.plain_json import json_text


def make_json(made: Sheets, holes: HoleSchedule | None = None) -> str:
    """Return the bench sheets as JSON text, with the hole schedule if there is one."""
    return json_text(make_value(made, holes))


def make_value(made: Sheets, holes: HoleSchedule | None = None) -> dict[str, Any]:
    """Return the bench sheets as plain values. `mark_mm` is exact, `mark_on_tape_mm` as a tape shows it."""
    lines = [_sheet(sheet, made.unit) for sheet in made.sheets]
    hoses = [hose_value(sheet, made.unit) for sheet in made.hoses]
    drilled = {"holes": holes_value(holes)} if holes is not None else {}
    return {"build": made.build, "unit": made.unit, "lines": lines, "hoses": hoses, **drilled, "caution": CAUTION}


def _sheet(sheet: Sheet, unit: str) -> dict[str, Any]:
    return {
        "line": sheet.tag,
        "tube": sheet.tube._asdict(),
        "given": sheet.given,
        "can_be_made": not sheet.faults,
        "faults": [{"word": fault.word, "message": fault_text(fault, unit)} for fault in sheet.faults],
        "run_mm": sheet.run_mm,
        "cut_length_mm": sheet.cut_mm,
        "trim_mm": sheet.trim_mm,
        "ends": [_end(end, letter) for letter, end in zip("AB", sheet.ends or (), strict=False)],
        "flare_b": sheet.flare_b if sheet.steps else None,
        "grip_mm": sheet.grip_mm if sheet.steps else None,
        "grip_source": sheet.grip_source,
        "clamp_mm": sheet.clamp_mm if sheet.steps else None,
        "clamp_source": sheet.clamp_source,
        "straights_mm": list(sheet.straights_mm),
        "bends": [_bend(bend, unit) for bend in sheet.bends],
        "points_mm": sheet.points,
        "end_to_end_mm": sheet.end_to_end_mm,
        "stated_mm": sheet.stated_mm,
        "holes": [hole._asdict() for hole in sheet.holes],
        "lead": sheet.lead,
        "steps": [_step(sheet, step, unit) for step in sheet.steps],
        "concerns": [{"word": concern.word, "message": concern_text(concern, unit)} for concern in sheet.concerns],
        "clips": _clips(sheet, unit),
    }


def _clips(sheet: Sheet, unit: str) -> dict[str, Any] | None:
    """Return where clips go, from end A; `component` is the clip that the build has there already."""
    if sheet.clips is None:
        return None
    places = [
        {
            "mm": clip.mm,
            "on_tape_mm": rounded_mm(clip.mm, unit),
            "component": clip.tag,
            "straight": clip.straight,
        }
        for clip in sheet.clips.clips
    ]
    return {"spacing_mm": sheet.clips.spacing_mm, "spacing_stated": sheet.clips.stated, "places": places}


def _end(end: EndPlan, letter: str) -> dict[str, Any]:
    return {
        "letter": letter,
        "end": end.name,
        "joined": end.joined,
        "flare": end.flare,
        "allowance_mm": end.allowance_mm,
        "allowance_source": end.allowance_mark,
        "nut": _fitting(end.nut),
        "sleeve": _fitting(end.sleeve),
        "nut_mm": end.nut_mm,
        "nut_assumed": end.nut_assumed,
        "formed": end.formed,
    }


def _fitting(item: Fitting | None) -> dict[str, Any] | None:
    return None if item is None else {"part": item.part, "wanted": item.wanted}


def _bend(bend: SheetBend, unit: str) -> dict[str, Any]:
    value = bend._asdict()
    first = ("mark_mm", "angle_deg", "rotation_deg", "radius_mm")
    rest = {key: figure for key, figure in value.items() if key not in first}
    return {key: value[key] for key in first} | {"mark_on_tape_mm": rounded_mm(bend.mark_mm, unit)} | rest


def _step(sheet: Sheet, step: Step, unit: str) -> dict[str, Any]:
    return {
        "act": step.act,
        "end": step.end,
        "mm": step.mm,
        "bend": step.bend + 1 if step.bend is not None else None,
        "parts": [item.part for item in step.items],
        "panels": [hole.panel for hole in step.holes],
        "in_car": step.in_car,
        "text": step_text(sheet, step, unit),
    }

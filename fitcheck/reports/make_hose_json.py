"""Hose sheets as plain values: exact figures, in mm and degrees."""

from math import inf
from typing import Any

from fitcheck.making.hose_sheet import HosePose, HoseSheet
from fitcheck.reports.make_hoses import fitting_steps, hose_concern, hose_fault


def hose_value(sheet: HoseSheet, unit: str) -> dict[str, Any]:
    """Return one hose as plain values. A radius is None where the hose is straight, does not reach, or is not known."""
    return {
        "hose": sheet.tag,
        "part": sheet.part,
        "description": sheet.description,
        "kind": sheet.kind or None,
        "will_do": not sheet.faults,
        "faults": [{"word": fault.word, "message": hose_fault(fault, unit)} for fault in sheet.faults],
        "ends": [end._asdict() for end in sheet.ends],
        "length_mm": sheet.length_mm,
        "length_field": sheet.length_field or None,
        "cut": sheet.cut,
        "pressed_mm": sheet.pressed_mm,
        "shrinks": sheet.shrinks,
        "bend_radius_mm": sheet.bend_radius_mm,
        "needed_mm": sheet.needed_mm,
        "governs": sheet.governs or None,
        "governs_where": sheet.governs_where or None,
        "farthest": _pose(sheet.far),
        "nearest": _pose(sheet.near),
        "most_twisted": _pose(sheet.twisted),
        "positions": [_pose(pose) for pose in sheet.poses],
        "first": sheet.first,
        "steps": fitting_steps(sheet, unit),
        "concerns": [{"word": concern.word, "message": hose_concern(concern, unit)} for concern in sheet.concerns],
        "missing": list(dict.fromkeys(sheet.missing)),
    }


def _pose(pose: HosePose | None) -> dict[str, Any] | None:
    if pose is None:
        return None
    straight = pose.radius_mm == inf
    return pose._asdict() | {"radius_mm": None if straight else pose.radius_mm, "straight": straight}

"""The answer of `fitcheck pedal` as JSON: mm, mm3, N, MPa, N mm.

Decelerations are parts of standard gravity, shares are fractions. Points of a curve are the push of the foot [N], the
pressure at the outlet [MPa] and the travel of the foot [mm].
"""

from collections.abc import Mapping
from typing import Any

from fitcheck.hydraulics.contribution import runs, saved
from fitcheck.hydraulics.record import Answer
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.pedal_concerns import concerns
from fitcheck.reports.plain_json import json_text


def pedal_json(found: Answer) -> str:
    """Return the answer as JSON text."""
    return json_text(answer_value(found))


def answer_value(found: Answer) -> dict[str, Any]:
    """Return the answer as plain values, keys in the order in which they are written."""
    value = {key: bare(item) for key, item in found._asdict().items() if key != "units"}
    value["strokes"] = [bare(one) | {"reserve": one.reserve} for one in found.strokes]
    value["travels"] = [bare(one) | {"reserve": one.reserve} for one in found.travels]
    return {
        "build": value.pop("build"),
        "concerns": [bare(each) for each in concerns(found)],
        **value,
        "runs": [bare(run) for run in runs(found)],
        "hard_line_saves": [bare(one) for one in saved(found)],
        "caution": CAUTION,
    }


def bare(value: Any) -> Any:
    """Return records as mappings by their fields, all the way down."""
    if hasattr(value, "_asdict"):
        return {key: bare(item) for key, item in value._asdict().items()}
    if isinstance(value, Mapping):
        return {key: bare(item) for key, item in value.items()}
    if isinstance(value, (tuple, list)):
        return [bare(item) for item in value]
    return value

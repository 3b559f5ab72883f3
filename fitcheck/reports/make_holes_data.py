"""The hole schedule as JSON and as CSV (RFC 4180): exact figures in mm and turns a minute."""

from collections.abc import Iterator
from typing import Any, Final

from fitcheck.making.hole_sheet import DrillStep, HoleSchedule, Job, MetalSpeed, Spot
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.cells import record, text_cell
from fitcheck.reports.hole_words import CUTTING, finish, places, remark_text
from fitcheck.reports.plain_json import json_text

COLUMNS: Final = (
    "hole",
    "where",
    "count",
    "diameter_mm",
    "why",
    "material",
    "thickness_mm",
    "step",
    "tool",
    "drill",
    "drill_mm",
    "rpm_low",
    "rpm",
    "rpm_high",
    "rpm_set",
    "feed_mm",
    "tap",
    "grommet",
    "then",
    "wrong",
    "not_known",
    "source",
)


def holes_json(holes: HoleSchedule) -> str:
    """Return the hole schedule alone as JSON text."""
    return json_text({"build": holes.build, "unit": holes.unit, "holes": holes_value(holes), "caution": CAUTION})


def holes_value(holes: HoleSchedule) -> dict[str, Any]:
    """Return the hole schedule as plain values."""
    return {
        "tool": holes.tool,
        "tool_assumed": holes.tool_assumed,
        "jobs": [_job(job, holes.unit) for job in holes.jobs],
        "metals": [_metal(found) for found in holes.metals],
        "remarks": [_remark(remark, holes.unit) for remark in holes.remarks],
    }


def _job(job: Job, unit: str) -> dict[str, Any]:
    return {
        "what": job.what,
        "count": job.many,
        "places": [_spot(spot) for spot in job.spots],
        "diameter_mm": job.mm,
        "why": remark_text(job.why, unit),
        "source": job.source,
        "material": job.material,
        "thickness_mm": job.thickness_mm,
        "drills": [_step(step) for step in job.steps],
        "tap": job.tap,
        "grommet": job.grommet,
        "then": finish(job) if job.steps else None,
        "caution": f"{job.material} {CUTTING}" if job.hardens else None,
        "wrong": [_remark(remark, unit) for remark in job.wrong],
        "look_at": [_remark(remark, unit) for remark in job.look_at],
        "not_known": list(job.unknown),
    }


def _spot(spot: Spot) -> dict[str, Any]:
    return {"name": spot.name, "count": spot.many, "at_mm": spot.at, "lines": list(spot.lines)}


def _step(step: DrillStep) -> dict[str, Any]:
    speed, feed = step.speed, step.feed
    return {
        "tool": _tool(step),
        "drill": step.drill.name,
        "drill_mm": step.drill.mm,
        "rpm": speed.used_rpm if speed is not None else None,
        "rpm_low": speed.low_rpm if speed is not None else None,
        "rpm_high": speed.high_rpm if speed is not None else None,
        "rpm_set": step.set_rpm,
        "rpm_source": speed.mark if speed is not None else None,
        "feed_mm": feed.mm if feed is not None else None,
        "feed_source": feed.mark if feed is not None else None,
    }


def _tool(step: DrillStep) -> str:
    return "step drill or hole saw" if step.sheet_tool else "twist drill"


def _metal(found: MetalSpeed) -> dict[str, Any]:
    low, used, high, mark = found.surface
    return {
        "metal": found.name,
        "surface_m_min": used * 0.06,
        "surface_low_m_min": low * 0.06,
        "surface_high_m_min": high * 0.06,
        "source": mark,
        "hardens": found.hardens,
    }


def _remark(remark: Any, unit: str) -> dict[str, str]:
    return {"word": remark.word, "message": remark_text(remark, unit)}


def holes_csv(holes: HoleSchedule) -> str:
    """Return the hole schedule under a row of column names, one row for each drill of each kind of hole.

    Holes of which the diameter is not known have one row without a drill. An empty cell is not known or does not apply.
    """
    rows = [cells for job in holes.jobs for cells in _rows(job, holes.unit)]
    return "".join(record(cells) for cells in (COLUMNS, *rows))


def _rows(job: Job, unit: str) -> Iterator[tuple[str, ...]]:
    head = (
        job.what,
        text_cell(places(job, unit)),
        str(job.many) if job.many is not None else "",
        _number(job.mm),
        text_cell(remark_text(job.why, unit)),
        text_cell(job.material or ""),
        _number(job.thickness_mm),
    )
    tail = (
        text_cell(job.tap or ""),
        text_cell(job.grommet or ""),
        text_cell(finish(job)) if job.steps else "",
        text_cell("; ".join(remark_text(remark, unit) for remark in job.wrong)),
        text_cell("; ".join(job.unknown)),
        text_cell(job.source),
    )
    if not job.steps:
        yield (*head, *[""] * 9, *tail)
    for index, step in enumerate(job.steps, 1):
        yield (*head, str(index), *_drill(step), *tail)


def _drill(step: DrillStep) -> tuple[str, ...]:
    speeds = (step.speed.low_rpm, step.speed.used_rpm, step.speed.high_rpm) if step.speed is not None else [None] * 3
    feed = step.feed.mm if step.feed is not None else None
    numbers = (step.drill.mm, *speeds, step.set_rpm, feed)
    return (_tool(step), text_cell(step.drill.name), *map(_number, numbers))


def _number(value: float | None) -> str:
    if value is None:
        return ""
    return f"{value:.4f}".rstrip("0").rstrip(".")

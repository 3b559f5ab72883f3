"""Where the fluid goes: what each part takes, what hoses and lines contribute, stroke used and travel at the foot."""

from collections.abc import Iterator
from typing import Final

from fitcheck.hydraulics.contribution import Saved, knocked, runs, saved
from fitcheck.hydraulics.record import Answer, Stroke, Take, Travel
from fitcheck.hydraulics.spread import Amount, total
from fitcheck.reports.pedal_words import CAUSES, Shown, heading, outlet_name, share, table, volume
from fitcheck.reports.plain import paragraph

_EACH: Final = 4
_NONE: Final = 0.05
"""What takes less than this [mm3] even at the worst is not worth a row."""
BOUND: Final = (
    "* with an upper bound in it: not a figure of the hose but the limit it is made to, in proportion to pressure"
    " between those at which it is set; the range runs from nothing to the limit itself"
)


def volume_lines(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    """Yield the budget of each outlet, then what hoses and lines contribute, then the strokes."""
    for stroke in found.strokes:
        yield from _budget(found, stroke, shown, width)
    savings = saved(found)
    if savings:
        yield from heading("HOSES AND HARD LINES", width)
    for one in savings:
        yield from paragraph(_bought(found, one, shown), width, "  ", "    ")
    if found.strokes:
        yield from heading("STROKE", width)
        yield from table(*_strokes(found, shown), width)
        yield from _lacking(found, width)


def _budget(found: Answer, stroke: Stroke, shown: Shown, width: int) -> Iterator[str]:
    where = f"{outlet_name(found, stroke.outlet)} at {shown.pressure(stroke.pressure_mpa)}"
    yield from ("", *paragraph(f"FLUID TAKEN FROM {where}, mm3", width), "")
    lengths = {run.tag: run.length_mm for run in runs(found) if run.outlet == stroke.outlet}
    parts: dict[str, list[Take]] = {}
    for take in stroke.takes:
        if take.high_mm3 >= _NONE:
            parts.setdefault(take.tag, []).append(take)
    whole = total(stroke.takes)
    rows = [_part(tag, takes, lengths.get(tag), whole.value, shown) for tag, takes in parts.items()]
    rows.append(["together", *_cells(whole, whole.value)])
    yield from table(["what takes it", "takes", "from to", "of all"], rows, width)
    if whole.upper_bound:
        yield from paragraph(BOUND, width, "  ", "    ")


def _part(tag: str, takes: list[Take], length: float | None, whole: float, shown: Shown) -> list[str]:
    causes = [f"{CAUSES[take.cause]} {volume(take.mm3)}" for take in takes]
    long = f", {shown.length(length)}" if length is not None else ""
    return [f"{tag}{long}: {', '.join(causes)}", *_cells(total(takes), whole)]


def _cells(taken: Amount, whole: float) -> list[str]:
    low, high = volume(taken.low), volume(taken.high)
    part = f"{100.0 * taken.value / whole:.0f} %" if whole else ""
    mark = "*" if taken.upper_bound else ""
    return [f"{mark}{volume(taken.value)}", "" if low == high else f"{low} to {high}", part]


def _bought(found: Answer, one: Saved, shown: Shown) -> str:
    """Return what a hard line buys, in one sentence."""
    most = f", at most {volume(one.most_mm3)}" if one.at_most else ""
    saves = f"{'at most ' if one.at_most else ''}{volume(one.saves_mm3)} mm3"
    if one.stroke_mm is not None:
        saves += f": {shown.length(one.stroke_mm)} of stroke"
    if one.foot_mm is not None:
        saves += f", {shown.length(one.foot_mm)} at the foot"
    return (
        f"{outlet_name(found, one.outlet)}: {shown.length(one.hoses_mm)} of hose take {volume(one.hoses_mm3)} mm3"
        f" ({share(one.hoses_mm3 / one.all_mm3)}{most}), {shown.length(one.lines_mm)} of rigid line"
        f" {volume(one.lines_mm3)} mm3 ({share(one.lines_mm3 / one.all_mm3)}); rigid line in place of the hoses, where"
        f" nothing moves, would save {saves}"
    )


def _strokes(found: Answer, shown: Shown) -> tuple[list[str], list[list[str]]]:
    rows = []
    for one in found.strokes:
        used = shown.length(one.used_mm) if one.complete else f"more than {shown.length(one.used_mm)}"
        cells = [used, shown.lengths(one.spread_mm), shown.length(one.stroke_mm), share(one.reserve)]
        rows.append([outlet_name(found, one.outlet), *cells])
    return ["piston of", "goes", "over all assumptions", "its stroke", "left"], rows


def _lacking(found: Answer, width: int) -> Iterator[str]:
    if not all(one.complete for one in found.strokes):
        yield from paragraph("more than: something is missing, see NOT COMPUTED", width, "  ", "    ")


def travel_lines(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    """Yield how far the foot goes, and the curve over force."""
    if found.travels:
        yield from heading("PEDAL TRAVEL AT THE FOOT", width)
    for travel in found.travels:
        yield from paragraph(_travelled(travel, shown), width, "  ", "    ")
    back = knocked(found) if found.travels else None
    if back is not None:
        words = f"{shown.length(back.back_mm)} of knock-back at every caliper, which is not counted, would add"
        yield from paragraph(f"{words} {shown.length(back.foot_mm)} ({back.mark})", width, "  ", "    ")
    if found.lags:
        slowest = max(found.lags, key=lambda one: one.lag_s)
        thick = f"{slowest.fluid} as thick as allowed, {slowest.viscosity_mm2_s:g} mm2/s ({slowest.source})"
        words = f"at -40 degC {slowest.tag} follows the foot most slowly: six tenths of the pressure after"
        yield from paragraph(f"{words} {slowest.lag_s:.2f} s, lines and hoses alone, {thick}", width, "  ", "    ")
    if not found.curves:
        return
    yield ""
    refs = list(found.curves)
    points = list(zip(*found.curves.values(), strict=True))
    picked = [*points[:-1:_EACH], points[-1]]
    rows = [
        [shown.force(each[0][0]), *(shown.pressure(mpa) for _, mpa, _ in each), shown.length(each[0][2])]
        for each in picked
    ]
    yield from table(["on the brake pedal", *(found.names[ref] for ref in refs), "travel"], rows, width)


def _travelled(travel: Travel, shown: Shown) -> str:
    goes = shown.length(travel.foot_mm) if travel.complete else f"more than {shown.length(travel.foot_mm)}"
    spread = f" ({shown.lengths(travel.spread_mm)} over all assumptions)"
    floor = f"; floor at {shown.length(travel.floor_mm)}, {share(travel.reserve)} left" if travel.floor_mm else ""
    clutch = ", the clutch just free" if travel.drives == "clutch" else ""
    return f"{travel.drives} pedal{clutch}, {shown.force(travel.foot_n)}: {goes}{spread}{floor}"

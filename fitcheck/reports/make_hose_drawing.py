"""A hose drawn to scale as it hangs: its curve of least bending where its ends are nearest, and farthest apart."""

from collections.abc import Iterator
from typing import Final

from fitcheck.build.hose_curve import free_curve, outline
from fitcheck.making.hose_sheet import HosePose, HoseSheet
from fitcheck.measures import tape
from fitcheck.reports import svg_parts as svg

Block = tuple[list[str], float]
_SCALES: Final = tuple(step / 10.0**size for size in range(5) for step in (1.0, 0.5, 0.2))
_FULL: Final = svg.PAGE_MM - 2.0 * svg.MARGIN_MM
_PANEL: Final = _FULL / 2.0 - 3.0
_HIGH: Final = 70.0
_SIZE: Final = 3.0
_Spots = list[tuple[float, float]]


def hose_drawing(sheet: HoseSheet, unit: str, y: float) -> Block | None:
    """Return the drawing of a hose, beginning at `y`, and where it ends; None if it is not known how it hangs."""
    shown = list(_shown(sheet))
    if not shown:
        return None
    scale = next((each for each in _SCALES if all(_fits(spots, each) for _, _, spots in shown)), _SCALES[-1])
    body, y = svg.block(svg.MARGIN_MM, y + 4.0, _SIZE, _FULL, _words(scale))
    low = y
    for index, (name, pose, spots) in enumerate(shown):
        left = svg.MARGIN_MM + index * (_PANEL + 6.0)
        head = f"{name}, {pose.where}: {tape(pose.chord_mm, unit)} apart"
        part, top = svg.block(left, y + 2.0, _SIZE, _PANEL, head)
        body += [*part, *_curve(spots, pose.chord_mm, scale, left, top + 2.0)]
        low = max(low, top + 2.0 + max(at for _, at in spots) * scale + 6.0)
    return body, low


def _shown(sheet: HoseSheet) -> Iterator[tuple[str, HosePose, _Spots]]:
    """Yield what is drawn: both positions that govern, one if they are the same; none that the hose does not reach."""
    alike = sheet.near is not None and sheet.far is not None and sheet.near.chord_mm == sheet.far.chord_mm
    for name, pose in (("Nearest", sheet.near), ("Farthest", None if alike else sheet.far)):
        spots = _spots(sheet, pose)
        if pose is not None and spots:
            yield name if not alike else "As it is", pose, spots


def _words(scale: float) -> str:
    return (
        f"1 : {1.0 / scale:g}. How it bows when its ends may point where they like: which way it hangs, and how its end"
        " fittings lead it, is seen on the car. Dashed: straight from end to end."
    )


def _spots(sheet: HoseSheet, pose: HosePose | None) -> _Spots:
    """Return points along a hose in a position, y downwards [mm]; none if its curve is not known."""
    if pose is None or sheet.length_mm is None:
        return []
    curve = free_curve(sheet.length_mm, pose.chord_mm)
    return outline(curve) if curve is not None else []


def _fits(spots: _Spots, scale: float) -> bool:
    xs = [x for x, _ in spots]
    return (max(xs) - min(xs)) * scale <= _PANEL - 12.0 and max(y for _, y in spots) * scale <= _HIGH


def _curve(spots: _Spots, chord: float, scale: float, left: float, top: float) -> list[str]:
    shift = min(x for x, _ in spots)

    def place(x: float, y: float) -> tuple[float, float]:
        return left + 6.0 + (x - shift) * scale, top + y * scale

    path = svg.line([place(x, y) for x, y in spots], width=0.7)
    ends = [place(0.0, 0.0), place(chord, 0.0)]
    dots = [f'<circle cx="{svg.n(x)}" cy="{svg.n(y)}" r="0.9"/>' for x, y in ends]
    return [f'<g class="hose">{path}</g>', svg.line(ends, width=0.2, dash="1 0.8"), *dots]

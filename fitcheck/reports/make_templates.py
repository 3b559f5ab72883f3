"""Templates at 1:1 of what is flat of a tube, laid out on sheets of paper. Lengths in mm."""

from collections.abc import Iterator, Sequence
from itertools import product
from math import ceil
from typing import Final, NamedTuple

from fitcheck.build.curves import Arc, Piece, length_of, point_at
from fitcheck.making.sheet import Sheet
from fitcheck.measures import exact, tape
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.make_curve import Spot, direction
from fitcheck.reports.make_flat import OUTER_MM, Flat, edge, flat_runs
from fitcheck.reports.make_labels import Labels
from fitcheck.reports.make_words import degrees

OVERLAP_MM: Final = 12.0
"""How much neighbouring sheets of one template have in common."""
MOST_SHEETS: Final = 24
"""A template that would take more is not drawn."""
_PAD: Final = 14.0
"""Room round a template, for its labels."""
_HEAD: Final = 22.0
_FIGURE_LINES: Final = 2
_WIDE: Final = svg.PAGE_MM - 2.0 * svg.MARGIN_MM
_CROSS: Final = 4.0
_ALONG: Final = (0.12, 0.88)
"""Where on the side of a sheet its crosses are, as a share of that side."""
_MAP_MM: Final = 40.0
"""The most width that the map of the sheets takes."""
_NEAR: Final = 20.0
"""As far from the tube labels may lie: a sheet that is farther from it stays empty, and is not printed."""
_STEP: Final = 4.0
"""So short a piece of tube goes over every sheet that it comes near."""
MOST_COUNTED: Final = 999
"""Sheets are counted up to this; a template that takes more takes too many anyway."""

Cell = tuple[int, int]


class Tile(NamedTuple):
    """A piece of a template on one sheet of paper.

    `left`, `top` are where it begins within the template's own room, `width`, `height` how much of it is on the sheet;
    `column` and `row` count from 0. `room` is the height that a sheet has for a template.
    """

    laid: "Laid"
    column: int
    row: int
    left: float
    top: float
    width: float
    height: float
    room: float


class Laid(NamedTuple):
    """A flat run as it lies on paper: its room, in how many columns and rows of sheets.

    `origin` is where the run's own zero lies, from the upper left corner of its room, y downwards; `cells` are the
    sheets that show something of it, each by row and column.
    """

    flat: Flat
    width: float
    height: float
    columns: int
    rows: int
    origin: Spot
    cells: tuple[Cell, ...]


def laid_out(made: Sheet, high_mm: float) -> list[list[Tile]]:
    """Return the tiles of all flat runs of a line, sheet by sheet; `high_mm` is the room on a sheet.

    What fits on a sheet is put there whole, under others if there is room; what does not has sheets of its own, which
    overlap; those that would stay empty are left out. What is too large is left out: see `too_large`.
    """
    sheets: list[list[Tile]] = []
    used = high_mm
    for laid in _all_laid(made, high_mm):
        if _sheets(laid) > MOST_SHEETS:
            continue
        if _sheets(laid) > 1:
            sheets += [[tile] for tile in _tiles(laid, high_mm - _HEAD)]
            used = high_mm
            continue
        if used + laid.height + _HEAD > high_mm:
            sheets.append([])
            used = 0.0
        sheets[-1].append(Tile(laid, 0, 0, 0.0, 0.0, laid.width, laid.height, high_mm - _HEAD))
        used += laid.height + _HEAD
    return sheets


def too_large(made: Sheet, high_mm: float) -> list[str]:
    """Return a sentence for each flat run that would take too many sheets."""
    left_out = [laid for laid in _all_laid(made, high_mm) if _sheets(laid) > MOST_SHEETS]
    return [f"No template of {_name(laid.flat)}: it would take {_told(_sheets(laid))} sheets." for laid in left_out]


def _told(sheets: int) -> str:
    return str(sheets) if sheets <= MOST_COUNTED else f"more than {MOST_COUNTED}"


def _all_laid(made: Sheet, high_mm: float) -> list[Laid]:
    return [_laid(flat, high_mm - _HEAD) for flat in flat_runs(made)]


def _sheets(laid: Laid) -> int:
    return len(laid.cells)


def _name(flat: Flat) -> str:
    last = flat.first + len(flat.bends) - 1
    return f"bend {flat.first}" if flat.first == last else f"bends {flat.first} to {last}, which are flat"


def template_sheet(tiles: Sequence[Tile], tag: str, unit: str, y: float) -> tuple[list[str], float]:
    """Return the tiles of one sheet of paper, beginning at `y`, and where they end."""
    body: list[str] = []
    for tile in tiles:
        part, y = _head(tile, tag, unit, y)
        place = f'x="{svg.n(svg.MARGIN_MM)}" y="{svg.n(y)}" width="{svg.n(tile.width)}" height="{svg.n(tile.height)}"'
        box = f"{svg.n(tile.left)} {svg.n(tile.top)} {svg.n(tile.width)} {svg.n(tile.height)}"
        body += [*part, f'<svg class="tile" {place} viewBox="{box}">', *_drawn(tile.laid, tile.room), "</svg>"]
        y += tile.height
    return body, y


def _laid(flat: Flat, high: float) -> Laid:
    """Return a run laid the way that takes the fewest sheets, then the least height."""
    return min((_room(way, high) for way in flat.ways()), key=lambda laid: (_sheets(laid), laid.height))


def _room(flat: Flat, high: float) -> Laid:
    left, low, right, top = flat.extent()
    width, height = right - left + 2.0 * _PAD, top - low + 2.0 * _PAD
    # Rounded, so that the same shape lies the same way whatever the last digit of its corners is.
    width, height = round(width, 6), round(height, 6)
    columns, rows, origin = _count(width, _WIDE), _count(height, high), (_PAD - left, _PAD + top)
    return Laid(flat, width, height, columns, rows, origin, _cells(flat, origin, (rows, columns), high))


def _cells(flat: Flat, origin: Spot, grid: Cell, high: float) -> tuple[Cell, ...]:
    """Return the sheets that the tube or a label of it may be on; of very many only so many that it is too large.

    What two sheets have in common is on both, so that those of one run join.
    """
    near = flat.od_mm / 2.0 + _NEAR
    found: set[Cell] = set()

    def met(corners: Sequence[Spot], more: float) -> tuple[range, range]:
        across, down = [x for x, _ in corners], [y for _, y in corners]
        rows = _met(min(down) - more, max(down) + more, high, grid[0])
        return rows, _met(min(across) - more, max(across) + more, _WIDE, grid[1])

    def spot(piece: Piece, share: float) -> Spot:
        x, y, _ = point_at(piece, share)
        return origin[0] + x, origin[1] - y

    for piece in flat.curve:
        whole = length_of(piece)
        parts = [(0.0, 1.0)]
        while parts and len(found) <= MOST_COUNTED:
            start, end = parts.pop()
            middle, ends = spot(piece, (start + end) / 2.0), (spot(piece, start), spot(piece, end))
            # An arc leaves the box of its ends and its middle by less than a quarter of its length.
            round_it = met((*ends, middle), near + (0.25 * whole * (end - start) if isinstance(piece, Arc) else 0.0))
            if round_it == met((middle,), near) or whole * (end - start) <= _STEP:
                found.update(product(*round_it))
            else:
                parts += [(start, (start + end) / 2.0), ((start + end) / 2.0, end)]
    return tuple(sorted(found))


def _met(low: float, high: float, size: float, count: int) -> range:
    """Return which of so many sheets of one size, side by side, have anything of what lies between two places."""
    pitch = size - OVERLAP_MM
    return range(max(0, ceil((low - size) / pitch)), min(count, int(high / pitch) + 1))


def _count(size: float, room: float) -> int:
    return max(1, ceil((size - OVERLAP_MM) / (room - OVERLAP_MM)))


def _tiles(laid: Laid, high: float) -> Iterator[Tile]:
    for row, column in laid.cells:
        left, top = column * (_WIDE - OVERLAP_MM), row * (high - OVERLAP_MM)
        shown = min(_WIDE, laid.width - left), min(high, laid.height - top)
        yield Tile(laid, column, row, left, top, *shown, high)


def _head(tile: Tile, tag: str, unit: str, y: float) -> tuple[list[str], float]:
    """Return what a template is of, which sheet of it this is, and where its drawing begins."""
    laid, flat, count = tile.laid, tile.laid.flat, _sheets(tile.laid)
    wide = _WIDE - (_MAP_MM + 2.0 if count > 1 else 0.0)
    body = [svg.text(svg.MARGIN_MM, y + 4.5, 3.8, f"{tag}, {_name(flat)}, 1 : 1", bold=True)]
    part, down = svg.block(svg.MARGIN_MM, y + 9.0, 3.0, wide, _figures(flat, unit))
    if len(part) > _FIGURE_LINES:
        part, down = svg.block(svg.MARGIN_MM, y + 9.0, 3.0, wide, "Angles and radii: see the table of bends.")
    body += part
    body.append(svg.text(svg.MARGIN_MM, down, 3.0, _drawn_of(flat, unit)))
    if count > 1:
        here = laid.cells.index((tile.row, tile.column)) + 1
        told = f"Part {here} of {count}: row {tile.row + 1}, column {tile.column + 1}. Lay cross on cross, then tape."
        body.append(svg.text(svg.MARGIN_MM, down + 4.2, 3.0, told, bold=True))
        body += _map(tile, svg.PAGE_MM - svg.MARGIN_MM, y + 1.0)
    return body, y + _HEAD


def _figures(flat: Flat, unit: str) -> str:
    told = (
        f"bend {index}: {degrees(bend.angle_deg)}, radius {exact(bend.radius_mm, unit)}"
        for index, bend in enumerate(flat.bends, flat.first)
    )
    return "; ".join(told)


def _drawn_of(flat: Flat, unit: str) -> str:
    """Return how much of the outer straights is drawn."""
    told = []
    for whole, length, end in ((flat.at_a, flat.before_mm, "A"), (flat.at_b, flat.after_mm, "B")):
        if whole:
            told.append(f"{end}: the finished face")
        elif length > OUTER_MM:
            told.append(f"to {end}: {tape(OUTER_MM, unit)} drawn of {tape(length, unit)} straight")
        else:
            told.append(f"to {end}: all of the straight to the next bend")
    return "; ".join(told)


def _map(tile: Tile, right: float, y: float) -> Iterator[str]:
    """Yield a small map of the sheets, this one black."""
    wide, side = min(5.0, _MAP_MM / tile.laid.columns), min(5.0, (_HEAD - 2.0) / tile.laid.rows)
    x = right - tile.laid.columns * wide
    for row, column in tile.laid.cells:
        fill = "#000" if (row, column) == (tile.row, tile.column) else "#fff"
        place = f'x="{svg.n(x + column * wide)}" y="{svg.n(y + row * side)}"'
        place += f' width="{svg.n(wide)}" height="{svg.n(side)}"'
        yield f'<rect {place} fill="{fill}" stroke="#000" stroke-width="0.2"/>'


def _drawn(laid: Laid, high: float) -> Iterator[str]:
    """Yield a template in its own room."""
    flat, (x, y) = laid.flat, laid.origin
    yield f'<g transform="translate({svg.n(x)} {svg.n(y)})" fill="none" stroke="#000">'
    for side in (flat.od_mm / 2.0, -flat.od_mm / 2.0):
        yield f'<path class="edge" d="{edge(flat, side)}" stroke-width="0.25"/>'
    yield f'<path class="centre-line" d="{edge(flat, 0.0)}" stroke-width="0.2" stroke-dasharray="6 1.2 1.2 1.2"/>'
    yield "</g>"
    yield from _across(laid)
    yield from _labels(laid)
    if _sheets(laid) > 1:
        yield from _crosses(laid, high)


def _on(laid: Laid, piece: Piece, share: float, side: float = 0.0) -> Spot:
    """Return where a spot `side` mm to the left of a piece lies in the template's room."""
    x, y, _ = point_at(piece, share)
    along = direction(piece, share)
    return laid.origin[0] + x - along[1] * side, laid.origin[1] - y - along[0] * side


def _across(laid: Laid) -> Iterator[str]:
    """Yield a line across the tube where each bend starts and ends, and at both ends of what is drawn."""
    flat = laid.flat
    reach = flat.od_mm / 2.0 + 2.0
    for arc in (piece for piece in flat.curve if isinstance(piece, Arc)):
        for share in (0.0, 1.0):
            ends = [_on(laid, arc, share, reach), _on(laid, arc, share, -reach)]
            yield f'<g class="across">{svg.line(ends, width=0.2)}</g>'
    for piece, share, whole in ((flat.curve[0], 0.0, flat.at_a), (flat.curve[-1], 1.0, flat.at_b)):
        ends = [_on(laid, piece, share, side * flat.od_mm / 2.0) for side in (1.0, -1.0)]
        yield svg.line(ends, width=0.5 if whole else 0.2, dash="" if whole else "1 0.8")


def _labels(laid: Laid) -> Iterator[str]:
    flat = laid.flat
    tube = [_on(laid, piece, step / 12.0) for piece in flat.curve for step in range(13)]
    labels = Labels(tube, flat.od_mm / 2.0, (5.0, 3.0, laid.width - 5.0, laid.height - 3.0))
    ends = (
        (flat.curve[0], 0.0, -1.0, "A" if flat.at_a else "to A"),
        (flat.curve[-1], 1.0, 1.0, "B" if flat.at_b else "to B"),
    )
    for piece, share, sign, name in ends:
        x, y, _ = direction(piece, share)
        yield from labels.add(name, _on(laid, piece, share), (sign * x, -sign * y), boxed=True)
    index = flat.first
    for piece in flat.curve:
        if isinstance(piece, Arc):
            at, middle = _on(laid, piece, 0.5), (laid.origin[0] + piece.centre[0], laid.origin[1] - piece.centre[1])
            yield from labels.add(str(index), at, (at[0] - middle[0], at[1] - middle[1]))
            index += 1


def _crosses(laid: Laid, high: float) -> Iterator[str]:
    """Yield a line with crosses in the middle of what neighbouring sheets have in common."""
    across, down, cells = _WIDE - OVERLAP_MM, high - OVERLAP_MM, set(laid.cells)
    for row, column in laid.cells:
        left, right = column * across, min(column * across + _WIDE, laid.width)
        top, bottom = row * down, min(row * down + high, laid.height)
        if (row, column - 1) in cells:
            x = left + OVERLAP_MM / 2.0
            yield svg.line([(x, top), (x, bottom)], width=0.1, dash="1 2")
            yield from (_cross(x, top + share * (bottom - top)) for share in _ALONG)
        if (row - 1, column) in cells:
            y = top + OVERLAP_MM / 2.0
            yield svg.line([(left, y), (right, y)], width=0.1, dash="1 2")
            yield from (_cross(left + share * (right - left), y) for share in _ALONG)


def _cross(x: float, y: float) -> str:
    place = f'cx="{svg.n(x)}" cy="{svg.n(y)}" r="{svg.n(_CROSS / 2.0)}"'
    arms = [
        svg.line([(x - _CROSS, y), (x + _CROSS, y)], width=0.2),
        svg.line([(x, y - _CROSS), (x, y + _CROSS)], width=0.2),
    ]
    return f'<g class="cross">{"".join(arms)}<circle {place} fill="none" stroke="#000" stroke-width="0.2"/></g>'

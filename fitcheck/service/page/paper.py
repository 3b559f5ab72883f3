"""The page on paper: which of its parts are printed, from which files it was made, a drawing cut to pages.

A drawing's unit is a millimetre and its smallest words are 2 mm high, so it is printed at full size, which keeps its
scale true, on as many pages as that takes; they can be glued together. The pages fit A4 and letter paper, standing or
lying.
"""

import re
from collections.abc import Iterator
from datetime import date
from math import ceil
from posixpath import dirname, relpath
from typing import Final, Literal, NamedTuple
from urllib.parse import urlencode

from fitcheck.reports.pack.markup import in_style
from fitcheck.reports.pack.record import Revision, revision
from fitcheck.reports.plain import visible
from fitcheck.service.page.snapshot import Snapshot

Way = Literal["lying", "standing"]
ON_PAPER: Final = (
    ("findings", "Findings", True),
    ("unchecked", "Not checked", True),
    ("joints", "Joints", False),
    ("bill", "Parts and cost", True),
    ("purchase", "Purchase", True),
    ("sheets", "Bench sheets", False),
    ("pedal", "Pedal", True),
    ("panel", "What is looked at", True),
    ("tiles", "Drawing", True),
)
"""What can be printed: its id in the page, its name, whether it is unless the reader says otherwise."""
_ROOM_MM: Final[dict[Way, tuple[float, float]]] = {"lying": (258.0, 178.0), "standing": (190.0, 244.0)}
"""Room of a page on both papers within margins of 10 mm, without the line over the drawing."""
FOOT: Final = "/page/foot.css"
_MOST_SAID: Final = 200
_OVERLAP_MM: Final = 12.0
_MOST_PAGES: Final = 8
_SHRINK: Final = 0.95
_HEAD: Final = re.compile(r'<svg viewBox="0 0 ([\d.]+) ([\d.]+)"')
_BODY: Final = re.compile(r' data-body="([\d.]+)"')


class Tile(NamedTuple):
    """One page of a drawing: the window of the drawing that it shows, and its size on paper, in mm.

    `number` of `pages`, row by row; `beside` and `below` say whether the drawing goes on there.
    """

    box: tuple[float, float, float, float]
    wide: float
    high: float
    way: Way
    number: int
    pages: int
    beside: bool
    below: bool

    @property
    def words(self) -> str:
        """Which page of the drawing it is, and how it goes on."""
        on = " and ".join(word for word, there in (("to the right", self.beside), ("below", self.below)) if there)
        if self.pages == 1:
            return ""
        goes = f"; goes on {on}" if on else ""
        return f"page {self.number} of {self.pages} of the drawing{goes}; neighbours share {_OVERLAP_MM:g} mm"


class _Grid(NamedTuple):
    """Pages of a drawing side by side and below each other."""

    columns: int
    rows: int
    way: Way
    scale: float


def tiles(svg: str) -> tuple[Tile, ...]:
    """Return the pages that a drawing of the page is printed on; none if it is no drawing.

    Words under the drawing that the page has elsewhere (`data-body` says where they begin) are left out.
    """
    head = _HEAD.search(svg)
    if head is None:
        return ()
    body = _BODY.search(svg)
    return tuple(cut(float(head[1]), float((body or head)[1 if body else 2])))


def cut(width: float, height: float) -> Iterator[Tile]:
    """Yield the pages of a drawing of a size [mm], row by row: the fewest at full size, or smaller on what may be.

    >>> [(each.box, each.way) for each in cut(300.0, 100.0)]
    [((0.0, 0.0, 156.0, 100.0), 'lying'), ((144.0, 0.0, 156.0, 100.0), 'lying')]
    """
    grid = _grid(width, height)
    overlap = _OVERLAP_MM / grid.scale
    wide = (width + (grid.columns - 1) * overlap) / grid.columns
    high = (height + (grid.rows - 1) * overlap) / grid.rows
    for row in range(grid.rows):
        for column in range(grid.columns):
            box = (column * (wide - overlap), row * (high - overlap), wide, high)
            yield Tile(
                (round(box[0], 2), round(box[1], 2), round(wide, 2), round(high, 2)),
                round(wide * grid.scale, 1),
                round(high * grid.scale, 1),
                grid.way,
                row * grid.columns + column + 1,
                grid.columns * grid.rows,
                column + 1 < grid.columns,
                row + 1 < grid.rows,
            )


def _grid(width: float, height: float) -> _Grid:
    least = 1.0
    while (found := min(_grids(width, height, least)))[0] > _MOST_PAGES:
        least *= _SHRINK
    return found[2]


def _grids(width: float, height: float, least: float) -> Iterator[tuple[int, float, _Grid]]:
    """Yield for either way of the paper how many pages a scale takes, and their grid, at the largest scale up to 1."""
    for way, (across, down) in _ROOM_MM.items():
        columns, rows = _pieces(width * least, across), _pieces(height * least, down)
        room = [many * (each - _OVERLAP_MM) + _OVERLAP_MM for many, each in ((columns, across), (rows, down))]
        scale = min(room[0] / width, room[1] / height, 1.0)
        yield columns * rows, -scale, _Grid(columns, rows, way, scale)


def _pieces(length: float, room: float) -> int:
    return max(1, ceil((length - _OVERLAP_MM) / (room - _OVERLAP_MM)))


def foot_address(name: str, words: str) -> str:
    """Return where the style is that puts a line under each page on paper: what is printed, and its revision."""
    return f"{FOOT}?{urlencode({'says': f'{visible(name)}, {words}'[:_MOST_SAID]})}"


def foot_style(says: str) -> str:
    r"""Return the style that puts a line under each page on paper.

    >>> foot_style('A "car", revision 0123')
    '@page{@bottom-left{content:"A \\22 car\\22 , revision 0123";font:8pt sans-serif}}'
    """
    return f'@page{{@bottom-left{{content:"{in_style(says[:_MOST_SAID])}";font:8pt sans-serif}}}}'


def revision_of(now: Snapshot, on: date) -> Revision:
    """Return the revision of what is shown: the same hash as `fitcheck pack` gives to the same files."""
    folder = dirname(now.build) or "."
    files = [(relpath(name, folder), file.text.encode()) for name, file in now.files.items()]
    return revision(files, on, now.variant or None)

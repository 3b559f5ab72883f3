"""The tube laid straight beside a ruler, to scale, with the marks on it. Lengths in mm."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from fitcheck.making.sheet import Sheet
from fitcheck.measures import number, tape
from fitcheck.reports import svg_parts as svg

INCH_MM: Final = 25.4
_SCALES: Final = tuple(step / 10.0**size for size in range(9) for step in (1.0, 0.5, 0.2))
_MOST_ROWS: Final = 2
_ROW: Final = {"mm": 170.0, "in": 6.0 * INCH_MM}
"""Length of a row on paper; a row ends at a whole figure of the ruler at every scale."""
_STEPS: Final = tuple(step * 10.0**size for size in range(10) for step in (1.0, 2.0, 5.0))
_INCH_DIVISIONS: Final = (16, 8, 4, 2, 1)
_DIVISIONS: Final = (10, 5, 4, 2, 1)
_LEAST_TICK: Final = 0.9
_LEAST_FIGURE: Final = 9.0
_BAND: Final = 4.0
_LEVEL: Final = 5.0
_SIZE: Final = 3.6
_FULL: Final = svg.PAGE_MM - 2.0 * svg.MARGIN_MM
_LEFT: Final = svg.MARGIN_MM + 3.0


class _Row(NamedTuple):
    """One row of the ruler: what it spans of the tube, where its tube band begins, mm on paper for each of the tube."""

    start: float
    end: float
    top: float
    scale: float

    def x(self, mm: float) -> float:
        """Return where a length from end A lies on paper, kept within the row."""
        return _LEFT + (min(max(mm, self.start), self.end) - self.start) * self.scale

    def holds(self, mm: float) -> bool:
        """Return whether a length from end A lies in the row."""
        return self.start <= mm <= self.end


def strip(made: Sheet, unit: str, y: float) -> tuple[list[str], float]:
    """Return the strip of a line that can be made, beginning at `y`, and where it ends."""
    run, whole = made.run_mm or 0.0, _whole(made)
    reach = max([whole, *(bend.mark_mm for bend in made.bends)])
    room = _ROW[unit]
    scale = next((each for each in _SCALES if reach * each <= _MOST_ROWS * room), _SCALES[-1])
    body, y = svg.block(svg.MARGIN_MM, y + 4.0, 3.2, _FULL, _words(made, unit, scale))
    count = max(1, -int(-reach * scale // room))
    for index in range(count):
        start = index * room / scale
        marks = _facing(_marks(made, unit, _Row(start, start + room / scale, 0.0, scale), index == count - 1))
        levels = _levels(marks)
        row = _Row(start, start + room / scale, y + 2.0 + _LEVEL * (1 + max(levels, default=0)), scale)
        body.append(f'<g class="strip-row">{"".join(_row(made, unit, row, run, whole))}</g>')
        for mark, level in zip(marks, levels, strict=True):
            body += _mark(mark, row, level)
        y = row.top + _BAND + 9.0
    return body, y


class _Mark(NamedTuple):
    """A pencil mark: where it is on the tube and on paper, what it says; `turned` words stand on its left."""

    number: int
    mm: float
    x: float
    words: str
    turned: bool = False

    @property
    def wide(self) -> float:
        """Return how much its words take."""
        return len(self.words) * _SIZE * 0.6 + 2.3

    @property
    def left(self) -> float:
        """Return where mark and words begin."""
        return self.x - self.wide if self.turned else self.x

    @property
    def right(self) -> float:
        """Return where mark and words end."""
        return self.x if self.turned else self.x + self.wide


def _whole(made: Sheet) -> float:
    """Return the tube there is while it is marked, from the finished face of end A."""
    run = made.run_mm or 0.0
    if made.flare_b in ("before bends", "ready") or made.ends is None:
        return run
    return run + made.ends[1].allowance_mm + made.trim_mm


def _words(made: Sheet, unit: str, scale: float) -> str:
    ratio = "1 : 1" if scale == 1.0 else f"1 : {1.0 / scale:g}"
    ruler = "an inch" if unit == "in" else "a millimetre"
    words = f"The straight tube beside {ruler} ruler, {ratio}: measure with your tape, not with this picture."
    if made.clips is not None and made.clips.clips:
        words += " Black diamonds: clips."
    if not made.bends:
        return words
    words += " Marks from the finished face of end A. Grey: what becomes the bend."
    return words + (" Dashed, at end B: goes into the flare, or off." if _whole(made) > (made.run_mm or 0) else "")


def _marks(made: Sheet, unit: str, row: _Row, last: bool) -> list[_Mark]:
    found = []
    for index, bend in enumerate(made.bends, 1):
        at = bend.mark_mm
        if row.start <= at < row.end or (last and at == row.end) or (at < 0.0 and row.start == 0.0):
            found.append(_Mark(index, at, row.x(at), f"{index}: {tape(at, unit)}"))
    return found


def _facing(marks: list[_Mark]) -> list[_Mark]:
    """Return marks in order along the row, with words on the left where there is no room on the right."""
    found: list[_Mark] = []
    for mark in sorted(marks, key=lambda mark: -mark.x):
        blocked = bool(found) and found[-1].turned and mark.right > found[-1].x - 1.0
        room = mark.x - mark.wide >= 0.0
        found.append(mark._replace(turned=(blocked and room) or mark.right > svg.PAGE_MM - 1.0))
    return found[::-1]


def _levels(marks: list[_Mark]) -> list[int]:
    """Return how high the words of each mark stand, so that none covers another's words or line.

    Words on the right stand above the marks that they reach to, words on the left above those behind them.
    """
    found = [0] * len(marks)
    lefts: list[float] = []
    for index in reversed([index for index, mark in enumerate(marks) if not mark.turned]):
        mark = marks[index]
        found[index] = next((level for level, left in enumerate(lefts) if mark.right <= left), len(lefts))
        lefts = [mark.x - 1.0] * (found[index] + 1) + lefts[found[index] + 1 :]
    for index, mark in enumerate(marks):
        if mark.turned:
            behind = [found[other] for other in range(index) if marks[other].right > mark.left - 1.0]
            found[index] = max(behind, default=-1) + 1
    for index, mark in enumerate(marks):  # next to end A there may be no room on the left
        over = [found[other] for other in range(index + 1, len(marks)) if marks[other].x - 1.0 < mark.right]
        if not mark.turned and any(other.turned for other in marks):
            found[index] = max([found[index], *(level + 1 for level in over)])
    return found


def _mark(mark: _Mark, row: _Row, level: int) -> Iterator[str]:
    top = row.top - 1.5 - level * _LEVEL
    line = svg.line([(mark.x, top - 3.0), (mark.x, row.top + _BAND)], width=0.5)
    yield f'<g class="mark">{line}</g>'
    if mark.turned:
        place = f'x="{svg.n(mark.left)}" y="{svg.n(top - _SIZE)}"'
        yield f'<rect {place} width="{svg.n(mark.wide - 0.4)}" height="{svg.n(_SIZE)}" fill="#fff"/>'
        yield svg.text(mark.x - 0.8, top, _SIZE, mark.words, anchor="end", bold=True)
    else:
        yield svg.text(mark.x + 0.8, top, _SIZE, mark.words, bold=True)


def _row(made: Sheet, unit: str, row: _Row, run: float, whole: float) -> Iterator[str]:
    if run > row.start:
        yield _band(row, row.start, run, 'fill="#fff" stroke="#000" stroke-width="0.3"')
    for bend in made.bends:
        if bend.start_mm < row.end and bend.start_mm + bend.arc_mm > row.start:
            yield _band(row, bend.start_mm, bend.start_mm + bend.arc_mm, 'fill="#ccc" stroke="#000" stroke-width="0.1"')
    if whole > max(run, row.start) and run < row.end:
        yield _band(row, run, whole, 'fill="none" stroke="#000" stroke-width="0.3" stroke-dasharray="1 0.8"')
    clips = made.clips.clips if made.clips is not None else ()
    yield from (_clip(row, clip.mm) for clip in clips if row.holds(clip.mm))
    yield from _ruler(unit, row, max(whole, run))
    middle = row.top + _BAND / 2.0 + 1.3
    if row.start == 0.0:
        yield svg.text(_LEFT - 1.0, middle, 4.0, "A", anchor="end", bold=True)
    if row.start < whole <= row.end:
        yield svg.text(row.x(whole) + 1.2, middle, 4.0, "B", bold=True)


def _clip(row: _Row, mm: float) -> str:
    x, y = row.x(mm), row.top + _BAND / 2.0
    corners = [(x, y - 1.6), (x + 1.2, y), (x, y + 1.6), (x - 1.2, y)]
    return f'<path class="clip" d="{svg.path_data(corners, closed=True)}"/>'


def _band(row: _Row, start: float, end: float, look: str) -> str:
    left, right = row.x(start), row.x(end)
    place = f'x="{svg.n(left)}" y="{svg.n(row.top)}" width="{svg.n(right - left)}" height="{svg.n(_BAND)}"'
    return f"<rect {place} {look}/>"


def _ruler(unit: str, row: _Row, end: float) -> Iterator[str]:
    """Yield ticks and figures under the tube, as far as the tube goes."""
    one = INCH_MM if unit == "in" else 1.0
    step = next((each for each in _STEPS if each * one * row.scale >= _LEAST_FIGURE), _STEPS[-1])
    part = next((each for each in _divisions(unit, step) if step * one * row.scale / each >= _LEAST_TICK), 1)
    low = row.top + _BAND
    first = round(row.start / one * part / step)
    index = first
    while (at := index * step * one / part) <= min(row.end, end) + 1e-6:
        long = 3.0 if index % part == 0 else 2.0 if part % 2 == 0 and index % (part // 2) == 0 else 1.2
        yield svg.line([(row.x(at), low), (row.x(at), low + long)], width=0.15)
        if index % part == 0:
            yield svg.text(row.x(at), low + 6.0, 2.8, number(at / one), anchor="middle")
        index += 1


def _divisions(unit: str, step: float) -> tuple[int, ...]:
    """Return into how many parts the distance of two figures may be cut: parts of an inch, else whole or half units."""
    if unit == "in" and step == 1.0:
        return _INCH_DIVISIONS
    return tuple(each for each in _DIVISIONS if (2.0 * step / each).is_integer())

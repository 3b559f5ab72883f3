"""The threads that a measured fitting can be, drawn to print and hold against: at 1:1, 2:1 and 5:1."""

from typing import Final

from fitcheck.measures import number
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.svg_parts import MARGIN_MM, PAGE_MM
from fitcheck.standards.threads import Thread
from fitcheck.standards.threads.identify import Identified, crest_band
from fitcheck.standards.threads.profile import Section, outline, section
from fitcheck.standards.threads.tell_apart import confusions

_DRAWN: Final = ((2, 10), (1, 10), (5, 2))
"""Scales, and how many pitches are drawn at each."""
_COLUMN: Final = 60.0

_ROWS: Final = 5
_SOLID_MM: Final = 3.0
"""Metal drawn under the roots, on paper [mm]."""
_BAR_MM: Final = 50.0
_FULL: Final = PAGE_MM - 2 * MARGIN_MM


def identify_svg(found: Identified) -> str:
    """Return the likeliest threads and their look-alikes as SVG text, one unit a millimetre on paper.

    Each is drawn over ten pitches at 2:1 and at 1:1, over two at 5:1. The paths of class `comb` are in
    millimetres of the part. An internal thread is drawn as the impression that it leaves. Same input, same text.
    """
    threads = _threads(found)
    body, y = _head(found)
    coarsest = max(thread.pitch_mm for thread, _ in threads)
    for thread, words in threads:
        part, y = _row(thread, words, found.reading.internal, y, coarsest)
        body += part
    part, y = svg.caution(y + 2.0)
    patterns = [svg.hatching(f"at-{scale}", "#dcdcdc", 45.0, 1.5 / scale, 0.13 / scale) for scale, _ in _DRAWN]
    title = ", ".join(thread.designation for thread, _ in threads)
    return svg.page(y, title, patterns, [*body, *part])


def _threads(found: Identified) -> list[tuple[Thread, str]]:
    """Return what is drawn, with words: the candidates, then what the likeliest is taken for; else the nearest."""
    rows = [(each.thread, f"{max(each.share_percent, 1.0):.0f} %") for each in found.candidates]
    rows = rows or [(each.thread, "nearest, but does not fit the reading") for each in found.nearest]
    drawn = {thread for thread, _ in rows}
    rows += [(each.other, "look-alike") for each in confusions(found) if each.other not in drawn]
    return rows[:_ROWS]


def _head(found: Identified) -> tuple[list[str], float]:
    read = found.reading
    side = "internal" if read.internal else "external"
    title = f"Print and hold against: {side} thread, {number(read.crest_mm)} mm, pitch {number(read.pitch_mm, 3)} mm"
    body, y = svg.block(MARGIN_MM, 9.0, 4.6, _FULL, title, bold=True)
    words = f"{_BAR_MM:g} mm: measure this bar first. If it is not {_BAR_MM:g} mm long, print again at 100 %."
    body += svg.scale_bar(MARGIN_MM, y + 1.0, _BAR_MM, words)
    part, y = svg.block(MARGIN_MM, y + 7.5, 2.9, _FULL, _how(read.internal))
    return body + part, y + 3.0


def _how(internal: bool) -> str:
    words = (
        "1:1: hold the thread on the teeth and look along them against the light; the right one drops into all ten"
        " gaps, a wrong one climbs out towards an end. 2:1 and 5:1 are for the eye: how many threads to a length, how"
        " steep the flanks, how round the roots."
    )
    if internal:
        return f"{words} An internal thread is drawn as its impression: press soft wax or clay into it and hold that."
    return words


def _row(thread: Thread, words: str, internal: bool, y: float, coarsest: float) -> tuple[list[str], float]:
    """Return one thread at every scale, beginning at `y`, and where the row ends; columns suit the coarsest pitch."""
    shape = section(thread, internal, most_metal=True)
    low, high = crest_band(thread, internal)
    taper = "; taper, drawn at its gauge plane" if thread.taper else ""
    head = f"{thread.designation}: {words}"
    figures = f"crests {low:.2f} to {high:.2f} mm, {number(thread.flank_deg)} degrees{taper}"
    body = [
        svg.line([(MARGIN_MM, y - 2.0), (PAGE_MM - MARGIN_MM, y - 2.0)], width=0.1),
        svg.text(MARGIN_MM, y + 2.6, 3.8, head, bold=True),
        svg.text(PAGE_MM - MARGIN_MM, y + 2.6, 2.9, figures, anchor="end"),
    ]
    down = y + 11.0 + _DRAWN[-1][0] * (shape.crest_mm[0] - shape.crest_mm[1]) + _SOLID_MM
    x = MARGIN_MM
    for scale, pitches in _DRAWN:
        body += _comb(shape, x, down, scale, pitches)
        x += max(scale * pitches * coarsest + 3.0, _COLUMN if scale > 1 else _COLUMN * 0.75)
    return body, down + 6.0


def _comb(shape: Section, x: float, down: float, scale: int, pitches: int) -> list[str]:
    """Return some pitches of a thread as a comb that stands on `down`, with its length over it."""
    length = pitches * shape.pitch_mm
    most, least = shape.crest_mm
    base = least - _SOLID_MM / scale
    comb = outline(shape, length)
    end = length / 2.0
    closed = svg.path_data([*comb, (end, base), (-end, base)], closed=True)
    width = length * scale
    words = f"{pitches} pitches {length:.2f} mm" + (f", drawn {width:.2f}" if scale == 2 else "")
    rise = down - (most - base) * scale - 1.5
    return [
        svg.text(x, rise - 1.8, 2.6, f"{scale}:1, {words}"),
        svg.line([(x, rise), (x + width, rise)], width=0.15),
        svg.line([(x, rise - 1.0), (x, rise + 1.0)], width=0.15),
        svg.line([(x + width, rise - 1.0), (x + width, rise + 1.0)], width=0.15),
        f'<g class="at-{scale}" transform="translate({svg.n(x + width / 2.0)} {svg.n(down + base * scale)})'
        f' scale({scale} {-scale})"><path class="comb" d="{closed}" fill="url(#at-{scale})" stroke="#000"'
        f' stroke-width="{svg.n(0.2 / scale)}" stroke-linejoin="round"/></g>',
    ]

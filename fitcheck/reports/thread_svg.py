"""Two threads in section, to scale, at their tightest and their loosest, as a drawing to print."""

from math import isinf
from typing import Final, NamedTuple

from fitcheck.measures import number
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.thread_words import DANGER, OUTCOME
from fitcheck.standards.threads import Fit, Limits, dangerous
from fitcheck.standards.threads.profile import Point, Section, engaged_outlines, overlaps, section, whole_turns

_SCALES: Final = (50.0, 30.0, 20.0, 15.0, 10.0, 7.5, 5.0, 3.0, 2.0, 1.0, 0.5)
_DRAWN_WIDTH: Final = 122.0
_DRAWN_HEIGHT: Final = 52.0
_BACK_MM: Final = 0.35
"""How much solid metal is shown behind the roots, in pitches."""
_LABEL_STEP: Final = 3.9
_EASILY_SEEN: Final = 0.8
"""Black at least this thick on paper needs no ring round it [mm]."""
_RING: Final = 1.6
_FULL: Final = svg.PAGE_MM - 2 * svg.MARGIN_MM


class _View(NamedTuple):
    """What one panel shows: both lines, and where they cut into each other. Millimetres of the part."""

    name: str
    external: Section
    internal: Section
    lines: tuple[tuple[Point, ...], tuple[Point, ...]]
    clashes: tuple[tuple[Point, ...], ...]

    @property
    def length_mm(self) -> float:
        return self.lines[0][-1][0] - self.lines[0][0][0]


def thread_svg(external: Limits, internal: Limits, met: Fit) -> str:
    """Return the section of `external` in `internal` as SVG text, one unit a millimetre on paper.

    The upper panel has most metal (largest external, smallest internal), the lower one least. Paths of the classes
    `external`, `internal` and `clash` are in millimetres of the part: x along the axis from the middle of the
    length of engagement [mm], y the radius. Same input, same text.
    """
    views = [_view(external, internal, most, met.engagement_mm) for most in (True, False)]
    low, high = _window(views)
    length = views[0].length_mm
    fitting = (each for each in _SCALES if length * each <= _DRAWN_WIDTH and (high - low) * each <= _DRAWN_HEIGHT)
    scale = next(fitting, _SCALES[-1])
    body, y = _head(external, internal, met)
    for view in views:
        part, y = _panel(view, external, internal, met, y, scale, (low, high))
        body += part
    part, y = _foot(external, internal, met.engagement_mm, y, scale)
    spacing = 1.5 / scale
    patterns = [
        svg.hatching("of-external", "#dcdcdc", 45.0, spacing, 0.13 / scale),
        svg.hatching("of-internal", "#f4f4f4", -45.0, spacing * 1.8, 0.13 / scale),
        svg.hatching("key-external", "#dcdcdc", -45.0, 1.5, 0.13),
        svg.hatching("key-internal", "#f4f4f4", 45.0, 2.7, 0.13),
    ]
    title = f"{external.thread.designation} into {internal.thread.designation}: {OUTCOME[met.verdict]}"
    return svg.page(y, title, patterns, [*body, *part])


def _view(external: Limits, internal: Limits, most: bool, length: float) -> _View:
    inner, outer = section(external.thread, False, most), section(internal.thread, True, most)
    lines = engaged_outlines(inner, outer, length)
    return _View("Tightest" if most else "Loosest", inner, outer, lines, overlaps(*lines))


def _window(views: list[_View]) -> tuple[float, float]:
    """Return the radii between which both panels are drawn [mm]."""
    radii = [radius for view in views for line in view.lines for _, radius in line]
    back = _BACK_MM * max(view.internal.pitch_mm for view in views)
    return min(radii) - back, max(radii) + back


def _head(external: Limits, internal: Limits, met: Fit) -> tuple[list[str], float]:
    names = f"{external.thread.designation} screwed into {internal.thread.designation}: {OUTCOME[met.verdict]}"
    body, y = svg.block(svg.MARGIN_MM, 9.0, 5.0, _FULL, names, bold=True)
    if dangerous(met):
        part, y = svg.block(svg.MARGIN_MM, y, 3.8, _FULL, f"{DANGER}.", bold=True)
        body += part
    part, y = svg.block(svg.MARGIN_MM, y, 3.2, _FULL, f"{met.reason[0].upper()}{met.reason[1:]}.")
    return body + part, y + 1.5


def _panel(
    view: _View,
    external: Limits,
    internal: Limits,
    met: Fit,
    y: float,
    scale: float,
    window: tuple[float, float],
) -> tuple[list[str], float]:
    """Return one panel that begins at `y`, and where it ends."""
    low, high = window
    most = view.name == "Tightest"
    sizes = ("largest", "smallest") if most else ("smallest", "largest")
    heading = f"{view.name}: {sizes[0]} {external.thread.designation}, {sizes[1]} {internal.thread.designation}"
    top = y + 6.0
    height, width = (high - low) * scale, view.length_mm * scale
    middle = svg.MARGIN_MM + width / 2.0
    body = [svg.text(svg.MARGIN_MM, y + 3.6, 3.6, heading, bold=True)]
    body.append(f'<g class="{view.name.lower()}" transform="translate({svg.n(middle)} {svg.n(top + high * scale)})')
    body[-1] += f' scale({svg.n(scale)} {svg.n(-scale)})">'
    body += _metal(view, low, high, scale)
    body.append("</g>")
    right = svg.MARGIN_MM + width
    body += _labels(_levels(view, external, internal), right, top, high, scale)
    bottom = max(top + height, top + 6 * _LABEL_STEP) + 4.5
    part, end = svg.block(svg.MARGIN_MM, bottom, 3.1, _FULL, _figures(view, met, most, _tapers(external, internal)))
    return body + part, end + 2.5


def _metal(view: _View, low: float, high: float, scale: float) -> list[str]:
    """Return both members as closed paths, and in black what both would fill."""
    under, over = view.lines
    ends = (under[0][0], under[-1][0])
    outer = [*over, (ends[1], high), (ends[0], high)]
    inner = [*under, (ends[1], low), (ends[0], low)]
    parts = [f'<path class="internal" d="{svg.path_data(outer, True)}" fill="url(#of-internal)"/>']
    parts.append(f'<path class="external" d="{svg.path_data(inner, True)}" fill="url(#of-external)"/>')
    for shape in view.clashes:
        parts.append(f'<path class="clash" d="{svg.path_data(shape, True)}" fill="#000"/>')
        if _thickness(shape) * scale < _EASILY_SEEN:
            parts.append(_ring(shape, scale))
    stroke = 'fill="none" stroke="#000" stroke-linejoin="round"'
    parts.append(f'<path d="{svg.path_data(over)}" {stroke} stroke-width="{svg.n(0.25 / scale)}"/>')
    parts.append(f'<path d="{svg.path_data(under)}" {stroke} stroke-width="{svg.n(0.35 / scale)}"/>')
    return parts


def _ring(shape: tuple[Point, ...], scale: float) -> str:
    """Return a ring round a clash that is too thin to be noticed."""
    x = (min(x for x, _ in shape) + max(x for x, _ in shape)) / 2.0
    y = (min(y for _, y in shape) + max(y for _, y in shape)) / 2.0
    place = f'cx="{svg.n(x)}" cy="{svg.n(y)}" r="{svg.n(_RING / scale)}"'
    return f'<circle {place} fill="none" stroke="#000" stroke-width="{svg.n(0.15 / scale)}"/>'


def _levels(view: _View, external: Limits, internal: Limits) -> list[tuple[float, str]]:
    """Return the radii worth a label, greatest first, with their words."""
    rows = []
    for part, limits, outward in ((view.external, external, "crest"), (view.internal, internal, "root")):
        inward = "root" if outward == "crest" else "crest"
        name = limits.thread.designation
        most, least = part.crest_mm
        rows += [(most, f"{name} {outward}"), (part.pitch_radius_mm, f"{name} pitch"), (least, f"{name} {inward}")]
    return [(radius, f"\u2300 {2 * radius:.3f}  {words}") for radius, words in sorted(rows, key=lambda row: -row[0])]


def _labels(levels: list[tuple[float, str]], x: float, top: float, high: float, scale: float) -> list[str]:
    """Return each level's label beside the drawing, with a line from where it lies to where there is room."""
    at = [top + (high - radius) * scale for radius, _ in levels]
    rows = list(at)
    for index in range(1, len(rows)):
        rows[index] = max(rows[index], rows[index - 1] + _LABEL_STEP)
    over = max(0.0, rows[-1] - max(at[-1], top + (len(rows) - 1) * _LABEL_STEP))
    rows = [max(row - over, top + index * _LABEL_STEP) for index, row in enumerate(rows)]
    parts = []
    for true, row, (_, words) in zip(at, rows, levels, strict=True):
        parts.append(svg.line([(x, true), (x + 2.5, true), (x + 6.0, row), (x + 7.0, row)], width=0.15))
        parts.append(svg.text(x + 7.6, row + 1.0, 2.8, words))
    return parts


def _figures(view: _View, met: Fit, most: bool, taper: bool) -> str:
    """Return what the panel shows in numbers."""
    clearance = met.clearance_mm[0 if most else 1]
    height = view.external.crest_mm[0] - view.internal.crest_mm[1]
    words = [f"{abs(clearance):.3f} mm {'clearance' if clearance >= 0 else 'too large'} at the pitch line"]
    words[0] += ", small end at the face" if taper else ""
    share = "" if taper else f" ({max(met.overlap_percent[1 if most else 0], 0.0):.0f} % of the thread height)"
    words.append(f"threads reach {max(height, 0.0):.3f} mm into each other{share}")
    turns = met.free_turns[0 if most else 1]
    if not isinf(turns):
        words.append(f"flanks bind after {number(turns, 1)} turns")
    words.append(_in_the_way(view))
    return "; ".join(words) + "."


def _in_the_way(view: _View) -> str:
    """Return what the black in a panel means, and how thick it is."""
    if not view.clashes:
        return "nothing in the way of what is shown"
    thick = max(_thickness(shape) for shape in view.clashes)
    return f"what is black, up to {thick:.3f} mm thick, must be cut or crushed away"


def _thickness(shape: tuple[Point, ...]) -> float:
    """Return how thick a clash is, radially [mm]: its upper line comes first, then its lower one backwards."""
    heights: dict[float, list[float]] = {}
    for x, radius in shape:
        heights.setdefault(x, []).append(radius)
    return max(max(radii) - min(radii) for radii in heights.values())


def _foot(external: Limits, internal: Limits, engagement: float, y: float, scale: float) -> tuple[list[str], float]:
    """Return key, scale bar, what is drawn, and the caution."""
    left = svg.MARGIN_MM
    keys = [("key-external", f"{external.thread.designation}, external"), ("key-internal", "")]
    keys[1] = ("key-internal", f"{internal.thread.designation}, internal")
    body = []
    for index, (fill, words) in enumerate(keys):
        x = left + index * 50.0
        body.append(f'<rect x="{svg.n(x)}" y="{svg.n(y)}" width="9" height="5" fill="url(#{fill})"')
        body[-1] += ' stroke="#000" stroke-width="0.2"/>'
        body.append(svg.text(x + 11.0, y + 3.6, 3.0, words))
    body.append(f'<rect x="{svg.n(left + 100.0)}" y="{svg.n(y)}" width="9" height="5" fill="#000"/>')
    body.append(svg.text(left + 111.0, y + 3.6, 3.0, "metal of both in one place; ringed if thin"))
    ratio = f"{scale:g} : 1" if scale >= 1.0 else f"1 : {1 / scale:g}"
    unit = 1.0 if scale >= 10.0 else 5.0
    words = f"{unit:g} mm of the part, {ratio}; {unit * scale:g} mm long when printed at 100 %"
    body += svg.scale_bar(left, y + 11.0, unit * scale, words)
    part, y = svg.block(left, y + 18.0, 2.8, _FULL, _notes(external, internal, engagement))
    body += part
    part, y = svg.caution(y + 1.0)
    return body + part, y


def _notes(external: Limits, internal: Limits, engagement: float) -> str:
    """Return how the drawing is made and how to read it."""
    turns = whole_turns(engagement, internal.internal.thread_pitch_mm)
    words = (
        f"Section through one side of the thread, the axis far below: {number(engagement)} mm of engagement, which is"
    )
    words += (
        f" {number(turns + 0.5)} turns from the first flank to the last, centred, so that a difference of pitch shows"
    )
    words += " at both ends. Lead-in chamfers are not drawn."
    if _tapers(external, internal):
        words += " Taper threads are drawn at their gauge plane, without the taper of 1 in 16: black there means that"
        words += " it jams before its gauge plane gets to the face, a gap that it goes deeper."
    return words


def _tapers(external: Limits, internal: Limits) -> bool:
    return bool(external.external.taper or internal.internal.taper)

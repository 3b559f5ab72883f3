"""A view of the car's coordinates as a drawing: everything that has a place, to scale, and words for the rest."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from fitcheck.build.load import MM
from fitcheck.build.routes import Point
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.measures import number
from fitcheck.reports.circuit_looks import NO_CIRCUIT, CircuitLook, circuit_looks
from fitcheck.reports.drawing import Drawing, Spot
from fitcheck.reports.make_curve import traced
from fitcheck.reports.plain import count_of
from fitcheck.reports.plan import legend
from fitcheck.reports.plan.ghosts import Ghost, ghost_parts, ghosts, places, undrawn
from fitcheck.reports.plan.heat import bands, bars
from fitcheck.reports.plan.labels import Box
from fitcheck.reports.plan.named import Badge, naming, number_words
from fitcheck.reports.plan.paper import Paper, arrows, bar, grid, ratio_words, scaled, spelt
from fitcheck.reports.plan.places import Places
from fitcheck.reports.plan.scene import Scene, scene
from fitcheck.reports.plan.shapes import clip, hole, item, way
from fitcheck.reports.plan.views import LOOKS, Look, View
from fitcheck.reports.svg_parts import n

_MARGIN: Final = 6.0
_AXIS: Final = 12.0
"""Left of the frame, for the figures of the grid."""
_UNDER: Final = 8.0
"""Under the frame, for the same."""
_ROUND: Final = 5.0
"""Between what is drawn and the frame."""
_ARROWS: Final = 28.0
_LEAST_WIDE: Final = 150.0


def plan_drawing(context: Context, report: Report | None, view: View) -> Drawing:
    """Return a view of a build, to scale, with the findings of its report where they are on the car.

    Findings are numbered from 1 in the order of the report. What has no place is listed with the field that would give
    it one; a build without any has words only.
    """
    look, found = LOOKS[view], scene(context.graph)
    title = f"{context.file.name}: {look.title.lower()}"
    return _nothing(found, report, title, look) if found.empty else _seen(context, found, report, title, look)


def _nothing(found: Scene, report: Report | None, title: str, look: Look) -> Drawing:
    """Return the drawing of a build that does not say where anything is."""
    told = "Nothing is drawn: the build does not say where anything is."
    stack = _Stack(_MARGIN, 10.0, _LEAST_WIDE)
    stack.words(title, size=5.0, bold=True)
    stack.words(told)
    stack.foot(report, (), found)
    return Drawing(stack.wide, stack.y, title, f"{look.title}, {look.seen}. {told}", tuple(stack.parts))


def _seen(context: Context, found: Scene, report: Report | None, title: str, look: Look) -> Drawing:
    findings = report.findings if report is not None else ()
    paper = scaled(look, _extent(context, found))
    looks = circuit_looks(context.circuits)
    moved = ghosts(context.file, found, paper)
    badges = list(_badges(context, found, findings, paper))
    named = naming(found, looks, paper, moved, badges)
    frame = _frame([*_boxes(context, found, paper), *named.boxes])
    width = max(frame.right - frame.left + _AXIS, _LEAST_WIDE)
    stack = _Stack(_MARGIN, 10.0, width)
    stack.words(title, size=5.0, bold=True)
    lengths = f"all lengths in {spelt(context.file.coordinates)}"
    stack.words(f"{look.seen[0].upper()}{look.seen[1:]}. {ratio_words(paper)}, {lengths}.")
    top = stack.y + 2.0
    shift = f"translate({n(_MARGIN + _AXIS - frame.left)} {n(top - frame.top)})"
    drawn = _drawn(context, found, looks, look, paper, moved, frame)
    stack.parts += [f'<g data-mark="view" transform="{shift}">', *drawn, *named.parts, "</g>"]
    stack.y = top + frame.bottom - frame.top + _UNDER
    stack.parts += bar(paper, context.file.coordinates, _MARGIN + _AXIS, stack.y + 6.0, stack.wide)
    stack.parts += arrows(look, _MARGIN + width - _ARROWS, stack.y + 1.0)
    stack.y += 20.0
    stack.block(legend.key(found, legend.looks_shown(found, looks.items()), moved, stack.x, stack.y, width))
    several = len({ghost.body for ghost in moved}) > 1
    for words in legend.notes(moved, undrawn(context.file, found), several):
        stack.words(words)
    listed = [
        (number_words(each.number) if each.number else None, _where(each.at, look, paper, context), each.names)
        for each in named.listed
    ]
    stack.block(legend.listed_names(listed, stack.x, stack.y, width))
    stack.foot(report, named.marked, found)
    return Drawing(stack.wide, stack.y, title, _told(found, findings, look, paper), tuple(stack.parts))


def _where(at: Spot, look: Look, paper: Paper, context: Context) -> str:
    """Return which place of the car a place on paper is, as far as the view shows it."""
    unit = context.file.coordinates
    (across, right), (upright, up) = look.across, look.upright
    x, y = right * at[0] / paper.scale / MM[unit], -up * at[1] / paper.scale / MM[unit]
    return f"{across} {number(x + 0.0, 1)}, {upright} {number(y + 0.0, 1)} {unit}"


def _drawn(
    context: Context,
    found: Scene,
    looks: Mapping[str, CircuitLook],
    look: Look,
    paper: Paper,
    moved: Sequence[Ghost],
    frame: Box,
) -> Iterator[str]:
    """Yield what is to scale, what is behind first: bands, grid, other poses, lines, clips and holes, components."""
    yield from bands(found.hot, paper)
    yield from grid(paper, look, context.file.coordinates, frame)
    yield from bars(found.hot, paper)
    for each in moved:
        yield from ghost_parts(each, found, paper)
    for way_ in sorted(found.ways, key=lambda drawn: paper.view.depth(drawn.middle)):
        yield way(way_, looks.get(way_.refs[0], NO_CIRCUIT), paper)
    yield from (clip(mark, paper) for mark in found.clips)
    yield from (hole(mark, paper) for mark in found.holes)
    yield from (item(drawn, paper) for drawn in sorted(found.items, key=lambda drawn: paper.view.depth(drawn.at)))


class _Stack:
    """A sheet that is filled from above: `y` is the base line that comes next."""

    def __init__(self, x: float, y: float, width: float) -> None:
        self.x, self.y, self.width = x, y, width
        self.parts: list[str] = []

    @property
    def wide(self) -> float:
        """How wide the sheet is, margins included."""
        return self.width + 2.0 * self.x

    def block(self, block: legend.Block) -> None:
        """Put a block below."""
        parts, self.y = block
        self.parts += parts

    def words(self, words: str, *, size: float = 2.5, bold: bool = False) -> None:
        """Put words below."""
        self.block(legend.paragraph(self.x, self.y, self.width, words, size=size, bold=bold))

    def foot(self, report: Report | None, placed: Sequence[int], found: Scene) -> None:
        """Put findings, what is not drawn, and the caution below."""
        self.block(legend.findings_list(report, placed, self.x, self.y + 3.0, self.width))
        self.block(legend.not_drawn(found.missing, self.x, self.y + 3.0, self.width))
        self.block(legend.caution(self.x, self.y + 3.0, self.width))
        self.y += 2.0


def _extent(context: Context, found: Scene) -> Iterator[tuple[Point, float]]:
    """Yield points that have to be seen, each with how much round it [mm of the car]."""
    for item_ in found.items:
        yield from ((point, 0.0) for point in (item_.at, *item_.ports))
    for way_ in found.ways:
        yield from ((point, 0.0) for point in traced(way_.curve))
    for hot in found.hot:
        yield from ((point, hot.radius_mm + hot.clearance_mm) for point in hot.path)
    yield from ((mark.middle, 0.0) for mark in found.holes)
    yield from ((point, 0.0) for point in places(context.file, found))


def _boxes(context: Context, found: Scene, paper: Paper) -> Iterator[Box]:
    for point, more in _extent(context, found):
        (x, y), reach = paper.at(point), more * paper.scale
        yield Box(x - reach, y - reach, x + reach, y + reach)


def _frame(boxes: Sequence[Box]) -> Box:
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    right, bottom = max(box.right for box in boxes), max(box.bottom for box in boxes)
    return Box(left - _ROUND, top - _ROUND, right + _ROUND, bottom + _ROUND)


def _badges(context: Context, found: Scene, findings: Sequence[Finding], paper: Paper) -> Iterator[Badge]:
    """Yield number, level and place of each finding whose place is known."""
    known = Places(context.graph, found)
    for place, finding in enumerate(findings[: legend.MOST], 1):
        point = known.of(finding)
        if point is not None:
            yield place, finding.level, paper.at(point)


def _told(found: Scene, findings: Sequence[Finding], look: Look, paper: Paper) -> str:
    """Return what is drawn, in words, for those who hear the drawing."""
    lines = [way_ for way_ in found.ways if way_.sort == "line"]
    counts = [
        count_of(len(found.items), "component"),
        count_of(len(lines), "line"),
        count_of(len(found.ways) - len(lines), "hose"),
        count_of(len(found.clips), "clip"),
        count_of(len(found.holes), "panel hole"),
        count_of(len(found.hot), "hot thing"),
    ]
    words = f"{look.title}, {look.seen}, {ratio_words(paper)}: {', '.join(counts)}."
    if found.missing:
        words += f" Not drawn or not as it is: {', '.join(each.tag for each in found.missing[:20])}."
    marks = [f"{place} {each.level} {each.rule} at {', '.join(each.at[:2])}" for place, each in enumerate(findings, 1)]
    return words + (f" Findings: {'; '.join(marks[:40])}." if marks else " No findings are marked.")

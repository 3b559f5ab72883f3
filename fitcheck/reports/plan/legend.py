"""What stands below a view: the key of what is drawn, the findings, what is not drawn and why, the caution."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from fitcheck.checks.findings import Finding, Report
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.circuit_looks import NO_CIRCUIT, CircuitLook
from fitcheck.reports.drawing import Spot, path, stroke, text, words_mm
from fitcheck.reports.level_marks import SHAPES, level_mark
from fitcheck.reports.plain import count_of, visible
from fitcheck.reports.plan.ghosts import Ghost, dashed
from fitcheck.reports.plan.heat import hatching
from fitcheck.reports.plan.routing import Missing
from fitcheck.reports.plan.scene import Scene
from fitcheck.reports.plan.shapes import clip_shape, hole_shape, item_mark
from fitcheck.reports.svg_parts import n

_SIZE: Final = 2.5
_STEP: Final = 3.8
_SAMPLE: Final = 13.0
MOST: Final = 60
"""Findings, and things not drawn, that are listed and marked at most."""
_TWO_COLUMNS: Final = 220.0
_SORTS: Final = {
    "source": "makes pressure",
    "brake": "caliper, wheel or slave cylinder",
    "tank": "reservoir",
    "valve": "valve, switch, gauge",
    "fitting": "other component",
}
Block = tuple[list[str], float]
"""Parts of a drawing, and the base line that comes next."""


def paragraph(x: float, y: float, width: float, words: str, *, size: float = _SIZE, bold: bool = False) -> Block:
    """Return words in lines of a width, and where the next line would stand."""
    lines: list[str] = []
    for word in visible(words).split(" "):
        if lines and words_mm(f"{lines[-1]} {word}", size, bold) <= width:
            lines[-1] += f" {word}"
        else:
            lines += _broken(word, width, size, bold)
    step = 1.4 * size
    rows = [text(x, y + index * step, size, line, bold=bold) for index, line in enumerate(lines)]
    return rows, y + len(lines) * step


def _broken(word: str, width: float, size: float, bold: bool) -> list[str]:
    """Return a word in as many pieces as a width needs."""
    pieces = [""]
    for char in word:
        if pieces[-1] and words_mm(pieces[-1] + char, size, bold) > width:
            pieces.append("")
        pieces[-1] += char
    return pieces


def key(scene: Scene, looks: Sequence[CircuitLook], ghosts: Sequence[Ghost], x: float, y: float, width: float) -> Block:
    """Return the key: a sample and its words for each thing that is drawn."""
    entries = list(_entries(scene, looks, ghosts))
    parts: list[str] = []
    left, row = x, y
    for sample, words in entries:
        wide = _SAMPLE + words_mm(words, _SIZE) + 6.0
        if left > x and left + wide > x + width:
            left, row = x, row + _STEP + 1.0
        parts += [f'<g transform="translate({n(left)} {n(row - 0.9)})">', *sample, "</g>"]
        parts.append(text(left + _SAMPLE, row, _SIZE, words))
        left += wide
    return parts, row + _STEP + 1.0 if entries else y


def _entries(scene: Scene, looks: Sequence[CircuitLook], ghosts: Sequence[Ghost]) -> Iterator[tuple[list[str], str]]:
    along: list[Spot] = [(0.0, 0.0), (11.0, 0.0)]
    for look in looks:
        yield [path(along, look.colour, 0.7, f'stroke-dasharray="{look.dash}"' if look.dash else "")], look.name
    if any(way.sort == "hose" for way in scene.ways):
        hose = [path(along, "ink", 1.7), path(along, "paper", 0.8)]
        yield hose, "hose at rest, as it bends by itself, hanging down"
    for sort, words in _SORTS.items():
        if any(item.sort == sort for item in scene.items):
            yield [item_mark(sort, (8.0, 0.0))], words
    for placed, words in ((True, "clip"), (False, "clip proposed")):
        if any((clip.tag is not None) == placed for clip in scene.clips):
            yield [path(along, "soft", 0.7), clip_shape((6.0, 0.0), (1.0, 0.0), placed)], words
    if scene.holes:
        yield [hole_shape((8.0, 0.0), 1.0)], "panel hole"
    if scene.hot:
        band = [((3.0, 0.0), (9.0, 0.0))]
        yield [*_band(band), stroke("M3 0 L9 0", "soft", 0.9)], "hot: lines keep out of the hatched band, in space"
    for pose, dash in dict.fromkeys((ghost.pose, ghost.dash) for ghost in ghosts if ghost.moved):
        yield [path(along, "soft", 0.3, dashed(dash))], f"moved: {pose}"


def _band(band: list[tuple[Spot, Spot]]) -> list[str]:
    return list(hatching([(spots, 1.7) for spots in band]))


def notes(ghosts: Sequence[Ghost], undrawn: Mapping[str, Sequence[str]], several: bool) -> Iterator[str]:
    """Yield sentences about what the view cannot show.

    `undrawn` are poses of bodies that are too many to be drawn; `several` says that more than one body moves.
    """
    yield "What is seen to cross a line, or a hatched band, may pass above, below or beside it: see the other views."
    still: dict[str, list[str]] = {}
    alike: dict[str, list[str]] = {}
    for ghost in ghosts:
        if not ghost.moved:
            still.setdefault(ghost.body, []).append(ghost.pose)
        elif ghost.alike:
            alike.setdefault(f"{', '.join(ghost.alike)} as {ghost.pose}", []).append(ghost.body)
    if still:
        yield f"Not seen to move in this view: {_by_body(still)}."
    if alike:
        told = "; ".join(f"{words} ({', '.join(bodies)})" for words, bodies in alike.items())
        yield f"Poses that this view shows as another: {told}."
    if undrawn:
        yield f"Looked at by the checks but not drawn, for want of dashes to tell them apart: {_by_body(undrawn)}."
    if several and any(ghost.moved for ghost in ghosts):
        yield "The checks take each pose of one body with each of every other; hoses are drawn at rest."


def _by_body(poses: Mapping[str, Sequence[str]]) -> str:
    return "; ".join(f"{body} in {', '.join(names)}" for body, names in poses.items())


def findings_list(report: Report | None, placed: Sequence[int], x: float, y: float, width: float) -> Block:
    """Return the findings by number; those that are marked nowhere say so, and accepted ones have no number."""
    if report is None or not (report.findings or report.accepted):
        return [], y
    shapes = ", ".join(f"{shape} {level}" for level, shape in SHAPES.items())
    parts, y = paragraph(x, y, width, f"Findings ({shapes})", size=3.2, bold=True)
    shown = list(enumerate(report.findings, 1))[:MOST]
    count = 2 if width >= _TWO_COLUMNS else 1
    half, lows = -(-len(shown) // count), [y + 1.2]
    for column in range(count):
        rows = shown[column * half : (column + 1) * half]
        block, low = _rows(rows, placed, x + column * width / count, y + 1.2, width / count - 4.0)
        parts += block
        lows.append(low)
    more, y = _more(len(report.findings), "finding", "fitcheck check lists them all", x, max(lows))
    parts += more
    for each in report.accepted[:MOST]:
        told = f"Accepted: {each.level} {each.rule}: {each.message}; because: {each.accepted}"
        rows_of, y = paragraph(x, y, width, told)
        parts += rows_of
    more, y = _more(len(report.accepted), "accepted finding", "fitcheck check lists them all", x, y)
    return [*parts, *more], y


def _rows(rows: Sequence[tuple[int, Finding]], placed: Sequence[int], x: float, y: float, width: float) -> Block:
    """Return findings one under the other, each with its mark."""
    parts: list[str] = []
    for number, finding in rows:
        parts.append(level_mark(x + 3.0, y - 0.9, number, finding.level))
        where = "" if number in placed else " (no place known, or no room: not marked above)"
        words, y = paragraph(x + 8.0, y, width - 8.0, f"{finding.level} {finding.rule}: {finding.message}{where}")
        parts += words
        y += 1.4
    return parts, y


def listed_names(listed: Sequence[tuple[str | None, str, Sequence[str]]], x: float, y: float, width: float) -> Block:
    """Return the names that found no room, or not all of them: their number, where they are, and what is there."""
    if not listed:
        return [], y
    parts, y = paragraph(x, y + 3.0, width, "Named by number, for want of room", size=3.2, bold=True)
    for number, where, names in listed:
        rows, y = paragraph(x, y, width, f"{number or 'not marked'}, at {where}: {', '.join(names)}")
        parts += rows
    return parts, y


def not_drawn(missing: Sequence[Missing], x: float, y: float, width: float) -> Block:
    """Return what is not drawn, or only roughly, and the field that is missing or the reason."""
    if not missing:
        return [], y
    parts, y = paragraph(
        x, y, width, f"Not drawn, or not as it is ({count_of(len(missing), 'thing')})", size=3.2, bold=True
    )
    for each in missing[:MOST]:
        field = f"{', '.join(each.fields)} missing" if each.fields else ""
        told = "; ".join(words for words in (each.why, field) if words)
        rows, y = paragraph(x, y, width, f"{each.tag}: {told}")
        parts += rows
    more, y = _more(len(missing), "thing", "the build file has them all", x, y)
    return [*parts, *more], y


def _more(total: int, word: str, where: str, x: float, y: float) -> Block:
    if total <= MOST:
        return [], y
    return [text(x, y, _SIZE, f"and {count_of(total - MOST, f'{word} more', f'{word}s more')}: {where}")], y + _STEP


def caution(x: float, y: float, width: float) -> Block:
    """Return the caution."""
    return paragraph(x, y, width, CAUTION, size=2.2)


def looks_shown(scene: Scene, looks: Iterable[tuple[str, CircuitLook]]) -> list[CircuitLook]:
    """Return the looks of the lines and hoses that are drawn, in the order of the circuits."""
    by_ref = dict(looks)
    shown = {by_ref.get(way.refs[0], NO_CIRCUIT) for way in scene.ways}
    return [look for look in (*dict.fromkeys(by_ref.values()), NO_CIRCUIT) if look in shown]

"""What drawings of a build share: colours of each theme, words of known width, and the SVG file around them.

One unit is a millimetre; the file has a `viewBox` and no size of its own, so that it scales to A4, A3 or a screen.
Colours are named by class (`s-ink` strokes, `f-ink` fills): `sheet` puts the colour of the theme beside each class as
a presentation attribute, which every reader of SVG understands. Colours: the palette of Okabe and Ito (Color universal
design, 2002), which people see apart whatever their colour vision; none of them says anything alone.
"""

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from html import escape
from typing import Final, Literal, NamedTuple

from fitcheck.reports.plain import visible
from fitcheck.reports.svg_parts import n

Theme = Literal["auto", "light", "dark"]
Spot = tuple[float, float]
COLOURS: Final[dict[str, tuple[str, str]]] = {
    "ink": ("#000000", "#f2f2f2"),
    "soft": ("#595959", "#b0b0b0"),
    "faint": ("#d9d9d9", "#404040"),
    "paper": ("#ffffff", "#161616"),
    "blue": ("#0072b2", "#56b4e9"),
    "vermillion": ("#d55e00", "#ff8a3d"),
    "green": ("#007a5a", "#2bc49b"),
    "purple": ("#a8508a", "#e09cc4"),
    "orange": ("#a86f00", "#e69f00"),
    "yellow": ("#8a7d00", "#f0e442"),
    "error": ("#d55e00", "#ff8a3d"),
    "warning": ("#a86f00", "#e69f00"),
    "note": ("#0072b2", "#56b4e9"),
}
"""Colour of each name on light and on dark paper: of Okabe and Ito, made darker or lighter where a thin line of it
would be too faint on its paper."""
CIRCUITS: Final = ("blue", "green", "purple", "orange", "vermillion", "yellow")
"""Colours of circuits, in turn; each circuit is named in words too."""
_CLASSES: Final = re.compile(r'class="((?:[sf]-[a-z]+ ?)+)"')
_NARROW: Final = frozenset("iljtfrI.,:;'|!()[] -/\"")
_WIDE: Final = frozenset("mwMW@%")


class Drawing(NamedTuple):
    """A drawing and its size [mm]; `title` and `desc` are for those who hear it instead of seeing it.

    `body_mm` is its height without words under it that are said elsewhere too; None if there are none.
    """

    width_mm: float
    height_mm: float
    title: str
    desc: str
    parts: tuple[str, ...]
    body_mm: float | None = None


def sheet(drawing: Drawing, theme: Theme = "auto") -> str:
    """Return a drawing as text of an SVG file. Same input, same text.

    `auto` is light unless the reader asks for dark (`prefers-color-scheme`).
    """
    wide, high = n(drawing.width_mm), n(drawing.height_mm)
    shown = "".join(f"<{tag}>{safe(words)}</{tag}>" for tag, words in zip(("title", "desc"), drawing[2:4], strict=True))
    body = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" font-family="sans-serif" role="img">',
        shown,
        *([f"<style>{_dark()}</style>"] if theme == "auto" else []),
        f'<rect width="{wide}" height="{high}" class="f-paper"/>',
        *drawing.parts,
        "</svg>",
    ]
    return _CLASSES.sub(lambda found: _painted(found[1], theme), "\n".join(body))


def stacked(drawings: Sequence[Drawing], title: str, gap_mm: float = 8.0) -> Drawing:
    """Return several drawings as one, one under the other."""
    parts: list[str] = []
    y = 0.0
    for index, drawing in enumerate(drawings):
        y += gap_mm if index else 0.0
        parts += [f'<g transform="translate(0 {n(y)})">', *drawing.parts, "</g>"]
        y += drawing.height_mm
    wide = max((drawing.width_mm for drawing in drawings), default=0.0)
    return Drawing(wide, y, title, " ".join(drawing.desc for drawing in drawings), tuple(parts))


def safe(words: str) -> str:
    """Return words of a file as text of an SVG file, in text and in attributes."""
    return escape(visible(words))


def text(
    x: float, y: float, size: float, words: str, *, anchor: str = "start", bold: bool = False, colour: str = "ink"
) -> str:
    """Return one line of text; `y` is its base line, `anchor` is `start`, `middle` or `end`."""
    weight = ' font-weight="bold"' if bold else ""
    at = "" if anchor == "start" else f' text-anchor="{anchor}"'
    place = f'x="{n(x)}" y="{n(y)}" font-size="{n(size)}"'
    return f'<text {place}{at}{weight} class="f-{colour}">{safe(words)}</text>'


def path(points: Iterable[Spot], colour: str, width: float, more: str = "") -> str:
    """Return an open line through points."""
    steps = " ".join(f"{'L' if index else 'M'}{n(x)} {n(y)}" for index, (x, y) in enumerate(points))
    return stroke(steps, colour, width, more)


def stroke(data: str, colour: str, width: float, more: str = "", fill: str = "") -> str:
    """Return a path by its data; `fill` names its colour, none if left out; `more` are further attributes."""
    inside = f'class="s-{colour} f-{fill}"' if fill else f'fill="none" class="s-{colour}"'
    return f'<path d="{data}" {inside} stroke-width="{n(width)}"{f" {more}" if more else ""}/>'


@lru_cache(maxsize=4096)
def words_mm(words: str, size: float, bold: bool = False) -> float:
    """Return how wide a line of text is at most in the usual sans-serif faces [mm].

    Widths of a wide face (of its size): narrow letters 0.4, most 0.64, capitals 0.75, the widest and those of East Asia
    1.0; a tenth more in bold. Source: measured on free fonts, rounded up; common practice, no source.
    """
    total = sum(map(_letter, visible(words)))
    return size * total * (1.1 if bold else 1.0)


def _letter(char: str) -> float:
    if char in _NARROW:
        return 0.4
    if char in _WIDE or not char.isascii():
        return 1.0
    return 0.75 if char.isupper() else 0.64


@lru_cache(maxsize=512)
def _painted(classes: str, theme: Theme) -> str:
    """Return the attributes that stand for classes of colours."""
    dark = theme == "dark"
    found = []
    for name in classes.split():
        kind, _, colour = name.partition("-")
        found.append(f'{"stroke" if kind == "s" else "fill"}="{COLOURS[colour][dark]}"')
    return " ".join([*([f'class="{classes}"'] if theme == "auto" else []), *found])


def _dark() -> str:
    """Return the style that puts the dark colours in place of the light ones."""
    rules = [f".s-{name}{{stroke:{dark}}}.f-{name}{{fill:{dark}}}" for name, (_, dark) in COLOURS.items()]
    return f"@media (prefers-color-scheme:dark){{{''.join(rules)}}}"

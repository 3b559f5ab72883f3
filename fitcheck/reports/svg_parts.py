"""Pieces of a printed drawing: text, paths, hatching, a scale bar, the page. One unit is one millimetre on paper."""

from collections.abc import Iterable, Sequence
from html import escape
from typing import Final

from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import visible, wrapped

PAGE_MM: Final = 190.0
"""Width of a drawing: it prints on A4 and on letter paper, upright, without being shrunk."""

MARGIN_MM: Final = 6.0
_CHARACTER: Final = 0.52
"""Width of a character of the usual sans-serif faces, of its size, on average (common practice, no source)."""


def text(x: float, y: float, size: float, words: str, *, anchor: str = "start", bold: bool = False) -> str:
    """Return one line of text; `y` is its base line."""
    weight = ' font-weight="bold"' if bold else ""
    end = "" if anchor == "start" else f' text-anchor="{anchor}"'
    shown = escape(visible(words), quote=False)
    return f'<text x="{n(x)}" y="{n(y)}" font-size="{n(size)}"{end}{weight}>{shown}</text>'


def block(x: float, y: float, size: float, width: float, words: str, *, bold: bool = False) -> tuple[list[str], float]:
    """Return text wrapped to a width, and the base line of the line that would follow it."""
    lines = wrapped(visible(words), int(width / (size * _CHARACTER)))
    step = 1.35 * size
    parts = [text(x, y + index * step, size, line, bold=bold) for index, line in enumerate(lines)]
    return parts, y + len(lines) * step


def line(points: Sequence[tuple[float, float]], *, width: float = 0.2, dash: str = "") -> str:
    """Return an open line through points."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{path_data(points)}" fill="none" stroke="#000" stroke-width="{n(width)}"{dashes}/>'


def path_data(points: Iterable[tuple[float, float]], closed: bool = False) -> str:
    """Return the data of a path through points, to 0.0001."""
    steps = " ".join(f"{'L' if index else 'M'}{n(x)} {n(y)}" for index, (x, y) in enumerate(points))
    return f"{steps} Z" if closed else steps


def hatching(name: str, tone: str, angle: float, spacing: float, stroke: float) -> str:
    """Return a pattern of lines on a tone, so that it reads in black and white too."""
    return (
        f'<pattern id="{name}" patternUnits="userSpaceOnUse" width="{n(spacing)}" height="{n(spacing)}"'
        f' patternTransform="rotate({n(angle)})"><rect width="{n(spacing)}" height="{n(spacing)}" fill="{tone}"/>'
        f'<path d="M0 0 L0 {n(spacing)}" stroke="#000" stroke-width="{n(stroke)}"/></pattern>'
    )


def scale_bar(x: float, y: float, length: float, words: str) -> list[str]:
    """Return a bar of a length on paper with ticks at both ends, and words beside it."""
    tick = 1.5
    return [
        f'<g class="scale-bar">{line([(x, y), (x + length, y)], width=0.4)}',
        line([(x, y - tick), (x, y + tick)], width=0.4),
        line([(x + length, y - tick), (x + length, y + tick)], width=0.4) + "</g>",
        text(x + length + 2.5, y + 1.0, 2.9, words),
    ]


def caution(y: float) -> tuple[list[str], float]:
    """Return the caution in small type, and the base line after it."""
    return block(MARGIN_MM, y, 2.4, PAGE_MM - 2 * MARGIN_MM, CAUTION)


def page(height: float, title: str, definitions: Iterable[str], body: Iterable[str]) -> str:
    """Return the whole drawing as text of an SVG file that prints in its true size."""
    shown = escape(visible(title), quote=False)
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{n(PAGE_MM)}mm" height="{n(height)}mm"'
            f' viewBox="0 0 {n(PAGE_MM)} {n(height)}" font-family="sans-serif" role="img">',
            f"<title>{shown}</title>",
            f"<defs>{''.join(definitions)}</defs>",
            f'<rect width="{n(PAGE_MM)}" height="{n(height)}" fill="#fff"/>',
            *body,
            "</svg>",
        ]
    )


def n(value: float) -> str:
    """Return a number as drawings print it: at most four decimals, none idle."""
    shown = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown

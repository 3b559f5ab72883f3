"""Drawings put on paper: our own ones, which use few kinds of SVG elements, straight; all others by way of svglib.

A path of SVG has the same steps as one of PDF, so that its numbers are copied as they are. Nothing is drawn anew here:
what an element is not known to say in `_KNOWN` makes svglib read the whole drawing.

Source: ISO 32000-1, tables 57, 59, 60 and 74 (operators), from memory; four curves for a circle, off by 0.03 % of its
radius at most (common practice, no source).
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from functools import lru_cache
from math import cos, radians, sin
from re import compile as pattern
from typing import Any, Final, NamedTuple
from xml.etree.ElementTree import Element

from fitcheck.reports.pdf_figures import drawing, size_pt
from fitcheck.reports.pdf_fonts import font_for, line_shown
from fitcheck.reports.svg_parts import n

_STROKED: Final = frozenset(
    ("fill", "fill-opacity", "stroke", "stroke-width", "stroke-dasharray", "stroke-linejoin", "stroke-linecap")
)
_NAMES: Final = frozenset(("class", "id", "role", "aria-label", "tabindex", "focusable"))
_KNOWN: Final = {
    "svg": frozenset(("viewBox", "width", "height", "font-family")),
    "g": frozenset(("transform",)),
    "path": _STROKED | {"d"},
    "rect": _STROKED | {"x", "y", "width", "height"},
    "circle": _STROKED | {"cx", "cy", "r"},
    "ellipse": _STROKED | {"cx", "cy", "rx", "ry"},
    "polygon": _STROKED | {"points"},
    "text": frozenset(("x", "y", "font-size", "text-anchor", "font-weight", "fill")),
}
_SILENT: Final = frozenset(("title", "desc"))
_STEPS: Final = pattern(r"[MLCZz]|-?\d+(?:\.\d+)?(?![\d.eE])")
_DATA: Final = pattern(r"(?:\s*[MLCZz]|[\s,]*-?\d+(?:\.\d+)?(?![\d.eE]))*\s*")
_TURN: Final = pattern(r"(translate|rotate|scale)\(([-\d. ,]+)\)")
_NUMBERS: Final = pattern(r"-?\d+(?:\.\d+)?(?:[ ,]+-?\d+(?:\.\d+)?)*")
_COLOUR: Final = pattern(r"#[0-9a-fA-F]{3}(?:[0-9a-fA-F]{3})?|none")
_TAKES: Final = {"M": (2, "m"), "L": (2, "l"), "C": (6, "c")}
_JOINS: Final = {"miter": 0, "round": 1, "bevel": 2}
_CAPS: Final = {"butt": 0, "round": 1, "square": 2}
_WORDS: Final[Mapping[str, Collection[str]]] = {
    "font-weight": ("bold", "normal"),
    "text-anchor": ("start", "middle", "end"),
    "stroke-linejoin": _JOINS,
    "stroke-linecap": _CAPS,
}
_FIGURES: Final = frozenset(
    ("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "points", "font-size", "fill-opacity", "stroke-width")
) | {"stroke-dasharray"}
_CURVE: Final = 0.5522847498
_ARGUMENTS: Final = {"translate": (1, 2), "rotate": (1, 3), "scale": (1, 2)}


class Picture(NamedTuple):
    """A drawing that can be put on paper, as wide and high as it wants to be there [pt]."""

    width: float
    height: float
    put: Callable[[Any, float, float, float], None]
    """Puts it on a canvas of reportlab: its left and lower edge [pt], and what it is shrunk to."""


def picture(svg: Element) -> Picture:
    """Return a drawing as what can be put on paper.

    Raises:
        ValueError: it cannot be read.
    """
    if _simple(svg):
        wide, high = size_pt(svg)
        return Picture(wide, high, lambda canvas, x, y, scale: _paint(svg, canvas, x, y, scale))
    made = drawing(svg)
    return Picture(made.width, made.height, lambda canvas, x, y, scale: _rendered(made, canvas, x, y, scale))


def _rendered(made: Any, canvas: Any, x: float, y: float, scale: float) -> None:
    from reportlab.graphics import renderPDF

    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(scale, scale)
    renderPDF.draw(made, canvas, 0, 0)
    canvas.restoreState()


def _simple(svg: Element) -> bool:
    """Return whether a drawing says nothing that is not painted here."""
    view = svg.get("viewBox", "").split()
    if svg.tag != "svg" or view[:2] != ["0", "0"] or len(view) != 4:
        return False
    return all(map(_known, svg.iter())) and sum(each.tag == "svg" for each in svg.iter()) == 1


def _known(element: Element) -> bool:
    tag = element.tag
    if tag in _SILENT or (tag == "style" and "type" not in element.attrib):
        return True
    known = _KNOWN.get(tag)
    if known is None:
        return False
    names = element.attrib
    if not all(name in known or name in _NAMES or name.startswith("data-") for name in names):
        return False
    if tag != "svg" and not all(map(_plain, names.items())):
        return False
    if tag == "g" and "transform" in names:
        found = _TURN.fullmatch(names["transform"])
        return found is not None and len(found[2].replace(",", " ").split()) in _ARGUMENTS[found[1]]
    return tag != "text" or not len(element)


def _plain(attribute: tuple[str, str]) -> bool:
    """Return whether an attribute has a value that is understood here."""
    name, value = attribute
    if name in _WORDS:
        return value in _WORDS[name]
    if name in ("fill", "stroke"):
        return _COLOUR.fullmatch(value) is not None
    if name == "d":
        return _DATA.fullmatch(value) is not None
    return name not in _FIGURES or _NUMBERS.fullmatch(value) is not None


def _paint(svg: Element, canvas: Any, x: float, y: float, scale: float) -> None:
    """Put a simple drawing on a canvas, with y downwards as in the drawing."""
    _, _, wide, high = map(float, svg.get("viewBox", "").split())
    width, height = size_pt(svg)
    canvas.saveState()
    canvas.transform(scale * width / wide, 0.0, 0.0, -scale * height / high, x, y + scale * height)
    _Painter(canvas).inside(svg)
    canvas.restoreState()


class _Painter:
    """Writes elements on a canvas; `told` is what was said last of colours, widths and the like, so said once only."""

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        self.told: dict[str, str] = {}

    def inside(self, parent: Element) -> None:
        """Draw all that is in an element."""
        for child in parent:
            if child.tag == "g":
                self._group(child)
            elif child.tag == "text":
                self._text(child)
            elif child.tag in _SHAPES:
                self._shape(child)

    def _group(self, group: Element) -> None:
        turn = group.get("transform")
        if turn is None:
            self.inside(group)
            return
        kept = dict(self.told)
        self.canvas.saveState()
        self.canvas.addLiteral(" ".join((*map(_figure, _matrix(turn)), "cm")))
        self.inside(group)
        self.canvas.restoreState()
        self.told = kept

    def _shape(self, shape: Element) -> None:
        fill, line = _colour(shape.get("fill", "#000")), _colour(shape.get("stroke", "none"))
        if not (fill or line):
            return
        get = shape.get
        if line:
            self._say("RG", line)
            self._say("w", get("stroke-width", "1"))
            self._say("d", f"[{get('stroke-dasharray', '').replace(',', ' ')}] 0")
            self._say("j", str(_JOINS[get("stroke-linejoin", "miter")]))
            self._say("J", str(_CAPS[get("stroke-linecap", "butt")]))
        if fill:
            self._say("rg", fill)
        steps = _SHAPES[shape.tag](shape)
        operator = ("B" if line else "f") if fill else "S"
        opacity = get("fill-opacity")
        if opacity is None or not fill:
            self.canvas.addLiteral(f"{steps} {operator}")
            return
        self.canvas.setFillAlpha(float(opacity))
        self.canvas.addLiteral(f"{steps} {operator}")
        self.canvas.setFillAlpha(1.0)

    def _text(self, element: Element) -> None:
        colour = _colour(element.get("fill", "#000"))
        words = line_shown(" ".join((element.text or "").split()))
        if not words or not colour:
            return
        from reportlab.pdfbase.pdfmetrics import stringWidth

        name, factor = font_for(words, element.get("font-weight") == "bold")
        size = float(element.get("font-size", "16")) * factor
        x, y = float(element.get("x", "0")), float(element.get("y", "0"))
        shift = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", "start"), 0.0)
        if shift:
            x -= shift * stringWidth(words, name, size)
        self._say("rg", colour)
        line = self.canvas.beginText()
        line.setTextTransform(1.0, 0.0, 0.0, -1.0, x, y)
        line.setFont(name, size)
        line.textOut(words)
        self.canvas.drawText(line)

    def _say(self, operator: str, words: str) -> None:
        """Say a colour, a width or the like, unless it was said last."""
        if self.told.get(operator) != words:
            self.told[operator] = words
            self.canvas.addLiteral(f"{words} {operator}")


def _figure(value: float) -> str:
    """Return a number as PDF has it: to a millionth, never with an exponent."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


@lru_cache(maxsize=64)
def _colour(words: str) -> str:
    """Return a colour as PDF has it; nothing for none."""
    if words == "none":
        return ""
    digits = words[1:] if len(words) == 7 else "".join(2 * digit for digit in words[1:])
    return " ".join(_figure(int(digits[at : at + 2], 16) / 255.0) for at in (0, 2, 4))


def _matrix(words: str) -> tuple[float, ...]:
    """Return a transform of SVG as the six numbers that PDF wants."""
    found = _TURN.fullmatch(words)
    assert found is not None  # `_known` has seen to it
    numbers = [float(each) for each in found[2].replace(",", " ").split()]
    if found[1] == "translate":
        return 1.0, 0.0, 0.0, 1.0, numbers[0], (numbers[1] if len(numbers) > 1 else 0.0)
    if found[1] == "scale":
        return numbers[0], 0.0, 0.0, numbers[-1], 0.0, 0.0
    c, s = cos(radians(numbers[0])), sin(radians(numbers[0]))
    x, y = numbers[1:] if len(numbers) > 1 else (0.0, 0.0)
    return c, s, -s, c, x - c * x + s * y, y - s * x - c * y


def _path(shape: Element) -> str:
    return " ".join(_operators(_STEPS.findall(shape.get("d", ""))))


def _operators(tokens: list[str]) -> Iterator[str]:
    """Yield the steps of a path as PDF has them: numbers first, then what they are for."""
    at, count, last = 0, len(tokens), "M"
    while at < count:
        if tokens[at] in _TAKES:
            last = tokens[at]
            at += 1
        elif tokens[at] in "Zz":
            yield "h"
            at += 1
            continue
        takes, operator = _TAKES[last]
        yield from tokens[at : at + takes]
        yield operator
        at += takes
        last = "L" if last == "M" else last


def _rect(shape: Element) -> str:
    return " ".join((*(shape.get(name, "0") for name in ("x", "y", "width", "height")), "re"))


def _round(shape: Element) -> str:
    x, y = float(shape.get("cx", "0")), float(shape.get("cy", "0"))
    a, b = float(shape.get("rx", shape.get("r", "0"))), float(shape.get("ry", shape.get("r", "0")))
    p, q = a * _CURVE, b * _CURVE
    corners = (
        (x + a, y + q, x + p, y + b, x, y + b),
        (x - p, y + b, x - a, y + q, x - a, y),
        (x - a, y - q, x - p, y - b, x, y - b),
        (x + p, y - b, x + a, y - q, x + a, y),
    )
    return " ".join([f"{n(x + a)} {n(y)} m", *(f"{' '.join(map(n, corner))} c" for corner in corners), "h"])


def _polygon(shape: Element) -> str:
    numbers = shape.get("points", "").replace(",", " ").split()
    return " ".join((*_operators(["M", *numbers]), "h"))


_SHAPES: Final[Mapping[str, Callable[[Element], str]]] = {
    "path": _path,
    "rect": _rect,
    "circle": _round,
    "ellipse": _round,
    "polygon": _polygon,
}

"""SVG drawings as reportlab draws them: read by svglib, with hatching, clipping and fonts that svglib does not know."""

import logging
from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from io import BytesIO
from re import compile as pattern
from typing import Any, Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from fitcheck.reports.pdf_fonts import REGULAR, font_for, line_shown

_SVG: Final = "http://www.w3.org/2000/svg"
_XLINK: Final = "http://www.w3.org/1999/xlink"
_PT_PER_MM: Final = 72.0 / 25.4
_FILL: Final = pattern(r"fill: ?url\(#([^)]+)\)")
_FAMILY: Final = pattern(r"font-family:[^;]*;? ?")
_NUMBER: Final = pattern(r"-?\d+(?:\.\d+)?")
_MOST_TILES: Final = 400
_BOX: Final = ("x", "y", "width", "height")


def size_pt(svg: Element) -> tuple[float, float]:
    """Return how wide and high a drawing is on paper [pt]; without a stated size one unit is a millimetre."""
    _, _, wide, high = map(float, svg.get("viewBox", "0 0 1 1").split())
    return _length(svg.get("width"), wide), _length(svg.get("height"), high)


def _length(text: str | None, units: float) -> float:
    if text is None:
        return units * _PT_PER_MM
    number = float(text.rstrip("ptm"))
    return number * _PT_PER_MM if text.endswith("mm") else number


def drawing(svg: Element) -> Any:
    """Return a drawing as reportlab has it, in the size that it has on paper.

    Raises:
        ValueError: svglib cannot read it.
    """
    from svglib.svglib import svg2rlg

    logging.getLogger("svglib").setLevel(logging.CRITICAL)  # it would tell of fonts
    wide, high = size_pt(svg)
    made = svg2rlg(BytesIO(ElementTree.tostring(_alone(svg), encoding="utf-8")))
    if made is None:
        raise ValueError("expected a drawing as SVG text")
    across, up = wide / made.width, high / made.height
    made.scale(across, up)
    made.width, made.height = wide, high
    _set_fonts(made)
    return made


def _alone(svg: Element) -> Element:
    """Return a drawing as a file of its own that svglib understands."""
    whole = deepcopy(svg)
    whole.set("xmlns", _SVG)
    whole.set("font-family", REGULAR)
    patterns = {each.get("id", ""): each for each in whole.iter("pattern")}
    for parent in list(whole.iter()):
        parent[:] = _merged([each for child in parent for each in _readable(child, patterns)])
    _set_clips(whole)
    return whole


def _readable(child: Element, patterns: Mapping[str, Element]) -> Iterator[Element]:
    """Yield what stands for a part of a drawing: nothing for words that only a screen reader says."""
    if child.tag in ("title", "desc") or (child.tag == "style" and "type" not in child.attrib):
        return
    if (link := child.attrib.pop("href", None)) is not None:
        child.set(f"{{{_XLINK}}}href", link)
    style = child.get("style", "")
    found = _FILL.search(style)
    if "font-" in style:  # svglib would ask the system for fonts: what is drawn may not hang on what is installed
        child.set("style", _FAMILY.sub("", style).replace("font-weight: 700", "font-weight: bold"))
    if found is not None and found[1] in patterns and child.tag == "path":
        yield from _spread(child, patterns[found[1]])
    else:
        yield child


def _merged(parts: Iterable[Element]) -> list[Element]:
    """Return parts with lines that follow each other and look alike made one: a ruler is one line, not a hundred."""
    found: list[Element] = []
    for part in parts:
        last = found[-1] if found else part
        if part is not last and _line_alike(part) and _line_alike(last) and _look(part) == _look(last):
            last.set("d", f"{last.get('d')} {part.get('d')}")
        else:
            found.append(part)
    return found


def _line_alike(part: Element) -> bool:
    return part.tag == "path" and part.get("fill") == "none" and not len(part)


def _look(part: Element) -> dict[str, str]:
    return {name: value for name, value in part.attrib.items() if name != "d"}


def _spread(path: Element, filled: Element) -> Iterator[Element]:
    """Yield a path filled with a pattern as what svglib can draw: its ground, the pattern's marks within it, its edge.

    The path is taken to be a rectangle that stands upright, as every bar and legend of a plot is. A bar of nothing,
    as of a circuit whose loss leaves no brakes, is its edge alone.
    """
    numbers = [float(each) for each in _NUMBER.findall(path.get("d", ""))]
    left, right = min(numbers[::2]), max(numbers[::2])
    top, bottom = min(numbers[1::2]), max(numbers[1::2])
    ground = next((each.get("fill", "none") for each in filled.iter("rect")), "none")
    edge = Element("path", dict(path.attrib) | {"style": _FILL.sub("fill: none", path.get("style", ""))})
    if left == right or top == bottom:
        yield edge
        return
    yield Element("path", {"d": path.get("d", ""), "fill": ground, "stroke": "none"})
    box = f"{left} {top} {right - left} {bottom - top}".split()
    window = Element("svg", dict(zip(_BOX, box, strict=True)) | {"viewBox": " ".join(box)})
    step = float(filled.get("width", "72"))
    across, down = (range(int(low // step), int(high // step) + 1) for low, high in ((left, right), (top, bottom)))
    for x, y in [(column * step, row * step) for column in across for row in down][:_MOST_TILES]:
        tile = ElementTree.SubElement(window, "g", {"transform": f"translate({x} {y})"})
        tile.extend(deepcopy(each) for each in filled if each.tag == "path")
    yield window
    yield edge


def _set_clips(whole: Element) -> None:
    """Put a group that is clipped in the place of each drawing within the drawing: svglib does not clip those."""
    inner = [each for each in whole.iter("svg") if each is not whole]
    for place, window in enumerate(inner):
        left, top, wide, high = (float(each) for each in window.get("viewBox", "0 0 1 1").split())
        x, y, shown, tall = (float(window.get(name, "0")) for name in _BOX)
        clip = Element("clipPath", {"id": f"window-{place}"})
        box = (str(value) for value in (left, top, wide, high))
        clip.append(Element("rect", dict(zip(_BOX, box, strict=True))))
        group = Element("g", {"clip-path": f"url(#window-{place})"})
        group.extend(list(window))
        window.clear()
        window.tag = "g"
        window.set("transform", f"translate({x} {y}) scale({shown / wide} {tall / high}) translate({-left} {-top})")
        window.extend([clip, group])


def _set_fonts(group: Any) -> None:
    """Put every text of a drawing in a font that has its characters."""
    for each in getattr(group, "contents", ()):
        if hasattr(each, "fontName"):
            words = line_shown(each.text)
            name, factor = font_for(words, "Bold" in each.fontName)
            each.text, each.fontName, each.fontSize = words, name, each.fontSize * factor
        else:
            _set_fonts(each)

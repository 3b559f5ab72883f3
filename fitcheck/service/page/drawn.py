"""Drawings as they stand in the page: what can be looked at closer is a link, colours come from the page's style."""

import re
from typing import Final
from urllib.parse import urlencode
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.reports.drawing import COLOURS, Drawing, sheet

VIEWS: Final = ("circuit", "plan", "side", "front")
PX_PER_MM: Final = 3.2
"""How large a drawing is at first: the words at ports are legible, and a screen shows a car's front or rear."""
_STYLE: Final = re.compile(r"<style>.*?</style>", re.DOTALL)
_HEAD: Final = re.compile(r"\A<\?xml[^>]*>\s*|(?<=<svg) xmlns=\"[^\"]*\"")


def drawn(context: Context, report: Report, view: str, path: str) -> str:
    """Return a drawing for within the page at `path`."""
    return linked(_drawing(context, report, view), view, path)


def _drawing(context: Context, report: Report, view: str) -> Drawing:
    if view == "circuit":
        from fitcheck.reports.diagram.circuit import circuit_drawing

        return circuit_drawing(context, report)
    from fitcheck.reports.plan.drawing import plan_drawing

    return plan_drawing(context, report, view)  # type: ignore[arg-type]


def linked(drawing: Drawing, view: str, path: str) -> str:
    """Return a drawing with a link around each joint, each thing and each mark that stands by itself."""
    root = ElementTree.fromstring(_STYLE.sub("", _HEAD.sub("", sheet(drawing)), count=1))
    root.set("role", "group")
    root.set("aria-label", drawing.title)
    for side, millimetres in (("width", drawing.width_mm), ("height", drawing.height_mm)):
        root.set(side, f"{millimetres * PX_PER_MM:.0f}")
    _link(root, path, view, within=False)
    return ElementTree.tostring(root, encoding="unicode")


def _link(parent: Element, path: str, view: str, within: bool) -> None:
    for child in parent:
        at = _at(child)
        link = at is not None and not within
        if at is not None and link:
            child.tag = "a"
            child.set("href", f"{path}?{urlencode({'view': view, 'at': at})}#panel")
            child.set("tabindex", "-1")  # the lists of joints and findings have the same links, in order
        _link(child, path, view, within or link)


def _at(element: Element) -> str | None:
    """Return what a group of a drawing is of, as the page names it; None if there is nothing to say of it."""
    if element.get("data-at"):
        return element.get("data-at")
    if element.get("data-finding"):
        return f"finding {element.get('data-finding')}"
    if element.get("data-kind") in ("heat", "hole"):
        return None
    return element.get("data-tag")


def colours() -> str:
    """Return the style that puts the dark colours into drawings where the reader asks for them."""
    rules = [f".s-{name}{{stroke:{dark}}}.f-{name}{{fill:{dark}}}" for name, (_, dark) in COLOURS.items()]
    return f"@media screen and (prefers-color-scheme:dark){{{''.join(rules)}}}"

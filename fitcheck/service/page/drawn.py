"""Drawings as they stand in the page: what can be looked at closer is a link, colours come from the page's style."""

import re
from html import escape, unescape
from typing import Final
from urllib.parse import urlencode

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.reports.drawing import COLOURS, Drawing, safe, sheet

VIEWS: Final = ("circuit", "plan", "side", "front")
PX_PER_MM: Final = 3.2
"""How large a drawing is at first: the words at ports are legible, and a screen shows a car's front or rear."""
_STYLE: Final = re.compile(r"<style>.*?</style>", re.DOTALL)
_GROUP: Final = re.compile(r"<g\b[^>]*>|</g>")
_DATA: Final = re.compile(r' data-(\w+)="([^"]*)"')
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
    """Return a drawing with a link around each joint, each thing and each mark that stands by itself.

    Every `<` and `>` of it is a tag's: in texts and attributes of our drawings they are entities.
    """
    svg = _STYLE.sub("", _HEAD.sub("", sheet(drawing)), count=1)
    size = "".join(
        f' {side}="{millimetres * PX_PER_MM:.0f}"'
        for side, millimetres in (("width", drawing.width_mm), ("height", drawing.height_mm))
    )
    svg = svg.replace(' role="img">', f' role="group" aria-label="{safe(drawing.title)}"{size}>', 1)
    within: list[str] = []

    def renamed(found: re.Match[str]) -> str:
        if found[0] == "</g>":
            return f"</{within.pop()}>"
        at = _at(found[0]) if "a" not in within else None
        within.append("a" if at is not None else "g")
        if at is None:
            return found[0]
        # without a stop for the Tab key: the lists of joints and findings have the same links, in order
        href = escape(f"{path}?{urlencode({'view': view, 'at': at})}#panel")
        return f'<a{found[0][2:-1]} href="{href}" tabindex="-1">'

    return _GROUP.sub(renamed, svg)


def _at(tag: str) -> str | None:
    """Return what a group of a drawing is of, as the page names it; None if there is nothing to say of it."""
    said = {name: unescape(value) for name, value in _DATA.findall(tag)}
    if "at" in said:
        return said["at"]
    if "finding" in said:
        return f"finding {said['finding']}"
    return said.get("tag") if said.get("kind") not in ("heat", "hole") else None


def colours() -> str:
    """Return the style that puts the dark colours into drawings where the reader asks for them."""
    rules = [f".s-{name}{{stroke:{dark}}}.f-{name}{{fill:{dark}}}" for name, (_, dark) in COLOURS.items()]
    return f"@media screen and (prefers-color-scheme:dark){{{''.join(rules)}}}"

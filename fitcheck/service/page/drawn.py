"""Drawings as they stand in the page: what can be looked at closer is a link, colours come from the page's style."""

import re
from collections.abc import Mapping, Sequence
from html import escape, unescape
from typing import Final, NamedTuple
from urllib.parse import urlencode

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.reports.drawing import COLOURS, Drawing, safe, sheet
from fitcheck.reports.svg_parts import n
from fitcheck.service.page.keys import MARK

VIEWS: Final = ("circuit", "plan", "side", "front")
PX_PER_MM: Final = 3.2
"""How large a drawing is at first: the words at ports are legible, and a screen shows a car's front or rear."""
_STYLE: Final = re.compile(r"<style>.*?</style>", re.DOTALL)
_GROUP: Final = re.compile(r"<g\b[^>]*>|</g>")
_DATA: Final = re.compile(r' data-(\w+)="([^"]*)"')
_HEAD: Final = re.compile(r"\A<\?xml[^>]*>\s*|(?<=<svg) xmlns=\"[^\"]*\"")


class Links(NamedTuple):
    """What the links of a drawing say: the view, the variant if any, the build's key, the findings' names in order."""

    view: str
    variant: str = ""
    key: str = ""
    names: Sequence[str] = ()

    def to(self, at: str) -> str:
        """Return the address of the page that looks at something."""
        said = {"view": self.view, "variant": self.variant, "at": at}
        if at.startswith("finding "):
            said["of"] = self.key[:MARK]
        return f"/?{urlencode({name: value for name, value in said.items() if value})}#panel"

    def finding(self, number: str) -> str:
        """Return a finding, by the number of its mark, as the page names it."""
        return f"finding {self.names[int(number) - 1]}"


def drawn(context: Context, report: Report, links: Links) -> str:
    """Return a drawing for within the page."""
    return linked(_drawing(context, report, links.view), links)


def _drawing(context: Context, report: Report, view: str) -> Drawing:
    if view == "circuit":
        from fitcheck.reports.diagram.circuit import circuit_drawing

        return circuit_drawing(context, report)
    from fitcheck.reports.plan.drawing import plan_drawing

    return plan_drawing(context, report, view)  # type: ignore[arg-type]


def linked(drawing: Drawing, links: Links) -> str:
    """Return a drawing with a link around each joint, each thing and each mark that stands by itself.

    Each mark says where its finding is looked at, wherever it stands.
    Every `<` and `>` of it is a tag's: in texts and attributes of our drawings they are entities.
    """
    svg = _STYLE.sub("", _HEAD.sub("", sheet(drawing)), count=1)
    size = "".join(
        f' {side}="{millimetres * PX_PER_MM:.0f}"'
        for side, millimetres in (("width", drawing.width_mm), ("height", drawing.height_mm))
    )
    size += f' data-body="{n(drawing.body_mm)}"' if drawing.body_mm is not None else ""
    svg = svg.replace(' role="img">', f' role="group" aria-label="{safe(drawing.title)}"{size}>', 1)
    svg = "</g></svg>".join(svg.replace("</desc>", '</desc><g id="drawn">', 1).rsplit("</svg>", 1))  # for paper, too
    within: list[str] = []

    def renamed(found: re.Match[str]) -> str:
        if found[0] == "</g>":
            return f"</{within.pop()}>"
        said = {name: unescape(value) for name, value in _DATA.findall(found[0])}
        own = links.finding(said["finding"]) if "finding" in said else None
        look = f' data-name="{escape(own)}" data-look="{escape(links.to(own))}"' if own is not None else ""
        at = _at(said, own) if "a" not in within else None
        within.append("a" if at is not None else "g")
        if at is None:
            return f"{found[0][:-1]}{look}>"
        # without a stop for the Tab key: the lists of joints and findings have the same links, in order
        return f'<a{found[0][2:-1]}{look} href="{escape(links.to(at))}" tabindex="-1">'

    return _GROUP.sub(renamed, svg)


def _at(said: Mapping[str, str], finding: str | None) -> str | None:
    """Return what a group of a drawing is of, as the page names it; None if there is nothing to say of it."""
    if "at" in said:
        return said["at"]
    if finding is not None:
        return finding
    return said.get("tag") if said.get("kind") not in ("heat", "hole") else None


def colours() -> str:
    """Return the style that puts the dark colours into drawings where the reader asks for them."""
    rules = [f".s-{name}{{stroke:{dark}}}.f-{name}{{fill:{dark}}}" for name, (_, dark) in COLOURS.items()]
    return f"@media screen and (prefers-color-scheme:dark){{{''.join(rules)}}}"

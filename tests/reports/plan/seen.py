"""Small builds in space and their views read back. All invented."""

import re
from pathlib import Path
from xml.etree import ElementTree

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load, load_document
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context
from fitcheck.reports.drawing import Theme, sheet
from fitcheck.reports.plan.drawing import plan_drawing
from fitcheck.reports.plan.labels import Box
from fitcheck.reports.plan.views import View
from fitcheck.sources import parse

SVG = "{http://www.w3.org/2000/svg}"
Spot = tuple[float, float]
BENT = """\
components:
  a: {part: union-3-16-inverted, at: [1000, 200, 300]}
  b: {part: union-3-16-inverted, at: [900, 300, 300]}
lines:
  run: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [{at: [900, 200, 300], bend: 20 mm}]}
"""
"""A line rearward from `a`, then to the left to `b`: one bend of 90 deg, 100 mm from each end."""


def context(text: str) -> Context:
    """Return a build read from its text."""
    return Context(assemble(load_document(parse(f"build: 1\n{text}", "build.yaml"), Path())))


def demo(variant: str | None = None) -> Context:
    """Return the demo build."""
    return Context(assemble(load(Path("demo_vehicle"), variant)))


def meet(one: Box, other: Box) -> bool:
    """Return whether two rectangles share more than an edge."""
    apart = one.right <= other.left or other.right <= one.left
    return not (apart or one.bottom <= other.top or other.bottom <= one.top)


def plan_svg(build: Context, report: Report | None, view: View, theme: Theme = "auto") -> str:
    """Return a view of a build as SVG text."""
    return sheet(plan_drawing(build, report, view), theme)


def root_of(build: Context, view: View, report: Report | None = None) -> ElementTree.Element:
    """Return a view, parsed."""
    return ElementTree.fromstring(plan_svg(build, report, view))


def checked(build: Context, view: View) -> tuple[ElementTree.Element, Report]:
    """Return a view with its findings, parsed, and the report."""
    report = check_context(build)
    return root_of(build, view, report), report


def view_of(root: ElementTree.Element) -> ElementTree.Element:
    """Return the group that is to scale, whose origin is that of the car."""
    return next(each for each in root.iter(f"{SVG}g") if each.get("data-mark") == "view")


def tagged(root: ElementTree.Element, kind: str) -> dict[str, ElementTree.Element]:
    """Return the groups of a kind by their tags; a tag that is drawn twice fails."""
    found: dict[str, ElementTree.Element] = {}
    for group in root.iter(f"{SVG}g"):
        if group.get("data-kind") == kind:
            tag = group.get("data-tag") or ""
            assert tag not in found, tag
            found[tag] = group
    return found


def path_of(group: ElementTree.Element) -> str:
    """Return the data of the first path of a group."""
    return next(each.get("d") or "" for each in group.iter(f"{SVG}path"))


def steps(data: str) -> list[Spot]:
    """Return where each step of a path ends."""
    ends = [step.split()[-2:] for step in re.findall(r"[MLC]([^MLCZ]+)", data)]
    return [(float(x), float(y)) for x, y in ends]


def square(group: ElementTree.Element) -> Spot:
    """Return the middle of the square of a component."""
    rect = next(group.iter(f"{SVG}rect"))
    x, y, wide, high = (float(rect.get(key) or "nan") for key in ("x", "y", "width", "height"))
    return x + wide / 2.0, y + high / 2.0


def words(root: ElementTree.Element) -> list[str]:
    """Return the texts of a drawing."""
    return [each.text or "" for each in root.iter(f"{SVG}text")]


def told(root: ElementTree.Element) -> str:
    """Return the texts of a drawing as one, so that it does not matter where lines are broken."""
    return " ".join(words(root))

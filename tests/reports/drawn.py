"""Bench sheets that the tests of drawings share, and reading drawings back. All invented."""

import re
from typing import Literal
from xml.etree import ElementTree

from fitcheck.making.sheet import Sheet, Sheets
from tests.making.benches import made

SVG = "{http://www.w3.org/2000/svg}"
SNAKE = "[[150, 0, 0], [150, 200, 0], [300, 200, 0], [300, 0, 0], [420, 0, 0], [420, 0, 90]]"
Spot = tuple[float, float]


def snake() -> Sheet:
    """Return a line of six bends, the first four in one plane, the fifth and sixth each turned by 90 deg."""
    return made(SNAKE, end="[420, 150, 90]")


def single(route: str = "[[150, 0, 0]]", end: str = "[150, 200, 0]", **more: str) -> Sheet:
    """Return a line of one bend of 90 deg, radius 15 mm."""
    return made(route, end=end, **more)


def sheets(*lines: Sheet, build: str = "Wren", unit: Literal["mm", "in"] = "mm") -> Sheets:
    """Return sheets of a build."""
    return Sheets(build, unit, lines)


def words(root: ElementTree.Element) -> list[str]:
    """Return the texts of a drawing."""
    return [each.text or "" for each in root.iter() if each.tag.removeprefix(SVG) == "text"]


def groups(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    """Return the elements of a class."""
    return [each for each in root.iter() if each.get("class") == name]


def spots(d: str) -> list[Spot]:
    """Return where each step of a path of straights and cubic curves ends."""
    ends = [step.split()[-2:] for step in re.findall(r"[MLC]([^MLCZ]+)", d)]
    return [(float(x), float(y)) for x, y in ends]


def bars(root: ElementTree.Element) -> list[float]:
    """Return the length of each scale bar."""
    found = []
    for group in groups(root, "scale-bar"):
        start, end = spots(next(each for each in group.iter() if each.get("d")).get("d", ""))
        found.append(end[0] - start[0])
    return found

"""A build of millimetres, newtons and megapascals as one of inches, pounds and psi; and figures found in sentences."""

import re
from pathlib import Path

from fitcheck.quantities import parse

_SIZE = re.compile(r"(?<![\w.#/-])(-?\d+(?:\.\d+)?) (mm|m|N|MPa)(?![\w/-])(?! m\b)")
_SIZES = {"mm": ("in", 25.4), "m": ("in", 0.0254), "N": ("lbf", 4.4482216152605), "MPa": ("psi", 0.006894757293168)}
_FIGURE = re.compile(
    r"(?<![\w./#+-])(-?(?:\d+ )?\d+/\d+|-?\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? (mm|in|lbf\.ft|N m|lbf|N|MPa|bar|psi)"
    r"(?![\w/])"
)
_KINDS = {
    "mm": "length",
    "in": "length",
    "lbf.ft": "torque",
    "N m": "torque",
    "N": "force",
    "lbf": "force",
    "MPa": "pressure",
    "bar": "pressure",
    "psi": "pressure",
}
METRIC = re.compile(r"\d(?:\s|&#160;)+(?:mm|N|MPa|bar|N m)(?![\w/])")
"""A figure in a unit that the author of a build in inches does not write."""


def in_inches(text: str) -> str:
    """Return a file of a build or catalog as somebody writes it who measures in inches, pounds and psi."""
    if re.search(r"^build: 1$", text, re.MULTILINE):
        text = re.sub(r"^coordinates: .*\n", "", text, flags=re.MULTILINE)
        text = re.sub(r"(?<!axis: )\[([^][{}:]*)\]", _point, text)
        text = text.replace("build: 1\n", "build: 1\ncoordinates: in\n", 1)
    return _SIZE.sub(_size, text)


def _size(found: re.Match[str]) -> str:
    unit, per = _SIZES[found[2]]
    return f"{_short(float(found[1]) / per)} {unit}"


def _point(found: re.Match[str]) -> str:
    try:
        numbers = [float(each) for each in found[1].split(",")]
    except ValueError:
        return found[0]
    return f"[{', '.join(_short(each / 25.4) for each in numbers)}]" if len(numbers) == 3 else found[0]


def _short(value: float) -> str:
    return f"{value:.8f}".rstrip("0").rstrip(".")


def folder_in_inches(source: Path, folder: Path) -> Path:
    """Write every file of a build in inches and dollars into `folder`, and return it."""
    folder.mkdir(exist_ok=True)
    for file in source.iterdir():
        text = in_inches(file.read_text(encoding="utf-8"))
        (folder / file.name).write_text(text.replace("GBP", "USD"), encoding="utf-8")
    return folder


def figures(text: str) -> list[tuple[str, float, float, str]]:
    """Return each figure of a text: its kind, its value in working units, its last digit in those, and its words."""
    found = []
    for match in _FIGURE.finditer(" ".join(text.split())):
        first, second, unit = match.groups()
        for number in filter(None, (first, second)):
            value = float(parse(f"{number} {unit}", _KINDS[unit]))
            last = 1.0 / 32.0 if "/" in number else 10.0 ** -len(number.partition(".")[2])
            digit = abs(float(parse(f"{last:.6f} {unit}", _KINDS[unit])))
            found.append((_KINDS[unit], value, digit, f"{number} {unit}"))
    return found


def differing(metric: str, inches: str) -> list[tuple[str, str]]:
    """Return the figures of two answers about one build that are not the same thing to the last digit that is shown."""
    first, second = figures(metric), figures(inches)
    assert [kind for kind, *_ in first] == [kind for kind, *_ in second]
    pairs = zip(first, second, strict=True)
    return [
        (words, other)
        for (_, value, digit, words), (_, there, last, other) in pairs
        if abs(value - there) > 1.0001 * max(digit, last) and words != other
    ]

"""What the panels of the pedal plots share: what a panel is, scales in the user's units, lines, marks and names."""

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from fitcheck.hydraulics.record import Answer
from fitcheck.quantities import parse, render
from fitcheck.reports.plain import columns, visible

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Box = tuple[float, float, float, float]
COLOURS: Final = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#E69F00", "#F0E442", "#999999", "#000000")
"""The palette of Okabe and Ito (Color universal design, 2008), which most eyes tell apart, and a grey."""
DASHES: Final = ("-", "--", "-.", ":")
MARKS: Final = ("o", "s", "^", "D", "v", "x")
_NAME: Final = 22
_MM_PER_IN: Final = 25.4


class Panel(ABC):
    """One panel. `left` is where its axes begin, as a part of the width; `below_in` what a legend below them takes."""

    left = 0.1
    below_in = 0.0

    @abstractmethod
    def fits(self, found: Answer) -> bool:
        """Return whether there is anything to draw."""

    def height_in(self, found: Answer) -> float:
        """Return how high its axes are [in]."""
        return 1.9

    @abstractmethod
    def describe(self, found: Answer) -> str:
        """Return in words what it shows."""

    @abstractmethod
    def draw(self, figure: "Figure", box: Box, found: Answer) -> None:
        """Draw it into a box of the figure."""


class Scale(NamedTuple):
    """What a working unit is in the user's unit, and how that is called."""

    factor: float
    unit: str


def scales(found: Answer) -> tuple[Scale, Scale, Scale]:
    """Return the scales of force, pressure and length."""
    length = Scale(1.0 / _MM_PER_IN, "in") if found.units.length == "in" else Scale(1.0, "mm")
    return _scale("force", found.units.force), _scale("pressure", found.units.pressure), length


def _scale(dimension: str, like: str) -> Scale:
    unit = render(1.0, dimension, like).partition(" ")[2]
    return Scale(1.0 / float(parse(f"1 {unit}", dimension)), unit)


def line(axes: "Axes", xs: list[float], ys: list[float], at: int, label: str) -> None:
    """Draw a line with the colour, dash and mark of a number."""
    style: Mapping[str, Any] = {"color": COLOURS[at % 6], "linestyle": DASHES[at % 4], "marker": MARKS[at % 6]}
    axes.plot(xs, ys, markersize=3.5, markevery=4, label=label, **style)


def foot(axes: "Axes", found: Answer, force: Scale) -> None:
    """Mark the push that the answer is for."""
    push = next((one for one in found.pushes if one.drives == "brake"), None)
    if push is not None:
        axes.axvline(push.foot_n * force.factor, color="#999999", linewidth=0.8, linestyle=":", zorder=0)
    axes.set_xlim(left=0.0)


def named(axes: "Axes", title: str, across: str, up: str) -> None:
    """Put titles on a panel and a quiet grid behind it."""
    axes.set_title(title)
    axes.set_xlabel(across)
    axes.set_ylabel(up)
    axes.grid(True, color="#dddddd", linewidth=0.5)
    axes.set_axisbelow(True)


def below(axes: "Axes", height_in: float, handles: Sequence[Any], labels: Sequence[str]) -> None:
    """Put a legend below a panel of a height."""
    place: Mapping[str, Any] = {"loc": "upper center", "bbox_to_anchor": (0.4, -0.38 / height_in), "ncols": 4}
    axes.legend(list(handles), list(labels), **place)


def cut(name: str) -> str:
    """Return a name made visible and short enough to stand beside an axis."""
    shown = visible(name)
    if columns(shown) <= _NAME:
        return shown
    while columns(shown) >= _NAME:
        shown = shown[:-1]
    return f"{shown}…"

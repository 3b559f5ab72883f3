"""Pedal plots as one SVG: pressure and travel over force, where the fluid goes, balance, circuits lost.

Panels are stacked; one without figures is left out. Colours are those of Okabe and Ito, and every line has a dash and a
mark of its own, every bar a hatch, so that the plots read in black and white. Text stays text.
"""

import re
from collections.abc import Callable, Sequence
from html import escape
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

from fitcheck.errors import FitcheckError
from fitcheck.hydraulics.record import Answer
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.pedal_panel import Panel
from fitcheck.reports.pedal_panels import PANELS
from fitcheck.reports.pedal_text import title
from fitcheck.reports.pedal_words import LIMITS
from fitcheck.reports.plain import visible, wrapped

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_WIDTH_IN: Final = 7.48
"""190 mm: it prints on A4 and on letter paper without being shrunk."""
_HEAD_IN: Final = 0.5
_HEAD_LINE_IN: Final = 0.17
_HEAD_COLUMNS: Final = 78
_FOOT_COLUMNS: Final = 145
_HEAD_LINES: Final = 4
_FOOT_IN: Final = 0.5
_GAP_IN: Final = 0.75
_SETTINGS: Final = {
    "svg.hashsalt": "fitcheck",
    "svg.fonttype": "none",
    "text.parse_math": False,
    "font.family": ["sans-serif"],
    "font.size": 8.0,
    "axes.titlesize": 9.0,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "axes.spines.top": False,
    "axes.spines.right": False,
    "hatch.linewidth": 0.6,
    "legend.frameon": False,
}
_OPENING: Final = re.compile(r"<svg [^>]*>")
_TITLE: Final = re.compile(r"\s*<title>.*?</title>", re.DOTALL)


class NoPlotError(FitcheckError, ImportError):
    """The library that draws plots is not installed."""

    def __str__(self) -> str:
        return '--format svg needs matplotlib: pip install "fitcheck[plot]"'


class NothingToPlotError(FitcheckError, ValueError):
    """The build says too little for any plot."""

    def __init__(self, missing: Sequence[str]) -> None:
        super().__init__(missing)
        self.missing = missing

    def __str__(self) -> str:
        return f"nothing to draw: what is missing is {', '.join(self.missing) or 'not known'}"


def pedal_svg(found: Answer, chosen: Sequence[Panel] = PANELS) -> str:
    """Return the plots, or those `chosen` of them, as SVG text. Same input, same text.

    Raises:
        NoPlotError: the library that draws is not installed.
        NothingToPlotError: the build says too little for any plot.
    """
    panels = [panel for panel in chosen if panel.fits(found)]
    if not panels:
        raise NothingToPlotError([gap.missing for gap in found.gaps])
    heights = [panel.height_in(found) for panel in panels]
    head = wrapped(visible(title(found)), _HEAD_COLUMNS)[:_HEAD_LINES]
    start = _HEAD_IN + _HEAD_LINE_IN * len(head)
    total = start + sum(heights) + sum(panel.below_in for panel in panels) + _GAP_IN * len(panels) + _FOOT_IN

    def draw(figure: "Figure") -> None:
        top = total - start
        figure.text(0.02, 1.0 - 0.15 / total, "\n".join(head), fontsize=10.0, fontweight="bold", va="top")
        for panel, height in zip(panels, heights, strict=True):
            box = (panel.left, (top - height) / total, 0.97 - panel.left, height / total)
            panel.draw(figure, box, found)
            top -= height + panel.below_in + _GAP_IN
        words = "\n".join(wrapped(f"{LIMITS} {CAUTION}", _FOOT_COLUMNS))
        figure.text(0.02, 0.08 / total, words, fontsize=7.0, va="bottom")

    told = "; ".join(panel.describe(found) for panel in panels)
    return _readable(_drawn(total, draw), title(found), f"{told}. {LIMITS}")


def _drawn(height_in: float, draw: Callable[["Figure"], None]) -> str:
    import warnings

    matplotlib = _library()
    from matplotlib.figure import Figure

    with matplotlib.rc_context(), warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a character that its own fonts lack: the reader's fonts draw the text
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(_SETTINGS)
        figure = Figure(figsize=(_WIDTH_IN, height_in))
        draw(figure)
        file = BytesIO()
        figure.savefig(file, format="svg", metadata={"Date": None, "Creator": None, "Title": "plots"})
    return file.getvalue().decode("utf-8")


def _library() -> Any:
    import logging

    try:
        import matplotlib
    except ImportError:
        raise NoPlotError from None
    logging.getLogger("matplotlib").setLevel(logging.CRITICAL)  # it would tell of fonts and caches
    return matplotlib


def _readable(svg: str, name: str, words: str) -> str:
    """Return the drawing with a title and a description that screen readers read out."""
    said = f'<title id="title">{_plain(name)}</title>\n <desc id="desc">{_plain(words)}</desc>'
    bare = _TITLE.sub("", svg, count=1)
    opening = _OPENING.search(bare)
    if opening is None:
        return bare
    start = f'{opening[0][:-1]} role="img" aria-labelledby="title desc">\n {said}'
    return bare[: opening.start()] + start + bare[opening.end() :]


def _plain(words: str) -> str:
    return escape(visible(words), quote=False)

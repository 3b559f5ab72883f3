"""The designation most like one that does not exist: by diameter and pitch, else by spelling."""

from collections.abc import Iterable
from math import log

from fitcheck.naming import nearest as nearest_word
from fitcheck.standards.threads import series
from fitcheck.standards.threads.thread import INCH, Thread

_DIAMETER_WEIGHT = 5.0  # a wrong pitch on the right diameter is likelier than the reverse: the diameter is what shows


def _closest(wanted_mm: float, pitch_mm: float | None, offered: Iterable[Thread]) -> str | None:
    def distance(thread: Thread) -> tuple[float, int, str]:
        off = _DIAMETER_WEIGHT * abs(log(wanted_mm / thread.nominal_mm))
        if pitch_mm:
            off += abs(log(pitch_mm / thread.pitch_mm))
        return (round(off, 9), _PREFERRED.get(thread.series, 9), thread.designation)

    if wanted_mm <= 0.0:
        return None
    return min(offered, key=distance).designation


_PREFERRED = {"UNF": 0, "UNJF": 0, "UNC": 1, "UNJC": 1}
"""Among equally near threads the fine series comes first: it is what fluid fittings use (common practice)."""


def unified(inch: float, tpi: float | None, rounded_root: bool = False) -> str | None:
    """Return the unified designation nearest to a diameter [in] and threads per inch."""
    offered = (series.unified(size, tpi, rounded_root) for size in series.unified_sizes() for tpi in size.series)
    return _closest(inch * INCH, INCH / tpi if tpi else None, offered)


def metric(diameter: float, pitch: float | None, rounded_root: bool = False) -> str | None:
    """Return the metric designation nearest to a diameter and pitch [mm]."""
    offered = (
        series.metric(size, choice, rounded_root)
        for size, (_, pitches) in series.metric_pitches().items()
        for choice in pitches
    )
    return _closest(diameter, pitch, offered)


def pipe(word: str, inch: float) -> str | None:
    """Return the designation of a pipe series nearest to a nominal size [in]."""
    if inch <= 0.0:
        return None
    sizes = series.pipe_sizes(word)
    return series.pipe(word, min(sizes, key=lambda size: abs(log(inch / series.fraction(size.label))))).designation


def spelling(text: str) -> str | None:
    """Return the designation of the trade's list that is spelled most like a text."""
    from fitcheck.standards.threads.known import designations  # needs the parser, which needs this module

    return nearest_word(text, designations())

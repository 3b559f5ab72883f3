"""What a calliper and a pitch gauge say about a thread: read from text, bounded, refused in words."""

import re
from typing import NamedTuple

from fitcheck.errors import FitcheckError
from fitcheck.quantities import QuantityError, parse, plain_number
from fitcheck.standards.threads.thread import INCH

CREST_RANGE_MM = (1.0, 45.0)
"""Crest diameters that the tables can answer for [mm]: from #0 and M1.6 to M36 and 1 1/2 in."""

PITCH_RANGE_MM = (0.2, 4.5)
"""Pitches that the tables can answer for [mm]: from 80 threads per inch to 6, from 0.35 mm to 4 mm."""

GAUGED_MM = 6.0
"""Length of thread that a pitch gauge is held against when no turns are counted [mm] (common practice, no source)."""

_TURNS_RANGE = (2.0, 100.0)
_LONGEST = 60
_NUMBER = r"([0-9]{1,4}(?:\.[0-9]{0,4})?)"
_PER_INCH = re.compile(_NUMBER + r" *(?:tpi|threads per inch|threads/in|per inch)", re.ASCII | re.IGNORECASE)
_COUNTED = re.compile(_NUMBER + r" *(?:turns?|threads?|pitches)? *(?:in|over) +(.+)", re.ASCII | re.IGNORECASE)
_PITCH_FORMS = "'24tpi', '1mm' or turns over a length such as '10 in 10.6mm'"


class ReadingError(FitcheckError, ValueError):
    """A measurement that no thread can have, or text that is none.

    `what` was measured, `text` is what was given for it, `reason` says what is wrong and what was expected.
    """

    def __init__(self, what: str, text: str, reason: str) -> None:
        self.what = what
        self.text = text
        self.reason = reason
        super().__init__(what, text, reason)

    def __str__(self) -> str:
        shown = self.text if len(self.text) <= _LONGEST else self.text[: _LONGEST - 3] + "..."
        return f"{self.what} {shown!r}: {self.reason}"


class Reading(NamedTuple):
    """One thread as measured.

    `crest_mm` is the major diameter of an external thread or the minor diameter of an internal one, crest to
    crest [mm]. `threads` is over how many threads the pitch was gauged or counted. `tube_mm` is the outside
    diameter of the tube that the fitting takes, or None.
    """

    crest_mm: float
    pitch_mm: float
    threads: float
    internal: bool = False
    tube_mm: float | None = None


def reading(crest: str, pitch: str, *, internal: bool = False, tube: str | None = None) -> Reading:
    """Return what was measured, from text with units: crest diameter, pitch, tube size.

    A pitch is `24tpi`, `1mm`, or turns counted over a length: `10 in 10.6mm`. A leaf of a pitch gauge counts
    as held against 6 mm of thread.

    Raises ReadingError for text that is no such measurement, or one outside what the tables can answer for.
    """
    name = "bore, crest to crest," if internal else "crest diameter"
    crest_mm = _length(name, crest, CREST_RANGE_MM)
    pitch_mm, threads = _pitch(pitch)
    tube_mm = None if tube is None else _length("tube size", tube, (1.0, 30.0))
    if pitch_mm > crest_mm / 2.0:
        reason = f"no thread of {crest_mm:.2f} mm has so coarse a pitch; expected at most {crest_mm / 2.0:.2f} mm"
        raise ReadingError("pitch", pitch, reason)
    return Reading(crest_mm, pitch_mm, threads, internal, tube_mm)


def _pitch(text: str) -> tuple[float, float]:
    """Return the pitch [mm] and over how many threads it was gauged."""
    plain = text.strip()
    per_inch = _PER_INCH.fullmatch(plain) if len(plain) <= _LONGEST else None
    counted = _COUNTED.fullmatch(plain) if len(plain) <= _LONGEST else None
    if per_inch:
        threads = float(per_inch[1])
        pitch = _in_range("pitch", text, INCH / threads if threads else 0.0, PITCH_RANGE_MM)
    elif counted:
        return _counted(text, counted[1], counted[2])
    else:
        pitch = _length("pitch", text, PITCH_RANGE_MM, _PITCH_FORMS)
    return pitch, GAUGED_MM / pitch


def _counted(text: str, turns_text: str, length: str) -> tuple[float, float]:
    turns = plain_number(turns_text)
    least, most = _TURNS_RANGE
    if not least <= turns <= most:
        raise ReadingError("pitch", text, f"expected {least:g} to {most:g} turns over a length, got {turns:g}")
    over = _length("pitch", text, (0.0, 1000.0), _PITCH_FORMS, length)
    return _in_range("pitch", text, over / turns, PITCH_RANGE_MM), turns


def _length(
    what: str, text: str, bounds: tuple[float, float], forms: str | None = None, part: str | None = None
) -> float:
    """Return the length that `part` of `text` states, or all of it, if it lies within bounds [mm]."""
    try:
        value = float(parse(text if part is None else part, "length"))
    except QuantityError as error:
        reason = f"expected {forms}" if forms else str(error)
        raise ReadingError(what, text, reason) from error
    return _in_range(what, text, value, bounds)


def _in_range(what: str, text: str, value: float, bounds: tuple[float, float]) -> float:
    least, most = bounds
    if least <= value <= most:
        return value
    span = f"{least:g} to {most:g} mm"
    if what == "pitch":
        span += f" ({INCH / most:.1f} to {INCH / least:.0f} threads per inch), as {_PITCH_FORMS}"
    raise ReadingError(what, text, f"expected {span}")

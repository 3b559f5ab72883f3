"""Limits of size of unified inch threads, computed as ASME B1.1 prescribes and rounded term by term.

All lengths here are whole ten-thousandths of an inch, the unit that the standard's tables print; `members`
converts to millimetres. Rounding each term before it is added is the worked example of FED-STD-H28/2B
(1991) para 5.4; half-to-even, and the third decimals of the minor diameter, are what reproduces the printed
tables best (derived).
"""

from math import cbrt, sqrt

from fitcheck.standards.threads.member import BASIC_HEIGHT, FILLET_START, Bounds, Member
from fitcheck.standards.threads.thread import INCH, Thread

_PITCH_FACTOR = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}
_OWN_LENGTH_SERIES = ("UNC", "UNF", "UNJC", "UNJF")
_TEN_THOUSANDTH_MM = INCH / 10_000


def members(thread: Thread) -> tuple[Member, Member, str]:
    """Return external and internal member and the source. Source: ASME B1.1-2003 paras 5.1, 5.8.

    For UNJ the minor diameters are those of a root radius of 0.15011 to 0.18042 pitches and an internal
    thread of 0.5625 H (FED-STD-H28/21B (1984) worked examples, same profile); its minor diameter tolerance
    is taken from UN.
    """
    diameter = round(thread.nominal_mm / INCH, 4)
    tpi = round(INCH / thread.pitch_mm)
    external = _external(thread, diameter, tpi)
    internal = _internal(thread, diameter, tpi)
    standard = "ASME B1.1-2003 paras 5.1 and 5.8"
    if thread.family == "UNJ":
        standard += ", minor diameters of the UNJ profile as ASME B1.15-1995 (derived)"
    if thread.series.endswith("S"):
        standard += " (special combination: printed tables may differ by 0.0002 in)"
    classes = f"class {thread.external_class} external, {thread.internal_class} internal"
    return (
        external,
        internal,
        f"{standard}, {classes}; rounded term by term as FED-STD-H28/2B (1991) para 5.4",
    )


def _pitch_tolerance(thread: Thread, diameter: float, tpi: int) -> float:
    """Return the class 2A pitch diameter tolerance T, not yet rounded to the table's unit (para 5.8.1c)."""
    own_length = thread.series in _OWN_LENGTH_SERIES or tpi in (4, 6, 8)
    engagement = diameter if own_length else 9.0 / tpi
    terms = (0.0015 * cbrt(diameter), 0.0015 * sqrt(engagement), 0.015 * cbrt(1 / tpi) ** 2)
    return sum(round(term * 1e6) for term in terms) / 100


def _minor_tolerance(grade: str, diameter: float, tpi: int) -> int:
    """Return the internal minor diameter tolerance TD1 (para 5.8.2c)."""
    pitch = 1 / tpi
    by_size = min(0.05 * cbrt(pitch) ** 2 + 0.03 * pitch / diameter - 0.002, 0.394 * pitch)
    if grade == "3B":
        floor = 0.23 * pitch - 1.5 * pitch**2 if tpi >= 13 else 0.120 * pitch
        return _whole(max(by_size, floor) * 1e4)
    floor = 0.25 * pitch - 0.40 * pitch**2
    return _whole((floor if diameter >= 0.25 else max(by_size, floor)) * 1e4)


def _external(thread: Thread, diameter: float, tpi: int) -> Member:
    grade = thread.external_class
    tolerance = _pitch_tolerance(thread, diameter, tpi)
    allowance = 0 if grade == "3A" else _whole(3 * _whole(tolerance) / 10)
    to_pitch = _whole(6495.19053 / tpi)
    major_max = _whole(diameter * 1e4) - allowance
    major_min = major_max - _whole((900 if grade == "1A" else 600) * cbrt(1 / tpi) ** 2)
    pitch_max = major_max - to_pitch
    pitch_min = pitch_max - _whole(_PITCH_FACTOR[grade] * tolerance)
    controlled = thread.family == "UNJ"
    minor: Bounds = (None, _mm(major_max - _whole(10825.3175 / tpi)))
    if controlled:
        minor = (_mm(pitch_min - _whole(5658.05 / tpi)), _mm(pitch_max - _whole(5051.81 / tpi)))
    return Member(
        major_mm=(_mm(major_min), _mm(major_max)),
        pitch_mm=(_mm(pitch_min), _mm(pitch_max)),
        minor_mm=minor,
        thread_pitch_mm=thread.pitch_mm,
        basic_pitch_mm=_mm(_whole(diameter * 1e4) - to_pitch),
        height_mm=BASIC_HEIGHT["60"] * thread.pitch_mm,
        fillet_mm=_mm(pitch_max - _whole(FILLET_START * 1e4 / tpi)) if controlled else None,
    )


def _internal(thread: Thread, diameter: float, tpi: int) -> Member:
    grade = thread.internal_class
    major = _whole(diameter * 1e4)
    pitch_min = major - _whole(6495.19053 / tpi)
    pitch_max = pitch_min + _whole(_PITCH_FACTOR[grade] * _pitch_tolerance(thread, diameter, tpi))
    height = 9742.79 if thread.family == "UNJ" else 10825.3175
    minor_min = major - _whole(height / tpi)
    minor_max = minor_min + _minor_tolerance(grade, diameter, tpi)
    if thread.family == "UN" and diameter >= 0.138:
        # The tables give three decimals to the hole from size #6 up; of 3B only to the smallest hole.
        minor_min = 10 * _whole(minor_min / 10)
        minor_max = minor_max if grade == "3B" else 10 * _whole(minor_max / 10)
    return Member(
        major_mm=(_mm(major), None),
        pitch_mm=(_mm(pitch_min), _mm(pitch_max)),
        minor_mm=(_mm(minor_min), _mm(minor_max)),
        thread_pitch_mm=thread.pitch_mm,
        basic_pitch_mm=_mm(pitch_min),
        height_mm=BASIC_HEIGHT["60"] * thread.pitch_mm,
    )


def _whole(value: float) -> int:
    """Round to a whole number, halves to even; what binary fractions add is taken off first, so that a half is one."""
    return round(round(value, 6))


def _mm(ten_thousandths: int) -> float:
    """Return millimetres; the one place where unified figures leave the inch."""
    return round(ten_thousandths * _TEN_THOUSANDTH_MM, 6)

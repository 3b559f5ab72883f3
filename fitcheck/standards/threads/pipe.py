"""Limits of size of pipe threads: NPT by ASME B1.20.1, G by ISO 228-1, R, Rp and Rc by ISO 7-1."""

from functools import lru_cache
from typing import NamedTuple

from fitcheck.standards.threads.member import BASIC_HEIGHT, Member
from fitcheck.standards.threads.series import PipeSize, pipe_sizes
from fitcheck.standards.threads.thread import INCH, PIPE_TAPER, Thread

_SHARP = 0.866025  # height of the sharp 60 degree profile, in pitches
_TRUNCATION_MIN = 0.033  # least crest and root truncation of NPT, in pitches (ASME B1.20.1)
_NPT_TURNS = 1.0  # gauge tolerance of NPT, turns either way (from memory)
_R_TURNS = 1.0  # gauge tolerance of R, turns either way (ISO 7-1, from memory)
_RP_TURNS = 1.25  # gauge tolerance of Rp and Rc, turns either way (ISO 7-1, from memory)


class NptSize(NamedTuple):
    """Basic sizes of an NPT thread [in]: pitch diameters E0 (small end), E1 (gauge plane), lengths L1, L2."""

    pitch: float
    e0: float
    e1: float
    l1: float
    l2: float
    truncation_max: float


@lru_cache(maxsize=16)
def npt_size(label: str) -> NptSize:
    """Return the basic sizes of an NPT thread. Source: ASME B1.20.1; L1 is tabulated.

    For 1/8: E0 0.36351, E1 0.37360, L2 0.2639 in, as printed.
    """
    from fitcheck.standards.tables import load  # read only when a pipe thread is met

    outside, tpi, l1, truncation = (float(cell) for cell in load("threads_pipe")["npt"]["rows"][label].split())
    pitch = 1.0 / tpi
    e0 = outside - (0.050 * outside + 1.1) * pitch
    return NptSize(pitch, e0, e0 + PIPE_TAPER * l1, l1, (0.80 * outside + 6.8) * pitch, truncation)


def members(thread: Thread) -> tuple[Member, Member, str]:
    """Return external and internal member and the source.

    A taper thread's diameters are at its gauge plane. R names the external and Rc or Rp the internal member
    of an ISO 7-1 joint, so the other member of R is that of Rc, and the external member of Rc and Rp is R.
    """
    size = next(size for size in pipe_sizes(thread.series) if abs(size.major_mm - thread.nominal_mm) < 0.001)
    if thread.family == "NPT":
        return _npt(thread, size)
    if thread.series == "G":
        return _parallel(thread, size)
    return _iso_7(thread, size)


def _npt(thread: Thread, size: PipeSize) -> tuple[Member, Member, str]:
    basic = npt_size(size.label)
    pitch, middle = basic.pitch * INCH, basic.e1 * INCH
    spread = _NPT_TURNS * pitch * PIPE_TAPER
    tall = (_SHARP - 2 * _TRUNCATION_MIN) * pitch
    short = _SHARP * pitch - 2 * basic.truncation_max * INCH
    low, high = middle - spread, middle + spread
    shared = (pitch, middle, BASIC_HEIGHT["NPT"] * pitch, 60.0, PIPE_TAPER)
    external = Member(
        (low + short, high + tall),
        (low, high),
        (None, high - short),
        *shared,
        basic.l1 * INCH,
        basic.l2 * INCH,
    )
    internal = Member((low + short, None), (low, high), (low - tall, high - short), *shared)
    source = (
        f"ASME B1.20.1, diameters at the hand-tight gauge plane ({basic.l1 * INCH:.2f} mm from the small"
        " end, face of the internal thread), gauge tolerance one turn either way (from memory)"
    )
    if thread.series == "NPTF":
        source += "; basic sizes of NPT, the crest truncations of the dryseal form (ASME B1.20.3) are not carried"
    return external, internal, source


def _parallel(thread: Thread, size: PipeSize) -> tuple[Member, Member, str]:
    _, major, pitch, minor, on_pitch, on_minor, on_major = _parallel_row(size.label)
    shared = (thread.pitch_mm, pitch, BASIC_HEIGHT["55"] * thread.pitch_mm, 55.0)
    wide = 2.0 if thread.external_class == "B" else 1.0
    external = Member((_um(major - on_major), major), (_um(pitch - wide * on_pitch), pitch), (None, minor), *shared)
    internal = Member((major, None), (pitch, _um(pitch + on_pitch)), (minor, _um(minor + on_minor)), *shared)
    return external, internal, f"ISO 228-1:1994 table 1, class {thread.external_class} external"


def _iso_7(thread: Thread, size: PipeSize) -> tuple[Member, Member, str]:
    from fitcheck.standards.tables import load

    _, major, pitch, minor, *_ = _parallel_row(size.label)
    gauge, useful = (float(cell) for cell in load("threads_pipe")["taper"]["rows"][size.label].split())
    shared = (thread.pitch_mm, pitch, BASIC_HEIGHT["55"] * thread.pitch_mm, 55.0)
    out = _R_TURNS * thread.pitch_mm * PIPE_TAPER
    within = _RP_TURNS * thread.pitch_mm * PIPE_TAPER
    external = Member(
        (_um(major - out), _um(major + out)),
        (_um(pitch - out), _um(pitch + out)),
        (None, _um(minor + out)),
        *shared,
        PIPE_TAPER,
        gauge,
        useful,
    )
    internal = Member(
        (_um(major - within), None),
        (_um(pitch - within), _um(pitch + within)),
        (_um(minor - within), _um(minor + within)),
        *shared,
        0.0 if thread.series == "Rp" else PIPE_TAPER,
    )
    internal_name = "Rp" if thread.series == "Rp" else "Rc"
    source = (
        f"ISO 7-1:1994 table 1, external R, internal {internal_name}, diameters at the gauge plane"
        f" ({gauge} mm from the small end, face of the internal thread), gauge tolerances 1 and 1.25 turns"
        " either way (from memory)"
    )
    return external, internal, source


def _parallel_row(label: str) -> tuple[float, ...]:
    from fitcheck.standards.tables import load

    return tuple(float(cell) for cell in load("threads_pipe")["parallel"]["rows"][label].split())


def _um(value: float) -> float:
    """Round to whole micrometres, as the standards print diameters."""
    return round(value, 3)

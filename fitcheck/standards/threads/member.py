"""The sizes of one member of a thread, external or internal, and the pair of them."""

from typing import Any, NamedTuple

from fitcheck.errors import FitcheckError
from fitcheck.standards.threads.thread import Thread

Bounds = tuple[float | None, float | None]
"""Smallest and largest diameter [mm]; None where the standard sets no limit."""

BASIC_HEIGHT = {"60": 1.082532, "55": 1.280654, "NPT": 1.6}
"""Height of the basic profile on diameter, in pitches (ISO 68-1 5H/4; ISO 228-1; ASME B1.20.1)."""

FILLET_START = 0.324760
"""Below the greatest pitch diameter, in pitches: where a UNJ or MJ fillet leaves the flanks (derived)."""


class ThreadLimitsError(FitcheckError, ValueError):
    """A thread without limits in the tables: `thread` is its designation, `reason` what is missing."""

    def __init__(self, thread: str, reason: str) -> None:
        self.thread = thread
        self.reason = reason
        super().__init__(thread, reason)

    def __str__(self) -> str:
        return f"no limits of size for {self.thread}: {self.reason}"


class Member(NamedTuple):
    """Limits of size [mm] of an external or internal thread, and what else its fit depends on.

    Diameters of a taper member are those at its gauge plane, `gauge_mm` from the small end of an external
    thread and at the face of an internal one; `useful_mm` is how far a taper external thread can enter.
    `basic_pitch_mm` is the pitch diameter without tolerance, `height_mm` the height of the basic profile on
    diameter. `fillet_mm` is the diameter at which a controlled root radius leaves the flanks, or None where
    the root is not controlled.
    """

    major_mm: Bounds
    pitch_mm: tuple[float, float]
    minor_mm: Bounds
    thread_pitch_mm: float
    basic_pitch_mm: float
    height_mm: float
    flank_deg: float = 60.0
    taper: float = 0.0
    gauge_mm: float = 0.0
    useful_mm: float = 0.0
    fillet_mm: float | None = None

    def to_json(self) -> dict[str, list[float | None]]:
        """Return the three pairs of limits [mm], rounded to 0.0001 mm."""
        pairs = {"major_mm": self.major_mm, "pitch_mm": self.pitch_mm, "minor_mm": self.minor_mm}
        return {name: [None if end is None else round(end, 4) for end in pair] for name, pair in pairs.items()}


class Limits(NamedTuple):
    """Limits of size of both members of a thread, with the standard and clause they come from."""

    thread: Thread
    external: Member
    internal: Member
    source: str

    def to_json(self) -> dict[str, Any]:
        """Return the JSON shape of the `thread` command."""
        return {
            "designation": self.thread.designation,
            "external": self.external.to_json(),
            "internal": self.internal.to_json(),
            "source": self.source,
        }

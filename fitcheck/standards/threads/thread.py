"""The record of one thread, and the error for text that names none."""

from typing import NamedTuple

from fitcheck.errors import FitcheckError

INCH = 25.4
"""Millimetres in an inch, exact by definition."""

PIPE_TAPER = 1.0 / 16.0
"""Taper on diameter of NPT and ISO 7-1 taper threads (ASME B1.20.1; ISO 7-1)."""

_FAMILIES = {
    "UNC": "UN",
    "UNF": "UN",
    "UNEF": "UN",
    "UNS": "UN",
    "UNJC": "UNJ",
    "UNJF": "UNJ",
    "UNJEF": "UNJ",
    "UNJS": "UNJ",
    "NPTF": "NPT",
    "R": "BSPT",
    "Rc": "BSPT",
}


class ThreadDesignationError(FitcheckError, ValueError):
    """Text that is not a thread designation.

    `text` is what was given, `reason` says what is wrong with it, `nearest` is the canonical designation
    most like it, or None when nothing is alike.
    """

    def __init__(self, text: str, reason: str, nearest: str | None = None) -> None:
        self.text = text
        self.reason = reason
        self.nearest = nearest
        super().__init__(text, reason, nearest)

    def __str__(self) -> str:
        shown = self.text if len(self.text) <= 80 else self.text[:77] + "..."
        tail = f"; nearest is {self.nearest}" if self.nearest else ""
        return f"{shown!r} is not a thread designation: {self.reason}{tail}"


class Thread(NamedTuple):
    """One thread designation, understood.

    `series` is UNC, UNF, UNEF, UN, UNS or their UNJ twins, M, MJ, NPT, NPTF, G, R, Rp or Rc. `nominal_mm`
    is the basic major diameter (for NPT the outside diameter of the pipe). `flank_deg` is the included
    angle, 60 or 55. `taper` is the growth of diameter per length, 0 or 1/16. `designation` is the one
    canonical spelling; it names a tolerance class only where that class is not the usual one.
    """

    series: str
    nominal_mm: float
    pitch_mm: float
    flank_deg: float
    taper: float
    designation: str
    external_class: str
    internal_class: str

    @property
    def family(self) -> str:
        """Return the series without its grade: UN, UNJ, M, MJ, NPT, G, BSPT (R and Rc) or Rp."""
        return _FAMILIES.get(self.series, self.series)

    @property
    def key(self) -> tuple[str, float, float]:
        """Return family, nominal diameter and pitch [mm]: equal for one thread, whatever its class."""
        return (self.family, round(self.nominal_mm, 4), round(self.pitch_mm, 4))

    def __str__(self) -> str:
        return self.designation

"""Where the formula of each figure of a fit comes from, for whoever asks."""

from collections.abc import Mapping
from typing import Final

_FEDERAL = "FED-STD-H28/2B (1991)"

FIGURE_SOURCES: Final[Mapping[str, str]] = {
    "verdict": "derived: the figures below, judged in the order drops through, too large, one thread, binds",
    "clearance_mm": "derived: D2 - d2 at the mouth, both extremes of both limits of size",
    "radial_clearance_mm": "derived: (D2 - d2) / 2",
    "overlap_mm": "derived: (d - D1) / 2",
    "overlap_percent": "derived: (d - D1) over the height of the basic profile on diameter (1.082532 P at 60 degrees,"
    " ISO 68-1; 1.280654 P at 55, ISO 228-1; 1.6 P for NPT, ASME B1.20.1)",
    "free_turns": "derived: (c tan a + (P_int - P_ext) / 2) / (dP + tan a P / 16 if taper), c less what unlike flank"
    f" angles take; the ridge of the coarser pitch is the wider by half the difference; a pitch error acts as"
    f" 1.732 times itself on the pitch diameter ({_FEDERAL} para 60)",
    "pitch_difference_mm": "derived: external less internal pitch",
    "goes_home": "derived: free turns times the internal pitch against the length of engagement; a taper thread"
    " against its gauge length (ASME B1.20.1; ISO 7-1:1994)",
    "strip_share": f"{_FEDERAL} table II.B.1 formulas (2a) and (4a) with the foreign thread's diameters, over the"
    " turns whose pitch difference stays within tan a (Td2 + TD2) (derived); taper threads are outside them",
    "starts_on_chamfer": f"derived from the chamfers of {_FEDERAL} paras 5.5.2, 5.6 and 5.7.2.1: (d - d1 + D - D1) / 2,"
    " at most two turns",
    "binding_band_mm": "derived: a root radius of 0.18042 P leaves the flanks 0.324760 P below the pitch diameter"
    " (FED-STD-H28/21B (1984) worked examples, same profile)",
}
"""Figure of `Fit` -> formula and its source. The limits of size behind them are named in `Fit.source`."""

"""How a pack looks on paper: styles of text, colours, margins. Lengths in pt."""

from typing import Any, Final

from fitcheck.reports.pdf_fonts import BOLD, REGULAR

MM: Final = 72.0 / 25.4
ALARM: Final = "#b33a00"
SOFT: Final = "#444444"
LINE: Final = "#777777"
FRAME_MM: Final = 190.0
"""Width of what is printed, as wide as the drawings of bench sheets are."""
TEXT_MM: Final = 178.0
"""Width of text: it begins where the words in those drawings begin."""
HEAD_MM: Final = 15.0
"""Left at the top of each page: edge and running head."""
FOOT_MM: Final = 17.0
"""Left at the bottom of each page: caution, revision, number, edge."""
PAPERS_MM: Final = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
LARGER_MM: Final = {"a4": (297.0, 420.0), "letter": (279.4, 431.8)}
"""The next size, for a drawing that would be too small on the other: A3 (ISO 216), tabloid (ANSI B)."""

Looks = dict[str, Any]
"""Paragraph styles by what they are for."""


_SIZES: Final = {
    "text": (9.0, 11.6), "item": (9.0, 11.6), "more": (8.5, 10.8), "cell": (8.0, 9.8), "head": (8.0, 9.8),
    "h1": (26.0, 31.0), "h2": (17.0, 21.0), "h3": (12.5, 15.5), "h4": (10.0, 12.5), "caution": (7.5, 9.4),
    "warning": (17.0, 21.0), "alarm": (10.0, 12.5), "toc0": (10.5, 14.0), "toc1": (9.0, 11.6),
}  # fmt: skip


def looks() -> Looks:
    """Return the styles of a pack; reportlab is imported here."""
    from reportlab.lib.styles import ParagraphStyle

    edge = (FRAME_MM - TEXT_MM) / 2.0 * MM
    made: Looks = {}
    for name, (size, lead) in _SIZES.items():
        bold = name in ("h1", "h2", "h3", "h4", "head", "warning", "alarm", "toc0")
        made[name] = ParagraphStyle(
            name, fontName=BOLD if bold else REGULAR, fontSize=size, leading=lead, leftIndent=edge, rightIndent=edge,
            spaceAfter=2.5, splitLongWords=1,
        )  # fmt: skip
    for name in ("cell", "head"):
        made[name].leftIndent = made[name].rightIndent = made[name].spaceAfter = 0.0
    made["h2"].spaceAfter = 5.0
    made["h3"].spaceBefore, made["h4"].spaceBefore = 9.0, 7.0
    for name in ("h2", "h3", "h4"):
        made[name].keepWithNext = 1
    for name in ("h3", "h4"):
        made[f"{name}-table"] = made[name].clone(f"{name}-table", keepWithNext=0)
    made["item"].leftIndent = edge + 8.0
    made["more"].leftIndent = edge + 20.0
    made["more"].textColor = made["caution"].textColor = SOFT
    made["warning"].textColor = made["alarm"].textColor = ALARM
    made["warning"].borderColor, made["warning"].borderWidth, made["warning"].borderPadding = ALARM, 3.0, 8.0
    made["warning"].spaceBefore = made["warning"].spaceAfter = 16.0
    made["toc1"].leftIndent = edge + 14.0
    return made

"""Filling, bleeding and leak-testing as text, with boxes to tick and lines to sign."""

from collections.abc import Iterable, Iterator

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.hydraulics.leak_test import Joined
from fitcheck.reports.bleed_words import LEAK, joined_text, leak_texts, mark_texts, sentences, torque_text
from fitcheck.reports.plain import WIDTH, caution_lines, paragraph

BOXES = "[ ] [ ] [ ]"
COLUMNS = "boxes: tightened, dry at low pressure, dry at high pressure"


def bleed_text(sheet: BleedSheet, *, width: int = WIDTH) -> str:
    """Return the sheet for people, in lines of at most `width` columns."""
    lines = paragraph(f"{sheet.bleed.build}: filling, bleeding, leak test", width)
    for title, told in sentences(sheet):
        lines += ["", title.upper(), *_items(told, width)]
    marks: list[str] = []
    for test in sheet.tests.tests:
        lines += ["", *paragraph(f"LEAK TEST: {test.name}", width), *_items(leak_texts(test), width)]
        lines += ["", *_joints(test.joints, marks, width), "", *_signed()]
    if sheet.tests.feeds:
        lines += ["", "FEEDS: no pressure, look at them when the reservoirs are full", ""]
        lines += _joints(sheet.tests.feeds, marks, width)
    lines += ["", "TORQUES", *_items(mark_texts(marks), width), "", "ON A LEAK", *_items(LEAK, width)]
    return "\n".join([*lines, *caution_lines(width)])


def _items(told: Iterable[str], width: int) -> Iterator[str]:
    for words in told:
        yield from paragraph(words, width, "  ", "    ")


def _joints(joints: Iterable[Joined], marks: list[str], width: int) -> Iterator[str]:
    yield f"  {COLUMNS}"
    for joined in joints:
        words = f"{BOXES} {joined_text(joined)}: {torque_text(joined, marks)}"
        yield from paragraph(words, width, "  ", " " * 14)


def _signed() -> Iterator[str]:
    yield "  low: from ______ to ______ bar, at ______ o'clock until ______ o'clock"
    yield "  high: from ______ to ______ bar, held ______ min; pedal sank ______ mm"
    yield "  tested by ____________________  date ____________  signed ______________"

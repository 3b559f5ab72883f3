"""Filling, bleeding and leak-testing as text, with boxes to tick and lines to sign."""

from collections.abc import Iterable, Iterator

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.hydraulics.leak_test import Joined
from fitcheck.measures import Units
from fitcheck.reports.bleed_words import LEAK, joined_text, leak_texts, mark_texts, sentences, torque_text
from fitcheck.reports.plain import WIDTH, caution_lines, paragraph

BOXES = "[ ] [ ] [ ]"
COLUMNS = "boxes: tightened, dry at low pressure, dry at high pressure"
FEED_BOXES = "[ ] [ ]"
FEED_COLUMNS = "boxes: tightened, dry"


def bleed_text(sheet: BleedSheet, *, width: int = WIDTH) -> str:
    """Return the sheet for people, in lines of at most `width` columns."""
    lines = paragraph(f"{sheet.bleed.build}: filling, bleeding, leak test", width)
    for title, told in sentences(sheet):
        lines += ["", title.upper(), *_items(told, width)]
    marks: list[str] = []
    for test in sheet.tests.tests:
        lines += ["", *paragraph(f"LEAK TEST: {test.name}", width), *_items(leak_texts(test, sheet.units), width)]
        lines += ["", *_joints(test.joints, marks, sheet.units, width), "", *_signed(sheet.units)]
    if sheet.tests.feeds:
        lines += ["", "FEEDS: no pressure, look at them when the reservoirs are full", ""]
        lines += _joints(sheet.tests.feeds, marks, sheet.units, width, FEED_COLUMNS, FEED_BOXES)
    lines += ["", "TORQUES", *_items(mark_texts(marks), width), "", "ON A LEAK", *_items(LEAK, width)]
    return "\n".join([*lines, *caution_lines(width)])


def _items(told: Iterable[str], width: int) -> Iterator[str]:
    for words in told:
        yield from paragraph(words, width, "  ", "    ")


def _joints(
    joints: Iterable[Joined], marks: list[str], units: Units, width: int, columns: str = COLUMNS, boxes: str = BOXES
) -> Iterator[str]:
    yield f"  {columns}"
    for joined in joints:
        words = f"{boxes} {joined_text(joined)}: {torque_text(joined, marks, units)}"
        yield from paragraph(words, width, "  ", " " * (len(boxes) + 3))


def _signed(units: Units) -> Iterator[str]:
    gauge = "psi" if units.pounds else "bar"
    yield f"  low: from ______ to ______ {gauge}, at ______ o'clock until ______ o'clock"
    yield f"  high: from ______ to ______ {gauge}, held ______ min; pedal sank ______ {units.length}"
    yield "  tested by ____________________  date ____________  signed ______________"

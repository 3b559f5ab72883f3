"""Paragraphs of a pack with right-to-left words: lines in their order, each as it is seen. Words invented."""

import re

import pytest

pytest.importorskip("bidi")
pytest.importorskip("reportlab")

from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from fitcheck.reports import pdf_fonts as fonts
from fitcheck.reports.pack.looks import looks
from fitcheck.reports.pack.turned import Words, turned

LETTERS = "\u05d0\u05d1\u05d2\u05d3\u05d4\u05d5\u05d6\u05d7\u05d8\u05d9"
WORDS = [letter * 6 for letter in LETTERS]


def lines(markup: str, room: float, bold: bool = False) -> list[str]:
    """Return the lines of turned markup without fonts."""
    return [re.sub(r"</?font[^>]*>", "", line) for line in turned(markup, room, 8.0, bold)]


def known() -> bool:
    """Return whether a font here has Hebrew."""
    return ord(LETTERS[0]) in fonts._known()


def test_the_first_words_are_on_the_first_line() -> None:
    """A text of ten words over some lines: each line holds the next words of it, from right to left."""
    if not known():
        pytest.skip("no font with Hebrew here")
    found = lines(" ".join(WORDS), 110.0)
    assert len(found) > 2
    assert [word[0] for line in found for word in reversed(line.split())] == list(LETTERS)


def test_no_line_is_wider_than_its_room() -> None:
    """Every line fits, also where one word has to be broken; no letter is lost."""
    text = " ".join((*WORDS, "M10x1", 90 * "\u05ea", "end"))
    found = lines(text, 90.0)
    assert all(fonts.width(line, 8.0) <= 90.0 for line in found if known())
    assert sorted("".join(found).replace(" ", "")) == sorted(fonts.shown(text).replace(" ", ""))


def test_bold_stays_bold() -> None:
    """What is bold is measured and set in bold; markup signs stay text."""
    found = lines(f"<b>{WORDS[0]} a&lt;b</b> {WORDS[1]}", 400.0)
    assert len(found) == 1
    assert found[0].count("<b>") == 1
    assert "a&lt;b" in found[0]
    assert "<b>" not in lines(WORDS[0], 400.0, bold=True)[0]


def test_a_paragraph_is_as_high_as_its_lines_and_remembers_it() -> None:
    """Its height is that of the lines; asked with another width it wraps anew."""
    style = looks()["cell"]
    made = Words(fonts.marked(" ".join(WORDS)), style)
    wide, high = made.wrap(110.0, 500.0)
    count = len(turned(fonts.marked(" ".join(WORDS)), 110.0, style.fontSize))
    assert high == pytest.approx(count * style.leading)
    assert made.wrap(110.0, 500.0) == (wide, high)
    assert made.wrap(60.0, 500.0)[1] > high
    assert made.wrap(110.0, 500.0) == (wide, high)


def test_split_over_two_pages_the_beginning_stays_above() -> None:
    """Split after its second line, the first part holds what begins the text."""
    style = looks()["cell"]
    made = Words(fonts.marked(" ".join(WORDS)), style)
    high = made.wrap(110.0, 500.0)[1]
    assert made.split(110.0, 1.5 * style.leading) == []
    assert made.split(110.0, high) == [made]
    first, second = made.split(110.0, 2.1 * style.leading)
    if known():
        assert LETTERS[0] in "".join(each.text for each in first.frags)
    assert first.wrap(110.0, 500.0)[1] + second.wrap(110.0, 500.0)[1] == pytest.approx(high)


@pytest.mark.parametrize("last", [True, False])
def test_runs_that_count_draw_nothing(last: bool) -> None:
    """Words are written in the last run only."""
    canvas = Canvas(BytesIO(), invariant=1, pageCompression=0)
    canvas.last_run = last
    made = Words("plain words", looks()["cell"])
    made.wrap(200.0, 100.0)
    made.drawOn(canvas, 10.0, 10.0)
    assert ("plain words" in "".join(canvas._code)) is last

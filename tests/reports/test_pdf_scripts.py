"""Right-to-left words on paper: in the order they are seen in, Arabic letters joined, nothing lost."""

import sys

import pymupdf
import pytest

pytest.importorskip("bidi")
pytest.importorskip("arabic_reshaper")
pytest.importorskip("reportlab")

from fitcheck.reports import pdf_fonts as fonts
from fitcheck.reports import pdf_scripts
from fitcheck.reports.drawing import Drawing, sheet, text
from fitcheck.reports.pdf_scripts import ScriptError, right_to_left, seen
from fitcheck.reports.svg_pdf import svg_pdf

SHALOM = "\u05e9\u05dc\u05d5\u05dd"
NOT_YET = "\u05dc\u05d0"
CAR = "\u0633\u064a\u0627\u0631\u0629"
CAR_JOINED = "\ufe93\ufead\ufe8e\ufef4\ufeb3"
"""The same from its last letter to its first, in their forms: final, isolated, final, medial, initial (Unicode)."""
LAM_ALEF = "\u0644\u0627"


def everything(char: str) -> bool:
    """A font that has all there is."""
    return True


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("M10x1 3/16 in", "M10x1 3/16 in"),
        (SHALOM, SHALOM[::-1]),
        (f"{SHALOM} 2026", f"2026 {SHALOM[::-1]}"),
        (f"tank {SHALOM} 10", f"tank 10 {SHALOM[::-1]}"),
        (f"{SHALOM} M10x1", f"{SHALOM[::-1]} M10x1"),
        (f"{SHALOM} 3.5 {NOT_YET}", f"{NOT_YET[::-1]} 3.5 {SHALOM[::-1]}"),
        (f"{SHALOM} ({NOT_YET})", f"({NOT_YET[::-1]}) {SHALOM[::-1]}"),
        (f"a ({SHALOM}) b", f"a ({SHALOM[::-1]}) b"),
        (f"{SHALOM} [12] {NOT_YET}: x", f"{NOT_YET[::-1]} [12] {SHALOM[::-1]}: x"),
        (CAR, CAR_JOINED),
        (f"{CAR} 2026 M10x1", f"2026 {CAR_JOINED} M10x1"),
        (LAM_ALEF, "\ufefb"),
        ("\u0645\u064f", "\u064f\ufee1"),
    ],
)
def test_a_line_is_put_as_it_is_seen(line: str, wanted: str) -> None:
    """Words are turned, figures and Latin words are not, brackets face the right way, letters are joined.

    Source: Unicode Standard Annex 9, rules W2 to W7, N0, L2 and L4, worked by hand; forms by the code charts.
    """
    assert seen(line, everything) == wanted


def test_the_same_letters_are_left() -> None:
    """Turned or joined, no letter and no figure is lost: taken apart again they are the same ones."""
    from unicodedata import normalize

    line = f"{CAR} ({SHALOM}) 2026, M10x1 [{LAM_ALEF}] \u0645\u064f\u062d\u064e\u0645\u0651\u064e\u062f \u0640"
    assert sorted(normalize("NFKC", seen(line, everything))) == sorted(normalize("NFKC", line))


def test_a_form_that_the_font_lacks_is_the_plain_letter() -> None:
    """Without the joined forms the letters stand as they are by themselves, in the same order."""
    assert seen(CAR, lambda char: not 0xFB50 <= ord(char) <= 0xFEFF) == CAR[::-1]


def test_what_no_font_has_is_told_beside_what_one_has() -> None:
    """A character that no font here has stands as its code, read from left to right, among turned words."""
    assert fonts.line_shown(f"\u6f22 {SHALOM}") == f"\\u6f22 {SHALOM[::-1]}"


def test_a_mark_of_the_reader_in_a_line_stays() -> None:
    """The marks that tell whether a bracket was turned may stand in a line themselves."""
    spare = pdf_scripts._SPARE
    for count in range(len(spare) + 1):
        line = f"{SHALOM} (a{spare[:count]})"
        assert sorted(seen(line, everything)) == sorted(line)


def test_direction_is_known_by_letters() -> None:
    """Hebrew, Arabic and their forms are right to left; Greek, signs and figures are not."""
    assert [right_to_left(each) for each in (SHALOM, CAR, CAR_JOINED, "\u03c9 \u00b5 12", "")] == [True] * 3 + [
        False
    ] * 2


def test_drawings_have_them_as_seen() -> None:
    """In the PDF of a drawing the line's characters come in the order in which they are seen."""
    svg = sheet(Drawing(90.0, 20.0, "t", "d", (text(5.0, 10.0, 4.0, f"{CAR} 2026 M10x1"),)), "light")
    page = pymupdf.open(stream=svg_pdf(svg))[0]
    spans = [span for block in page.get_text("rawdict")["blocks"] for line in block["lines"] for span in line["spans"]]
    chars = sorted((char["bbox"][0], char["c"]) for span in spans for char in span["chars"] if char["c"] != " ")
    if ord(CAR[0]) in fonts._known():
        assert "".join(char for _, char in chars) == f"2026{CAR_JOINED}M10x1"
    else:
        assert "\\u0633" in page.get_text()


@pytest.mark.parametrize(("package", "words"), [("bidi", SHALOM), ("arabic_reshaper", CAR)])
def test_without_the_packages_it_says_what_to_install(
    package: str, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a package is missing the error names the extra; lines of Latin letters need neither."""
    monkeypatch.setitem(sys.modules, package, None)
    pdf_scripts._reshape.cache_clear()
    assert seen("caf\u00e9", everything) == "caf\u00e9"
    with pytest.raises(ScriptError) as caught:
        seen(words, everything)
    pdf_scripts._reshape.cache_clear()
    assert str(caught.value) == (
        'right-to-left words in a PDF need python-bidi and arabic-reshaper: pip install "fitcheck[print]"'
    )

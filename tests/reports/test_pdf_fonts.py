"""Characters on paper: each is shown in a font that has it, or as its code; markup of users is text."""

from unicodedata import name as name_of

import pytest

from fitcheck.reports import pdf_fonts as fonts

pytest.importorskip("reportlab")


def test_latin_stays_in_the_first_font() -> None:
    """What the first font has is left as it is, markup signs escaped."""
    assert fonts.marked("café <b>&amp;</b> 10 µm") == "café &lt;b&gt;&amp;amp;&lt;/b&gt; 10 µm"


def test_other_scripts_take_the_second_font() -> None:
    """Greek and Cyrillic are set in the second font, or as codes where it is not there."""
    greek = fonts.marked("ab ω")
    assert greek in ('ab <font name="PackMore">ω</font>', "ab \\u03c9")


def test_what_no_font_has_is_shown_as_its_code() -> None:
    """Characters of East Asia, pictures and controls do not vanish: their codes stand there."""
    assert fonts.shown("a漢\U0001f697\u202e") == "a\\u6f22\\U0001f697\\u202e"


def test_without_the_second_library_the_third_font_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where matplotlib is not installed, Vera is used, and what it lacks is shown as code."""
    monkeypatch.setattr(fonts, "find_spec", lambda _: None)
    fonts._known.cache_clear()
    try:
        assert fonts._files() == ("Vera.ttf", "VeraBd.ttf")
        assert (
            fonts.shown("ω \u0142 漢") == "\\u03c9 \u0142 \\u6f22"
            if 0x142 in fonts._known()
            else "\\u03c9 \\u0142 \\u6f22"
        )
    finally:
        fonts._known.cache_clear()


def test_every_character_of_the_first_font_is_known_to_it() -> None:
    """Each character that counts as the first font's has a width of its own there."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    for code in range(32, 0x2200):
        char = chr(code)
        if fonts._plain(char) and char.isprintable():
            assert stringWidth(char, fonts.REGULAR, 10.0) > 0.0, name_of(char)


def test_width_counts_both_fonts() -> None:
    """The width of a text is that of its runs."""
    assert fonts.width("ab", 8.0) + fonts.width("ω", 8.0) == pytest.approx(fonts.width("abω", 8.0))
    assert fonts.width("ab", 8.0, bold=True) > fonts.width("ab", 8.0)

"""Sections of text reports as HTML: nothing is lost, tables are tables, hostile text is text."""

import re
from html import unescape

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.hydraulics.answer import answer
from fitcheck.reports.pack.told import UNLIMITED, told
from fitcheck.reports.pedal_text import pedal_text
from tests.reports.pack.builds import DEMO

LOOK = settings(derandomize=True, database=None, deadline=None, max_examples=200)


def words(html: str) -> list[str]:
    """Return the words that a piece of HTML shows."""
    return unescape(re.sub(r"<[^<>]+>", " ", html)).split()


def test_headings_sentences_and_tables() -> None:
    """A line that is not indented is a heading, two blanks make a sentence, a row of dashes a table."""
    lines = [
        "",
        "PRESSURE",
        "",
        "  circuit    share",
        "  ---------  -------",
        "  front      54.3 %",
        "  rear & <b>  5.7 %",
        "  front      54.3 %",
        "  a sentence",
        "    and more",
    ]
    del lines[6]
    assert "".join(told(lines)) == (
        '<h4>PRESSURE</h4><div class="wide" tabindex="0" role="group" aria-label="table"><table><thead><tr>'
        "<th>circuit</th><th>share</th></tr></thead><tbody><tr><td>front</td><td>54.3 %</td></tr>"
        "<tr><td>front</td><td>54.3 %</td></tr></tbody></table></div>"
        '<p class="item">a sentence</p><p class="more">and more</p>'
    )


def test_numbers_are_set_right() -> None:
    """A column whose cells all end where it ends is set right."""
    lines = ["  what      takes", "  ------  -------", "  a             5", "  b            55"]
    assert '<td class="n">55</td>' in "".join(told(lines))


def test_pedal_figures_keep_every_word() -> None:
    """What the pedal's report says stands in the HTML, word for word, in its order; dashes are rules of tables."""
    text = pedal_text(answer(assemble(load(DEMO))), width=UNLIMITED)
    html = "".join(told(text.splitlines()))
    assert words(html) == [word for word in text.split() if not re.fullmatch("--+", word)]
    assert html.count("<table>") == len(re.findall(r"(?m)^  --+  .*$", text))


LINE = st.one_of(
    st.sampled_from(["", "  ----  ----", "  a     b", "  --", "    x", "HEAD", "  <b>x</b>", "  ------", " x"]),
    st.text(alphabet="ab<>&-  漢\u0301", max_size=12).map(lambda text: f"  {text}"),
)


@LOOK
@given(st.lists(LINE, max_size=12))
def test_no_word_is_lost(lines: list[str]) -> None:
    """Whatever lines stand under each other, every word but rows of dashes is shown, as text."""
    html = "".join(told(lines))
    wanted = [word for line in lines for word in line.split() if not re.fullmatch("-+", word)]
    assert [word for word in words(html) if not re.fullmatch("-+", word)] == wanted
    assert set(re.findall(r"</?(\w+)", html)) <= {"h4", "p", "div", "table", "thead", "tbody", "tr", "th", "td"}

"""Sections on paper: widths of columns, texts of any length, headings that the contents lead to."""

from pathlib import Path

import pymupdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

pytest.importorskip("svglib")

from fitcheck.reports.pack.flow import column_widths
from fitcheck.reports.pack.parts import MOST_WORDS, in_short
from fitcheck.reports.pack.pdf import pack_pdf
from fitcheck.reports.pack.record import Pack, Section, revision
from tests.reports.pack.builds import ON, pack_of, write_hostile

LOOK = settings(derandomize=True, database=None, deadline=None, max_examples=300)
CELL = st.tuples(st.floats(0.0, 3000.0), st.floats(0.0, 30000.0)).map(lambda pair: (min(pair), max(pair)))
ROWS = st.integers(1, 9).flatmap(lambda n: st.lists(st.lists(CELL, min_size=n, max_size=n), min_size=1, max_size=5))


@LOOK
@given(ROWS)
def test_columns_fill_the_table(rows: list[list[tuple[float, float]]]) -> None:
    """Together columns are as wide as the table; none is too narrow for a box to tick."""
    widths = column_widths(rows, 500.0)
    assert sum(widths) == pytest.approx(500.0)
    assert min(widths) >= 14.0 - 1e-9


@LOOK
@given(ROWS)
def test_words_are_whole_where_that_can_be(rows: list[list[tuple[float, float]]]) -> None:
    """If the longest words fit side by side, none of them being 0.3 of the table, no column breaks a word."""
    least = [max(14.0, *(cell[0] for cell in column)) for column in zip(*rows, strict=True)]
    if sum(least) < 500.0 and max(least) <= 150.0:
        widths = column_widths(rows, 500.0)
        assert all(width >= low - 1e-6 for width, low in zip(widths, least, strict=True))


def test_prices_stay_whole_beside_a_monstrous_word() -> None:
    """One endless word does not squeeze the other columns."""
    assert column_widths([[(20.0, 20.0), (30000.0, 30000.0), (40.0, 40.0)]], 500.0)[2] >= 40.0


def test_headings_are_short_in_the_contents() -> None:
    """A heading of usual length is whole; a long one ends in dots."""
    assert in_short("x" * MOST_WORDS) == "x" * MOST_WORDS
    assert in_short("x" * (MOST_WORDS + 1)) == f"{'x' * (MOST_WORDS - 3)}..."


def test_texts_of_any_length_are_printed_whole(tmp_path: Path) -> None:
    """Names, notes, descriptions and sources that are longer than a page go on over the next; all of it is there."""
    file = write_hostile(tmp_path)
    words = {name: " ".join(f"{name}{place}" for place in range(900)) for name in ("note", "tee", "shop")}
    file.write_text(file.read_text("utf-8").replace("http://n.example", words["note"]), encoding="utf-8")
    parts, offers = tmp_path / "parts.yaml", tmp_path / "offers.yaml"
    parts.write_text(parts.read_text("utf-8").replace("Tee ", f"{words['tee']} "), encoding="utf-8")
    offers.write_text(
        offers.read_text("utf-8").replace("Shop ", f"{words['shop']} ").replace("</u>", "u" * 4000), encoding="utf-8"
    )
    document = pymupdf.open(stream=pack_pdf(pack_of(file)))
    text = "".join("".join(page.get_text().split()) for page in document)
    for each in words.values():
        assert all(word in text for word in each.split())
    assert document.get_toc()[-1][1] == "Take care"


def test_an_endless_heading_is_found_from_the_contents() -> None:
    """A heading longer than a page stands in contents and outline with the page on which it begins."""
    stamp = revision([("build.yaml", b"build: 1")], ON)
    body = (f"<h3>{'head ' * 2000}</h3>", "<p>words</p>")
    made = pack_pdf(Pack("Car", (), "", "nothing found", stamp, (Section("First", body), Section("Second", ()))))
    document = pymupdf.open(stream=made)
    toc = document.get_toc()
    assert [(level, page) for level, _, page in toc] == [(1, 3), (2, 3), (1, len(document))]
    assert toc[1][1].endswith("...")


@pytest.mark.parametrize(
    ("piece", "shown"),
    [
        ("<ol><li>cut</li><li>flare</li></ol>", ["1. cut", "2. flare"]),
        ("<ul><li>look &lt;b&gt;</li></ul>", ["look <b>"]),
        ('<div class="faults">Cannot be made:<ul><li>no tube</li></ul></div>', ["Cannot be made:", "no tube"]),
        ("<p><b>remedy:</b> fit</p>", ["remedy: fit"]),
        ("<dl><dt>Note</dt><dd>x &amp; y</dd></dl>", ["Note", "x & y"]),
        (
            "<table><thead><tr><th>a</th></tr></thead><tbody><tr><td><b>p</b><p>q</p></td></tr></tbody></table>",
            ["a", "p", "q"],
        ),
    ],
)
def test_each_kind_of_piece_is_printed(piece: str, shown: list[str]) -> None:
    """Lists, frames, names with values and tables are printed with all their words."""
    stamp = revision([("build.yaml", b"build: 1")], ON)
    document = pymupdf.open(stream=pack_pdf(Pack("Car", (), "", "nothing", stamp, (Section("Only", (piece,)),))))
    text = " ".join(document[2].get_text().split())
    for words in shown:
        assert words in text


def test_plots_stay_with_their_heading() -> None:
    """Plots as high as a page are made smaller, so that their heading does not stand alone on the page before."""
    stamp = revision([("build.yaml", b"build: 1")], ON)
    size = 'viewBox="0 0 150 400" width="150mm" height="400mm"'
    svg = f'<svg {size}><text x="9" y="9" font-size="5">tall</text></svg>'
    body = (f"<p>{'words ' * 200}</p>", "<h3>Plots</h3>", f'<div class="drawing plots">{svg}</div>')
    made = pack_pdf(Pack("Car", (), "", "nothing", stamp, (Section("Only", body),)))
    pages = [page.get_text() for page in pymupdf.open(stream=made)][2:]
    assert ["tall" in text for text in pages if "Plots" in text] == [True]

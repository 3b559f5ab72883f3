"""The page on paper: a drawing cut to pages, the line under each page, the revision."""

import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.cli.main import main
from fitcheck.files import SUFFIXES, Fence
from fitcheck.service.folder import Folder
from fitcheck.service.page.drawn import VIEWS, Links, drawn
from fitcheck.service.page.paper import cut, foot_address, foot_style, revision_of, tiles
from fitcheck.service.page.snapshot import take
from tests.service.answer_schemas import DEMO

A4, LETTER = (210.0, 297.0), (215.9, 279.4)
MARGIN, CAPTION = 10.0, 5.0
LEAST_WORDS_MM = 2.0


def _fits(wide: float, high: float, way: str) -> bool:
    """Return whether a tile and the line over it fit on both papers, within the margins."""
    papers = (A4, LETTER) if way == "standing" else (A4[::-1], LETTER[::-1])
    return all(
        wide <= paper[0] - 2 * MARGIN + 0.1 and high + CAPTION <= paper[1] - 2 * MARGIN + 0.1 for paper in papers
    )


@given(st.floats(20.0, 5000.0), st.floats(20.0, 3000.0))
def test_every_drawing_is_covered(width: float, height: float) -> None:
    """All of a drawing is on some page, each fits the paper, neighbours share a strip, and there are eight at most."""
    found = list(cut(width, height))
    assert len(found) == found[0].pages <= 8
    assert [each.number for each in found] == list(range(1, len(found) + 1))
    assert all(_fits(each.wide, each.high, each.way) for each in found)
    assert max(each.box[0] + each.box[2] for each in found) == pytest.approx(width, abs=0.1)
    assert max(each.box[1] + each.box[3] for each in found) == pytest.approx(height, abs=0.1)
    for each in found:
        right = [other for other in found if other.box[1] == each.box[1] and other.number == each.number + 1]
        assert each.beside == bool(right)
        if right:
            scale = each.wide / each.box[2]
            assert (each.box[0] + each.box[2] - right[0].box[0]) * scale == pytest.approx(12.0, abs=0.3)


@given(st.floats(20.0, 500.0), st.floats(20.0, 350.0))
def test_full_size_wherever_it_may_be(width: float, height: float) -> None:
    """A drawing that eight pages hold is not shrunk."""
    assert all(abs(each.wide - each.box[2]) < 0.1 for each in cut(width, height))


@pytest.mark.parametrize(
    ("view", "pages", "way"), [("circuit", 2, "lying"), ("plan", 4, None), ("side", 2, "standing")]
)
def test_words_of_the_demo_can_be_read(view: str, pages: int, way: str | None) -> None:
    """The smallest words of the demo's drawings are two millimetres high on paper."""
    context = Context(assemble(load(DEMO)))
    svg = drawn(context, check_context(context), Links(view, "", "0" * 64, ("a",) * 99))
    found = tiles(svg)
    assert len(found) == pages
    assert way is None or {each.way for each in found} == {way}
    least = min(map(float, re.findall(r'font-size="([\d.]+)"', svg)))
    assert all(least * each.wide / each.box[2] >= LEAST_WORDS_MM - 0.01 for each in found)


def test_no_drawing_no_page() -> None:
    """What is no drawing has no page; every view of the page is one."""
    assert tiles("") == ()
    assert len(VIEWS) == 4


def test_revision_is_that_of_the_pack(tmp_path: Path) -> None:
    """The same files on the same day have the revision that `fitcheck pack` prints."""
    assert main(["pack", str(DEMO), "--out", str(tmp_path), "--on", "2026-12-01", "--only", "html"]) == 1
    now = take(Folder(Fence(DEMO, SUFFIXES), "build.yaml"))
    words = revision_of(now, date(2026, 12, 1)).words
    assert re.fullmatch(r"revision [0-9a-f]{12}, 2026-12-01", words)
    assert f"<footer><p>{words}</p></footer>" in (tmp_path / "pack.html").read_text()


def test_line_under_the_page_is_a_string_of_style() -> None:
    """Hostile words stay a string, whatever they try; long ones are cut."""
    hostile = '"}} body{display:none} /* \\ </style>\n'
    style = foot_style(hostile)
    assert style.count('"') == 2
    assert re.fullmatch(r'@page\{@bottom-left\{content:"[^"]*";font:8pt sans-serif\}\}', style)
    assert "display:none" in style  # as words, with their braces as codes
    assert "{display" not in style
    assert len(foot_address("x" * 5000, "revision 1")) < 300

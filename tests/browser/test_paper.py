"""The page on paper, as the browser prints it: what is on it, how large, and where pages end."""

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Garage

pytestmark = pytest.mark.slow

LEAST_WORDS_MM = 2.0
PT_MM = 25.4 / 72.0
MOST_PAGES = 12
"""Of the demo: its drawing takes two."""


def _printed(page: Page, tmp_path: Path, paper: str = "A4") -> Any:
    pymupdf = pytest.importorskip("pymupdf", reason="pymupdf is not installed: what is printed was not read")
    page.pdf(path=tmp_path / "page.pdf", format=paper, prefer_css_page_size=True)
    return pymupdf.open(tmp_path / "page.pdf")


def _text(printed: Any) -> str:
    return "\n".join(sheet.get_text() for sheet in printed)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_what_is_printed(page: Page, tmp_path: Path, paper: str) -> None:
    """Findings, gaps, parts, pedal and drawing are printed, and no button, field, joint list or bench sheet."""
    printed = _printed(page, tmp_path, paper)
    text = _text(printed)
    for words in ("runs in loose and strips in", "Not checked", "tee-axle-double", "AT THE WHEELS", "mc_front"):
        assert words in text
    for words in ("Undo", "Save", "Show what it changes", "Larger", "# Dunlin: an invented car.", "Nothing yet."):
        assert words not in text
    for words in ("Slide on from end A", "Joints and parts", "Plan the purchase"):
        assert words not in text
    assert len(printed) <= MOST_PAGES
    for sheet in printed:
        assert all(block[2] <= sheet.rect.width + 1.0 for block in sheet.get_text("blocks"))


def test_revision_on_every_page(page: Page, tmp_path: Path) -> None:
    """Each page has the build's name, revision and day, and its number; the first has the hash of each file."""
    words = page.locator("#head .revision").inner_text()
    found = re.match(r"(revision [0-9a-f]{12}, \d{4}-\d\d-\d\d): made from build.yaml ([0-9a-f]{12}),", words)
    assert found is not None
    full = page.locator("#head .revision span").first.get_attribute("title")
    assert full is not None
    assert re.fullmatch(rf"SHA-256 {found[2]}[0-9a-f]{{52}}", full)
    printed = _printed(page, tmp_path)
    for number, sheet in enumerate(printed, 1):
        assert f"Dunlin, {found[1]}" in sheet.get_text()
        assert f"{number} of {len(printed)}" in sheet.get_text()
    assert found[2] in printed[0].get_text()


def test_drawing_can_be_read(page: Page, tmp_path: Path) -> None:
    """The circuit lies on pages of its own, all of it is there, and its smallest words are two millimetres high."""
    printed = _printed(page, tmp_path)
    drawn = [sheet for sheet in printed if "of the drawing" in sheet.get_text()]
    assert len(drawn) == 2
    assert all(sheet.rect.width > sheet.rect.height for sheet in drawn)
    assert sum("caliper_fl" in sheet.get_text() for sheet in drawn) == 1
    assert "pedals" in drawn[0].get_text()
    spans = [
        span
        for sheet in drawn
        for block in sheet.get_text("dict")["blocks"]
        for line in block.get("lines", ())
        for span in line["spans"]
    ]
    assert min(span["size"] for span in spans) * PT_MM >= LEAST_WORDS_MM


def test_nothing_is_cut(page: Page, tmp_path: Path) -> None:
    """A finding stands whole on one page, no heading is the last of a page, and tables have their heads again."""
    printed = [sheet.get_text() for sheet in _printed(page, tmp_path)]
    for finding in page.locator("#findings .finding").all():
        lines = [line for line in finding.inner_text().splitlines() if line.strip()]
        first, last = lines[0].strip(), lines[-1].strip()
        ends = [" ".join(re.split(r"\s+", each)[:4]) for each in (first, last)]
        flat = [" ".join(text.split()) for text in printed]
        assert any(all(end in text for end in ends) for text in flat)
    headings = {words.strip() for words in page.locator("main h2, main h3").all_inner_texts()}
    for text in printed:
        body = [line.strip() for line in text.splitlines() if line.strip()]
        body = [line for line in body if not re.match(r"Dunlin, revision |\d+ of \d+$", line)]
        assert body[-1] not in headings
    rows = [text for text in printed if "part, and what it is for" in text]
    assert len(rows) >= 2


def test_reader_chooses(page: Page, tmp_path: Path) -> None:
    """What is ticked is printed: bench sheets come with all their steps, the bill goes."""
    page.locator("#paper summary").click()
    page.get_by_role("checkbox", name="Bench sheets").check()
    page.get_by_role("checkbox", name="Parts and cost").uncheck()
    text = _text(_printed(page, tmp_path))
    assert "Slide on from end A" in text
    assert "Parts and cost" not in text


def test_without_script(browser: Browser, garage: Garage, tmp_path: Path) -> None:
    """Without script the same is printed, and the ticks work."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{garage.url}/?view=plan")
    page.locator("#paper summary").click()
    page.get_by_role("checkbox", name="Findings").uncheck()
    text = _text(_printed(page, tmp_path))
    assert "plan, page 1 of 4 of the drawing" in text
    assert "Remedy:" not in text
    context.close()

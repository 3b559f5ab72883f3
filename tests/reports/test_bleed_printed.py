"""The bleeding sheet as a browser prints it: size of paper, pages, boxes that nothing cuts off."""

import subprocess
from datetime import datetime
from pathlib import Path

import pytest

from fitcheck.bom.bleed_sheet import bleed_sheet
from fitcheck.reports.bleed_page import bleed_html
from fitcheck.reports.make_page import SIZES
from tests.hydraulics.bleed_cars import PEDAL, car
from tests.reports.test_make_page import MM, PAPERS
from tests.reports.test_make_printed import chromium


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_every_circuit_is_printed_whole(paper: str, tmp_path: Path) -> None:
    """On both papers each circuit's test stands on a page of its own with all its joints and room to sign."""
    pymupdf = pytest.importorskip("pymupdf", reason="pymupdf is not installed: what is printed was not measured")
    made = bleed_sheet(car(tmp_path, PEDAL), datetime(2026, 12, 1))
    source, target = tmp_path / "bleed.html", tmp_path / "bleed.pdf"
    source.write_text(bleed_html(made, paper), encoding="utf-8")  # type: ignore[arg-type]
    options = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--print-to-pdf={target}"]
    subprocess.run([chromium(), *options, str(source)], check=True, capture_output=True, timeout=180)
    pages = list(pymupdf.open(target))
    assert len(pages) == len(made.tests.tests) + 2
    assert pages[0].rect.height * MM == pytest.approx(SIZES[paper][1], abs=0.5)
    texts = [" ".join(page.get_text().split()) for page in pages]
    assert all("Brakes hurt people when they fail." in text for text in texts)
    for test, text in zip(made.tests.tests, texts[1:], strict=False):
        assert f"leak test of {test.name}" in text
        assert all(one.at[0] in text for one in test.joints)
        assert "Tested by, date, signature" in text
        assert "Tightened" in text  # no heading is broken within a word
    for page in pages:
        assert all(word[2] <= page.rect.width and word[3] <= page.rect.height for word in page.get_text("words"))

"""Bench sheets as a browser prints them: measured in the PDF."""

import shutil
import subprocess
from math import dist
from pathlib import Path

import pytest

from fitcheck.reports.make_page import SIZES, make_html
from tests.reports.drawn import sheets, single
from tests.reports.test_make_page import MM, PAPERS, large, template_pages


def chromium() -> str:
    """Return the browser that prints, or skip."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        found = shutil.which(name)
        if found is not None:
            return found
    pytest.skip("no chromium on this machine: what is printed was not measured")


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_what_is_printed_is_true(paper: str, tmp_path: Path) -> None:
    """In the printed PDF the line is 100 mm to 0.1 mm, and the arcs of both edges of a template have their radii."""
    pymupdf = pytest.importorskip("pymupdf", reason="pymupdf is not installed: what is printed was not measured")
    browser = chromium()
    sheet = single(tools="tools: {benders: {big: {radius: 40 mm, offset: 0 mm}}}")
    source, target = tmp_path / "make.html", tmp_path / "make.pdf"
    source.write_text(make_html(sheets(sheet, large()), paper), encoding="utf-8")  # type: ignore[arg-type]
    options = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--print-to-pdf={target}"]
    subprocess.run([browser, *options, str(source)], check=True, capture_output=True, timeout=180)
    pages = list(pymupdf.open(target))
    assert pages[0].rect.height * MM == pytest.approx(SIZES[paper][1], abs=0.5)
    assert all("Brakes hurt people when they fail." in page.get_text() for page in pages)
    checks = [mm for page in pages for mm in _lines(page) if 95.0 < mm < 105.0]
    assert len(checks) == len(template_pages(source.read_text(encoding="utf-8"))) + 2
    assert checks == pytest.approx([100.0] * len(checks), abs=0.1)
    template = next(page for page in pages if "bend 1, 1 : 1" in page.get_text())
    half = 4.7625 / 2.0
    found = sorted(radius for radius in _radii(template) if 30.0 < radius < 50.0 and abs(radius - 40.0) > 0.5)
    assert found == pytest.approx([40.0 - half, 40.0 + half], abs=0.1)


def _lines(page: object) -> list[float]:
    """Return the lengths of the straights of a printed page that lie level [mm]."""
    items = [item for each in page.get_drawings() for item in each["items"]]  # type: ignore[attr-defined]
    return [abs(item[2].x - item[1].x) * MM for item in items if item[0] == "l" and abs(item[1].y - item[2].y) < 0.01]


def _radii(page: object) -> list[float]:
    """Return the radius of each line of a printed page that has curves [mm], from three spots of these."""
    found = []
    for each in page.get_drawings():  # type: ignore[attr-defined]
        ends = [(item[1], item[4]) for item in each["items"] if item[0] == "c"]
        if len(ends) > 1:
            found.append(_through(*((spot.x, spot.y) for spot in (ends[0][0], ends[len(ends) // 2][0], ends[-1][1]))))
    return [radius * MM for radius in found]


def _through(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Return the radius of the circle through three spots; 0 if they lie on a straight or are not three."""
    twice = abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))
    return dist(a, b) * dist(b, c) * dist(c, a) / (2.0 * twice) if twice > 1e-6 else 0.0

"""The pack as PDF: every section with its page, hostile text as text, true sizes, the same bytes again."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pymupdf
import pytest

pytest.importorskip("svglib")

from fitcheck.build.load import load
from fitcheck.reports.pack.pdf import pack_pdf
from tests.reports.pack.builds import DEMO, NAME, ROOT, WORDS, pack_of, write_hostile
from tests.reports.pack.test_page import SECTIONS

MM = 72.0 / 25.4
COST = re.compile(r"\s+")


@pytest.fixture(scope="module")
def demo() -> Any:
    """The demo's pack on A4."""
    return pymupdf.open(stream=pack_pdf(pack_of(DEMO / "build.yaml")))


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The pack of a build whose every text is somebody else's, on letter paper."""
    path = write_hostile(tmp_path_factory.mktemp("hostile"))
    return pymupdf.open(stream=pack_pdf(pack_of(path, paper="letter"), "letter"))


def flat(text: str) -> str:
    """Return text without its spaces and line ends: paper breaks words where a line ends."""
    return COST.sub("", text)


def contents(document: Any) -> Iterator[tuple[str, int]]:
    """Yield each line of the printed table of contents: its words, without spaces, and the number beside it."""
    for place in range(1, document.get_toc()[0][2] - 1):
        lines = document[place].get_text("words")
        rows: dict[int, list[tuple[float, str]]] = {}
        for x, _, _, bottom, word, *_ in lines:
            if 15.0 * MM < bottom < document[place].rect.height - 18.0 * MM:
                rows.setdefault(round(bottom / 4.0), []).append((x, word))
        for _, row in sorted(rows.items()):
            words = [word for _, word in sorted(row) if word != "."]
            if words[-1].isdigit() and len(words) > 1:
                yield "".join(words[:-1]).rstrip("."), int(words[-1])


def test_every_heading_is_on_the_page_that_the_contents_say(demo: Any) -> None:
    """The printed contents have all sections and sheets, and each stands on its page; so says the reader's outline."""
    outline = [(flat(words), page) for _, words, page in demo.get_toc()]
    assert len(outline) > 40
    assert list(contents(demo)) == outline
    for words, page in outline:
        assert words in flat(demo[page - 1].get_text())
    assert [words for level, words, _ in demo.get_toc() if level == 1] == list(SECTIONS)
    tags = [words.partition(":")[0] for level, words, _ in demo.get_toc() if level == 2]
    assert {*load(DEMO).file.lines, *load(DEMO).file.hoses, "Circuit", "Plan", "Side", "Front"} <= set(tags)


def test_links_of_the_contents_lead_to_their_pages(demo: Any) -> None:
    """Each line of the contents is a link to the page that it names."""
    links = [link for page in demo for link in page.get_links()]
    assert {link["kind"] for link in links} <= {pymupdf.LINK_GOTO, pymupdf.LINK_NAMED}
    assert len(links) >= len(demo.get_toc())


def test_each_page_has_number_revision_caution_and_warning(demo: Any) -> None:
    """Head and foot of each page: the car, that it is not to be driven, page and pages, revision, the caution."""
    words = pack_of(DEMO / "build.yaml").revision.words
    for place, page in enumerate(demo, 1):
        text = " ".join(page.get_text().split())
        for said in (
            f"page {place} of {len(demo)}",
            words,
            "Brakes hurt people when they fail.",
            "DO NOT ORDER OR DRIVE",
        ):
            assert said in text


def test_nothing_stands_beside_a_page_or_over_its_foot(demo: Any, hostile: Any) -> None:
    """Every word of every page is within its edges, and what is printed ends above the foot."""
    for page in (*demo, *hostile):
        wide, high = page.rect.width, page.rect.height
        rule = high - 17.0 * MM
        for left, top, right, bottom, word, *_ in page.get_text("words"):
            assert left >= 7.0 * MM, word
            assert right <= wide - 7.0 * MM, word
            assert bottom <= rule + 3.0 or top >= rule - 1.0, word


def test_no_page_is_empty(demo: Any, hostile: Any) -> None:
    """Every page has more than its head and foot."""
    for page in (*demo, *hostile):
        inner = pymupdf.Rect(0.0, 15.0 * MM, page.rect.width, page.rect.height - 18.0 * MM)
        assert len(page.get_text("text", clip=inner).split()) > 2


def test_sheets_are_in_true_size(demo: Any) -> None:
    """The line to measure is 100 mm on each page that has it."""
    pages = [page for page in demo if "Measure this: 100 mm." in page.get_text()]
    assert len(pages) > 20
    for page in pages:
        lengths = [item[2].x - item[1].x for path in page.get_drawings() for item in path["items"] if item[0] == "l"]
        assert any(length == pytest.approx(100.0 * MM, abs=0.01) for length in lengths)


def test_drawings_are_on_paper_on_which_they_can_be_read(demo: Any) -> None:
    """No drawing is shrunk below 0.7: its smallest words are 1.4 mm high at least."""
    for page in list(demo)[1:10]:
        sizes = [span["size"] for block in page.get_text("dict")["blocks"] for line in block.get("lines", ())
                 for span in line["spans"]]  # fmt: skip
        assert min(sizes) >= 2.0 * 0.7 * MM


def test_hostile_text_is_text(hostile: Any) -> None:
    """Every text of the file, its catalog and its offers is printed as it is; what no font has as its code."""
    text = flat("".join(page.get_text() for page in hostile))
    for words in (NAME, *WORDS.values()):
        assert flat(words.replace("漢", "\\u6f22").replace("\u202e", "\\u202e")) in text
    for tag in ("ωμέγα", "лево_\\u6f22", "\\u56de\\u8def"):
        assert tag in text
    assert {link["kind"] for page in hostile for link in page.get_links()} <= {pymupdf.LINK_GOTO, pymupdf.LINK_NAMED}


def test_who_made_it_and_when_is_not_in_it(demo: Any) -> None:
    """The file's data name the car and the revision, and no clock: the date is that of reproducible files."""
    data = demo.metadata
    assert (data["title"], data["creator"], data["producer"]) == ("Dunlin: pack", "fitcheck pack", "fitcheck")
    assert data["subject"].startswith("revision ")
    assert data["creationDate"].startswith("D:20000101")


@pytest.mark.slow
def test_the_same_files_give_the_same_bytes(tmp_path: Path) -> None:
    """Two runs from two folders, with other seeds of hashing and in another time zone, write the same bytes."""
    made = []
    for seed, folder, zone in (("1", ROOT, "UTC"), ("77", tmp_path, "Asia/Tokyo")):
        out = tmp_path / seed
        build = os.path.relpath(DEMO, folder)
        words = [sys.executable, "-m", "fitcheck", "pack", build, "--out", str(out), "--on", "2026-12-01"]
        more = {"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT), "TZ": zone}
        done = subprocess.run(words, cwd=folder, env=os.environ | more, check=False, capture_output=True, text=True)
        assert done.returncode == 1, done.stderr
        made.append([(out / name).read_bytes() for name in ("pack.html", "pack.pdf")])
    assert made[0] == made[1]

"""The pack as HTML: complete, self-contained, links that lead somewhere, hostile text as text."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.pack.page import pack_html
from tests.reports.pack.builds import DEMO, NAME, WORDS, pack_of, write_hostile

SECTIONS = (
    "Drawings", "Findings", "Shopping list", "Bench sheets", "Hole schedule", "Pedal", "Filling, bleeding, leak tests",
    "Sources and cautions",
)  # fmt: skip
VOID = {"meta"}


class Page(HTMLParser):
    """A page taken apart: its tags with attributes, its words, what is not closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self.open: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a tag."""
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a tag that closes itself, as in drawings."""
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        """Close the tag that is open."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Note words."""
        self.words.append(data)

    @property
    def text(self) -> str:
        """All words of the page."""
        return " ".join(self.words)


@pytest.fixture(scope="module")
def demo() -> str:
    """The demo's pack."""
    return pack_html(pack_of(DEMO / "build.yaml"))


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The pack of a build whose every text is somebody else's."""
    return pack_html(pack_of(write_hostile(tmp_path_factory.mktemp("hostile"))))


def references(page: Page) -> Iterator[str]:
    """Yield whatever a page refers to."""
    for _, attributes in page.tags:
        for name, value in attributes.items():
            if name in ("href", "xlink:href", "src", "srcset", "data", "action", "poster", "background"):
                yield value
            yield from re.findall(r"url\(([^)]*)\)", value)


def test_every_section_is_there(demo: str) -> None:
    """The page has all sections in their order, on the cover the warning, the facts and the files with their hashes."""
    page = Page(demo)
    assert re.findall(r"<h2>(.*?)</h2>", demo) == ["Contents", *SECTIONS]
    for words in ("DO NOT ORDER OR DRIVE: 10 errors in this build", "Invented for the demo. No such car exists."):
        assert words in page.words
    (stamp,) = pack_of(DEMO / "build.yaml").revision.files
    assert (stamp.name, stamp.short) == tuple(page.words[page.words.index("build.yaml") :][:2])
    assert page.words.count(CAUTION) >= 2
    assert page.open == []


def test_each_line_hose_circuit_and_view_is_there(demo: str) -> None:
    """Every line, hose, leak test and view has a heading."""
    heads = re.findall(r"<h3[^>]*>(.*?)</h3>", demo)
    file = load(DEMO).file
    for tag in (*file.lines, *file.hoses):
        assert sum(head.startswith(f"{tag}: ") for head in heads) == 1
    assert [head for head in heads if "leak test" in head] == [f"Dunlin: leak test of {name}" for name in file.circuits]
    assert heads[:4] == ["Circuit", "Plan", "Side", "Front"]


def test_links_of_the_contents_lead_somewhere(demo: str) -> None:
    """Each link leads to an id of the page; no id is there twice."""
    page = Page(demo)
    ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    links = [attributes["href"] for tag, attributes in page.tags if tag == "a"]
    assert len(links) > 40
    assert {link.removeprefix("#") for link in links} <= set(ids)
    assert {link.removeprefix("#") for link in references(page)} <= set(ids)


@pytest.mark.parametrize("name", ["demo", "hostile"])
def test_nothing_comes_from_outside(name: str, request: pytest.FixtureRequest) -> None:
    """No script, no frame, no style sheet, no address: what a page refers to is in it."""
    text = request.getfixturevalue(name)
    page = Page(text)
    assert not {tag for tag, _ in page.tags} & {"script", "link", "iframe", "object", "embed", "img", "base", "form"}
    assert [each for each in references(page) if not each.startswith("#")] == []
    assert not any(attribute.startswith("on") for _, attributes in page.tags for attribute in attributes)
    tags_and_styles = "".join(re.findall(r"<style>.*?</style>|<[^<>]+>", text, re.DOTALL))
    assert re.findall(r"https?:|@import|(?<!:)//", tags_and_styles) == []


def test_hostile_text_is_text(hostile: str) -> None:
    """Every text of the file, its catalog and its offers is shown as it is, in words; marks of direction as codes."""
    page = Page(hostile)
    assert page.open == []
    assert NAME in " ".join(page.words)
    shown = {key: words.replace("\u202e", "\\u202e") for key, words in WORDS.items()}
    assert [key for key, words in shown.items() if words not in page.text] == []
    assert "\u202e" not in hostile


def test_phone_dark_and_paper_are_provided_for(demo: str) -> None:
    """The style knows dark screens, paper and page breaks; dark colours are for screens only."""
    style = re.search(r"<style>(.*?)</style>", demo, re.DOTALL)
    assert style is not None
    assert "@media screen and (prefers-color-scheme:dark)" in style[1]
    assert "@media (prefers-color-scheme:dark)" not in demo
    assert "break-before:page" in style[1]
    assert "@page{size:A4 portrait" in style[1]
    assert "overflow-x:auto" in style[1]


def test_a_sound_build_has_no_warning(tmp_path: Path) -> None:
    """Without findings at level error nothing warns on the cover, and the variant is named."""
    pack = pack_of(DEMO / "build.yaml", "as_corrected", "letter")
    text = pack_html(pack, "letter")
    assert pack.warning == ""
    assert "DO NOT ORDER" not in text
    assert "<dd>as_corrected</dd>" in text
    assert "@page{size:letter portrait" in text


def test_missing_pieces_are_said(tmp_path: Path) -> None:
    """A build without offers, places and pedal says so where the section would be."""
    file = tmp_path / "build.yaml"
    file.write_text("build: 1\ncomponents:\n  mc: {part: mc-m10x1-bubble}\n", encoding="utf-8")
    words = Page(pack_html(pack_of(file))).words
    for said in (
        "The build names no offers: nothing is planned or priced, this is the bill of materials.",
        "Plan, side and front are not drawn: the build does not say where anything is.",
        "The build has no lines and no hoses.",
        "The build says nothing of a pedal: pressure, stroke, travel and balance are not computed.",
    ):
        assert said in words

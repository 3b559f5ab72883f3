"""The parts of a pack's PDF in their order, and the papers that they are on."""

from collections.abc import Iterable, Iterator
from html import unescape
from itertools import pairwise
from typing import Any, NamedTuple
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from reportlab.platypus import NextPageTemplate, PageBreak, Paragraph

from fitcheck.reports import pdf_fonts as fonts
from fitcheck.reports.pack.flow import Flow
from fitcheck.reports.pack.looks import FOOT_MM, FRAME_MM, HEAD_MM, LARGER_MM, MM, PAPERS_MM, looks
from fitcheck.reports.pack.page import Entry, cover, entry
from fitcheck.reports.pack.parts import Contents, Figure, Heading, Headline, in_short
from fitcheck.reports.pack.record import Pack
from fitcheck.reports.pdf_figures import size_pt
from fitcheck.reports.pdf_painting import picture
from fitcheck.reports.svg_pdf import LEAST_SCALE, MOST_MM

_EDGE_MM = 10.0
_HEADINGS_MM = 28.0
"""Room for the headings above a drawing."""
Size = tuple[float, float]


class Story(NamedTuple):
    """What is printed, in order, and the sizes [mm] of the papers that it is on by name; the first is the usual one."""

    parts: tuple[Any, ...]
    contents: Contents
    pages: dict[str, Size]


def story(pack: Pack, paper: str) -> Story:
    """Return a pack's parts for `paper`, `a4` or `letter`."""
    styles = looks()
    usual = PAPERS_MM[paper]
    flow = Flow(styles, ((usual[1] - HEAD_MM - FOOT_MM) * MM) - 12.0)
    pages = {"usual": usual}
    parts: list[Any] = [*flow.of(_tree(cover(pack))), PageBreak(), Paragraph("Contents", styles["h2"])]
    entries = [entry(place, section) for place, section in enumerate(pack.sections, 1)]
    contents = Contents(_headings(entries), [styles["toc0"], styles["toc1"]])
    parts.append(contents)
    for each in entries:
        title = Headline(fonts.marked(each.title), styles["h2"])
        title.contents = (0, each.title, each.anchor)
        if each.drawings:
            parts += _drawings(flow, each, title, paper, pages)
        else:
            parts += [PageBreak(), title, *_without_first_break(flow.of(_tree(each.body)))]
    return Story(tuple(_once_broken(parts)), contents, pages)


def _headings(entries: Iterable[Entry]) -> Iterator[Heading]:
    """Yield all headings of the contents, their pages not known yet."""
    for each in entries:
        yield 0, fonts.line_marked(each.title), 0, each.anchor
        for anchor, words in each.headings:
            yield 1, fonts.line_marked(in_short(unescape(words))), 0, anchor


def _tree(body: Any) -> Element:
    return ElementTree.fromstring(f"<body>{''.join(body)}</body>")


def _without_first_break(parts: Iterator[Any]) -> Iterator[Any]:
    """Yield parts; a page that ends before anything stands below the title goes on."""
    for place, part in enumerate(parts):
        if place or not isinstance(part, PageBreak):
            yield part


def _once_broken(parts: list[Any]) -> Iterator[Any]:
    """Yield parts without page breaks that follow each other."""
    yield parts[0]
    for before, part in pairwise(parts):
        if not (isinstance(before, PageBreak) and isinstance(part, PageBreak)):
            yield part


def _drawings(flow: Flow, each: Entry, title: Any, paper: str, pages: dict[str, Size]) -> Iterator[Any]:
    """Yield each drawing with its heading on a page that is large enough for it."""
    first = [title]
    for element in _tree(each.body):
        if element.tag == "h3":
            first += list(flow.heading(element))
            continue
        svg = element.find("svg")
        if svg is None:
            first.append(flow.paragraph(element, "text"))
            continue
        wide, high = size_pt(svg)
        size, scale = _paper((wide / MM, high / MM), paper)
        name = f"{size[0]:.1f} x {size[1]:.1f}"
        pages[name] = size
        yield from (NextPageTemplate(name), PageBreak(), *first)
        yield Figure(lambda svg=svg: picture(svg), wide, high, scale)  # type: ignore[misc]
        first = []
    yield NextPageTemplate("usual")


def _paper(size: Size, paper: str) -> tuple[Size, float]:
    """Return the paper [mm] for a drawing of a size [mm], and what it is shrunk to there.

    The usual paper, else the next larger one, standing or lying; a drawing that would be shrunk to less than 0.7 on all
    of them has a page of its own size.
    """
    for short, long in (PAPERS_MM[paper], LARGER_MM[paper]):
        scale, page = max((_scale(size, page), page) for page in ((short, long), (long, short)))
        if scale >= LEAST_SCALE:
            return page, scale
    scale = min(1.0, (MOST_MM - 2.0 * _EDGE_MM - HEAD_MM - FOOT_MM - _HEADINGS_MM) / max(size))
    wide, high = (length * scale for length in size)
    return (max(wide, FRAME_MM) + 2.0 * _EDGE_MM, high + HEAD_MM + FOOT_MM + _HEADINGS_MM), scale


def _scale(size: Size, page: Size) -> float:
    wide, high = page[0] - 2.0 * _EDGE_MM, page[1] - HEAD_MM - FOOT_MM - _HEADINGS_MM
    return min(1.0, wide / size[0], high / size[1])

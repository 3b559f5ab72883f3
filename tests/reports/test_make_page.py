"""Bench sheets to print: every step and bend, the caution on each page, templates at 1:1 that cover what is flat."""

import re
from collections.abc import Iterator
from html import escape, unescape
from html.parser import HTMLParser
from math import dist
from xml.etree import ElementTree

import networkx as nx
import pytest

from fitcheck.build.curves import Arc, point_at
from fitcheck.making.sheet import Sheet
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_curve import direction
from fitcheck.reports.make_flat import edge, flat_runs
from fitcheck.reports.make_page import EDGE_MM, SIZES, make_html
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_templates import OVERLAP_MM, Tile, laid_out, template_sheet, too_large
from tests.making.benches import LEVER, made
from tests.reports.drawn import bars, groups, sheets, single, snake, spots, words

MM = 25.4 / 72.0
ROOM = 200.0
HOSTILE = '"><script>alert(1)</script>&\x1b[2J'
PAPERS = sorted(SIZES)
LARGE = "[[300, 0, 0], [300, 700, 0], [700, 700, 0]]"
"""Three bends in one plane, 400 mm and 700 mm apart: too large for one sheet in both directions."""


class Tags(HTMLParser):
    """Which elements stand open; every one that is opened is closed in its turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: set[str] = set()
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: object) -> None:
        """Note an element that opens."""
        self.seen.add(tag)
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Note an element that closes."""
        assert self.open.pop() == tag


def drawings(text: str) -> list[ElementTree.Element]:
    """Return the drawings of a page, parsed."""
    return [ElementTree.fromstring(found) for found in re.findall(r"<svg width.*?</svg>(?=</div>|\n</section>)", text)]


def template_pages(text: str) -> list[ElementTree.Element]:
    """Return the drawings of the pages of templates, parsed."""
    return [ElementTree.fromstring(found) for found in re.findall(r'class="template">\n(<svg.*?</svg>)\n</sec', text)]


def large() -> Sheet:
    """Return a line with a large flat run."""
    return made(LARGE, end="[700, 1000, 0]")


def tiles_of(sheet: Sheet, room: float = ROOM) -> list[Tile]:
    """Return all tiles of a line."""
    return [tile for paper in laid_out(sheet, room) for tile in paper]


def radii(d: str) -> list[float]:
    """Return the radius of each arc of a path."""
    return [float(found) for found in re.findall(r"A(\S+)", d)]


@pytest.mark.parametrize("paper", PAPERS)
def test_the_page_is_well_formed_and_needs_nothing_else(paper: str) -> None:
    """Elements close in their turn, drawings parse, nothing is fetched and nothing runs; same input, same text."""
    text = make_html(sheets(snake(), single()), paper)  # type: ignore[arg-type]
    page = Tags(text)
    assert page.open == []
    assert page.seen & {"script", "link", "img", "iframe", "object", "a"} == set()
    assert len(drawings(text)) == 2 * 4 - 1 + len(template_pages(text))
    assert re.findall(r"(?:href|src|url|@import|https?:)", text) == []
    assert f"@page{{size:{SIZES[paper][0]} portrait;margin:8mm}}" in text
    assert text == make_html(sheets(snake(), single()), paper)  # type: ignore[arg-type]


def test_every_step_and_bend_is_told() -> None:
    """All steps stand in their order, and each bend has a row with its mark."""
    sheet = snake()
    text = make_html(sheets(sheet))
    items = [unescape(item) for item in re.findall(r"<li>(.*?)</li>", text)]
    assert items[: len(sheet.steps)] == [step_text(sheet, step, "mm") for step in sheet.steps]
    rows = re.findall(r'<tr><td class="n">(\d)</td><td class="n">(.*?)</td>', text)
    assert [row[0] for row in rows] == ["1", "2", "3", "4", "5", "6"]
    assert rows[:2] == [("1", "135 mm"), ("2", "218.5 mm")]
    templates = " ".join(line for page in template_pages(text) for line in words(page))
    for name in ("run, bend 1, 1 : 1", "run, bend 2, 1 : 1", "run, bends 3 to 6, which are flat, 1 : 1"):
        assert name in templates


def test_each_page_has_the_caution_and_the_line_to_measure() -> None:
    """A line's pages repeat the caution in their foot; each page of templates has it, and 100 mm to measure."""
    text = make_html(sheets(snake(), single()))
    assert text.count(f'<tfoot><tr><td>\n<div class="caution">{escape(CAUTION)}</div>') == 2
    pages = template_pages(text)
    assert len(pages) > 2
    for page in pages:
        assert CAUTION in " ".join(words(page))
        assert bars(page) == [pytest.approx(100.0, abs=1e-9)]
        assert "Measure this: 100 mm. If it is not, print again at 100 %." in words(page)
    assert sum(map(len, map(bars, drawings(text)))) == len(pages) + 2


@pytest.mark.parametrize("paper", PAPERS)
def test_drawings_fit_the_paper(paper: str) -> None:
    """No drawing is wider or higher than the paper between its margins, so that no printer has to shrink it."""
    text = make_html(sheets(snake(), large(), single()), paper)  # type: ignore[arg-type]
    for drawing in drawings(text):
        width, height = (float((drawing.get(key) or "").removesuffix("mm")) for key in ("width", "height"))
        assert width == 190.0
        assert drawing.get("viewBox") == f"0 0 190 {drawing.get('height', '').removesuffix('mm')}"
        assert height <= SIZES[paper][1] - 2.0 * EDGE_MM


def test_flat_runs_are_as_long_as_they_go() -> None:
    """Bends that go the same way or the opposite way as the one before belong to its run; a turn begins a new one."""
    runs = flat_runs(snake())
    assert [(run.first, len(run.bends)) for run in runs] == [(1, 1), (2, 1), (3, 4)]
    assert (runs[0].at_a, runs[0].at_b, runs[2].at_a, runs[2].at_b) == (False, False, False, False)
    assert [len(run.bends) for run in flat_runs(large())] == [3]
    assert flat_runs(made("[[100, 0, 0]]", end="[200, 0, 0]")) == ()


def test_a_turn_that_is_not_given_begins_a_new_run() -> None:
    """Two bends whose turn is not known are two templates."""
    legs = "[{leg: 100 mm, angle: 90 deg}, {leg: 80 mm, angle: 90 deg}, {leg: 100 mm}]"
    assert [(run.first, len(run.bends)) for run in flat_runs(made(legs))] == [(1, 1), (2, 1)]


def test_templates_are_at_true_size() -> None:
    """Centre-line and edges have the radii of the tube, and the corners of a flat run are as far apart as they are."""
    (flat,) = flat_runs(large())
    half = flat.od_mm / 2.0
    assert radii(edge(flat, 0.0)) == [15.0, 15.0, 15.0]
    left, right = radii(edge(flat, half)), radii(edge(flat, -half))
    assert [a + b for a, b in zip(left, right, strict=True)] == pytest.approx([30.0] * 3, abs=2e-4)
    assert [abs(a - b) for a, b in zip(left, right, strict=True)] == pytest.approx([flat.od_mm] * 3, abs=2e-4)
    gaps = [dist(a, b) for a, b in zip(flat.corners, flat.corners[1:], strict=False)]
    assert gaps[1:-1] == pytest.approx([700.0, 400.0])
    assert (gaps[0], gaps[-1]) == pytest.approx((75.0, 75.0))  # 60 mm of straight, and 15 mm of the bend's corner


@pytest.mark.parametrize("side", [0.0, 2.38125, -2.38125])
def test_edges_run_beside_the_centre_line(side: float) -> None:
    """Each arc of an edge passes the spot beside the middle of its bend, on its own side of the centre-line."""
    for flat in flat_runs(snake()):
        pieces = [piece for piece in flat.curve if isinstance(piece, Arc)]
        for piece, (x, y) in zip(pieces, _middles(edge(flat, side)), strict=True):
            at, along = point_at(piece, 0.5), direction(piece, 0.5)
            assert (x, -y) == pytest.approx((at[0] - along[1] * side, at[1] + along[0] * side), abs=1e-3)


def _middles(d: str) -> Iterator[tuple[float, float]]:
    """Yield the middle of each arc of a path, as the format has it: less than half a turn, its sweep flag 1 or 0."""
    here = (0.0, 0.0)
    for step in re.findall(r"[MLA][^MLA]+", d):
        figures = [float(each) for each in step[1:].split()]
        there = (figures[-2], figures[-1])
        if step[0] == "A":
            chord = dist(here, there)
            bow = figures[0] - (figures[0] ** 2 - chord**2 / 4.0) ** 0.5
            bow *= 1.0 if figures[4] == 1.0 else -1.0
            along = (there[0] - here[0]) / chord, (there[1] - here[1]) / chord
            # With sweep 1 the way turns clockwise on the screen, so that it bows to the left of its chord.
            yield (here[0] + there[0]) / 2.0 + along[1] * bow, (here[1] + there[1]) / 2.0 - along[0] * bow
        here = there


def test_lines_across_lie_where_bends_start_and_end() -> None:
    """The middle of each line across is a spot of the centre-line where a straight and an arc meet."""
    for page in template_pages(make_html(sheets(single()))):
        (tile,) = groups(page, "tile")
        (group,) = (each for each in tile if each.get("transform"))
        moved = [float(each) for each in re.findall(r"[-\d.]+", group.get("transform", ""))]
        (path,) = groups(tile, "centre-line")
        meets = re.findall(r"(\S+) (\S+)(?= [LA]|$)", path.get("d", "").replace("M", "").replace("L", "L "))
        places = [(moved[0] + float(x.strip("L ")), moved[1] + float(y)) for x, y in meets]
        across = [spots(each[0].get("d", "")) for each in groups(tile, "across")]
        assert len(across) == 2
        for (a, b), (c, d) in across:
            assert min(dist(((a + c) / 2.0, (b + d) / 2.0), place) for place in places) < 1e-3


@pytest.mark.parametrize("length", range(100, 700, 29))
def test_no_part_of_any_template_is_left_out(length: int) -> None:
    """Whatever the size, the last tile in each direction reaches the end of the template, and none is too large."""
    sheet = made(
        f"[[300, 0, 0], [300, {length}, 0], [{300 + length}, {length}, 0]]", end=f"[{300 + length}, {length + 200}, 0]"
    )
    tiles = tiles_of(sheet)
    assert max(tile.left + tile.width for tile in tiles) == pytest.approx(tiles[0].laid.width)
    assert max(tile.top + tile.height for tile in tiles) == pytest.approx(tiles[0].laid.height)
    assert max(tile.width for tile in tiles) <= 178.0
    assert max(tile.height for tile in tiles) <= ROOM - 22.0


def test_a_bend_tighter_than_the_tube_still_has_edges() -> None:
    """A radius below half the outside diameter makes the inner edge a corner, not an arc inside out."""
    (flat,) = flat_runs(single())
    tight = flat._replace(bends=(flat.bends[0]._replace(radius_mm=1.0),))
    found = sorted([*radii(edge(tight, flat.od_mm / 2.0)), *radii(edge(tight, -flat.od_mm / 2.0))])
    assert found == pytest.approx([0.0, 1.0 + flat.od_mm / 2.0], abs=1e-4)


def test_short_ends_are_drawn_to_the_face() -> None:
    """An outer straight of at most 60 mm is drawn to the finished face of its end; a longer one says what is left."""
    sheet = single(route="[[60, 0, 0]]", end="[60, 300, 0]", tools=LEVER)
    (flat,) = flat_runs(sheet)
    assert sorted([flat.at_a, flat.at_b]) == [False, True]
    shown = [line for page in template_pages(make_html(sheets(sheet))) for line in words(page)]
    assert {line for line in shown if "finished face" in line} == {
        "A: the finished face; to B: 60 mm drawn of 285 mm straight"
        if flat.at_a
        else "to A: 60 mm drawn of 285 mm straight; B: the finished face"
    }


def test_tiles_are_shown_at_true_size() -> None:
    """Each tile's own window is as large as what it shows of the template, and lies on the paper."""
    for page in template_pages(make_html(sheets(large()))):
        for tile in groups(page, "tile"):
            size = [float(tile.get(key, "")) for key in ("width", "height")]
            assert [float(value) for value in tile.get("viewBox", "").split()[2:]] == size
            assert float(tile.get("x", "")) + size[0] <= 184.0 + 1e-6


def test_tiles_cover_the_whole_template() -> None:
    """Tiles lie in a grid with 12 mm in common; tube and labels are on them, and a tile without either is left out."""
    tiles = tiles_of(large())
    laid = tiles[0].laid
    width, height = (max(getattr(tile, side) for tile in tiles) for side in ("width", "height"))
    for tile in tiles:
        assert tile.left == tile.column * (width - OVERLAP_MM)
        assert tile.top == tile.row * (height - OVERLAP_MM)
        assert tile.left + tile.width <= laid.width + 1e-9
        assert tile.top + tile.height <= laid.height + 1e-9
    left, low, right, high = laid.flat.extent()
    x, y = laid.origin
    assert min(x + left, laid.width - x - right, y - high, laid.height - y + low) == pytest.approx(14.0, abs=1e-5)
    tube = [point_at(piece, step / 500) for piece in laid.flat.curve for step in range(501)]
    spots = [(x + spot[0], y - spot[1]) for spot in tube]
    half = laid.flat.od_mm / 2.0
    assert all(any(_shown(spot, tile, half) for tile in tiles) for spot in spots)
    page = ElementTree.fromstring(f"<svg>{''.join(template_sheet(tiles[:1], 'run', 'mm', 0.0)[0])}</svg>")
    told = [text for text in groups(page, "tile")[0].iter() if text.tag.endswith("text")]
    labels = [(float(text.get("x", "")), float(text.get("y", ""))) for text in told]
    assert len(labels) == 5  # three bends and two ends
    assert all(any(_shown(label, tile, 2.5) for tile in tiles) for label in labels)
    assert all(any(_shown(spot, tile, -25.0) for spot in spots) for tile in tiles)
    assert 1 < len(tiles) < laid.columns * laid.rows
    joined = [(a, b) for a in laid.cells for b in laid.cells if abs(a[0] - b[0]) + abs(a[1] - b[1]) == 1]
    assert nx.is_connected(nx.Graph(joined))
    assert set(laid.cells) == {cell for pair in joined for cell in pair}


def _shown(spot: tuple[float, float], tile: Tile, within: float) -> bool:
    across, down = spot[0] - tile.left, spot[1] - tile.top
    return within <= across <= tile.width - within and within <= down <= tile.height - within


def test_register_marks_are_on_both_sheets() -> None:
    """Each side that two tiles have in common has at least two crosses that both of them show."""
    pages = template_pages(make_html(sheets(large())))
    seen = [(tile, window) for page in pages for tile in groups(page, "tile") for window in [_window(tile)]]
    assert len(seen) > 3
    shown = [{spot for spot in _crosses(tile) if _inside(spot, window)} for tile, window in seen]
    for index, (_, window) in enumerate(seen):
        for other, (_, neighbour) in enumerate(seen[:index]):
            if (window[0] == neighbour[0]) != (window[1] == neighbour[1]) and _touch(window, neighbour):
                assert len(shown[index] & shown[other]) >= 2


def _window(tile: ElementTree.Element) -> tuple[float, ...]:
    left, top, width, height = map(float, tile.get("viewBox", "").split())
    return left, top, left + width, top + height


def _crosses(tile: ElementTree.Element) -> set[tuple[str, str]]:
    rings = (each for group in groups(tile, "cross") for each in group if each.tag.endswith("circle"))
    return {(ring.get("cx", ""), ring.get("cy", "")) for ring in rings}


def _inside(spot: tuple[str, str], window: tuple[float, ...]) -> bool:
    x, y = map(float, spot)
    return window[0] + 4.0 <= x <= window[2] - 4.0 and window[1] + 4.0 <= y <= window[3] - 4.0


def _touch(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def test_sheets_of_a_template_are_numbered() -> None:
    """A template of several sheets says on each which part it is and what to do."""
    pages = template_pages(make_html(sheets(large())))
    told = [line for page in pages for line in words(page) if line.startswith("Part ")]
    assert told[0].startswith(f"Part 1 of {len(pages)}: row 1, column 1. Lay cross on cross, then tape.")
    assert len(told) == len(pages)


def test_small_templates_share_a_sheet() -> None:
    """What fits under another template goes on its sheet, none over another and none off the paper."""
    papers = laid_out(snake(), 230.0)
    assert [[tile.laid.flat.first for tile in paper] for paper in papers] == [[1, 2], [3], [3], [3], [3]]
    assert sum(tile.height + 22.0 for tile in papers[0]) <= 230.0
    assert [[tile.laid.flat.first for tile in paper] for paper in laid_out(snake(), ROOM)][:2] == [[1], [2]]


def test_a_template_lies_the_way_that_takes_fewest_sheets() -> None:
    """A run that is longer than the sheet is wide, but not than it is high, stands upright on one sheet."""
    sheet = made("[[100, 0, 0], [200, 20, 0]]", end="[300, 20, 0]")
    (tile,) = tiles_of(sheet, 280.0)
    assert tile.height > 190.0 > tile.width
    wide = tiles_of(sheet, 230.0)
    assert [(each.laid.columns, each.laid.rows) for each in wide] == [(2, 1), (2, 1)]


def test_what_is_too_large_for_a_template_is_said() -> None:
    """A run that would take more than 24 sheets is named with how many, and not drawn."""
    sheet = made("[[300, 0, 0], [300, 3000, 0], [3300, 3000, 0]]", end="[3300, 5000, 0]")
    assert laid_out(sheet, ROOM) == []
    (told,) = too_large(sheet, ROOM)
    assert re.fullmatch(r"No template of bends 1 to 3, which are flat: it would take \d\d sheets\.", told)
    text = make_html(sheets(sheet))
    assert "No template of bends 1 to 3, which are flat: it would take" in text
    assert template_pages(text) == []


def test_a_run_of_kilometres_is_counted_no_further_than_it_matters() -> None:
    """How far a run is off does not matter: it is told as too large without a walk along all of it."""
    sheet = made("[[1000000, 0, 0], [1000000, 9000000, 0], [2000000, 9000000, 0]]", end="[2000000, 0, 0]")
    (told,) = too_large(sheet, ROOM)
    assert told == "No template of bends 1 to 3, which are flat: it would take more than 999 sheets."


def test_the_map_covers_no_words() -> None:
    """Angles and radii, ends and the number of the sheet stand beside the map of the sheets, not under it."""
    tiles = tiles_of(made("[[40, 0, 0], [40, 60, 0], [80, 60, 0], [80, 0, 0], [900, 0, 0]]", end="[900, 300, 0]"))
    assert len(tiles) > 4
    root = ElementTree.fromstring(f"<svg>{''.join(template_sheet(tiles[:1], 'run', 'mm', 0.0)[0])}</svg>")
    left = min(float(cell.get("x", "")) for cell in root if cell.tag == "rect")
    ends = [
        float(text.get("x", "")) + 0.53 * float(text.get("font-size", "")) * len(text.text or "")
        for text in root
        if text.tag == "text"
    ]
    assert len(ends) >= 4
    assert max(ends) < left


def test_a_line_that_cannot_be_made_has_no_steps() -> None:
    """A fault stands where the steps would, with nothing to follow and nothing to cut out."""
    sheet = made("[[20, 0, 0]]", end="[20, 200, 0]")
    text = make_html(sheets(sheet))
    assert "Cannot be made:<ul>\n<li>the straight at run.from is 5 mm, its nut is at least 9.5 mm long:" in text
    assert "<ol>" not in text
    assert drawings(text) == []
    assert escape(CAUTION) in text


def test_names_stay_text() -> None:
    """Marks of the format and control characters in names cannot become part of the page."""
    text = make_html(sheets(snake()._replace(tag=HOSTILE), build=HOSTILE))
    assert "<script" not in text
    assert "\x1b" not in text
    assert "<h1>&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;&amp;\\x1b[2J: tube-3-16-cuni" in text
    assert Tags(text).open == []

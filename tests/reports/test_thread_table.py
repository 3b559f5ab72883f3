"""The table of look-alikes, and the words of a pair: reverse, explained, at another engagement."""

import json
from html.parser import HTMLParser

from fitcheck.reports.thread_table import table_json, table_text
from fitcheck.reports.thread_table_page import table_html
from fitcheck.reports.thread_text import thread_json, thread_text
from fitcheck.standards.threads import Thread, fit, known_threads, limits, parse
from fitcheck.standards.threads.every import has_member
from fitcheck.standards.threads.pair_table import Pair, pair_table
from tests.reports.samples import CAUTION_LINES

UNF, FINE = parse("3/8-24 UNF"), parse("M10x1")


def small(*names: str) -> tuple[tuple[Pair, ...], ...]:
    """Return the table of a few threads."""
    threads: list[Thread] = [parse(name) for name in names]
    return tuple(tuple(Pair(a, b, fit(a, b)) for b in threads) for a in threads)


def test_table_holds_every_pair_of_the_trade_as_fit_has_it() -> None:
    """Rows are all external threads of the list, columns all internal ones, and each cell is the fit of the two."""
    rows = pair_table()
    assert [row[0].external for row in rows] == [thread for thread in known_threads() if has_member(thread, False)]
    for row in rows:
        assert [pair.internal for pair in row] == [thread for thread in known_threads() if has_member(thread, True)]
        for pair in row:
            assert pair.external is row[0].external
            assert pair.fit == fit(pair.external, pair.internal)


def test_table_is_made_at_the_engagement_asked_for() -> None:
    """A longer engagement turns pairs that go home into pairs that bind, never the reverse."""
    short = [pair.fit.verdict for row in pair_table(3.0) for pair in row]
    long = [pair.fit.verdict for row in pair_table(20.0) for pair in row]
    assert short.count("runs-in-loose") > long.count("runs-in-loose")
    assert not any(a == "starts-then-binds" and b == "runs-in-loose" for a, b in zip(short, long, strict=True))


def test_the_whole_table_is_there() -> None:
    """Every external thread of the trade's list meets every internal one; how fast is a benchmark's affair."""
    rows = pair_table()
    assert len(rows) * len(rows[0]) > 3000


PAGE = """\
Threads of the trade: 3 external into 3 internal, 9 pairs, 2 of them dangerous;
6 mm of engagement
Pairs left out drop through or will not start, not even for half a turn: a wrong
thread may still catch for up to two turns on the lead-in. % is the thread
height that overlaps, turns are those before it binds. Computed from the limits
of size of both threads; fitcheck thread A B shows any pair.

3/8-24 UNF: flares for 3/16 in tube, banjo bolt, pushrod
  GOES HOME, DOES NOT HOLD: M10x1 (15 to 54 %)
  starts, then binds: M10x1.25 (1.6 to 2.4 turns)
  mates: 3/8-24 UNF

M10x1: flares for 4.75 mm tube, banjo bolt, O-ring port
  seems to start: M10x1.25 (at most 0.8 turn)
  mates: M10x1

M10x1.25: flares for 4.75 mm tube, banjo bolt
  seems to start: M10x1 (at most 0.6 turn)
  mates: M10x1.25
"""


def test_page_of_a_small_table() -> None:
    """Each external thread lists what it goes into, the dangerous pairs first and loudest."""
    assert table_text(small("3/8-24", "M10x1", "M10x1.25")) == PAGE + CAUTION_LINES


class _Cells(HTMLParser):
    """Reads the cells of a page, and that every tag that opens is closed."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.cells: list[tuple[str, str]] = []  # what the mouse shows, what stands there
        self.linked: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        self.linked += [told[name] for name in ("src", "href") if name in told]
        if tag != "meta":
            self.open.append(tag)
        if tag == "td":
            self.cells.append((told.get("title", ""), ""))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] == "td":
            self.cells[-1] = (self.cells[-1][0], self.cells[-1][1] + data)


def test_page_to_print_says_of_each_cell_what_the_fit_says() -> None:
    """One letter a pair, told in words to who points at it; the dangerous pairs in full below; nothing loaded."""
    page = _Cells()
    text = table_html(small("3/8-24", "M10x1", "M10x1.25"))
    page.feed(text)
    assert (page.open, page.linked) == ([], [])
    grid = [cell for cell in page.cells if cell[0]]
    assert [letter for _, letter in grid] == ["M", "L", "B", "", "M", "S", "", "S", "M"]
    assert grid[1][0] == "3/8-24 UNF into M10x1 runs in loose and strips when tightened"
    below = [letter for words, letter in page.cells[len(grid) + 1 :] if not words]
    assert below[:6] == [
        "3/8-24 UNF",
        "M10x1",
        "runs in loose and strips when tightened",
        "4.9 to 7.3",
        "15 to 54",
        "21 to 26",
    ]
    assert below[6:9] == ["3/8-24 UNF", "M10x1.25", "starts, then binds"]
    assert "leak-tested under pressure" in text


def test_json_of_a_small_table() -> None:
    """Names, a matrix of verdicts, and one record with all figures for each pair; endless turns are null."""
    found = json.loads(table_json(small("3/8-24", "M10x1")))
    assert found["external"] == found["internal"] == ["3/8-24 UNF", "M10x1"]
    assert found["verdicts"] == {
        "3/8-24 UNF": {"3/8-24 UNF": "mates", "M10x1": "runs-in-loose"},
        "M10x1": {"3/8-24 UNF": "will-not-start", "M10x1": "mates"},
    }
    assert found["engagement_mm"] == 6.0
    assert [(pair["external"], pair["internal"], pair["dangerous"]) for pair in found["pairs"]] == [
        ("3/8-24 UNF", "3/8-24 UNF", False),
        ("3/8-24 UNF", "M10x1", True),
        ("M10x1", "3/8-24 UNF", False),
        ("M10x1", "M10x1", False),
    ]
    assert found["pairs"][0]["free_turns"] == [None, None]
    assert found["pairs"][1]["free_turns"] == [4.86, 7.3]
    assert set(found["figure_sources"]) >= {"clearance_mm", "overlap_percent", "free_turns", "verdict"}
    assert "Brakes hurt people" in found["caution"]


def test_json_of_the_whole_table_is_complete() -> None:
    """Every pair of the matrix has its record, whose verdict is that of the matrix."""
    rows = pair_table()
    found = json.loads(table_json(rows))
    assert len(found["pairs"]) == len(rows) * len(rows[0])
    assert all(found["verdicts"][pair["external"]][pair["internal"]] == pair["verdict"] for pair in found["pairs"])


def test_reverse_shows_the_other_way_too() -> None:
    """With the reverse, both ways stand before the limits, in text and JSON."""
    text = thread_text(limits(UNF), limits(FINE), fit(UNF, FINE), reverse=fit(FINE, UNF))
    assert text.index("3/8-24 UNF into M10x1: runs in loose") < text.index("M10x1 into 3/8-24 UNF: will not start")
    assert text.index("M10x1 into 3/8-24 UNF") < text.index("3/8-24 UNF: limits of size")
    found = json.loads(thread_json(limits(UNF), limits(FINE), fit(UNF, FINE), reverse=fit(FINE, UNF)))
    assert (found["fit"]["verdict"], found["reverse"]["verdict"]) == ("runs-in-loose", "will-not-start")


def test_explained_figures_have_their_formula() -> None:
    """Asked to explain, each figure shown is followed by its formula and source; otherwise none is."""
    met = fit(UNF, FINE)
    plain = thread_text(limits(UNF), limits(FINE), met)
    told = thread_text(limits(UNF), limits(FINE), met, explain=True, width=1000)
    for figure in ("verdict", "clearance_mm", "overlap_mm", "free_turns", "goes_home", "strip_share"):
        assert f"      {figure}: {met.sources[figure]}\n" in told
        assert f"{figure}: " not in plain
    assert json.loads(thread_json(limits(UNF), limits(FINE), met, explain=True))["figure_sources"] == dict(met.sources)
    assert "figure_sources" not in json.loads(thread_json(limits(UNF), limits(FINE), met))


def test_the_engagement_is_stated() -> None:
    """The words say over which length the pair goes home, or to its gauge plane if it is taper."""
    assert "goes home over 6 mm of engagement" in thread_text(limits(FINE), limits(FINE), fit(FINE, FINE))
    assert "goes home over 2 mm of engagement" in thread_text(limits(UNF), limits(FINE), fit(UNF, FINE, 2.0))
    npt = parse("1/8 NPT")
    assert "goes home to its gauge plane" in thread_text(limits(npt), limits(npt), fit(npt, npt))


def test_a_rounded_root_names_the_holes_that_bind() -> None:
    """3/8-24 UNJF in UNF binds in the holes from 8.382 mm, the least, to 8.494 mm."""
    rounded = parse("3/8-24 UNJF")
    shown = thread_text(limits(rounded), limits(UNF), fit(rounded, UNF))
    assert "  binds in holes of 8.382 to 8.494 mm\n" in shown

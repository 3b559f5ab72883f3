"""The bleeding sheet as text, JSON and page: the same figures, boxes to tick, nothing that drives a terminal."""

import json
import re
from datetime import datetime
from html import unescape
from pathlib import Path

import pytest

from fitcheck.bom.bleed_sheet import BleedSheet, bleed_sheet
from fitcheck.build.volumes import Held, Holding
from fitcheck.reports.bleed_json import bleed_json
from fitcheck.reports.bleed_page import bleed_html
from fitcheck.reports.bleed_text import BOXES, bleed_text
from fitcheck.reports.bleed_words import bars, fluid_texts, holding_text, leak_texts, newtons, sentences
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import columns
from tests.hydraulics.bleed_cars import PEDAL, car
from tests.reports.samples import CAUTION_LINES
from tests.reports.test_make_page import Tags

ON = datetime(2026, 12, 1)
HOSTILE = '"><script>alert(1)</script>&\x1b[2J'


def sheet(folder: Path, more: str = PEDAL, **changes: object) -> BleedSheet:
    """Return the sheet of the car."""
    return bleed_sheet(car(folder, more, **changes), ON)  # type: ignore[arg-type]


def test_order_in_words(tmp_path: Path) -> None:
    """Each bleed screw stands in its place with its volumes and strokes; several screws say so."""
    told = dict(sentences(sheet(tmp_path)))
    assert told["Order of bleeding"] == [
        "1. rr (rear): 30.8 ml before it, 32.8 ml with it; let out 82.1 ml; 5 strokes until fluid comes, 13 to flush",
        "2. rl (rear): 25.6 ml before it, 27.6 ml with it; let out 68.9 ml; 5 strokes until fluid comes, 11 to flush",
        "3. fr (front): 19.4 ml before it, 39.4 ml with it; let out 98.5 ml; 6 strokes until fluid comes, 15 to flush"
        "; 2 bleed screws: inner one first, then the outer",
        "4. fl (front): 11.5 ml before it, 31.5 ml with it; let out 78.6 ml; 5 strokes until fluid comes, 12 to flush"
        "; 2 bleed screws: inner one first, then the outer",
        "5. slave (clutch, by itself): 8.8 ml before it, 13.8 ml with it; let out 34.5 ml; 2 strokes until fluid comes"
        ", 4 to flush",
    ]


@pytest.mark.parametrize(
    ("span", "words"),
    [((10.0, 14.996), "100 to 149.9 bar"), ((8.968, 8.968), "89.6 bar"), ((10.0, 11.7), "100 to 117 bar")],
)
def test_bounds_of_pressure_are_rounded_down(span: tuple[float, float], words: str) -> None:
    """No pressure to test at is printed above the rating that it is held down by, not by its last digit either."""
    assert bars(span) == words


@pytest.mark.parametrize(
    ("span", "words"), [((670.2, 804.9), "670 to 804 N"), ((167.55, 167.55), "167 N"), ((100.0, 300.0), "100 to 300 N")]
)
def test_bounds_of_force_are_rounded_down(span: tuple[float, float], words: str) -> None:
    """No push is printed that makes more than the rating."""
    assert newtons(span) == words


def test_the_test_of_a_circuit_in_words(tmp_path: Path) -> None:
    """Rating, both pressures with their marks, the push, the gauge and the pedal's tests."""
    front, rear, clutch = sheet(tmp_path).tests.tests
    assert list(leak_texts(front)) == [
        "nothing above 140 bar: fl (disc), stated in its catalog",
        "low: 1 to 3 bar of air or fluid, held overnight (8 to 12 h); common practice, no source",
        "high: 100 to 140 bar by pedal or pump, held 1 to 5 min, held down by that rating; common practice, no source",
        "that is a push of 1047 to 1466 N on the pedal",
        "gauge in place of the bleed screw of fr",
        "pedal: 125 lbf (556 N, 53.1 bar here) on the pedal for 10 s: it does not sink (49 CFR 570.55, written for"
        " vehicles over 10,000 lb)",
        "sink: hold the pedal firmly 30 to 60 s, a boosted one with the engine off and on: it stays (workshop article"
        " on pedal checks)",
    ]
    assert "by pump only: on the pedal front reaches its lowest rating first, at 1466 N" in list(leak_texts(rear))
    assert "no rating is known, look it up before the high test: slave (parts.slave.max_pressure)" in list(
        leak_texts(clutch)
    )
    assert not [words for words in leak_texts(clutch) if "lbf" in words]


def test_a_push_that_is_too_much_is_forbidden(tmp_path: Path) -> None:
    """Where 125 lbf would pass a rating, the sheet says not to."""
    front, *_ = sheet(tmp_path, swaps=("max_pressure: 14 MPa", "max_pressure: 4 MPa")).tests.tests
    words = next(words for words in leak_texts(front) if "lbf" in words)
    assert words == (
        "NOT 125 lbf (556 N, 53.1 bar here) on the pedal for 10 s: that goes above the lowest rating of front;"
        " push less"
    )


def test_text_has_a_row_for_every_joint_and_ends_with_the_caution(tmp_path: Path) -> None:
    """Every joint has its boxes, every circuit a line to sign, and no line is wider than the terminal."""
    made = sheet(tmp_path)
    text = bleed_text(made)
    joints = [one for test in made.tests.tests for one in test.joints]
    assert text.count(BOXES) == len(joints)
    tested, feeds = text.split("FEEDS: no pressure, look at them when the reservoirs are full\n\n")
    assert "at low pressure" in tested
    assert feeds.startswith("  boxes: tightened, dry\n")
    assert feeds.count("\n  [ ] [ ] hose on barb, ") == len(made.tests.feeds) > 0
    assert text.count("signed ___") == 3
    assert "  [ ] [ ] [ ] tube nut M10x1, mc_front.out and front.from: 13 to 16 N m (1)\n" in text
    assert "  (1) vehicle workshop manuals (1997 to 2020)\n" in text
    assert max(map(columns, text.split("\n"))) <= 80
    assert text.endswith(CAUTION_LINES)


def test_what_nothing_is_known_of_is_not_told_as_none() -> None:
    """A tank without a stated volume is not 0 ml to fill; with a part beside it that is known, it is not counted."""
    tank = Held("tank", None, "parts.tank.reservoir_volume is not given")
    pump = Held("pump", 9000.0, "parts.pump.volume")
    lacking = "how much DOT 4 to fill is not known, for want of tank (parts.tank.reservoir_volume is not given)"
    assert holding_text(Holding(("front", "rear"), "DOT 4", (tank,))) == f"front and rear together: {lacking}"
    counted = "9 ml of DOT 4 to fill; not counted: tank (parts.tank.reservoir_volume is not given)"
    assert holding_text(Holding(("front", "rear"), "DOT 4", (pump, tank))) == f"front and rear together: {counted}"


def test_without_offers_the_text_says_so(tmp_path: Path) -> None:
    """No container is named where nothing is offered."""
    assert "nothing is offered: no containers to choose from" in bleed_text(sheet(tmp_path))


def test_a_container_bought_for_the_smallest_order_is_told(tmp_path: Path) -> None:
    """Of two cans the second is bought only since the shop sends nothing for less, and the sheet says so."""
    shop = "shop: {name: Shop (invented), currency: GBP, minimum_order: 12.00 GBP}"
    price = "{part: fluid-dot-4, supplier: shop, price: 9.00 GBP, contents: 5 L}"
    (tmp_path / "offers.yaml").write_text(f"offers: 1\nsuppliers:\n  {shop}\nprices:\n  - {price}\n")
    told = list(fluid_texts(bleed_sheet(car(tmp_path, "offers: [offers.yaml]\n"), datetime(2026, 12, 1))))
    assert told[-2:] == [
        "buy 2 x 5000 ml of fluid-dot-4, from Shop (invented): 18.00 GBP",
        "of this 9.00 GBP is bought only to reach the smallest order or free carriage",
    ]


def test_json_has_exact_figures(tmp_path: Path) -> None:
    """The JSON has the ways in order, the pressures in MPa, and every joint with its torque and source."""
    value = json.loads(bleed_json(sheet(tmp_path)))
    assert [way["at"] for way in value["order"]] == ["rr", "rl", "fr", "fl", "slave"]
    assert value["order"][0]["mm3"] == pytest.approx(32849.458, abs=0.001)
    first = value["leak_tests"][0]
    assert (first["high_mpa"], first["lowest_rating"]["at"]) == ([10.0, 14.0], "fl")
    assert first["joints"][0]["torque_n_m"] == [13.0, 16.0]
    assert first["joints"][0]["torque_source"] == "vehicle workshop manuals (1997 to 2020)"
    assert value["fluid"]["containers"] is None
    assert value["caution"] == CAUTION


@pytest.mark.parametrize(("paper", "size"), [("a4", "A4"), ("letter", "letter")])
def test_page_is_whole_and_has_boxes(paper: str, size: str, tmp_path: Path) -> None:
    """Each circuit's test begins a page; its joints have three boxes, feeds two, bleed screws one."""
    made = sheet(tmp_path)
    page = bleed_html(made, paper)  # type: ignore[arg-type]
    assert Tags(page).open == []
    assert f"@page{{size:{size} portrait" in page
    joints = [one for test in made.tests.tests for one in test.joints]
    assert page.count('<td class="box">') == 3 * len(joints) + 2 * len(made.tests.feeds) + len(made.bleed.ways)
    assert page.count("<th>Dry</th>") == 1
    assert page.count("<td>Pedal sank: mm</td>") == len(made.tests.tests)
    assert page.count("<section>") == page.count(CAUTION) == len(made.tests.tests) + 2
    assert page.count('class="sign"') == len(made.tests.tests)


def test_hostile_text_reaches_neither_browser_nor_terminal(tmp_path: Path) -> None:
    """Names in the file come out as text: no element, no script, no escape sequence."""
    made = sheet(tmp_path)
    ways = tuple(way._replace(at=HOSTILE, circuits=(HOSTILE,)) for way in made.bleed.ways)
    tests = tuple(
        test._replace(
            circuits=(HOSTILE,), unrated=((HOSTILE, HOSTILE),), joints=(test.joints[0]._replace(at=(HOSTILE,)),)
        )
        for test in made.tests.tests
    )
    made = made._replace(
        bleed=made.bleed._replace(build=HOSTILE, ways=ways, doubtful=(HOSTILE,), without=(HOSTILE,)),
        tests=made.tests._replace(tests=tests),
    )
    page, text = bleed_html(made), bleed_text(made)
    assert "script" not in Tags(page).seen
    assert "<script>alert(1)</script>" in unescape(page)
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f]", page + text)

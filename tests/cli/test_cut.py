"""`fitcheck cut`: whole text, JSON, requests that cannot be answered."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.reports.samples import CAUTION_LINES

BUILD = """\
build: 1
name: Wren
offers: [offers.yaml]
stock: stock.yaml
components:
  mc: {part: mc-3-8-24-inverted}
  tee: {part: tee-3-16-inverted}
  left: {part: wheel-cylinder-3-8-24-inverted}
  right: {part: wheel-cylinder-3-8-24-inverted}
lines:
  feed: {from: mc.outlet, to: tee.top, tube: tube-3-16-cuni, length: 1494 mm}
  one: {from: tee.left, to: left.inlet, tube: tube-3-16-cuni, length: 494 mm}
  two: {from: tee.right, to: right.inlet, tube: tube-3-16-cuni}
"""
OFFERS = """\
offers: 1
suppliers:
  shed: {name: Shed, currency: GBP}
prices:
  - {part: tube-3-16-cuni, supplier: shed, number: C25, price: 21.40 GBP, per: 25 ft}
  - {part: tube-3-16-cuni, supplier: shed, number: B2, price: 14.00 GBP, per: 2 m, pack: 2}
"""
STOCK = "stock: 1\nshelf:\n  - {part: tube-3-16-cuni, lengths: [510 mm]}\n"
TEXT = """\
Wren: cutting list, 1 part; each cut takes 1 mm

tube-3-16-cuni: Tube, copper-nickel, 3/16 in x 0.028 in wall

  2 pieces; buy 1 x pack of 2 of 2000 mm (shed B2, 14.00 GBP), 14.00 GBP

  1. offcut of 510 mm, left 9 mm
     cut one 500 mm

  2. length of 2000 mm from shed B2, left 499 mm
     cut feed 1500 mm

  left whole: length of 2000 mm

  proven: no plan costs less, then cuts less off new lengths, then keeps a
    longer piece whole

  LEFT OUT (1): in no bar
    two: lines.two.route or lines.two.length is not given
"""


@pytest.fixture
def car(tmp_path: Path) -> Path:
    """Return a folder with a small car, offers and a shelf."""
    for name, text in (("build", BUILD), ("offers", OFFERS), ("stock", STOCK)):
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return tmp_path


def test_whole_text(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What to buy, each bar with its pieces, what is left, the proof, what is in no bar; 1 because something is not."""
    assert main(["cut", str(car), "--kerf", "1mm"]) == 1
    assert capsys.readouterr().out == TEXT + CAUTION_LINES + "\n"


def test_well_with_every_length(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With every length known the exit code is 0; lengths asked for take the place of offers, and the text says so."""
    text = BUILD.replace(
        "to: right.inlet, tube: tube-3-16-cuni}", "to: right.inlet, tube: tube-3-16-cuni, length: 1 m}"
    )
    (car / "build.yaml").write_text(text, encoding="utf-8")
    assert main(["cut", str(car), "--stock", "3m", "5 ft"]) == 0
    out = capsys.readouterr().out
    assert "\n  lengths as asked for: 3000 mm, 1524 mm; no prices\n  3 pieces; buy 1 x 3000 mm\n" in out
    assert "LEFT OUT" not in out


NOTHING = """\
Wren: cutting list, 1 part; cuts take nothing away

tube-3-16-cuni: Tube, copper-nickel, 3/16 in x 0.028 in wall

  lengths as asked for: 300 mm; no prices
  nothing can be cut: every piece of known length is too long

  LEFT OUT (3): in no bar
    two: lines.two.route or lines.two.length is not given
    feed: 1500.0 mm is longer than the longest there is, 300 mm
    one: 500.0 mm is longer than the longest there is, 300 mm
"""


def test_nothing_that_can_be_cut(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where every piece is too long nothing is said to do, nothing is proven, and the JSON has no plan."""
    (car / "stock.yaml").write_text("stock: 1\nshelf: []\n", encoding="utf-8")
    assert main(["cut", str(car), "--stock", "300 mm"]) == 1
    assert capsys.readouterr().out == NOTHING + CAUTION_LINES + "\n"
    assert main(["cut", str(car), "--stock", "300 mm", "--format", "json"]) == 1
    (part,) = json.loads(capsys.readouterr().out)["parts"]
    assert (part["plan"], [one["buy"] for one in part["lengths"]], len(part["left_out"])) == (None, [0], 3)


INCHES = """\
  lengths as asked for: 35.55 in; no prices
  2 pieces; buy 2 x 35.55 in

  1. length of 35.55 in, left 5/16 in
     cut one 35 1/4 in

  2. length of 35.55 in, left 7/16 in
     cut two 35 1/8 in

  proven: no plan buys less, then cuts less off new lengths, then keeps a longer
    piece whole

  LEFT OUT (1): in no bar
    feed: 35 9/16 in is longer than the longest there is, 35.55 in
"""


def test_stock_is_told_no_longer_than_it_is(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A length between two marks of an inch rule is told as it was asked for: what it is too short for reads longer."""
    text = BUILD.replace("1494 mm", "35.32 in").replace("494 mm", "35 in")
    text = text.replace("tube: tube-3-16-cuni}", "tube: tube-3-16-cuni, length: 34-7/8 in}")
    (car / "build.yaml").write_text(text, encoding="utf-8")
    (car / "stock.yaml").write_text("stock: 1\nshelf: []\n", encoding="utf-8")
    assert main(["cut", str(car), "--stock", "35.55 in"]) == 1
    assert capsys.readouterr().out.partition("wall\n\n")[2] == INCHES + CAUTION_LINES + "\n"


def test_no_line_is_too_wide(capsys: pytest.CaptureFixture[str]) -> None:
    """The list of the demo keeps to 80 columns."""
    demo = str(Path(__file__).parents[2] / "demo_vehicle")
    assert main(["cut", demo, "--variant", "as_corrected"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert "  1. offcut of 640 mm, left 16.3 mm" in lines
    assert max(map(len, lines)) <= 80


def test_json_says_the_same(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The JSON has lengths with prices, bars with pieces, leftovers, the proof and what is left out."""
    assert main(["cut", str(car), "--kerf", "1mm", "--format", "json"]) == 1
    value = json.loads(capsys.readouterr().out)
    assert list(value) == ["build", "kerf_mm", "parts", "caution"]
    (part,) = value["parts"]
    assert [(one["length_mm"], one["price"], one["buy"]) for one in part["lengths"]] == [
        (7620.0, "21.40 GBP", 0),
        (2000.0, "14.00 GBP", 1),
    ]
    plan = part["plan"]
    assert [(bar["from"], bar["length_mm"], bar["left_mm"]) for bar in plan["bars"]] == [
        ("offcut", 510.0, 9.0),
        ("length", 2000.0, 499.0),
    ]
    assert plan["bars"][0]["pieces"] == [{"for": "one", "length_mm": 500.0}]
    assert (plan["cost"], plan["bought_mm"], plan["new_mm"], plan["longest_left_mm"]) == (
        "14.00 GBP",
        4000.0,
        1501.0,
        2000.0,
    )
    assert plan["proof"]["optimal"] is True
    assert part["left_out"] == [{"for": "two", "reason": "lines.two.route or lines.two.length is not given"}]


ASKED_WRONGLY = [
    ("--kerf", "1", "a bare number where a length is needed: write '25 mm' or '1 in'"),
    ("--kerf", "-1mm", "expected a length of 0 mm or more, got -1mm"),
    ("--stock", "0 mm", "expected a length of more than 0 mm"),
    ("--stock", "5kg", "'5kg' is a mass where a length is needed"),
]


@pytest.mark.parametrize(("option", "value", "told"), ASKED_WRONGLY)
def test_asked_wrongly(option: str, value: str, told: str, car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A length that is none is refused, with the option that it was given for."""
    assert main(["cut", str(car), f"{option}={value}"]) == 2
    assert capsys.readouterr() == ("", f"fitcheck: {option}: {told}\n")

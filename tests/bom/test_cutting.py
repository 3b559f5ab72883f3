"""The cutting list of a build: where its lengths come from, what is left out and why."""

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from fitcheck.bom.cutting import CutPart, CuttingList, LeftOut, Sources, cutting_list
from fitcheck.bom.nesting.record import Coil, Cut
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from tests.bom.house import CAR, CATALOG, OFFERS

ROUTED = CAR.replace("route: [[0, 0, 100]]", "length: 900 mm")
SECOND = """\
  back:
    {from: mc.out, to: fl.bare, tube: pipe, length: 500 mm, ends: {from: {flare: bubble}, to: {flare: bubble}}}
"""
DRIP = "hoses:\n  drain: {part: drip, length: 210 mm}\n"


def listed(
    folder: Path, body: str, prices: str = "", stock: str = "", asked: tuple[float, ...] = (), kerf: float = 0.0
) -> CuttingList:
    """Return the cutting list of a build with the house catalog, these prices, this shelf and these lengths."""
    (folder / "house.yaml").write_text(CATALOG, encoding="utf-8")
    text = f"build: 1\nname: Plover\ncatalogs: [house.yaml]\n{body}"
    if prices:
        (folder / "offers.yaml").write_text(OFFERS + prices, encoding="utf-8")
        text += "offers: [offers.yaml]\n"
    if stock:
        (folder / "stock.yaml").write_text(f"stock: 1\nshelf:\n{stock}", encoding="utf-8")
        text += "stock: stock.yaml\n"
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    build = load(folder / "build.yaml")
    sources = Sources(build.offers(), build.stock(), build.shelf, date(2026, 6, 1), asked)
    return cutting_list(take_off(assemble(build)), sources, kerf)


def only(cutting: CuttingList) -> CutPart:
    """Return the one part that is cut."""
    (part,) = cutting.parts
    return part


def test_a_usual_coil_where_nothing_is_on_offer(tmp_path: Path) -> None:
    """Without offers tube comes in coils of 25 ft, and the list says that this is an assumption."""
    part = only(listed(tmp_path, ROUTED))
    assert (part.origin, part.coils, part.nest.bought) == ("usual", (Coil(7620.0),), (1,))
    assert part.nest.cost is None


def test_flares_are_in_the_piece(tmp_path: Path) -> None:
    """A piece is as long as the bill says: run and both flares."""
    bom_row = only(listed(tmp_path, ROUTED)).nest.bars[0]
    assert [cut.tag for cut in bom_row.cuts] == ["feed"]
    assert bom_row.cuts[0].mm > 900.0
    assert bom_row.left_mm < 6720.0


def test_cheapest_of_what_is_on_offer(tmp_path: Path) -> None:
    """The cheapest length that does is bought; other currencies and run-out prices are not, the first is said."""
    prices = """\
  - {part: pipe, supplier: shed, number: P5, price: 15.00 GBP, per: 5 m}
  - {part: pipe, supplier: hall, price: 6.00 GBP, per: 1 m}
  - {part: pipe, supplier: barn, price: 0.10 EUR, per: 5 m}
  - {part: pipe, supplier: hall, number: old, price: 0.01 GBP, per: 5 m, valid_until: 2026-05-31}
  - {part: pipe, supplier: hall, number: bare, price: 0.01 GBP}
"""
    part = only(listed(tmp_path, ROUTED, prices))
    assert (part.origin, part.currency, part.nest.bought, part.nest.cost) == ("offers", "GBP", (0, 1), Fraction(6))
    assert [coil.tag for coil in part.coils] == ["shed P5", "hall"]
    assert part.ignored == (
        LeftOut("barn", "its price is in EUR, the others are in GBP"),
        LeftOut("hall bare", "the price does not say for what length it is"),
    )


def test_shelf_first(tmp_path: Path) -> None:
    """What the offcuts on the shelf hold is cut from them, and nothing is bought if they hold all."""
    stock = "  - {part: pipe, lengths: [3 m, 1 m]}\n"
    part = only(listed(tmp_path, ROUTED, "", stock))
    assert part.nest.bought == (0,)
    assert [(bar.source.offcut, bar.mm) for bar in part.nest.bars] == [(True, 1000.0)]
    assert [bar.mm for bar in part.nest.whole] == [3000.0]


def test_lengths_as_asked(tmp_path: Path) -> None:
    """Lengths that the caller names take the place of offers, each once."""
    prices = "  - {part: pipe, supplier: shed, price: 15.00 GBP, per: 5 m}\n"
    part = only(listed(tmp_path, ROUTED, prices, asked=(2000.0, 1200.0, 2000.0)))
    assert (part.origin, part.coils, part.nest.bought) == ("asked", (Coil(2000.0), Coil(1200.0)), (0, 1))


def test_unknown_length_is_left_out_and_said(tmp_path: Path) -> None:
    """A line without a length is in no bar, with the reason that the bill gives, and the rest is cut."""
    cutting = listed(tmp_path, ROUTED + SECOND.replace(", length: 500 mm", ""))
    part = only(cutting)
    assert part.left_out == (LeftOut("back", "lines.back.route or lines.back.length is not given"),)
    assert [cut.tag for bar in part.nest.bars for cut in bar.cuts] == ["feed"]
    assert not cutting.complete


def test_too_long_is_left_out_and_said(tmp_path: Path) -> None:
    """A piece longer than every length is in no bar, and both lengths are named."""
    part = only(listed(tmp_path, ROUTED + SECOND, asked=(600.0,)))
    (left,) = part.left_out
    feed = next(cut.mm for cut in only(listed(tmp_path, ROUTED)).nest.bars[0].cuts)
    assert left == LeftOut("feed", f"{feed:.1f} mm is longer than the longest there is, 600 mm")


TOO_LONG = [
    ("905.57 mm", 911.95, "", "912.0 mm is longer than the longest there is, 911.9 mm"),
    ("905.54 mm", 911.96, "", "912 mm is longer than the longest there is, 911.9 mm"),
    ("896.62 mm", 902.97, "coordinates: in\n", "35 9/16 in is longer than the longest there is, 35.55 in"),
    ("895.554 mm", 901.827, "coordinates: in\n", "35.5118 in is longer than the longest there is, 35.505 in"),
]


@pytest.mark.parametrize(("length", "stock_mm", "head", "told"), TOO_LONG)
def test_too_long_reads_as_longer(length: str, stock_mm: float, head: str, told: str, tmp_path: Path) -> None:
    """A piece that misses by less than a tape shows is told so finely that it reads as longer than the stock."""
    text = head + ROUTED.replace("900 mm", length)
    part = only(listed(tmp_path, text, asked=(stock_mm,)))
    assert part.left_out == (LeftOut("feed", told),)


def test_hose_off_a_reel(tmp_path: Path) -> None:
    """Hose that nobody sells in lengths is not nested: what a reel has to give is said, and nothing is missing."""
    cutting = listed(tmp_path, DRIP)
    part = only(cutting)
    assert (part.origin, part.nest, part.by_the_metre) == ("none", None, (Cut("drain", 210.0),))
    assert cutting.complete


def test_hose_from_the_shelf(tmp_path: Path) -> None:
    """Hose is cut from what is on the shelf if that does; if not it comes off a reel."""
    enough = only(listed(tmp_path, DRIP, "", "  - {part: drip, lengths: [300 mm]}\n"))
    assert [bar.source.offcut for bar in enough.nest.bars] == [True]
    two = DRIP + "  vent: {part: drip, length: 200 mm}\n"
    short = only(listed(tmp_path, two, "", "  - {part: drip, lengths: [300 mm]}\n"))
    assert (short.nest, [cut.tag for cut in short.by_the_metre]) == (None, ["drain", "vent"])


def test_kerf_costs_a_length(tmp_path: Path) -> None:
    """What the saw takes away can cost another length."""
    without, with_kerf = (only(listed(tmp_path, ROUTED + SECOND, asked=(1412.8,), kerf=k)) for k in (0.0, 20.0))
    assert (without.nest.bought, with_kerf.nest.bought) == ((1,), (2,))

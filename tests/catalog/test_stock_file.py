"""What is on the builder's own shelf, and what is on its way."""

from datetime import date
from pathlib import Path

import pytest

from fitcheck.catalog.stock import Stock
from fitcheck.catalog.stock_file import read_stock
from fitcheck.sources import InputError

STOCK = """\
stock: 1
shelf:
  - {part: nut-an3, quantity: 4, note: tin on the left}
  - {part: nut-an3}
  - {part: tube-3-16-cuni, lengths: [400 mm, 1.2 m]}
"""


def _write(folder: Path, text: str) -> Path:
    path = folder / "stock.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_stock_is_read(tmp_path: Path) -> None:
    """Pieces are added up, one if not counted; cut goods list their lengths, longest first."""
    stock = read_stock(_write(tmp_path, STOCK))
    assert stock.quantity("nut-an3") == 5
    assert stock.quantity("tee-an3") == 0
    assert stock.lengths("tube-3-16-cuni") == pytest.approx((1200, 400))
    assert stock.quantity("tube-3-16-cuni") == 0
    assert stock.entries[0].note == "tin on the left"


def test_an_empty_shelf() -> None:
    """A build without a stock file has nothing on the shelf."""
    assert Stock.empty().quantity("nut-an3") == 0
    assert Stock.empty().lengths("tube-3-16-cuni") == ()


def test_an_unknown_key_in_stock_has_its_place(tmp_path: Path) -> None:
    """A misspelt key in the stock file is refused with line, column and the nearest key."""
    path = _write(tmp_path, "stock: 1\nshelf:\n  - {part: a, quanttiy: 2}\n")
    with pytest.raises(InputError) as caught:
        read_stock(path)
    expected = "3:15: unknown key 'quanttiy' in a part in stock; nearest is 'quantity'"
    assert str(caught.value) == f"{path.as_posix()}:{expected}"


def test_what_is_coming_is_read(tmp_path: Path) -> None:
    """What has been ordered is not on the shelf; every field of it arrives, in working units."""
    text = (
        "stock: 1\ncoming:\n"
        "  - {part: nut-an3, supplier: north, number: N-3, ordered: 2026-11-01, due: 2026-11-05, note: with screws}\n"
        "  - {part: tube, lengths: [25 ft, 1 m]}\n  - {part: fluid, contents: 0.5 L}\n"
    )
    stock = read_stock(_write(tmp_path, text))
    assert stock.entries == ()
    assert stock.parts == ("nut-an3", "tube", "fluid")
    nut, tube, fluid = stock.coming
    days = (date(2026, 11, 1), date(2026, 11, 5))
    assert nut == ("nut-an3", 1, (), None, "north", "N-3", *days, "with screws")
    assert (tube.quantity, tube.lengths) == (0, (7620, 1000))
    assert (fluid.quantity, fluid.contents) == (0, 500_000)


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ("{quantity: 1}", "a part that is coming needs 'part'"),
        ("{part: a b}", "'a b' is no name: use letters, digits, _ and -"),
        ("{part: a, quantity: 10000}", "expected a whole number from 0 to 9999, got '10000'"),
        ("{part: a, lengths: [0 mm]}", "expected more than zero, got '0 mm'"),
        ("{part: a, contents: 5 mm}", "'5 mm' is a length where a volume is needed"),
        ("{part: a, due: soon}", "expected a date such as 2026-12-31, got 'soon'"),
        ("{part: a, dew: 2026-01-01}", "unknown key 'dew' in a part that is coming; nearest is 'due'"),
    ],
)
def test_bad_entries_of_what_is_coming(tmp_path: Path, entry: str, said: str) -> None:
    """Each bad value of what is coming has its whole sentence, on its line."""
    path = _write(tmp_path, f"stock: 1\ncoming:\n  - {entry}\n")
    with pytest.raises(InputError) as caught:
        read_stock(path)
    place, _, message = str(caught.value).removeprefix(f"{path.as_posix()}:").partition(" ")
    assert place.startswith("3:")
    assert message == said

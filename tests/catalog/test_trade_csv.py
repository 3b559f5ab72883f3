"""Prices and stock as CSV: read as YAML is, refused in the same sentences, with the place of the cell."""

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.catalog import trade_csv
from fitcheck.catalog.offer_file import PriceEntry, read_offers
from fitcheck.catalog.offers import Offers
from fitcheck.catalog.stock import Stock
from fitcheck.catalog.stock_csv import KEYS
from fitcheck.catalog.stock_file import StockEntry, read_stock
from fitcheck.sources import InputError

SUPPLIERS = "offers: 1\nsuppliers:\n  north: {name: North Counter, currency: GBP}\n  over: {name: O, currency: EUR}\n"
PRICES = """\
part,supplier,number,price,pack,per,to_length,contents,breaks,stock,mass,lead_time,valid_until,note
nut,north,N-3,8.50 GBP,10,,,,10: 8.00 GBP; 50: 7.00 GBP,12,40 g,2 d,2027-03-31,in a bag
tube,over,,3.90 EUR,,1 m,yes
fluid,north,"F ""1"" b",7.20 GBP,,,,500 mL,,0
"""
AS_YAML = """\
prices:
  - {part: nut, supplier: north, number: N-3, price: 8.50 GBP, pack: 10, stock: 12, mass: 40 g, lead_time: 2 d,
     valid_until: 2027-03-31, note: in a bag, breaks: [{packs: 10, price: 8.00 GBP}, {packs: 50, price: 7.00 GBP}]}
  - {part: tube, supplier: over, price: 3.90 EUR, per: 1 m, to_length: yes}
  - {part: fluid, supplier: north, number: 'F "1" b', price: 7.20 GBP, contents: 500 mL, stock: 0}
"""
STOCK = """\
part;quantity;lengths;contents;state;supplier;number;ordered;due;note
nut;6
tube;;"900 mm; 1.2 m";;here;;;;;'=the end
fluid;;;250 mL
tee;2;;;coming;north;T;2026-11-27;2026-12-01;
"""


def write(folder: Path, text: str | bytes, name: str = "prices.csv") -> Path:
    """Write a file and return where it is."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def offers(folder: Path, text: str | bytes, name: str = "prices.csv") -> Offers:
    """Return the offers of a CSV file beside a YAML file that describes the suppliers."""
    return read_offers([write(folder, SUPPLIERS, "offers.yaml"), write(folder, text, name)])


def refused(folder: Path, text: str | bytes) -> list[str]:
    """Return the problems of a CSV file of prices, without its name."""
    with pytest.raises(InputError) as caught:
        offers(folder, text)
    name = f"{(folder / 'prices.csv').as_posix()}:"
    assert all(str(problem).startswith(name) for problem in caught.value.problems)
    return [str(problem).removeprefix(name) for problem in caught.value.problems]


def stock(folder: Path, text: str | bytes) -> Stock:
    """Return the stock that a CSV file says."""
    return read_stock(write(folder, text, "stock.csv"))


def stock_refused(folder: Path, text: str | bytes) -> list[str]:
    """Return the problems of a CSV file of stock, without its name."""
    with pytest.raises(InputError) as caught:
        stock(folder, text)
    return [str(problem).removeprefix(f"{(folder / 'stock.csv').as_posix()}:") for problem in caught.value.problems]


def test_prices_are_those_of_yaml(tmp_path: Path) -> None:
    """Every column, filled or empty, makes the offer that the same words make in YAML."""
    assert PRICES.splitlines()[0].split(",") == list(PriceEntry.model_fields)
    expected = read_offers([write(tmp_path, SUPPLIERS + AS_YAML, "all.yaml")])
    assert offers(tmp_path, PRICES).offers == expected.offers


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_what_spreadsheets_write_is_read(tmp_path: Path, encoding: str, separator: str, newline: str) -> None:
    """Encoding, separator and line ends are found out, whatever program wrote the file."""
    rows = [["Part", "SUPPLIER", "Price", "Valid until", "Note"], ["nut", "north", "1 GBP", "2027-01-01", "Größe 3"]]
    text = newline.join(separator.join(row) for row in (*rows, [""] * 5, ["tee", "over", "2 EUR"]))
    nut, tee = offers(tmp_path, text.encode(encoding), "prices.CSV").offers
    assert (nut.part, str(nut.price), nut.valid_until, nut.note) == ("nut", "1 GBP", date(2027, 1, 1), "Größe 3")
    assert (tee.part, tee.supplier.tag, tee.note) == ("tee", "over", None)


def test_rows_that_are_not_full(tmp_path: Path) -> None:
    """Rows may be shorter than the header or end with empty cells; blank rows are no rows."""
    text = "sep=;\n;;;\npart;supplier;price;;\n\nnut;north;1 GBP\n ; ;;;\ntee;north;2 GBP;;;;\n\n"
    assert [offer.part for offer in offers(tmp_path, text).offers] == ["nut", "tee"]
    assert offers(tmp_path, "part,supplier,price\n").offers == ()


BAD = [
    ("price", "12.50"),
    ("price", "12,50 GBP"),
    ("pack", "0"),
    ("per", "10"),
    ("per", "5 kg"),
    ("to_length", "maybe"),
    ("to_length", "yes"),
    ("contents", "0 mL"),
    ("stock", "many"),
    ("mass", "-1 g"),
    ("lead_time", "-1 d"),
    ("valid_until", "31.3.2027"),
    ("part", "a b"),
    ("supplier", "nort"),
    ("price", "1 EUR"),
]


@pytest.mark.parametrize(("key", "value"), BAD)
def test_sentences_are_those_of_yaml(tmp_path: Path, key: str, value: str) -> None:
    """A value that is refused is refused in the words that YAML gets, at its own cell."""
    entry = {"part": "nut", "supplier": "north", "price": "1 GBP", key: value}
    yaml = f"{SUPPLIERS}prices:\n  - {{{', '.join(f'{name}: {text!r}' for name, text in entry.items())}}}\n"
    with pytest.raises(InputError) as caught:
        read_offers([write(tmp_path, yaml, "all.yaml")])
    [expected] = [problem.message for problem in caught.value.problems]
    row = "\t".join(entry.values())
    place = 1 if value == "yes" else row.index(value) + 1  # to_length is judged with the rest of its row
    assert refused(tmp_path, "\t".join(entry) + "\n" + row) == [f"2:{place}: {expected}"]


def test_all_problems_are_told_with_their_places(tmp_path: Path) -> None:
    """Every row is looked at; cells in quotes, after a line break in a cell, and inside a cell have places too."""
    text = (
        "part;supplier;price;breaks;note\r\n"
        '"nut";north;"8.50";;\r\n'
        'tee;north;1 GBP;"5: 1 GBP; 4 GBP;  9: 2";\r\n'
        ";north;1 GBP;;\r\n"
        'cap;north;1 GBP;;"two\r\nlines";x\r\n'
        '"a"b;north;1 GBP\r\n'
        "elbow;;1 GBP;;;;y\r\n"
        "elbow;north;1 GBP;3: x;;\r\n"
        "union;north;1 GBP;3: 1 GBP;;\r\n"
    )
    money = "expected an amount and a currency, such as 12.50 GBP, got"
    assert refused(tmp_path, text) == [
        f"2:13: {money} '8.50': the currency is missing",
        "3:28: expected packs and price of a break, such as 10: 0.80 GBP, got '4 GBP'",
        f"3:39: {money} '2': the currency is missing",
        "4:1: a price needs 'part'",
        "5:1: 'x' stands in a column without a name",
        "7:1: a quote stands inside a quoted cell undoubled",
        "8:1: a price needs 'supplier'",
        "8:17: 'y' stands in a column without a name",
        f"9:22: {money} 'x': put one space before the currency",
    ]


def test_what_is_wrong_between_files_has_its_place(tmp_path: Path) -> None:
    """Unknown suppliers, foreign prices and prices that stand twice, also in YAML, are told at their cells."""
    text = (
        "part,supplier,price,number,breaks\n"
        "nut,nort,1 GBP\n"
        "nut,north,1 USD,,10: 1 EUR\n"
        "tee,north,1 GBP,A\n"
        "tee,north,2 GBP,A\n"
        "cap,north,2 GBP\n"
    )
    yaml = SUPPLIERS + "prices:\n  - {part: cap, supplier: north, price: 1 GBP}\n"
    path = write(tmp_path, text)
    with pytest.raises(InputError) as caught:
        read_offers([write(tmp_path, yaml, "offers.yaml"), path])
    assert [str(problem).removeprefix(f"{path.as_posix()}:") for problem in caught.value.problems] == [
        "2:5: no supplier is called 'nort'; nearest is 'north'",
        "3:11: expected GBP, the currency of north, got 1 USD",
        "3:22: expected GBP, the currency of north, got 1 EUR",
        "5:1: north has a price for this number and pack of tee already",
        "6:1: north has a price for this number and pack of cap already",
    ]


KNOWN = ", ".join(PriceEntry.model_fields)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", ["1:1: the file is empty: expected a row of column names"]),
        (b";;\n\n", ["1:1: the file is empty: expected a row of column names"]),
        (b"part;supplier;prise;price\n", ["1:15: unknown column 'prise'; nearest is 'price'"]),
        (b"part,supplier,price,qq\nnut,north,1 GBP\n", [f"1:21: unknown column 'qq'; known: {KNOWN}"]),
        (b"part,supplier,price,Price\n", ["1:21: the column 'Price' is column 3 already"]),
        (b"\n\npart,supplier\nnut\n", ["3:1: there is no column 'price'"]),
        (
            b"nut,north,1 GBP\n",
            [
                *(f"1:1: there is no column '{key}'" for key in ("part", "price", "supplier")),
                f"1:1: unknown column 'nut'; known: {KNOWN}",
                "1:5: unknown column 'north'; nearest is 'note'",
                f"1:11: unknown column '1 GBP'; known: {KNOWN}",
            ],
        ),
        (b'"part,supplier,price\n', ["1:1: a quote is opened and never closed"]),
        (
            b"part,supplier,price\nnut\x07,north,1 GBP\n",
            ["2:4: the character U+0007 is not taken in a file; delete it"],
        ),
        (b"part,supplier,price\n\x00", ["1:1: this is no text: it holds zero bytes; save the list as CSV"]),
    ],
)
def test_headers_that_are_refused(tmp_path: Path, text: bytes, said: list[str]) -> None:
    """A header that is not there, lacks a column, or names a strange one is refused where it is wrong."""
    assert refused(tmp_path, text) == said


def test_a_strange_column_does_not_hide_the_rows(tmp_path: Path) -> None:
    """Beside an unknown column the rows are still judged; without a needed one they would all lack the same."""
    assert refused(tmp_path, "part,supplier,price,packs\nnut,north,x,1\n") == [
        "1:21: unknown column 'packs'; nearest is 'pack'",
        "2:11: expected an amount and a currency, such as 12.50 GBP, got 'x': put one space before the currency",
    ]
    assert refused(tmp_path, 'part,supplier\nnut,north\n"a"b\n') == [
        "1:1: there is no column 'price'",
        "3:1: a quote stands inside a quoted cell undoubled",
    ]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A missing file, a folder and too large a file are told in one sentence each."""
    (tmp_path / "folder.csv").mkdir()
    for name, message in {
        "none.csv": "there is no such file",
        "folder.csv": "this is not an ordinary file; expected a price list as CSV",
    }.items():
        with pytest.raises(InputError) as caught:
            read_offers([tmp_path / name])
        assert str(caught.value) == f"{(tmp_path / name).as_posix()}:1:1: {message}"


def test_reading_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bytes, lines, cells, items of a cell and problems told have their limits, and each says so."""
    head = "part,supplier,price,breaks\n"
    found = refused(tmp_path, head + "nut,north,x\n" * 1500)
    assert len(found) == 1001
    assert found[-1] == "1002:11: 500 more problems from here on"
    found = refused(tmp_path, head + "nut,nort,1 GBP\n" * 1500)
    assert (len(found), found[-1]) == (1001, "502:1: more problems from here on")
    breaks = ";".join(["5: 1 GBP"] * 1001)
    assert refused(tmp_path, f'{head}nut,north,1 GBP,"{breaks}"\n') == ["2:17: more than 1000 breaks in one cell"]
    assert len(refused(tmp_path, ",".join(f"c{number}" for number in range(3000)))) == 1001
    monkeypatch.setattr(trade_csv, "MOST_VALUES", 40)
    assert refused(tmp_path, head + "nut,north,1 GBP,,,,,,\n" * 5) == ["6:1: more than 4000000 cells; split the file"]
    assert refused(tmp_path, head + "\n" * 50) == ["41:1: more than 4000000 lines; split the file"]
    monkeypatch.setattr(trade_csv, "MOST_BYTES", 10)
    assert refused(tmp_path, head) == ["1:1: the file is larger than 0 MiB; split it"]


def test_stock_is_read(tmp_path: Path) -> None:
    """Rows are on the shelf unless they say that they are coming; every column arrives in working units."""
    assert STOCK.splitlines()[0].split(";") == list(dict.fromkeys([*list(KEYS)[:4], "state", *list(KEYS)[4:-1]]))
    assert set(StockEntry.model_fields) < set(KEYS)
    found = stock(tmp_path, STOCK)
    assert [tuple(entry) for entry in found.entries] == [
        ("nut", 6, (), None, None),
        ("tube", 0, (900, 1200), None, "=the end"),
        ("fluid", 0, (), 250_000, None),
    ]
    assert [tuple(entry) for entry in found.coming] == [
        ("tee", 2, (), None, "north", "T", date(2026, 11, 27), date(2026, 12, 1), None)
    ]


def test_stock_that_is_refused(tmp_path: Path) -> None:
    """Each bad cell of stock is told at its place, and what only goes with what is coming."""
    text = (
        "part,quantity,lengths,contents,state,supplier,due\n"
        "nut,some\n"
        'tube,,"1 m;  2"\n'
        "fluid,,,1 mm\n"
        "tee,,,,comming,north\n"
        "tee,,,,Here,north,2026-12-01\n"
        "tee,,,,COMING,north,soon\n"
        ",1\n"
    )
    assert stock_refused(tmp_path, text) == [
        "2:5: expected a whole number from 0 to 9999, got 'some'",
        "3:14: a bare number where a length is needed: write '25 mm' or '1 in'",
        "4:9: '1 mm' is a length where a volume is needed",
        "5:8: expected here or coming, got 'comming'",
        "6:13: 'supplier' is only for what is coming: this row is here",
        "6:19: 'due' is only for what is coming: this row is here",
        "7:21: expected a date such as 2026-12-31, got 'soon'",
        "8:1: a part in stock needs 'part'",
    ]
    assert stock_refused(tmp_path, "quantity,stat\n1,here\n") == [
        "1:1: there is no column 'part'",
        "1:10: unknown column 'stat'; nearest is 'state'",
    ]


def test_yaml_alone_does_not_load_the_csv_code(tmp_path: Path) -> None:
    """Who keeps offers and stock in YAML does not wait for the code of the other form."""
    write(tmp_path, SUPPLIERS, "offers.yaml")
    write(tmp_path, "stock: 1\n", "stock.yaml")
    code = (
        "import sys; from pathlib import Path; from fitcheck.catalog import offer_file, stock_file, stock_edit\n"
        "offer_file.read_offers([Path('offers.yaml')]); stock_file.read_stock(Path('stock.yaml'))\n"
        "print([name for name in sys.modules if 'csv' in name and name.startswith('fitcheck')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path)
    assert done.stdout == "[]\n"


WORDS = st.sampled_from([*PriceEntry.model_fields, *KEYS, "nut", "1 GBP", "5: 1 GBP; 6", "1 m; 2", "here", '"', "\n"])


@given(st.lists(st.lists(WORDS | st.text(max_size=6), max_size=6), max_size=6), st.sampled_from(",;\t"), st.booleans())
@settings(derandomize=True, database=None, deadline=None, max_examples=300)
def test_whatever_a_file_holds_it_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]], separator: str, wide: bool
) -> None:
    """No text makes the readers fail in another way than with problems that lie inside the file."""
    folder = tmp_path_factory.mktemp("any")
    text = "\n".join(separator.join(row) for row in rows)
    path = write(folder, text.encode("utf-16" if wide else "utf-8", "replace"), "any.csv")
    lines = text.count("\n") + text.count("\r") + 1
    for read in (lambda: read_offers([path]), lambda: read_stock(path)):
        problems = None
        try:
            read()
        except InputError as error:
            problems = error.problems
        assert problems != ()
        assert all(1 <= problem.line <= lines and problem.column >= 1 for problem in problems or ())

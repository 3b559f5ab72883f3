"""Encodings, separators, headers and mapping files: what a list is, found out from the list."""

import csv
from pathlib import Path

import pytest

from fitcheck.catalog.take_in.table import MOST_LINES_OF_A_ROW, Row, rows, separator_of
from fitcheck.catalog.take_in.text_file import LONGEST_LINE, encoding_of
from fitcheck.sources import InputError
from tests.catalog.take_in.lists import HEADER, NUT, TEE, offers, parts, rejects, taken, write

LIST = [HEADER, ["A1", TEE, "12.50", "GBP"], ["A2", NUT.replace(",", "."), "0.80", "GBP"]]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_encodings(tmp_path: Path, encoding: str) -> None:
    """Every encoding is recognised, and umlauts in it are read."""
    path = write(tmp_path / "list.csv", LIST, encoding=encoding)
    assert encoding_of(path) == encoding
    assert taken(path).taken == 2
    found = parts(tmp_path).get("invented-a2")
    assert found is not None
    assert found.description == NUT.replace(",", ".")


@pytest.mark.parametrize("separator", [";", ",", "\t", "|"])
def test_separators(tmp_path: Path, separator: str) -> None:
    """Every separator is recognised, also where other separators stand inside the cells."""
    path = write(tmp_path / "list.csv", [HEADER, ["A1", f"{TEE}, steel; brass | new", "12.50", "GBP"]], separator)
    assert separator_of(path, "utf-8", ["code", "description"]) == separator
    assert taken(path).columns["description"] == ("Description",)


def test_a_hint_of_the_spreadsheet_decides(tmp_path: Path) -> None:
    """A first line `sep=|` is no row, and names the separator."""
    path = tmp_path / "list.csv"
    path.write_text(f"sep=|\nCode|Description|Price;Currency|Currency\nA1|{TEE}|1|GBP\n", encoding="utf-8")
    assert separator_of(path, "utf-8", []) == "|"
    assert [row.number for row in rows(path, "utf-8", "|")] == [2, 3]


def test_quotes_gone_wrong_cost_one_row(tmp_path: Path) -> None:
    """A quote that is not closed or not doubled spoils its own row and no other."""
    path = tmp_path / "list.csv"
    path.write_text('a,b\n"open,1\n"in"ner",2\nc,"x\ny"\n"end,3\n', encoding="utf-8")
    assert list(rows(path, "utf-8", ",")) == [
        Row(1, ("a", "b")),
        Row(2, ('"open,1',), "a quote stands inside a quoted cell undoubled"),
        Row(3, ('"in"ner",2',), "a quote stands inside a quoted cell undoubled"),
        Row(4, ("c", "x\ny")),
        Row(5, ('"end,3',), "a quote is opened and never closed"),
    ]


def test_an_open_quote_does_not_swallow_the_list(tmp_path: Path) -> None:
    """After a bounded number of lines the row is given up, and the lines after its first are read as rows."""
    path = tmp_path / "list.csv"
    path.write_text('"open,1\n' + "a,2\n" * 100, encoding="utf-8")
    found = list(rows(path, "utf-8", ","))
    assert found[0].fault == f"a quote is opened and not closed within {MOST_LINES_OF_A_ROW} lines"
    assert [row.cells for row in found[1:]] == [("a", "2")] * 100


FAULTS = [
    (b"", "the list is empty"),
    (b"\n\n", "the list is empty"),
    (b"Code,Description\x00\n", "this is no text: it holds zero bytes; save the list as CSV"),
    (
        b"red,green\n1,2\n",
        "none of the first 20 rows is a header with two that are known, such as description and price; "
        "name the columns in a mapping file (--columns)",
    ),
    (b"Code,Price\n1,2 GBP\n", "no column holds a description or a part; name one in a mapping file"),
    (
        b"Description,Price,List price\nx,1,2\n",
        "both columns 'Price' and 'List price' could hold the price; say which in a mapping file",
    ),
    (b"Code,Description,Price\nA1,x,1.00\n", "no price says its currency; give --currency, such as EUR"),
    (b"Code,Description,PRICE PCS\nA1,x,1.00\n", "no price says its currency; give --currency, such as EUR"),
    (b"Code,Description,Price\nA1,x,1.00 PCS\n", "no price says its currency; give --currency, such as EUR"),
    (b"a" * (LONGEST_LINE + 1), f"the line is longer than {LONGEST_LINE} characters; this is no list"),
]


@pytest.mark.parametrize(("data", "message"), FAULTS, ids=[message[:40] for _, message in FAULTS])
def test_what_is_no_list_is_refused(tmp_path: Path, data: bytes, message: str) -> None:
    """A file that cannot be taken in is one clear message with its place, and nothing is written."""
    path = tmp_path / "list.csv"
    path.write_bytes(data)
    with pytest.raises(InputError) as error:
        taken(path)
    assert str(error.value) == f"{path.as_posix()}:1:1: {message}"
    assert list(tmp_path.iterdir()) == [path]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A missing file and a folder are told apart."""
    for path, message in (
        (tmp_path / "none.csv", "there is no such file"),
        (tmp_path, "this is not an ordinary file; expected a price list as CSV"),
    ):
        with pytest.raises(InputError) as error:
            taken(path)
        assert str(error.value) == f"{path.as_posix()}:1:1: {message}"


MAPPING = """\
take_in: 1
columns:
  number: Ref
  description: [What, More]
  price: Each
decimal: comma
currency: EUR
price_for: piece
"""


def test_a_mapping_file_names_the_columns(tmp_path: Path) -> None:
    """Headers nobody knows are mapped, two columns make one description, and price_for multiplies by the pack."""
    (tmp_path / "map.yaml").write_text(MAPPING, encoding="utf-8")
    table = [
        ["Ref", "What", "More", "Each", "VPE", "Colour"],
        ["A1", "Tee 3/8-24 UNF", "inverted flare female for 3/16", "1.234", "10", "red"],
    ]
    found = taken(write(tmp_path / "list.csv", table, ";"), mapping=tmp_path / "map.yaml")
    assert (found.taken, found.unused, found.currency, found.decimal) == (1, ("Colour",), "EUR", "comma")
    offer = offers(tmp_path).offers[0]
    assert (str(offer.price), offer.pack, offer.number) == ("12340.00 EUR", 10, "A1")


MAPPINGS = [
    ("take_in: 1\ncolumns: {price: Prize}\n", "2:18: the list has no column 'Prize'; nearest is 'Price'"),
    ("take_in: 1\nseparator: ':'\n", "2:12: expected one of ';', ',', '\\t', '|', got ':'"),
    (
        "take_in: 1\nencoding: utf8\n",
        "2:11: 'utf8' is no encoding taken here; nearest is 'utf-8'; known: utf-8, utf-8-sig, utf-16, utf-16-le, "
        "utf-16-be, cp1252",
    ),
    (
        "take_in: 1\ncurrency: pcs\n",
        "2:11: expected a currency as three capital letters (ISO 4217), such as GBP, got 'pcs'",
    ),
]


@pytest.mark.parametrize(("text", "message"), MAPPINGS, ids=["column", "separator", "encoding", "currency"])
def test_a_wrong_mapping_file_is_refused_at_its_place(tmp_path: Path, text: str, message: str) -> None:
    """What is wrong with a mapping file is said with its line and column."""
    mapping = tmp_path / "map.yaml"
    mapping.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as error:
        taken(write(tmp_path / "list.csv", LIST), mapping=mapping)
    assert str(error.value) == f"{mapping.as_posix()}:{message}"


def test_a_wrong_encoding_is_refused_at_its_row(tmp_path: Path) -> None:
    """A mapping file that names another encoding than the list has is told in which line that shows."""
    (tmp_path / "map.yaml").write_text("take_in: 1\nencoding: utf-8\n", encoding="utf-8")
    path = tmp_path / "list.csv"
    path.write_bytes(b"Code,Description,Price\nA1,au\xdfen,1.00 GBP\n")
    with pytest.raises(InputError) as error:
        taken(path, mapping=tmp_path / "map.yaml")
    assert str(error.value).endswith("this is not utf-8: invalid continuation byte")


def test_a_missing_list_with_a_named_encoding(tmp_path: Path) -> None:
    """A mapping file that names the encoding does not keep a missing list from being told of."""
    (tmp_path / "map.yaml").write_text("take_in: 1\nencoding: utf-8\nseparator: ','\n", encoding="utf-8")
    with pytest.raises(InputError) as error:
        taken(tmp_path / "none.csv", mapping=tmp_path / "map.yaml")
    assert str(error.value) == f"{(tmp_path / 'none.csv').as_posix()}:1:1: cannot be read: no such file or directory"


def test_rows_above_the_header_are_counted(tmp_path: Path) -> None:
    """An address above the header is no row, and the report says that it was passed over."""
    path = write(tmp_path / "list.csv", [["Invented Ltd"], [], ["1 May"], *LIST])
    found = taken(path)
    assert (found.header_row, found.above, found.rows) == (4, 2, 2)


def test_rejects_are_taken_in_again(tmp_path: Path) -> None:
    """A file of rejects is a list too: its last two columns are left out and its cells are as they were."""
    path = write(tmp_path / "list.csv", [HEADER, ["=A1", "-3 AN nonsense", "12.50", "GBP"]])
    assert taken(path).rejected == 1
    again = taken(tmp_path / "list-rejects.csv", "again")
    assert (again.rows, again.rejected, again.unused) == (1, 1, ())
    assert rejects(tmp_path, "list-rejects")[1][:4] == ["=A1", "-3 AN nonsense", "12.50", "GBP"]
    with (tmp_path / "list-rejects.csv").open(encoding="utf-8-sig", newline="") as file:
        assert list(csv.reader(file))[1][:2] == ["'=A1", "'-3 AN nonsense"]

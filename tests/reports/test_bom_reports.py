"""The bill of materials as text, JSON and CSV."""

import csv
import io
import json
import unicodedata

from hypothesis import example, given
from hypothesis import strategies as st

from fitcheck.bom.record import Row
from fitcheck.reports.bom_csv import COLUMNS, bom_csv, defused, restored
from fitcheck.reports.bom_json import bom_json
from fitcheck.reports.bom_text import bom_text
from fitcheck.reports.plain import columns
from tests.reports.samples import BOM, CAUTION_LINES, PLAIN_BOM


def test_plain_text():
    """A bill without offers has no price columns and no total."""
    wanted = """\
Plover: bill of materials, 1 line

  quantity  part, and what it is for
----------  --------------------------
         1  pump
              Pump, 16 mm
              for mc

Not counted here: fluid, sealant for taper threads, O-rings, clips along the
lines, spares; `fitcheck order` counts all but O-rings.
Nothing is priced: the build names no offers.
"""
    assert bom_text(PLAIN_BOM) == wanted + CAUTION_LINES


def test_sections_below_the_table():
    """Below the table stand the pieces to cut, what could not be counted, and a total that owns up to its gaps."""
    text = bom_text(BOM)
    wanted = """
TO CUT

  pipe: unknown (200 mm known)
    feed 200 mm (run 193.6 + flares 6.4)
    rear unknown: lines.rear.route is not given

NOT COUNTED (1): fixings of these joints

  mc_2.out, rear.from: no catalog has what mc_2 is: pmp

Not counted here: fluid, sealant for taper threads, O-rings, clips along the
lines, spares; `fitcheck order` counts all but O-rings.

TOTAL 0.67 GBP, without 4 lines that cannot be priced
At the cheapest unit prices that have not run out; packs, carriage and smallest
orders are not in it.
"""
    assert text.endswith(wanted + CAUTION_LINES)
    assert "UNKNOWN: no catalog has a part" in text
    assert "no part (nut)" in text
    assert "0.3333 GBP  0.67 GBP" in text
    assert "10.00 GBP/m   unknown" in text


def test_text_width_and_controls():
    """The table keeps to the width, part ids stay whole, and no character drives the terminal."""
    row = Row("p" * 30, "tee", "a\x1b[2J" + "word " * 40, 1, "each", tuple(f"tag{i}.left" for i in range(9)))
    text = bom_text(BOM._replace(rows=(row, *BOM.rows)), width=80)
    assert "p" * 30 in text
    assert max(columns(line) for line in text.split("\n")) <= 80
    assert "\\x1b[2J" in text
    assert all(char == "\n" or char.isprintable() for char in text)


def test_json():
    """Each line has the documented keys; cut goods have pieces; what is not known is null, money is text."""
    value = json.loads(bom_json(BOM))
    assert list(value) == ["build", "lines", "not_counted", "left_out", "totals", "unpriced", "caution"]
    keys = ["part", "kind", "description", "quantity", "unit", "for", "unknown"]
    assert list(value["lines"][0]) == [*keys, "price", "cost"]
    assert list(value["lines"][2]) == [*keys, "known_mm", "pieces", "price", "cost"]
    assert value["lines"][2]["pieces"][1] == {
        "for": "feed",
        "length_mm": 199.9619,
        "run_mm": 193.5619,
        "allowance_mm": 6.4,
        "source": "route; flares",
        "unknown": None,
    }
    assert value["lines"][2]["quantity"] is None
    assert value["lines"][1]["price"] == {
        "pack_price": "1.00 GBP",
        "pack": 3,
        "per_mm": None,
        "supplier": "hall",
        "number": "N-1",
        "valid_until": None,
    }
    assert (value["totals"], value["unpriced"]) == (["0.67 GBP"], 4)
    assert [line["unknown"] for line in value["lines"]] == [False, False, False, True, False]


def test_json_without_prices():
    """A bill without offers has no key that speaks of prices."""
    value = json.loads(bom_json(PLAIN_BOM))
    assert list(value) == ["build", "lines", "not_counted", "left_out", "caution"]
    assert list(value["lines"][0]) == ["part", "kind", "description", "quantity", "unit", "for", "unknown"]


def _rows(text):
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_csv():
    """The CSV has one record a line, ends records with CR LF, and leaves empty what is not known."""
    text = bom_csv(BOM)
    assert text.split("\r\n")[0] == ",".join(COLUMNS)
    assert text.endswith("\r\n")
    nut, pipe, unknown = _rows(text)[1:4]
    assert (nut["quantity"], nut["unit_price"], nut["currency"], nut["cost"]) == ("2", "0.333333", "GBP", "0.67")
    assert nut["for"] == "feed.from feed.to"
    assert pipe["quantity"] == ""
    assert pipe["pieces"] == "rear unknown: lines.rear.route is not given; feed 200 mm (run 193.6 + flares 6.4)"
    assert unknown["unknown"] == "yes"


STARTS = st.sampled_from(["", " ", "\t", "\r", "\n", "'", "''", "\u00a0", "\u3000", "\ufeff", "\u200b"])
SIGNS = st.sampled_from(["=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20", "\u2212", "\t", "\r"])


@given(st.one_of(st.text(), st.builds(lambda a, b, c: a + b + c, STARTS, SIGNS, st.text())))
@example("=HYPERLINK(1)")
@example(" =1")
@example("'=1")
@example("\uff1dSUM(A1)")
def test_no_cell_is_a_formula(text):
    """No defused text begins, after spaces, as a spreadsheet's formula does, in any width of letter."""
    shown = unicodedata.normalize("NFKC", defused(text)).lstrip(" \u200b\ufeff")
    assert not shown.startswith(("=", "+", "-", "@", "\t", "\r"))


@given(st.text(alphabet=st.one_of(st.sampled_from("'=+-@ \t\r\n"), st.characters())))
def test_defusing_can_be_undone(text):
    """What `defused` puts in front, `restored` takes away, and nothing else."""
    assert restored(defused(text)) == text


@given(st.text(alphabet=st.characters(exclude_categories=["C", "Zl", "Zp"]), max_size=40))
def test_csv_round_trip(text):
    """Printable text goes through the CSV and back unchanged, commas, quotes and formulas included."""
    row = Row(None, "tee", text, 1, "each", ())
    (back,) = _rows(bom_csv(PLAIN_BOM._replace(rows=(row,))))
    shown = "".join(char if char.isprintable() else ascii(char)[1:-1] for char in text)
    assert restored(back["description"]) == shown


def test_csv_controls():
    """Control characters are shown as escapes, a line end stays one inside its quotes."""
    row = Row("a\x1bb", "tee", "one\ntwo\x9b", 1, "each", ())
    (back,) = _rows(bom_csv(PLAIN_BOM._replace(rows=(row,))))
    assert (back["part"], back["description"]) == ("a\\x1bb", "one\ntwo\\x9b")

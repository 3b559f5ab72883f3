"""What an exchange changes, as text and JSON."""

import json

from fitcheck.bom.change import compare
from fitcheck.build.load import Place
from fitcheck.reports.swap_text import difference, swap_json, swap_text
from tests.reports.samples import BOM, CAUTION_LINES, EMPTY, LOOP, PLAIN_BOM, REPORT, ROWS, SEATS, UNCHECKED

AFTER = REPORT._replace(findings=(SEATS,), unchecked=UNCHECKED[1:])
NEW_BOM = BOM._replace(rows=(ROWS[0]._replace(part="pump-2"), ROWS[1]._replace(quantity=3), ROWS[2]))

WHOLE = """\
Plover: what the exchange changes

FINDINGS GONE (2)

  error thread-mismatch
    build.yaml:12:5: 3/8-24 UNF of tail.end runs in loose and strips in M10x1 of
      tee.left
      runs in loose: goes home with 15 to 54 % of the thread height and strips
        when tightened
      clearance 0.54 to 0.79 mm, overlap 15 to 54 %
      remedy: fit adapter-a, then adapter-b (2 more joints)

  warning circuit-looped
    build.yaml:40:3: tee, b and 9 more form a circle
      p0.a > p1.a > p2.a > p3.a > (3 more) > p7.a > p8.a > p9.a > p10.a

NOT CHECKED, GONE (1)

  lines.a.route: air-trap at a

BILL OF MATERIALS

  gone: 1 pump, Pump, 16 mm
  gone: 1 pmp, no catalog has a part 'pmp'
  gone: 1 no part (nut), M10x1 external nut, bubble, for 1/2 in tube
  new: 1 pump-2, Pump, 16 mm
  changed: 2 -> 3 pipe-nut, Pipe nut
  total: 0.67 GBP -> 0.67 GBP (without 4 -> 2 lines)

After it: 1 error, 0 warnings, 0 notes; 2 findings as before.
"""


def test_whole_text():
    """The text says what goes, what comes and what stays, then the caution."""
    assert swap_text(REPORT, AFTER, compare(BOM, NEW_BOM)) == WHOLE + CAUTION_LINES


def test_nothing_changes():
    """An exchange that changes nothing says so."""
    text = swap_text(EMPTY, EMPTY, compare(PLAIN_BOM, PLAIN_BOM))
    wanted = """\
Plover: what the exchange changes

no finding comes or goes

no line of the bill of materials changes

After it: 0 errors, 0 warnings, 0 notes; 0 findings as before.
"""
    assert text == wanted + CAUTION_LINES


def test_identity_of_a_finding():
    """A finding that only moves in the file, or shows other evidence, is neither gone nor new."""
    moved = LOOP._replace(place=Place("build.yaml", 99, 1), evidence={})
    found = difference(EMPTY._replace(findings=(LOOP,)), EMPTY._replace(findings=(moved,)))
    assert (found.gone, found.new, found.stay) == ((), (), 1)


def test_same_finding_twice():
    """Of two equal findings one can go while the other stays."""
    found = difference(EMPTY._replace(findings=(LOOP, LOOP)), EMPTY._replace(findings=(LOOP,)))
    assert (found.gone, found.new, found.stay) == ((LOOP,), (), 1)


def test_json():
    """The JSON holds the same changes under fixed keys."""
    value = json.loads(swap_json(REPORT, AFTER, compare(BOM, NEW_BOM)))
    assert list(value) == [
        "build",
        "gone",
        "new",
        "stay",
        "unchecked_gone",
        "unchecked_new",
        "bom",
        "summary",
        "caution",
    ]
    assert [finding["rule"] for finding in value["gone"]] == ["thread-mismatch", "circuit-looped"]
    assert (value["new"], value["stay"]) == ([], 2)
    assert list(value["bom"]) == [
        "gone",
        "new",
        "changed",
        "totals_before",
        "totals_after",
        "unpriced_before",
        "unpriced_after",
    ]
    (changed,) = value["bom"]["changed"]
    assert (changed["before"]["quantity"], changed["after"]["quantity"]) == (2, 3)

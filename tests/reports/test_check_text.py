"""`check` as text."""

import pytest

from fitcheck.checks.findings import Unchecked
from fitcheck.reports.check_text import check_text
from fitcheck.reports.plain import columns
from tests.reports.samples import CAUTION_LINES, EMPTY, LOOP, REPORT

WHOLE = """\
Plover: 2 errors, 1 warning; 1 accepted; 5 checks not made

ERRORS: do not order or drive (2)

  error thread-mismatch
    build.yaml:12:5: 3/8-24 UNF of tail.end runs in loose and strips in M10x1 of
      tee.left
      runs in loose: goes home with 15 to 54 % of the thread height and strips
        when tightened
      clearance 0.54 to 0.79 mm, overlap 15 to 54 %
      remedy: fit adapter-a, then adapter-b (2 more joints)

  error seat-mismatch
    build.yaml:31:5: bubble of feed.from against inverted-flare of mc.out
      the cone bottoms out and weeps

WARNINGS: look by hand (1)

  warning circuit-looped
    build.yaml:40:3: tee, b and 9 more form a circle
      p0.a > p1.a > p2.a > p3.a > (3 more) > p7.a > p8.a > p9.a > p10.a

MISSING ADAPTERS: the first remedy of each joint

  1 adapter-a: for tail.end
  1 adapter-b: for tail.end

ACCEPTED (1)

  note single-circuit build.yaml:50:3: clutch has one circuit
    because: clutch only

NOT CHECKED (5): what is missing

  lines.TAG.route: air-trap at 2 places: a, b
  fluid: fluid-unsuitable at mc
  not in this version: near-heat, hose-short

CHECKED: places that each rule looked at

  thread-mismatch 31, seat-mismatch 30
"""


def test_whole_text():
    """The report says what to do first, then what was not looked at, then what was, then the caution."""
    assert check_text(REPORT) == WHOLE + CAUTION_LINES


def test_nothing_found():
    """A report without findings claims no more than what was looked at."""
    looked = "\n\nCHECKED: places that each rule looked at\n\n  nothing\n"
    wanted = f"Plover: nothing was checked: the build has no parts{looked}"
    assert check_text(EMPTY) == wanted + CAUTION_LINES
    some = check_text(EMPTY._replace(checked={"dead-end": 1}))
    assert some.startswith("Plover: nothing found in what was checked\n")


@pytest.mark.parametrize("width", [40, 60, 80, 110])
def test_width(width):
    """No line is wider than asked for, however long the words."""
    long = LOOP._replace(message="x" * 300 + " \u4e2d" * 90, at=("t" * 80,))
    text = check_text(REPORT._replace(findings=(long, *REPORT.findings)), width=width)
    assert max(columns(line) for line in text.split("\n")) <= width


def test_control_characters():
    """Nothing in the user's text can drive the terminal: controls and direction marks are shown as escapes."""
    hostile = LOOP._replace(message="a\x1b[2Jb\u202ec\x9bd\ne", at=("tag",))
    text = check_text(REPORT._replace(build="Plo\rver", findings=(hostile,)))
    assert "a\\x1b[2Jb\\u202ec\\x9bd\\ne" in text
    assert text.startswith("Plo\\rver: ")
    assert all(char == "\n" or char.isprintable() for char in text)


def test_colour_only_if_asked():
    """Headings are coloured if asked; without the colours the text is the same."""
    coloured = check_text(REPORT, colour=True)
    assert "\x1b[1;31mERRORS: do not order or drive (2)\x1b[0m" in coloured
    bare = coloured.replace("\x1b[1;31m", "").replace("\x1b[1;33m", "").replace("\x1b[0m", "")
    assert bare == check_text(REPORT)


def _many_gaps(fields, places):
    items = [Unchecked("air-trap", (f"t{i}",), f"field.{f}.x") for f in range(fields) for i in range(places)]
    return EMPTY._replace(unchecked=tuple(items))


def test_unchecked_stays_short():
    """Thousands of gaps are a screenful: grouped, first few places, the rest counted."""
    text = check_text(_many_gaps(50, 100))
    assert text.count("\n") < 40
    assert "  field.0.x: air-trap at 100 places: t0, t1, t2 and 97 more\n" in text
    assert "  and 38 more fields, 3800 checks: --unchecked lists them all\n" in text


def test_every_unchecked_place_on_request():
    """With `all_unchecked` each place is named and nothing is left out."""
    text = check_text(_many_gaps(50, 30), all_unchecked=True)
    assert "more" not in text
    assert text.count("t29") == 50

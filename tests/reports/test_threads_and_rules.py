"""Threads and rules as text and JSON."""

import json

from fitcheck.reports.rules_text import rule_page, rules_json, rules_list
from fitcheck.reports.thread_text import thread_json, thread_text
from fitcheck.standards.threads import fit, limits, parse
from tests.reports.samples import CAUTION_LINES, PAGES, page

UNF, FINE = parse("3/8-24 UNF"), parse("M10x1")

METRIC = """\
M10x1: limits of size

                    mm
  external 6g
    major           9.794 to 9.974
    pitch           9.212 to 9.324
    minor           at most 8.891
  internal 6H
    major           at least 10.000
    pitch           9.350 to 9.500
    minor           8.917 to 9.153
  source: ISO 965-1:1998 tables 1 and 3 to 6, class 6g external, 6H internal

TAKEN FOR, those that go together and strip first

  3/8-24 UNF DANGEROUS
    M10x1 into it will not start
    it into M10x1 runs in loose and strips when tightened
  3/8-24 UNJF DANGEROUS
    M10x1 into it will not start
    it into M10x1 runs in loose and strips when tightened
  M10x1.25
    M10x1 into it will not start, though it seems to
    it into M10x1 will not start, though it seems to
  1/8-27 NPT
    M10x1 into it starts, then binds
    it into M10x1 starts, then binds
  G1/8
    M10x1 into it will not start
    it into M10x1 starts, then binds
  and R1/8, Rc1/8, Rp1/8, 3/8-16 UNC, M11x1.5: fitcheck thread A B, or fitcheck
  thread --table
"""


def test_metric_thread():
    """A metric thread shows its limits in mm, none made up that the standard leaves open, and its look-alikes."""
    assert thread_text(limits(FINE)) == METRIC + CAUTION_LINES


def test_unified_thread_in_both_units():
    """A unified thread's limits are shown in mm and in inches (pitch diameter 2A 0.3430 to 0.3468 in)."""
    lines = thread_text(limits(UNF)).split("\n")
    assert lines[2].split() == ["mm", "in"]
    assert lines[5] == "    pitch           8.712 to 8.809        0.3430 to 0.3468"
    assert lines[5].index("0.3430") == lines[2].index("in")


def test_dangerous_pair():
    """A pair that goes together by hand and does not hold is called dangerous before any figure."""
    lines = thread_text(limits(UNF), limits(FINE), fit(UNF, FINE)).split("\n")
    assert lines[:2] == [
        "3/8-24 UNF into M10x1: runs in loose and strips when tightened",
        "  DANGEROUS: it goes together by hand and does not hold",
    ]
    assert "  clearance at the pitch line 0.541 to 0.788 mm (0.271 to 0.394 mm a side)," in lines
    assert "  thread height that overlaps 15 to 54 % (0.081 to 0.29 mm a side)" in lines
    assert "  strip strength, of the right thread's: 21 to 26 %" in lines
    assert "M10x1: limits of size" in lines


def test_sound_pair():
    """A pair that mates is neither called dangerous nor said to bind."""
    text = thread_text(limits(FINE), limits(FINE), fit(FINE, FINE))
    assert text.startswith("M10x1 into M10x1: mates\n")
    assert "DANGEROUS" not in text
    assert "turns" not in text


def test_thread_json():
    """One thread has its limits; two have the second's limits and the verdict as well."""
    one = json.loads(thread_json(limits(FINE)))
    assert list(one) == ["designation", "external", "internal", "source", "look_alikes", "caution"]
    assert {"designation": "3/8-24 UNF", "into_it": "will-not-start", "it_into": "runs-in-loose"} in one["look_alikes"]
    assert one["external"] == {
        "major_mm": [9.794, 9.974],
        "pitch_mm": [9.212, 9.324],
        "minor_mm": [None, 8.891],
    }
    two = json.loads(thread_json(limits(UNF), limits(FINE), fit(UNF, FINE)))
    assert list(two) == ["designation", "external", "internal", "source", "into", "fit", "caution"]
    assert two["into"]["designation"] == "M10x1"
    assert (two["fit"]["verdict"], two["fit"]["dangerous"]) == ("runs-in-loose", True)


def test_list_of_rules():
    """Rules are listed by family, each with its one line."""
    text = rules_list((page("seat-mismatch"), page("dead-end", "circuit"), page("gender-clash")))
    assert (
        text
        == """\
3 rules; fitcheck rules NAME shows one page

joint
  seat-mismatch  about seat-mismatch
  gender-clash   about gender-clash

circuit
  dead-end       about dead-end"""
    )


def test_one_rule():
    """A rule's page is its text, and its JSON has the text under each heading."""
    assert rule_page(PAGES[0]) == PAGES[0].text
    assert rules_json(PAGES[:1]) == [
        {
            "name": "thread-mismatch",
            "family": "joint",
            "short": "about thread-mismatch",
            "sections": {"What it finds": "What thread-mismatch\nfinds.", "Why it matters": "It leaks."},
        }
    ]

"""The answer to a measured thread in words and as JSON."""

import json

from fitcheck.reports.identify_text import identify_json, identify_text
from fitcheck.standards.threads.identify import identify
from fitcheck.standards.threads.reading import reading
from fitcheck.standards.threads.tell_apart import confusions
from tests.reports.samples import CAUTION_LINES

NOTHING = """\
An external thread, 25 mm over the crests, pitch 0.5 mm (50.8 threads per inch)
over 12 threads

NO THREAD OF THE TABLES IS LIKE THAT: measure again. The nearest:
  1-32 UN: crests 25.22 to 25.37 mm, reading 0.22 mm below, pitch drifts by 3.52
    mm
  15/16-32 UN: crests 23.63 to 23.78 mm, reading 1.22 mm above, pitch drifts by
    3.52 mm
  1-28 UN: crests 25.20 to 25.37 mm, reading 0.20 mm below, pitch drifts by 4.89
    mm

TOLERANCE USED
  Parts anywhere within their limits of size, or worn by up to 0.1 mm below the
  least crest (as likely as not). Calliper right to 0.05 mm, one reading in 20 a
  slip of up to 0.25 mm. A pitch drift of 0.25 mm over the threads gauged is
  missed once in 20. Threads of the trade's list count 5 times, those on a nut
  for the stated tube 20 times. A hand test holds for parts within limits: a
  worn one may go further.
  source: derived from the limits of size of every thread of the tables; errors
    of measuring and wear: common practice, no source
"""

ON_A_TUBE = """\
An external thread, 9.4 mm over the crests, pitch 1.058 mm (24 threads per inch)
over 5.7 threads, for 3/16 in tube

CAN BE
  83 %  3/8-24 UNF      crests 9.31 to 9.50 mm; on a nut for that tube; flares
                        for 3/16 in tube, banjo bolt, pushrod
  17 %  3/8-24 UNJF     crests 9.34 to 9.53 mm; on a nut for that tube;
                        aerospace 37 degree flare for 3/16 in tube

TO TELL 3/8-24 UNF FROM WHAT IT IS TAKEN FOR

  3/8-24 UNJF: aerospace 37 degree flare for 3/16 in tube
    pitch gauge: no help, the pitches are equal
    calliper: no proof where they overlap or nearly so; 3/8-24 UNF 9.21 to 9.50,
      3/8-24 UNJF 9.24 to 9.53 mm, worn ones included
    form: the root of UNJ and MJ is plainly rounded, that of the other sharper;
      under a glass
    by hand, a new internal 3/8-24 UNF: goes on 3/8-24 UNJF too, no proof
    by hand, a new internal 3/8-24 UNJF: goes on 3/8-24 UNF too, no proof
"""

METRIC = """
  M10x1: flares for 4.75 mm tube, banjo bolt, O-ring port
    pitch gauge: the wrong leaf shows over 6 threads (5.3 mm), not over fewer
    calliper: tells; 3/8-24 UNF 9.21 to 9.50, M10x1 9.69 to 9.97 mm, worn ones
      included
    by hand, a new internal 3/8-24 UNF: stops on M10x1 within 2 turns, lead-in
      included: if it goes further by hand it is 3/8-24 UNF
    by hand, a new internal M10x1: goes on 3/8-24 UNF too, no proof; DANGEROUS:
      it goes together by hand and does not hold
"""


def answer(*measured: str, internal: bool = False, tube: str | None = None) -> str:
    """Return the text for a crest and a pitch."""
    found = identify(reading(*measured, internal=internal, tube=tube))
    return identify_text(found, confusions(found))


def test_a_reading_that_fits_nothing() -> None:
    """The whole text for a reading of no thread: the nearest, the tolerance, the caution, no candidate."""
    assert answer("25 mm", "0.5 mm") == NOTHING + CAUTION_LINES


def test_a_reading_with_its_tube() -> None:
    """The likeliest first with crests, nut and use; then how to tell it from its twin and from M10x1."""
    text = answer("9.4 mm", "24tpi", tube="3/16 in")
    assert text.startswith(ON_A_TUBE)
    assert METRIC in text
    assert "  --format svg draws them at 1:1, 2:1 and 5:1, to print and hold against.\n" in text
    assert text.endswith(CAUTION_LINES)


def test_worn_and_off_pitch_readings_say_so() -> None:
    """A reading below the limits says by how much, one with another leaf how far that drifts."""
    shown = " ".join(answer("9.7 mm", "24tpi").split())
    assert "M10x1 crests 9.79 to 9.97 mm, reading 0.09 mm below, pitch drifts by 0.33 mm" in shown


def test_an_internal_reading_wears_upwards() -> None:
    """For an internal thread the words are those of a bore, and the test pieces are external."""
    text = answer("9 mm", "1 mm", internal=True)
    assert text.startswith("An internal thread, 9 mm across the crests, pitch 1 mm (25.4 threads per inch)")
    assert "worn by up to 0.1 mm above the\n  greatest crest" in text
    assert "by hand, a new external M10x1: " in text


def test_a_tube_without_such_a_nut() -> None:
    """A tube that narrows nothing is named as that, not passed over."""
    shown = " ".join(answer("17.9 mm", "1.5 mm", tube="1/8 in").split())
    assert "No nut in the tables has any of these threads for that tube: it narrowed nothing." in shown
    assert "M18x1.5 crests 17.73 to 17.97 mm; on no nut for that tube; flares for 10 mm tube, O-ring port" in shown


def test_no_line_is_wider_than_the_page() -> None:
    """Long lists wrap: no line of any answer is over 80 columns."""
    for measured in (("9.4 mm", "24tpi"), ("13 mm", "18tpi"), ("25 mm", "0.5 mm")):
        assert max(len(line) for line in answer(*measured).split("\n")) <= 80


def test_json_has_all_the_text_has_and_more() -> None:
    """JSON holds the reading, every candidate, every look-alike with its tests, and the tolerance used."""
    found = identify(reading("9.4 mm", "24tpi", tube="3/16 in"))
    apart = confusions(found)
    value = json.loads(identify_json(found, apart))
    assert value["reading"] == {
        "crest_mm": 9.4,
        "pitch_mm": 1.0583,
        "threads_gauged": 5.6693,
        "internal": False,
        "tube_mm": 4.7625,
    }
    first = value["candidates"][0]
    assert (first["designation"], first["on_nut_for_tube"], first["crest_off_mm"]) == ("3/8-24 UNF", True, 0.0)
    assert [each["other"] for each in value["tell_apart"]] == [each.other.designation for each in apart]
    metric = next(each for each in value["tell_apart"] if each["other"] == "M10x1")
    assert metric["pitch_gauge_threads"] == 5
    assert metric["by_hand"] == [
        {"piece": "3/8-24 UNF", "on_the_other": "will-not-start", "stops_after_turns": 2, "proves": True},
        {"piece": "M10x1", "on_the_other": "runs-in-loose", "stops_after_turns": None, "proves": False},
    ]
    assert value["tolerance"]["calliper_mm"] == 0.05
    assert value["nearest"] == []
    assert "Brakes hurt people" in value["caution"]

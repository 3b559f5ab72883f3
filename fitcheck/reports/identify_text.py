"""Which threads a measured fitting can be, and how to tell the likeliest from what it is taken for. Text and JSON."""

from collections.abc import Iterator, Sequence
from math import isinf
from typing import Any, Final

from fitcheck.measures import LengthUnit, number
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, paragraph
from fitcheck.reports.plain_json import json_text
from fitcheck.reports.thread_words import DANGER
from fitcheck.standards.sizes import size_name
from fitcheck.standards.threads import dangerous, known_uses
from fitcheck.standards.threads.identify import (
    CALLIPER_MM,
    DRIFT_MM,
    SLIP_MM,
    TRADE_ODDS,
    TUBE_ODDS,
    WEAR_MM,
    Candidate,
    Identified,
)
from fitcheck.standards.threads.tell_apart import Apart, HandTest
from fitcheck.standards.threads.thread import INCH

_MOST: Final = 4
"""Look-alikes that the text tells apart; the JSON has them all."""
_NAME: Final = 15


def identify_json(found: Identified, apart: Sequence[Apart]) -> str:
    """Return candidates, errors assumed and how to tell look-alikes apart as JSON text; lengths in mm."""
    read = found.reading
    value: dict[str, Any] = {
        "reading": {
            "crest_mm": read.crest_mm,
            "pitch_mm": read.pitch_mm,
            "threads_gauged": read.threads,
            "internal": read.internal,
            "tube_mm": read.tube_mm,
        },
        "candidates": [each.to_json() for each in found.candidates],
        "tube_unknown": found.tube_unknown,
        "nearest": [each.to_json() for each in found.nearest],
        "tell_apart": [each.to_json() for each in apart],
        "tolerance": {
            "calliper_mm": CALLIPER_MM,
            "slip_mm": SLIP_MM,
            "wear_mm": WEAR_MM,
            "pitch_drift_mm": DRIFT_MM,
            "trade_odds": TRADE_ODDS,
            "tube_odds": TUBE_ODDS,
        },
        "source": found.source,
        "caution": CAUTION,
    }
    return json_text(value)


def identify_text(found: Identified, apart: Sequence[Apart], *, unit: LengthUnit = "mm", width: int = WIDTH) -> str:
    """Return the answer for people: candidates, how to tell the likeliest from others, the tolerance used.

    `unit` is what the crest was measured in.
    """
    lines = [*_reading(found, unit, width), *_candidates(found, unit, width)]
    if found.candidates:
        lines += _apart(found, apart, unit, width)
    return "\n".join([*lines, "", *_tolerance(found, unit, width), *caution_lines(width)])


def _plain(mm: float, unit: LengthUnit, places: int = 2) -> str:
    """Return a length with at most `places` decimals of a mm, or one or two more of an inch."""
    return f"{number(mm / INCH, max(places + 1, 3))} in" if unit == "in" else f"{number(mm, places)} mm"


def _span(band: tuple[float, float], unit: LengthUnit) -> str:
    low, high = band
    return f"{low / INCH:.3f} to {high / INCH:.3f}" if unit == "in" else f"{low:.2f} to {high:.2f}"


def _gap(mm: float, unit: LengthUnit) -> str:
    return f"{abs(mm) / INCH:.4f} in" if unit == "in" else f"{abs(mm):.2f} mm"


def _reading(found: Identified, unit: LengthUnit, width: int) -> Iterator[str]:
    read = found.reading
    what = "internal thread, {} across the crests" if read.internal else "external thread, {} over the crests"
    words = f"An {what.format(_plain(read.crest_mm, unit))}, pitch {_plain(read.pitch_mm, unit, 3)}"
    words += f" ({number(INCH / read.pitch_mm, 1)} threads per inch) over {number(read.threads, 1)} threads"
    if read.tube_mm is not None:
        words += f", for {size_name(read.tube_mm)} tube"
    yield from paragraph(words, width)


def _candidates(found: Identified, unit: LengthUnit, width: int) -> Iterator[str]:
    yield ""
    if not found.candidates:
        yield from paragraph("NO THREAD OF THE TABLES IS LIKE THAT: measure again. The nearest:", width)
        for each in found.nearest:
            yield from paragraph(f"{each.thread.designation}: {_off(each, unit)}", width, "  ", "    ")
        return
    yield "CAN BE"
    for each in found.candidates:
        use = f"; {each.use}" if each.use else ""
        nut = {True: "; on a nut for that tube", False: "; on no nut for that tube", None: ""}[each.on_nut]
        words = f"{_share(each):>6}  {each.thread.designation:<{_NAME}}"
        yield from _hanging(words, f"{_off(each, unit)}{nut}{use}", width)
    if found.tube_unknown:
        yield from paragraph("No nut in the tables has any of these threads for that tube: it narrowed nothing.", width)


def _hanging(lead: str, words: str, width: int) -> Iterator[str]:
    """Yield words beside a lead, the lines after the first indented to where they began."""
    indent = " " * (len(lead) + 1)
    first, *rest = paragraph(words, width, indent)
    yield f"{lead} {first.strip()}"
    yield from rest


def _share(each: Candidate) -> str:
    return f"{each.share_percent:.0f} %" if each.share_percent >= 1.0 else "< 1 %"


def _off(each: Candidate, unit: LengthUnit) -> str:
    """Return the crests of a part within limits, and how far the reading lies from that and from the pitch."""
    words = f"crests {_span(each.crest_mm, unit)} {unit}"
    if abs(each.crest_off_mm) >= 0.005:
        side = "above" if each.crest_off_mm > 0 else "below"
        words += f", reading {_gap(each.crest_off_mm, unit)} {side}"
    if each.drift_mm >= 0.005:
        words += f", pitch drifts by {_gap(each.drift_mm, unit)}"
    return words


def _apart(found: Identified, apart: Sequence[Apart], unit: LengthUnit, width: int) -> Iterator[str]:
    internal = found.reading.internal
    if not apart:
        yield from ("", "Nothing in the trade's list goes together with it but itself.")
        return
    yield ""
    yield from paragraph(f"TO TELL {apart[0].one.designation} FROM WHAT IT IS TAKEN FOR", width)
    for each in apart[:_MOST]:
        yield ""
        use = known_uses().get(each.other.designation)
        yield from paragraph(f"{each.other.designation}{f': {use}' if use else ''}", width, "  ", "    ")
        for words in (
            _by_gauge(each, unit),
            _by_calliper(each, unit),
            *_by_form(each, unit),
            *_by_hand(each, internal),
        ):
            yield from paragraph(words, width, "    ", "      ")
    if len(apart) > _MOST:
        yield ""
        names = ", ".join(each.other.designation for each in apart[_MOST:])
        yield from paragraph(
            f"and {len(apart) - _MOST} more, told apart by --format json: {names}", width, "  ", "    "
        )
    yield from ("", "  --format svg draws them at 1:1, 2:1 and 5:1, to print and hold against.")


def _by_gauge(each: Apart, unit: LengthUnit) -> str:
    if each.threads is None:
        return "pitch gauge: no help, the pitches are equal"
    length = each.threads * max(each.one.pitch_mm, each.other.pitch_mm)
    least = each.threads + 1  # so many pitches lie between one thread more
    if each.threads == 1:
        return f"pitch gauge: the wrong leaf shows at once, over two threads ({_plain(length, unit, 1)})"
    return f"pitch gauge: the wrong leaf shows over {least} threads ({_plain(length, unit, 1)}), not over fewer"


def _by_calliper(each: Apart, unit: LengthUnit) -> str:
    first, second = (_span(band, unit) for band in each.crests_mm)
    bands = f"{each.one.designation} {first}, {each.other.designation} {second} {unit}, worn ones included"
    if each.by_calliper:
        return f"calliper: tells; {bands}"
    return f"calliper: no proof where they overlap or nearly so; {bands}"


def _by_form(each: Apart, unit: LengthUnit) -> Iterator[str]:
    along, grows = ("5/16 in", "0.02 in across") if unit == "in" else ("8 mm", "0.5 mm in diameter")
    taper = each.one if each.one.taper else each.other
    words = {
        "flank angle": f"form: {each.one.flank_deg:.0f} degrees against {each.other.flank_deg:.0f}, on the print",
        "taper": f"taper: over {along} of length {taper.designation} grows by {grows}, the other not at all",
        "root": "form: the root of UNJ and MJ is plainly rounded, that of the other sharper; under a glass",
    }
    yield from (words[form] for form in each.forms)


def _by_hand(each: Apart, internal: bool) -> Iterator[str]:
    for test, other in zip(each.hand, (each.other, each.one), strict=True):
        piece = "external" if internal else "internal"
        own = each.one if other is each.other else each.other
        yield f"by hand, a new {piece} {test.piece}: {_hand(test, own.designation, other.designation)}"


def _hand(test: HandTest, own: str, other: str) -> str:
    if test.proves and isinf(test.stops_after):
        return f"slides over {other} without gripping: if it grips it is {own}"
    if test.proves and not test.stops_after:
        return f"does not start on {other}: if it does it is {own}"
    if test.proves:
        turns = f"{number(test.stops_after)} turn{'' if test.stops_after == 1 else 's'}"
        return f"stops on {other} within {turns}, lead-in included: if it goes further by hand it is {own}"
    danger = f"; {DANGER}" if dangerous(test.wrong) else ""
    return f"goes on {other} too, no proof{danger}"


def _tolerance(found: Identified, unit: LengthUnit, width: int) -> Iterator[str]:
    yield "TOLERANCE USED"
    side = "above the greatest" if found.reading.internal else "below the least"
    wear, reads, slip, drift = (_plain(mm, unit) for mm in (WEAR_MM, CALLIPER_MM, SLIP_MM, DRIFT_MM))
    words = (
        f"Parts anywhere within their limits of size, or worn by up to {wear} {side} crest (as likely as"
        f" not). Calliper right to {reads}, one reading in 20 a slip of up to {slip}."
        f" A pitch drift of {drift} over the threads gauged is missed once in 20. Threads of the trade's"
        f" list count {number(TRADE_ODDS)} times, those on a nut for the stated tube {number(TUBE_ODDS)} times. A hand"
        " test holds for parts within limits: a worn one may go further."
    )
    yield from paragraph(words, width, "  ")
    yield from paragraph(f"source: {found.source}", width, "  ", "    ")

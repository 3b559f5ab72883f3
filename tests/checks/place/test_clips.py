"""Lines that are held too seldom."""

from itertools import pairwise

import pytest

from tests.checks.place.bench import CUNI, car, found, missing, report_of, said

LONG = f"{CUNI}, route: [{{at: [900, 0, 0], bend: 20 mm}}]"
"""A line of 1191.4 mm to [900, 300, 0]."""


def clipped(*places: str) -> str:
    """Return a long line with clips at these places."""
    clips = "".join(f"  clip_{n}: {{part: clip-3-16, at: {at}}}\n" for n, at in enumerate(places))
    return car(LONG, end="[900, 300, 0]").replace("joints:", f"{clips}joints:")


def test_a_stated_spacing_is_one_finding() -> None:
    """Too wide a spacing is told once, with all lines it matters for and where clips would hold each."""
    text = car(f"{CUNI}, length: 900 mm", "consumables: {clips: {spacing: 450 mm}}\n", start="", end="")
    (finding,) = found(text, "clip-sparse")
    assert finding.level == "warning"
    assert finding.message == "clips every 450 mm hold run too seldom: up to 350 mm"
    assert finding.at == ("run",)
    assert finding.evidence["positions_mm"] == {"run": [150.0, 450.0, 750.0]}
    assert finding.place.line == 11


@pytest.mark.parametrize(("length", "spacing"), [("300 mm", "450 mm"), ("3000 mm", "350 mm"), ("3000 mm", "")])
def test_short_lines_and_near_clips_pass(length: str, spacing: str) -> None:
    """A line that its fittings hold, and clips near enough, are looked at and in order."""
    stated = f"spacing: {spacing}" if spacing else "part: clip-3-16"
    text = car(f"{CUNI}, length: {length}", f"consumables: {{clips: {{{stated}}}}}\n", start="", end="")
    assert said(text, "clip-sparse") == []
    assert report_of(text).checked["clip-sparse"] == 1


def test_clips_in_their_places() -> None:
    """Three clips within 300 mm of each other hold the line; without the middle one 600 mm hang free."""
    assert said(clipped("[300, 0, 0]", "[600, 0, 0]", "[900, 40, 0]"), "clip-sparse") == []
    (finding,) = found(clipped("[300, 0, 0]", "[900, 40, 0]"), "clip-sparse")
    assert finding.level == "warning"
    assert finding.message == "run is not held for 631.4 mm: a clip up to every 350 mm"
    ((start, end),) = finding.evidence["free_mm"]
    assert (start, end) == (pytest.approx(300.0), pytest.approx(931.4, abs=0.1))
    stops = [start, *finding.evidence["positions_mm"], end]
    assert max(b - a for a, b in pairwise(stops)) <= 300.0


def test_a_clip_beside_the_line_does_not_hold_it() -> None:
    """Within 25 mm of the tube it does, at 40 mm it does not."""
    assert said(clipped("[300, 20, 0]", "[600, 0, 20]", "[900, 40, 0]"), "clip-sparse") == []
    assert len(said(clipped("[300, 40, 0]", "[600, 0, 0]", "[900, 40, 0]"), "clip-sparse")) == 1


def test_a_build_that_says_nothing_about_clips_is_asked() -> None:
    """Not judged and not passed: one gap for the whole build, however many lines it has."""
    assert missing(car(f"{CUNI}, length: 900 mm"), "clip-sparse") == [((), "consumables.clips")]


def test_what_hinders_looking_is_listed() -> None:
    """A clip of unknown place, a line of unknown length under a wide spacing, a long line without a route."""
    assert missing(clipped("[300, 0, 0]", "[600, 0, 0]").replace(", at: [300, 0, 0]", ""), "clip-sparse") == [
        (("clip_0",), "components.clip_0.at")
    ]
    wide = "consumables: {clips: {spacing: 450 mm}}\n"
    assert missing(car(CUNI, wide), "clip-sparse") == [(("run",), "lines.run.route")]
    no_route = clipped("[300, 0, 0]").replace(LONG, f"{CUNI}, length: 1250 mm")
    assert missing(no_route, "clip-sparse") == [(("run",), "lines.run.route")]
    assert (
        said(
            clipped("[300, 0, 0]").replace(LONG, f"{CUNI}, length: 300 mm").replace("[900, 300, 0]", "[280, 30, 0]"),
            "clip-sparse",
        )
        == []
    )

"""The plots of `fitcheck pedal`: well-formed, told in words, the same every time, safe for any name."""

import re
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from fitcheck.hydraulics.record import Answer
from fitcheck.reports.pedal_panels import HATCHES, PANELS
from fitcheck.reports.pedal_svg import NoPlotError, NothingToPlotError, pedal_svg
from fitcheck.reports.pedal_words import CAUSES
from tests.hydraulics import plumbed
from tests.hydraulics.test_answer import RULED, bar, trailer

pytest.importorskip("matplotlib")
SVG = "{http://www.w3.org/2000/svg}"
FULL = RULED.replace("balance: 0.6", "bar: {front: 28 mm, rear: 42 mm, adjust: 10 mm}, travel: 150 mm")
TITLES = [
    "Pressure at the outlets",
    "Travel at the foot",
    "Where the fluid goes (whiskers: all assumptions)",
    "Balance: above the ideal the front slides first",
    "One circuit lost, at 400 N",
]


def words(svg: str) -> list[str]:
    """Return every text of a drawing."""
    return ["".join(one.itertext()).strip() for one in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def test_every_panel_is_drawn(tmp_path: Path) -> None:
    """A build that says everything has all five panels, in order, with their axes and legends as text."""
    told = words(pedal_svg(bar(tmp_path, FULL)))
    assert [each for each in told if each in TITLES] == TITLES
    wanted = {
        "push on the brake pedal [N]",
        "pressure [MPa]",
        "travel [mm]",
        "fluid taken [mm3]",
        "deceleration [g]",
        "front share [%]",
        "deceleration left [g]",
        "at mc_front.out",
        "the floor",
        "the bar's whole adjustment",
        "ideal: both axles slide together",
        "mc_front.out lost",
        "asked with one lost: ece-r13h, at 500 N",
    }
    assert wanted - set(told) == set()


def test_only_what_is_known_is_drawn(tmp_path: Path) -> None:
    """Without brakes at known wheels there is no balance and no bar for lost circuits; a clutch has no curve."""
    assert [each for each in words(pedal_svg(trailer(tmp_path))) if each in TITLES] == TITLES[:3]
    assert [each for each in words(pedal_svg(trailer(tmp_path, plumbed.CLUTCH))) if each in TITLES] == [TITLES[2]]


def test_told_to_screen_readers(tmp_path: Path) -> None:
    """The drawing is one picture with a title and a description that has the figures of every panel."""
    found = bar(tmp_path, FULL)
    root = ElementTree.fromstring(pedal_svg(found))
    title, description = root[0], root[1]
    assert (root.get("role"), root.get("aria-labelledby")) == ("img", "title desc")
    assert (title.tag, title.get("id")) == (f"{SVG}title", "title")
    assert title.text == "Whinchat: pedal to caliper, 400 N on the brake pedal, 100 N on the clutch pedal"
    assert (description.tag, description.get("id")) == (f"{SVG}desc", "desc")
    assert description.text is not None
    for panel in PANELS:
        assert panel.describe(found) in description.text
    assert "front share of the brake force 78.8 %, 58 % to 81.7 % over the bar" in description.text


def test_same_answer_same_bytes(tmp_path: Path) -> None:
    """The same build gives the same bytes, with no date and whatever was drawn with other settings before."""
    first = pedal_svg(bar(tmp_path, FULL))
    import matplotlib

    matplotlib.rcParams["font.size"] = 33.0
    try:
        assert pedal_svg(bar(tmp_path, FULL)) == first
        assert matplotlib.rcParams["font.size"] == 33.0
    finally:
        matplotlib.rcdefaults()
    assert re.search(r"dc:date|\d{4}-\d\d-\d\d", first) is None


def test_hostile_names(tmp_path: Path) -> None:
    """Markup, formulas, marks of direction and names that a legend would hide are drawn as the text that they are."""
    found = bar(tmp_path, FULL)
    named = ('_<b>&"$\\frac{1}{', "\u202e]]>", "-- " + "w" * 60)
    outlets = tuple(one._replace(circuits=(name,)) for one, name in zip(found.outlets, named, strict=True))
    svg = pedal_svg(found._replace(build="</title><script>alert(1)</script>" * 9, outlets=outlets))
    root = ElementTree.fromstring(svg)
    assert not list(root.iter(f"{SVG}script"))
    told = words(svg)
    assert 'at _<b>&"$\\frac{1}{' in told
    assert "at \\u202e]]>" in told
    assert f"-- {'w' * 18}…" in told
    assert "\u202e" not in svg


def test_it_reads_in_black_and_white() -> None:
    """Every cause has a hatch of its own, so that no two bars differ by colour alone."""
    assert set(HATCHES) == set(CAUSES)
    assert len(set(HATCHES.values())) == len(HATCHES)


def test_lines_differ_by_dash(tmp_path: Path) -> None:
    """The curves of two outlets have different dashes and marks."""
    svg = pedal_svg(bar(tmp_path, FULL))
    drawn = re.findall(
        r'style="fill: none; (?:stroke-dasharray: ([0-9., ]+); )?[^"]*stroke: (#0072b2|#d55e00); stroke-w', svg
    )
    assert ("", "#0072b2") in drawn
    assert any(dash and colour == "#d55e00" for dash, colour in drawn)


def test_pounds_and_psi(tmp_path: Path) -> None:
    """Axes are in the units that the user measures in."""
    text = plumbed.TRAILER.replace("400 N", "90 lbf").replace("build: 1", "build: 1\ncoordinates: in")
    told = words(pedal_svg(trailer(tmp_path, text)))
    assert {"push on the brake pedal [lbf]", "pressure [psi]", "travel [in]"} <= set(told)


def test_nothing_to_draw(tmp_path: Path) -> None:
    """A build without a pedal is refused with the fields that are missing."""
    bare: Answer = trailer(tmp_path, plumbed.TRAILER[: plumbed.TRAILER.index("pedal:")])
    with pytest.raises(NothingToPlotError, match=r"^nothing to draw: what is missing is pedal\.ratio, pedal\.force"):
        pedal_svg(bare)


def test_the_library_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the extra the message says what to install."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    with pytest.raises(NoPlotError, match=r'^--format svg needs matplotlib: pip install "fitcheck\[plot\]"$'):
        pedal_svg(trailer(tmp_path))

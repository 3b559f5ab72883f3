"""The drawing of two threads in section, and the one to print and hold against."""

import re
from xml.etree import ElementTree

import pytest

from fitcheck.reports.caution import CAUTION
from fitcheck.reports.identify_svg import identify_svg
from fitcheck.reports.svg_parts import block, n, page, text
from fitcheck.reports.thread_svg import thread_svg
from fitcheck.standards.threads import fit, known_threads, limits, look_alikes, parse
from fitcheck.standards.threads.identify import identify
from fitcheck.standards.threads.profile import area
from fitcheck.standards.threads.reading import reading

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


def drawing(external: str, internal: str, engagement: float = 6.0) -> ElementTree.Element:
    """Return the parsed drawing of a pair."""
    return ElementTree.fromstring(written(external, internal, engagement))


def written(external: str, internal: str, engagement: float = 6.0) -> str:
    """Return the drawing of a pair as text."""
    outer, inner = parse(external), parse(internal)
    return thread_svg(limits(outer), limits(inner), fit(outer, inner, engagement))


def shapes(root: ElementTree.Element, panel: str, name: str) -> list[list[Point]]:
    """Return the points of each path of a class in a panel, in millimetres of the part."""
    group = next(each for each in root.iter(f"{SVG}g") if each.get("class") == panel)
    return [points(each) for each in group.iter(f"{SVG}path") if each.get("class") == name]


def points(path: ElementTree.Element) -> list[Point]:
    """Return the points of a path."""
    found = re.findall(r"[ML](\S+) (\S+)", path.get("d", ""))
    return [(float(x), float(y)) for x, y in found]


def words(root: ElementTree.Element) -> str:
    """Return all text of a drawing, lines joined by spaces."""
    return " ".join(each.text or "" for each in root.iter(f"{SVG}text"))


def scale(root: ElementTree.Element, panel: str) -> tuple[float, float]:
    """Return the two factors by which a panel's group is scaled."""
    group = next(each for each in root.iter(f"{SVG}g") if each.get("class") == panel)
    found = re.search(r"scale\((\S+) (\S+)\)", group.get("transform", ""))
    assert found is not None
    return float(found[1]), float(found[2])


def test_drawing_prints_in_its_true_size() -> None:
    """Width and height are in mm and equal the view box, and both axes have the one printed scale."""
    root = drawing("3/8-24", "M10x1")
    width, height = root.get("width", ""), root.get("height", "")
    assert width == "190mm"
    assert root.get("viewBox") == f"0 0 190 {height.removesuffix('mm')}"
    assert scale(root, "tightest") == scale(root, "loosest") == (20.0, -20.0)
    assert "1 mm of the part, 20 : 1; 20 mm long when printed at 100 %" in words(root)
    bar = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "scale-bar")
    (start, _), (end, _) = points(next(bar.iter(f"{SVG}path")))
    assert end - start == pytest.approx(20.0)


def test_outlines_lie_at_the_limits_of_size() -> None:
    """Crests of both members, at the tightest and the loosest, are drawn at half their limits of size."""
    root = drawing("3/8-24", "M10x1")
    bolt, nut = limits(parse("3/8-24")).external, limits(parse("M10x1")).internal
    for panel, end in (("tightest", 1), ("loosest", 0)):
        (external,) = shapes(root, panel, "external")
        (internal,) = shapes(root, panel, "internal")
        assert 2 * max(radius for _, radius in external) == pytest.approx(bolt.major_mm[end], abs=2e-4)
        assert 2 * min(radius for _, radius in internal) == pytest.approx(nut.minor_mm[1 - end], abs=2e-4)
        assert max(x for x, _ in external) == pytest.approx(3.0)  # five turns in 6 mm, and half a pitch on either side


def test_dimensions_are_printed() -> None:
    """Each diameter of both extremes stands beside its panel, in mm."""
    shown = words(drawing("3/8-24", "M10x1"))
    for label in (
        "10.000 M10x1 root",
        "9.497 3/8-24 UNF crest",
        "9.350 M10x1 pitch",
        "8.809 3/8-24 UNF pitch",
        "8.917 M10x1 crest",
        "9.314 3/8-24 UNF crest",
        "9.153 M10x1 crest",
    ):
        assert f"\u2300 {label.replace(' ', '  ', 1)}" in shown


def test_a_sound_pair_has_nothing_black() -> None:
    """M10x1 in M10x1 has clearance at both extremes: no clash is drawn, and the words say so."""
    root = drawing("M10x1", "M10x1")
    assert shapes(root, "tightest", "clash") == shapes(root, "loosest", "clash") == []
    assert words(root).count("nothing in the way of what is shown") == 2


@pytest.mark.parametrize(("external", "internal"), [("M10x1", "3/8-24"), ("3/8-24", "M10x1.25"), ("M10x1.25", "M10x1")])
def test_a_clash_is_black_and_inside_both(external: str, internal: str) -> None:
    """Where flanks clash the black has area, and lies under the external line and over the internal one."""
    root = drawing(external, internal)
    for panel in ("tightest", "loosest"):
        black = shapes(root, panel, "clash")
        assert sum(area(tuple(shape)) for shape in black) > 0.01
        (bolt,), (nut,) = shapes(root, panel, "external"), shapes(root, panel, "internal")
        top, bottom = max(radius for _, radius in bolt), min(radius for _, radius in nut)
        assert all(bottom - 1e-3 <= radius <= top + 1e-3 for shape in black for _, radius in shape)


def test_the_tightest_pair_is_never_freer_than_the_loosest() -> None:
    """For every pair of look-alikes there is at least as much black at the tightest as at the loosest."""
    for external in known_threads()[:20]:
        for internal in look_alikes(external):
            root = ElementTree.fromstring(thread_svg(limits(external), limits(internal), fit(external, internal)))
            black = [
                sum(area(tuple(shape)) for shape in shapes(root, panel, "clash")) for panel in ("tightest", "loosest")
            ]
            assert black[0] >= black[1] - 1e-4


def test_danger_stands_in_the_drawing() -> None:
    """A pair that goes together and does not hold is called dangerous; every drawing ends with the caution."""
    root = drawing("3/8-24", "M10x1")
    assert "DANGEROUS: it goes together by hand and does not hold." in words(root)
    assert CAUTION in words(root)
    assert "DANGEROUS" not in words(drawing("M10x1", "M10x1"))


def test_taper_threads_say_that_they_are_drawn_at_the_gauge_plane() -> None:
    """A drawing with a taper thread says so, and how to read it; one without does not."""
    assert "Taper threads are drawn at their gauge plane" in words(drawing("1/8 NPT", "1/8 NPT"))
    assert "gauge plane" not in words(drawing("M10x1", "M10x1"))


def test_a_thin_clash_is_ringed() -> None:
    """What is too thin to be noticed, as the corners in a rounded root, has a ring round each."""
    root = drawing("3/8-24 UNJF", "3/8-24")
    rings = len(list(root.iter(f"{SVG}circle")))
    assert rings == len(shapes(root, "tightest", "clash")) > 0
    assert not list(drawing("M10x1", "M10x1").iter(f"{SVG}circle"))


@pytest.mark.parametrize("engagement", [0.5, 3.0, 6.0, 20.0, 80.0])
def test_any_engagement_fits_the_page(engagement: float) -> None:
    """Short or long, the drawing stays on the page beside its labels."""
    root = drawing("M10x1", "M10x1", engagement)
    (external,) = shapes(root, "tightest", "external")
    width = (max(x for x, _ in external) - min(x for x, _ in external)) * scale(root, "tightest")[0]
    assert width <= 122.0


def test_same_input_same_text_and_nothing_from_outside() -> None:
    """The drawing is the same each time and refers to nothing but itself."""
    once = written("3/8-24", "M10x1")
    assert once == written("3/8-24", "M10x1")
    assert set(re.findall(r'(?:href|src)="?([^" >]+)', once)) == set()
    assert set(re.findall(r"url\((.)", once)) == {"#"}
    assert re.findall(r"https?://[^\"]+", once) == ["http://www.w3.org/2000/svg"]


def test_hatching_differs_so_that_it_reads_in_black_and_white() -> None:
    """Both members are filled with hatching at right angles to each other, the clash with black."""
    root = drawing("M10x1", "3/8-24")
    turned = {each.get("id"): each.get("patternTransform") for each in root.iter(f"{SVG}pattern")}
    assert turned["of-external"] == "rotate(45)"
    assert turned["of-internal"] == "rotate(-45)"
    group = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "tightest")
    fills = {each.get("class"): each.get("fill") for each in group.iter(f"{SVG}path") if each.get("class")}
    assert fills == {"internal": "url(#of-internal)", "external": "url(#of-external)", "clash": "#000"}


def test_text_is_escaped_and_wrapped() -> None:
    """Marks of the format and control characters in text cannot become part of the drawing."""
    assert text(1, 2, 3, 'a<b & "c"\x1b') == '<text x="1" y="2" font-size="3">a&lt;b &amp; "c"\\x1b</text>'
    lines, y = block(0, 0, 2.0, 30.0, "one two three four five six seven eight")
    assert len(lines) > 1
    assert y == pytest.approx(len(lines) * 2.7)
    assert ElementTree.fromstring(page(10.0, "<&>", [], [])).find(f"{SVG}title").text == "<&>"  # type: ignore[union-attr]
    assert n(-0.00001) == "0"


def held(*measured: str, internal: bool = False) -> ElementTree.Element:
    """Return the parsed drawing to hold against for a crest and a pitch."""
    return ElementTree.fromstring(identify_svg(identify(reading(*measured, internal=internal))))


def combs(root: ElementTree.Element, name: str) -> list[list[Point]]:
    """Return the points of each comb of one scale, in millimetres of the part."""
    groups = [each for each in root.iter(f"{SVG}g") if each.get("class") == name]
    return [points(next(group.iter(f"{SVG}path"))) for group in groups]


def test_combs_have_ten_pitches_to_scale() -> None:
    """The likeliest thread, first, is drawn over ten pitches of 25.4/24 mm at 2:1 and at 1:1."""
    root = held("9.4 mm", "24tpi")
    for name, factor in (("at-1", 1.0), ("at-2", 2.0)):
        first = combs(root, name)[0]
        assert max(x for x, _ in first) - min(x for x, _ in first) == pytest.approx(254 / 24, abs=2e-4)
        assert scale(root, name) == (factor, -factor)
        crest = max(radius for _, radius in first)
        assert {round(x * 24 / 25.4) for x, radius in first if radius == crest} == set(range(-5, 6))
    shown = words(root)
    assert "3/8-24 UNF: " in shown
    assert "2:1, 10 pitches 10.58 mm, drawn 21.17" in shown
    assert "M10x1: look-alike" in shown


def test_the_bar_lets_the_builder_check_his_printer() -> None:
    """The bar is 50 mm long in the drawing, and the words beside it say what to do with it."""
    root = held("9.4 mm", "24tpi")
    bar = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "scale-bar")
    (start, _), (end, _) = points(next(bar.iter(f"{SVG}path")))
    assert end - start == pytest.approx(50.0)
    assert "50 mm: measure this bar first. If it is not 50 mm long, print again at 100 %." in words(root)


@pytest.mark.parametrize(
    "measured", [("9.4 mm", "24tpi"), ("36 mm", "4 mm"), ("25 mm", "0.5 mm"), ("1.6 mm", "0.35 mm")]
)
def test_nothing_is_drawn_beside_the_page(measured: tuple[str, str]) -> None:
    """The coarsest and the finest threads stay within the margins."""
    root = held(*measured)
    for group in root.iter(f"{SVG}g"):
        found = re.search(r"translate\((\S+) \S+\) scale\((\S+)", group.get("transform", ""))
        for path in group.iter(f"{SVG}path"):
            if found and path.get("class") == "comb":
                reach = [float(found[1]) + float(found[2]) * x for x, _ in points(path)]
                assert min(reach) >= 6.0 - 1e-3
                assert max(reach) <= 184.0 + 1e-3


def test_an_internal_thread_is_drawn_as_its_impression() -> None:
    """What is drawn for an internal thread can be held against an impression, and the words say how."""
    root = held("8.6 mm", "28tpi", internal=True)
    assert "press soft wax or clay into it and hold that" in words(root)
    assert combs(root, "at-1")

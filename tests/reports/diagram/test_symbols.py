"""Symbols and words: every kind has one that stays in its frame, wherever its wires come from."""

import re
from xml.etree import ElementTree

import pytest

from fitcheck.catalog.part import KINDS, LOOSE, Part, Port
from fitcheck.reports.diagram.gather import HUB
from fitcheck.reports.diagram.layout import laid_out
from fitcheck.reports.diagram.record import Node, Pin, Placed, PlacedPin, Scheme
from fitcheck.reports.diagram.symbols import SYMBOLS, symbol
from fitcheck.reports.diagram.words import SEATS, clipped, folded, hose_texts, port_text
from fitcheck.reports.drawing import words_mm
from fitcheck.reports.svg_parts import n
from fitcheck.standards.seats import SEAT_NAMES
from fitcheck.standards.threads import parse

FITTED = [kind for kind in KINDS if kind not in LOOSE]


def placed(kind: str, count: int, **part: object) -> Placed:
    """Return a symbol of a kind with open ports, laid out alone."""
    names = [f"p{index}" for index in range(count)]
    ports = {name: Port(name) for name in names}
    found = Part("x", kind, "", ports, (tuple(names),), **part)  # type: ignore[arg-type]
    pins = tuple(Pin(f"x.{name}", None, name, "M10x1 bubble", "") for name in names)
    node = Node("x", "hoses" if kind in ("hose", "feed hose") else "components", kind, ("x",), "", pins, found)
    (only,) = laid_out(Scheme((node,), (), (), ())).placed
    return only


def numbers(parts: list[str]) -> list[tuple[float, float]]:
    """Return the points that the straight paths of a symbol go by."""
    data = re.findall(r' d="([^"]+)"', "".join(parts))
    return [(float(x), float(y)) for each in data for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", each)]


@pytest.mark.parametrize("count", [0, 1, 2, 3, 5])
@pytest.mark.parametrize("kind", FITTED)
def test_every_kind_stays_in_its_box(kind: str, count: int) -> None:
    """With any number of ports, what is drawn is well-formed and within the box that the layout keeps free."""
    each = placed(kind, count)
    parts = symbol(each)
    ElementTree.fromstring(f"<g>{''.join(parts)}</g>")
    for x, y in numbers(parts):
        assert each.x - 0.01 <= x <= each.x + each.width + 0.01
        assert each.y - 0.01 <= y <= each.y + each.height + 0.01


@pytest.mark.parametrize("kind", FITTED)
def test_every_kind_that_is_fitted_has_a_symbol(kind: str) -> None:
    """No kind of part that can be a component is left to the plain box, but feed hoses, which are drawn as hoses."""
    assert kind in SYMBOLS or kind == "feed hose"


def test_a_kind_without_symbol_is_a_box_with_its_name() -> None:
    """A part that no catalog has is a box that says so."""
    assert ">not known<" in "".join(symbol(placed("not known", 1)))


def test_what_meets_in_a_part_has_a_dot() -> None:
    """A tee of three ports has a dot, a union of two has none; a tee whose ports share no fluid is a plain box."""
    assert 'r="0.9"' in "".join(symbol(placed("tee", 3)))
    assert 'r="0.9"' not in "".join(symbol(placed("union", 2)))
    apart = placed("tee", 3)
    node = apart.node._replace(
        part=apart.node.part._replace(passages=(("p0", "p1"), ("p2",))) if apart.node.part else None
    )
    assert ">tee<" in "".join(symbol(apart._replace(node=node)))


@pytest.mark.parametrize("kind", ["caliper", "wheel cylinder"])
def test_what_does_not_meet_in_a_brake_is_not_led_together(kind: str) -> None:
    """A brake whose two ports share fluid has one line to all pistons; one of two circuits is a plain box."""
    pins = tuple(Pin(f"x.p{index}", index, "", "", "", colour=colour) for index, colour in enumerate(("blue", "green")))
    together = placed(kind, 0)
    part = together.node.part
    assert part is not None
    x, y, _, high = together.body
    lefts = tuple(PlacedPin(pin, x, y + high / 2.0 + 3.5 * (-1) ** index) for index, pin in enumerate(pins))

    def drawn(*passages: tuple[str, ...]) -> str:
        node = together.node._replace(part=part._replace(passages=passages))
        return "".join(symbol(together._replace(node=node, left=lefts, right=())))

    assert f">{kind.split()[0]}<" not in drawn(("p0", "p1"))
    assert f">{kind.split()[0]}<" in drawn(("p0",), ("p1",))


@pytest.mark.parametrize("rods", [0, 1])
def test_a_feed_goes_round_the_rod(rods: int) -> None:
    """What feeds a cylinder from the rod's side goes below it to the far side of the piston, and touches no rod."""
    alone = placed("master cylinder", 0)
    x, y, _, high = alone.body
    middle = y + high / 2.0
    feed = PlacedPin(Pin("x.feed", 0, "", "", ""), x, middle + 2.0 * rods)
    rod = PlacedPin(Pin("x.rod", 1, "", "", "", mechanical=True), x, middle - 2.0)
    parts = symbol(alone._replace(left=(rod, feed) if rods else (feed,)))
    (way,) = (numbers([part]) for part in parts if f"M{n(x)} {n(feed.y)}" in part and 'stroke-width="0.35"' in part)
    assert way[-1][0] > x + 4.0 + 3.0
    assert [point[1] for point in way[2:]] == [y + high - 0.3, y + high - 0.3, y + high - 1.0]
    rod_from = min(point[0] for part in parts if 'stroke-width="1.2"' in part for point in numbers([part]))
    assert rod_from == x if rods else rod_from > x + 0.8


def test_a_valve_drawn_the_wrong_way_round_is_seen() -> None:
    """The ball of a residual valve stands on the other side of its seat when fluid comes in at the outlet."""
    right = placed("residual valve", 0)
    pins = tuple(Pin(f"x.{name}", 0, name, "", "") for name in ("in", "out"))
    forward = _turned(right, *pins)
    assert forward != _turned(right, *reversed(pins))


def _turned(each: Placed, left: Pin, right: Pin) -> list[str]:
    x, y, wide, high = each.body
    middle = y + high / 2.0
    return symbol(each._replace(left=(PlacedPin(left, x, middle),), right=(PlacedPin(right, x + wide, middle),)))


def test_every_seat_has_a_short_word() -> None:
    """Each seat of the standards has a word that fits beside a thread."""
    assert set(SEATS) == set(SEAT_NAMES)
    assert all(words_mm(f"1/2-20 {word}", 2.1) < 24.0 for word in SEATS.values())


@pytest.mark.parametrize(
    ("port", "words"),
    [
        (Port("a", parse("3/8-24 UNF"), "internal", "inverted-flare", 4.75), "3/8-24 inv"),
        (Port("a", parse("M10x1"), "internal", "washer-face"), "M10x1 washer"),
        (Port("a", parse("1/8-27 NPT"), "external", "taper"), "1/8-27 NPT taper"),
        (Port("a", parse("3/8-24 UNJF"), "external", "cone-37"), "3/8-24 UNJF 37 deg"),
        (Port("a", seat="push-on", gender="external", hose=8.0), "8 mm push-on"),
        (Port("a", seat="washer-face", eye=10.0), "eye 10 mm washer"),
        (Port("a", seat="washer-face", eye=10.2), "eye 10.2 mm washer"),
        (Port("a", seat="washer-face", eye=7 / 16 * 25.4), "eye 7/16 in washer"),
        (Port("a", seat="ferrule", tube=4.7625), "3/16 in ferrule"),
        (Port("a", parse("5/16-24 UNF"), "external", reach=45.0), "5/16-24"),
        (Port("a"), "?"),
        (None, "?"),
    ],
)
def test_words_at_ports(port: Port | None, words: str) -> None:
    """Thread and seat in few words; what the catalog does not say is a question mark."""
    assert port_text(port) == words


def test_words_at_hoses_stand_over_and_under() -> None:
    """Thread over the line, seat under it, whatever blanks are in them."""
    assert hose_texts(Port("a", parse("3/8-24 UNJF"), "external", "cone-37")) == ("3/8-24 UNJF", "37 deg")
    assert hose_texts(Port("a", seat="push-on", hose=8.0)) == ("8 mm", "push-on")
    assert hose_texts(None) == ("?", "")


def test_long_words_are_folded_and_cut() -> None:
    """Ids break behind hyphens, over at most three lines; what is left out is dots."""
    assert folded("hose-front-380", 2.1) == ("hose-front-380",)
    assert folded("bulkhead-union-3-16-inverted", 2.1) == ("bulkhead-union-3-16-", "inverted")
    lines = folded("x" * 300, 2.1)
    assert (len(lines), lines[-1].endswith("...")) == (3, True)
    assert all(words_mm(line, 2.1) <= 31.0 for line in lines)
    assert clipped("feed_secondary_of_the_second_cylinder", 24.0).endswith("...")
    assert words_mm(clipped("W" * 80, 24.0), 2.1) <= 24.0


def test_hubs_are_drawn_as_dots() -> None:
    """A joint of several ends has a symbol of its own."""
    assert HUB in SYMBOLS

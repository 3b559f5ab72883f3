"""Routes told in words: what they mean, and each slip at its word in the file."""

from math import dist
from pathlib import Path

import pytest

from fitcheck.build.load import load_document
from fitcheck.build.model import RouteWords
from fitcheck.build.words import MOST_CHARACTERS, Told, WordError, read_words
from fitcheck.sources import InputError, parse

HEAD = "build: 1\nlines:\n  a:\n    from: x.a\n    to: y.b\n    tube: t\n    route: "


def figures(text: str) -> list[tuple[float | None, ...]]:
    """Return length, angle, rotation and radius of each leg."""
    told = read_words(text)
    turns = [None if leg.rotation_deg is None else round(leg.rotation_deg, 6) for leg in told]
    return [(leg.length, leg.angle, turn, leg.radius) for leg, turn in zip(told, turns, strict=True)]


def along(told: Told) -> tuple[float, ...]:
    """Return which way a leg runs, rounded."""
    assert told.way is not None
    return tuple(round(value, 9) + 0.0 for value in told.way.along)


def slip(route: str) -> list[str]:
    """Return what is wrong with a build whose line has this route, written as it stands."""
    with pytest.raises(InputError) as caught:
        load_document(parse(f"{HEAD}{route}\n", "car.yaml"), Path())
    return str(caught.value).splitlines()


def test_up_then_left() -> None:
    """From forward, up and then left: the left bend goes anticlockwise from the one before, seen along the tube."""
    text = "run forward 220 mm, up 90, run 80 mm, left 45, run 100 mm"
    assert figures(text) == [(220.0, 90.0, None, None), (80.0, 45.0, -90.0, None), (100.0, None, None, None)]
    ways = [along(leg) for leg in read_words(text)]
    assert ways[:2] == [(1.0, 0.0, 0.0), (0.0, 0.0, 1.0)]
    assert ways[2] == pytest.approx((0.0, 0.5**0.5, 0.5**0.5), abs=1e-8)


@pytest.mark.parametrize(
    ("heading", "turn", "ends"),
    [
        ("forward", "left", (0.0, 1.0, 0.0)),
        ("forward", "right", (0.0, -1.0, 0.0)),
        ("back", "down", (0.0, 0.0, -1.0)),
        ("up", "forward", (1.0, 0.0, 0.0)),
        ("left", "back", (-1.0, 0.0, 0.0)),
    ],
)
def test_ninety_goes_where_it_says(heading: str, turn: str, ends: tuple[float, ...]) -> None:
    """A turn of 90 towards a direction square to the tube makes it run in that direction of the car (ISO 8855)."""
    assert along(read_words(f"run {heading} 50 mm, {turn} 90, run 50 mm")[1]) == ends


def test_a_u_by_its_side() -> None:
    """180 by way of left runs straight back; the next bend in the same plane keeps its sense."""
    first, second, third = read_words("run forward 100 mm, left 180, run 80 mm, right 90, run 50 mm")
    assert along(second) == (-1.0, 0.0, 0.0)
    assert first.way is not None
    assert first.way.aside == (0.0, 1.0, 0.0)
    assert (second.rotation_deg, along(third)) == (0.0, (0.0, -1.0, 0.0))


def test_units_fractions_radius_and_straight_on() -> None:
    """Lengths are those of the rest of the file, angles bare or with unit; two runs in a row are one leg."""
    text = "RUN Left 8-1/2 in, run 10 mm, back 22.5 deg radius 9/16 in,\n run 5 cm, forward 90°, run ½ in"
    assert figures(text) == [
        (pytest.approx(225.9), 22.5, None, pytest.approx(14.2875)),
        (50.0, 90.0, 180.0, None),
        (12.7, None, None, None),
    ]


def test_without_a_heading_the_first_plane_is_the_datum() -> None:
    """An offset up and down is flat whatever way the tube runs first; nobody knows where it is in the car."""
    told = read_words("run 200 mm, up 30, run 80 mm, down 30, run 60 mm, up 20, run 40 mm")
    assert [leg.rotation_deg for leg in told] == [None, 180.0, 180.0, None]
    assert {leg.way for leg in told} == {None}


@pytest.mark.parametrize(
    ("text", "at", "reason"),
    [
        (
            "run 220 mm, up 90, run 80 mm, left 45, run 9 mm",
            "left 45",
            "'left' does not lie in the plane of 'up': state which way the first run goes, such as run forward 220 mm",
        ),
        ("run up 9 mm, up 90, run 9 mm", "up 90", "the tube runs up already: 'up' turns it in no plane"),
        (
            "run forward 9 mm, back 180, run 9 mm",
            "back",
            "the tube runs forward, straight away from 'back': say by which side it turns, such as left 180",
        ),
        (
            "run left 9 mm, right 45, run 9 mm",
            "right",
            "the tube runs left, straight away from 'right': say by which side it turns, such as up 45",
        ),
        (
            "run up 9 mm, left 45, run 9 mm, left 45, run 9 mm, left 5, run 9 mm",
            "left 5,",
            "the tube runs left already: 'left' turns it in no plane",
        ),
        ("run forwrd 220 mm", "forwrd", "'forwrd' is no direction; nearest is 'forward'"),
        ("run sideways 220 mm", "sideways", "'sideways' is no direction; known: forward, back, left, right, up, down"),
        ("rnu 220 mm", "rnu", "'rnu' begins no step of a route; nearest is 'run'"),
        ("run 9 mm, leftt 90, run 9 mm", "leftt", "'leftt' begins no step of a route; nearest is 'left'"),
        ("run 9 mm, up 90 raduis 20 mm, run 9 mm", "raduis", "'raduis' is no word of a turn; nearest is 'radius'"),
        ("run 9 mm, up 90 over 20 mm, run 9 mm", "over", "'over' is no word of a turn; known: radius"),
        ("run 220 mn", "mn", "'mn' is no unit of length; nearest is 'm'; use mm, cm, m, in or ft"),
        ("run 220", "220", "a bare number where a length is needed: write '25 mm' or '1 in'"),
        ("run 9 mm up 90, run 9 mm", "up", "expected a comma in front of 'up'"),
        ("run", "run", "a run needs a length, such as run 220 mm"),
        ("run forward", "forward", "a run needs a length, such as run 220 mm"),
        ("run forward 0 mm", "0 mm", "expected more than zero, got '0 mm'"),
        ("run 9 mm, up, run 9 mm", "up,", "'up' needs an angle, such as up 90"),
        ("run 9 mm, up radius 5 mm, run 9 mm", "up", "'up' needs an angle, such as up 90"),
        ("run 9 mm, up 90 radius, run 9 mm", "radius", "'radius' needs a length, such as radius 20 mm"),
        ("run 9 mm, up 181, run 9 mm", "181", "expected an angle from 0.1 to 180 deg, got '181 deg'"),
        ("run 9 mm, up 0, run 9 mm", "0, run", "expected an angle from 0.1 to 180 deg, got '0 deg'"),
        ("run 9 mm, up 9e3, run 9 mm", "9e3", "'9e3': exponents are not taken; write the number out"),
        ("up 90, run 9 mm", "up", "a route begins with a run, such as run forward 220 mm"),
        ("run 9 mm, up 90", "up", "a route ends with a run: how far does the tube go on after this turn"),
        ("run 9 mm, up 90, up 5, run 9 mm", "up 5", "expected a run between two turns"),
        (
            "run up 8 mm, left 90, run up 9 mm",
            "up 9 mm",
            "only the first run states a direction: before this one, turn towards it",
        ),
        ("run 9 mm,, run 9 mm", ",, run", "expected a step on both sides of a comma"),
        ("run 9 mm,", ",", "expected a step on both sides of a comma"),
    ],
)  # fmt: skip
def test_slips_at_their_word(text: str, at: str, reason: str) -> None:
    """Whatever is wrong is one sentence at the place of the word that is."""
    with pytest.raises(WordError) as caught:
        read_words(text)
    start = text.index(at)
    assert (str(caught.value), caught.value.offset) == (reason, start)


def test_a_long_text_is_refused_at_once() -> None:
    """A route of more characters than a page holds is not looked at."""
    with pytest.raises(WordError) as caught:
        read_words("run 1 mm, " * 1000)
    assert str(caught.value) == "expected a route of at most 4000 characters, got 10000"
    assert len(read_words("run 1 mm," * (MOST_CHARACTERS // 9 - 1) + "run 1 mm")) == 1
    assert slip("''") == ["car.yaml:7:12: expected a route"]
    refused = "car.yaml:7:12: expected a route of at most 4000 characters, got 1000001"
    assert slip("run 1 mm,\n      " * 100_000 + "x") == [refused]


@pytest.mark.parametrize(
    ("route", "place"),
    [
        ("run forward 9 mm, up 90, rn 8 mm", "7:37"),
        ("'run forward 9 mm, up 90, rn 8 mm'", "7:38"),
        ("run forward 9 mm,\n      up 90,\n      rn 8 mm", "9:7"),
        (">-\n      run forward 9 mm,\n\n      up 90,rn 8 mm", "10:13"),
        ("|\n      run forward 9 mm,\n      up 90, rn 8 mm", "9:14"),
        ('"run forward 9 mm, up 90, \\\n      rn 8 mm"', "7:12"),
        ('"run\\x20forward 9 mm, up 90, rn 8 mm"', "7:12"),
    ],
)
def test_place_in_the_file(route: str, place: str) -> None:
    """The word is found in plain, quoted, folded and block text; where escapes hide it, the text's start is told."""
    assert slip(route) == [f"car.yaml:{place}: 'rn' begins no step of a route; nearest is 'run'"]


def test_other_forms_are_still_told_apart() -> None:
    """A mapping is no route; slips within lists of points and legs stay at their entry."""
    assert slip("{run: 3}") == ["car.yaml:7:5: expected a list, got a mapping"]
    assert slip("[[1, 2]]") == ["car.yaml:7:13: expected 3 items, got 2"]
    assert slip("[{leg: 1 mm, angel: 3 deg}]") == ["car.yaml:7:25: unknown key 'angel' in a leg; nearest is 'angle'"]


def test_words_are_a_value() -> None:
    """Two routes are one if their text is; legs alone do not make a route in words."""
    one, other = (RouteWords.read(f"run {way} 90 mm, left 90, run 80 mm") for way in ("up", "down"))
    assert [tuple(leg) for leg in one] == [tuple(leg) for leg in other]
    assert one != other
    assert one == RouteWords.read(one.text)
    assert len({one, other, RouteWords.read(one)}) == 2
    assert one != tuple(one)
    assert dist(one.ways[0].along, other.ways[0].along) == 2.0

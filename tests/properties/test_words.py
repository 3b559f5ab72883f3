"""Routes told in words, at random: to points and bend data and back, mirrored, as legs, as points; texts at random."""

from math import dist, pi

from hypothesis import assume, given
from hypothesis import strategies as st

from fitcheck.build.curves import Curve, length_of, point_at
from fitcheck.build.model import RouteWords
from fitcheck.build.routes import straights
from fitcheck.build.runs import Run, run_of
from fitcheck.build.words import DIRECTIONS, WordError, read_words
from fitcheck.making.shape import corners_of
from tests.making.benches import SAME_EVERY_TIME, one_line
from tests.making.test_shapes import placed

NAMES = st.sampled_from(list(DIRECTIONS))
TURN = st.tuples(NAMES, st.sampled_from([7.5, 30, 45, 60, 90, 120, 180]), st.integers(70, 220))
ROUTE = st.tuples(NAMES, st.integers(70, 220), st.lists(TURN, min_size=1, max_size=6))
TOOLS = "tools: {benders: {lever: {radius: 9 mm, clamp: 5 mm}}}"
WORDS = st.sampled_from(
    ["run", *DIRECTIONS, "radius", ",", "90", "45 deg", "220 mm", "8-1/2 in", "½", "0", "-3 mm", "1e9 mm", "9" * 70]
)


def text_of(route):
    """Return a route in words, or pass over one that has a turn in no plane."""
    heading, first, turns = route
    text = ", ".join([f"run {heading} {first} mm", *(f"{name} {deg}, run {mm} mm" for name, deg, mm in turns)])
    try:
        read_words(text)
    except WordError:
        assume(False)
    return text


def run_along(route: str, end: str = "[9000, 0, 0]") -> Run:
    """Return the run of a line along a route as the file has it, from (10, 20, 30)."""
    run = run_of(one_line(route, tools=TOOLS, start="[10, 20, 30]", end=end), "run")
    assert run.fault is None
    return run


def by_words(text: str) -> Run:
    """Return the run of a route in words."""
    return run_along(f'"{text}"')


def spots(curve: Curve) -> list[tuple[float, float, float]]:
    """Return the ends and the middle of each piece."""
    return [point_at(piece, share) for piece in curve for share in (0.0, 0.5, 1.0)]


def same(first: Run, second: Run) -> None:
    """Check that two runs have the same bend data."""
    assert first.route is not None
    assert second.route is not None
    assert len(first.route.bends) == len(second.route.bends)
    assert max(abs(a - b) for a, b in zip(first.straights_mm, second.straights_mm, strict=True)) < 1e-6
    for one, other in zip(first.route.bends, second.route.bends, strict=True):
        assert abs(one.angle_deg - other.angle_deg) < 1e-6
        turned = (one.rotation_deg or 0.0) - (other.rotation_deg or 0.0)
        assert abs((turned + 180.0) % 360.0 - 180.0) < 1e-5


@SAME_EVERY_TIME
@given(ROUTE)
def test_words_to_points_to_bends_and_back(route):
    """The bend data alone, rebuilt to corners, land on the corners that the directions of the words lead to."""
    run = by_words(text_of(route))
    shape = corners_of(run.route)
    for made, meant in zip(placed_as(shape, run), run.points, strict=True):
        assert dist(made, meant) < 1e-6


def placed_as(shape, run):
    """Return a shape of its own frame where a run stands: along its first leg, aside to where its first bend goes."""
    first = run.route.bends[0]
    aim = run.legs[1][0] if first.is_u else run.legs[1][1]
    return placed(shape, [*run.legs[0], aim])


@SAME_EVERY_TIME
@given(ROUTE)
def test_words_and_points_are_one_tube(route):
    """Given as points where its corners are, a U as two, it is the same tube at the same place."""
    told = by_words(text_of(route))
    inner = ", ".join(str(list(point)) for point in told.points[1:-1])
    drawn = run_along(f"[{inner}]", end=str(list(told.points[-1])))
    same(told, drawn)
    assert max(map(dist, spots(told.curve), spots(drawn.curve))) < 1e-6


@SAME_EVERY_TIME
@given(ROUTE)
def test_words_and_legs_are_one_tube(route):
    """Given as legs, angles and rotations it has the same bends, straights and length."""
    text = text_of(route)
    told = by_words(text)
    legs = []
    for leg in RouteWords.read(text):
        keys = {"leg": leg.leg, "angle": leg.angle, "rotation": leg.rotation}
        units = {"leg": "mm", "angle": "deg", "rotation": "deg"}
        stated = (f"{key}: {value:.12f} {units[key]}" for key, value in keys.items() if value is not None)
        legs.append(f"{{{', '.join(stated)}}}")
    by_legs = run_along(f"[{', '.join(legs)}]")
    same(told, by_legs)
    assert by_legs.points is None


@SAME_EVERY_TIME
@given(ROUTE)
def test_mirror_negates_rotations(route):
    """The other side of the car has left for right, y the other way, and each rotation the other way."""
    text = text_of(route)
    swapped = text.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right")
    here, there = by_words(text), by_words(swapped)
    assert here.straights_mm == there.straights_mm
    for one, other in zip(here.route.bends[1:], there.route.bends[1:], strict=True):
        total = one.rotation_deg + other.rotation_deg
        assert abs((total + 180.0) % 360.0 - 180.0) < 1e-6
    for (x, y, z), other in zip(here.points, there.points, strict=True):
        assert dist((x, 40.0 - y, z), other) < 1e-9


@SAME_EVERY_TIME
@given(ROUTE)
def test_centre_line_is_whole(route):
    """Pieces meet, and together are as long as straights and arcs; each leg holds its straight."""
    run = by_words(text_of(route))
    for before, after in zip(run.curve, run.curve[1:], strict=False):
        assert dist(point_at(before, 1.0), point_at(after, 0.0)) < 1e-6
    assert dist(point_at(run.curve[0], 0.0), (10.0, 20.0, 30.0)) < 1e-9
    assert dist(point_at(run.curve[-1], 1.0), run.points[-1]) < 1e-6
    arcs = sum(bend.radius_mm * bend.angle_deg for bend in run.route.bends) * pi / 180.0
    assert abs(sum(map(length_of, run.curve)) - sum(straights(run.route)) - arcs) < 1e-6
    for leg, length in zip(run.legs, run.route.legs_mm, strict=True):
        assert abs(dist(*leg) - length) < 1e-9


@SAME_EVERY_TIME
@given(st.one_of(st.text(max_size=60), st.lists(WORDS, max_size=14).map(" ".join)))
def test_any_text_is_read_or_refused_at_a_place(text):
    """No text but is a route or has one reason in one line, at a place within it."""
    legs, refused = read(text)
    if refused is not None:
        assert 0 <= refused.offset <= max(len(text) - 1, 0)
        assert str(refused)
        assert "\n" not in str(refused)
        return
    assert legs[-1].angle is None
    assert all(leg.angle is not None for leg in legs[:-1])


def read(text):
    """Return the legs of a text and None, or no legs and why it is refused."""
    try:
        return read_words(text), None
    except WordError as error:
        return (), error

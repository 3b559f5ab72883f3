"""A route as it is told at the car: `run forward 220 mm, up 90, run 80 mm, left 45, run 100 mm`.

Steps are parted by commas. `run` goes straight on, corner to corner. A direction and an angle turn the tube by that
much towards that direction of the car, in the plane of the way it runs and that direction; `radius` states the
centre-line radius of that bend. The first run may state the way it runs, the heading. Directions are those of
ISO 8855. Lengths in mm, angles in degrees. Source: derived, from vectors.
"""

import re
from collections.abc import Iterator, Sequence
from math import asin, cos, degrees, hypot, radians, sin
from typing import Final, NamedTuple

from fitcheck.build.routes import STRAIGHT_DEG, Point, Route, rotation_between
from fitcheck.errors import FitcheckError
from fitcheck.naming import hint
from fitcheck.quantities import Quantity, QuantityError, parse, plain_number
from fitcheck.units import UNITS

DIRECTIONS: Final[dict[str, Point]] = {
    "forward": (1.0, 0.0, 0.0),
    "back": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}
MOST_CHARACTERS: Final = 4000
"""A route in words is no longer."""
EXAMPLE: Final = "run forward 220 mm, up 90, run 80 mm, left 45, run 100 mm"
_KNOWN: Final = ("run", *DIRECTIONS)
_MOST_DEG: Final = 180.0
_NONE: Final = (0.0, 0.0, 0.0)
_WORD: Final = re.compile(r"\S+")


class WordError(FitcheckError, ValueError):
    """A route in words that cannot be read. `offset` is where in the text the word stands that is at fault."""

    def __init__(self, offset: int, reason: str) -> None:
        super().__init__(offset, reason)
        self.offset = offset
        self.reason = reason

    def __str__(self) -> str:
        return self.reason


class Way(NamedTuple):
    """Which way a leg runs, and towards which side of it the bend behind it goes: unit vectors of the car."""

    along: Point
    aside: Point | None


class Told(NamedTuple):
    """One leg as it is told [mm], and the bend at its end, None behind the last.

    `rotation_deg` is that of its plane against that of the bend before, None for the first bend. `way` is None where
    no heading is stated.
    """

    length: Quantity
    angle: Quantity | None = None
    rotation_deg: float | None = None
    radius: Quantity | None = None
    way: Way | None = None


class _Span(NamedTuple):
    """A part of the text and where it starts."""

    text: str
    start: int

    @property
    def words(self) -> list["_Span"]:
        return [_Span(found.group(), self.start + found.start()) for found in _WORD.finditer(self.text)]

    def after(self, word: "_Span") -> "_Span":
        """Return what follows a word of it, without the blanks."""
        end = word.start + len(word.text) - self.start
        rest = self.text[end:]
        return _Span(rest.strip(), word.start + len(word.text) + len(rest) - len(rest.lstrip()))


class _Run(NamedTuple):
    at: int
    length: Quantity
    heading: str | None


class _Turn(NamedTuple):
    at: int
    direction: str
    angle: Quantity
    radius: Quantity | None


class _Pose(NamedTuple):
    """How the tube lies at a step, in axes of the car, or of the first bend where no heading is stated."""

    along: Point
    normal: Point | None


def read_words(text: str) -> tuple[Told, ...]:
    """Return the legs that a route in words tells.

    Without a heading the first run is taken as square to the direction of the first turn, whose plane is the datum;
    later turns then go towards that direction or away from it.

    >>> [(leg.length.text, leg.rotation_deg) for leg in read_words("run up 9 cm, left 90, run 3 in, back 90, run 1 in")]
    [('9 cm', None), ('3 in', 90.0), ('1 in', None)]

    Raises:
        WordError: it cannot be read, or a turn has no plane.
    """
    if len(text) > MOST_CHARACTERS:
        raise WordError(0, f"expected a route of at most {MOST_CHARACTERS} characters, got {len(text)}")
    return tuple(_legs(list(_steps(text))))


def told_corners(ways: Sequence[Way], route: Route) -> tuple[Point, ...]:
    """Return the corners of a route from its first end [mm], both ends included and two for a U; none without ways."""
    if not ways:
        return ()
    here = _NONE
    found = [here]
    for index, (way, leg) in enumerate(zip(ways, route.legs_mm, strict=True)):
        here = _plus(here, way.along, leg)
        found.append(here)
        bend = route.bends[index] if index < len(route.bends) else None
        if bend is not None and bend.is_u and way.aside is not None:
            here = _plus(here, way.aside, 2.0 * bend.radius_mm)
            found.append(here)
    return tuple(found)


def _steps(text: str) -> Iterator[_Run | _Turn]:
    start = 0
    for index, part in enumerate(text.split(",")):
        step = _Span(part, start)
        start += len(part) + 1
        words = step.words
        if not words:
            at = max(step.start - 1, 0) if index else 0
            raise WordError(at, "expected a step on both sides of a comma" if "," in text else "expected a route")
        first = words[0]
        for word in words[2 if first.text.lower() == "run" else 1 :]:
            if word.text.lower() in _KNOWN:
                raise WordError(word.start, f"expected a comma in front of {word.text!r}")
        rest = step.after(first)
        name = first.text.lower()
        if name == "run":
            yield _run(first, rest)
        elif name in DIRECTIONS:
            yield _turn(first, name, rest)
        else:
            raise WordError(first.start, f"{first.text!r} begins no step of a route{_near(first.text, _KNOWN)}")


def _run(first: _Span, rest: _Span) -> _Run:
    heading = None
    words = rest.words
    if words and words[0].text.isalpha():
        heading = words[0].text.lower()
        if heading not in DIRECTIONS:
            raise WordError(words[0].start, f"{words[0].text!r} is no direction{_near(heading, DIRECTIONS)}")
        first, rest = words[0], rest.after(words[0])
    if not rest.text:
        raise WordError(first.start, "a run needs a length, such as run 220 mm")
    return _Run(first.start, _size(rest), heading)


def _turn(first: _Span, name: str, rest: _Span) -> _Turn:
    if not rest.text:
        raise WordError(first.start, f"{name!r} needs an angle, such as {name} 90")
    other = next((word for word in rest.words if _is_word(word.text)), None)
    if other is None:
        return _Turn(first.start, name, _angle(rest), None)
    if other.text.lower() != "radius":
        raise WordError(other.start, f"{other.text!r} is no word of a turn{_near(other.text, ('radius',))}")
    angle = _Span(rest.text[: other.start - rest.start].strip(), rest.start)
    if not angle.text:
        raise WordError(first.start, f"{name!r} needs an angle, such as {name} 90")
    radius = rest.after(other)
    if not radius.text:
        raise WordError(other.start, "'radius' needs a length, such as radius 20 mm")
    return _Turn(first.start, name, _angle(angle), _size(radius))


def _is_word(text: str) -> bool:
    return text.isalpha() and text not in UNITS


def _near(word: str, known: tuple[str, ...] | dict[str, Point]) -> str:
    return hint(word, known) or f"; known: {', '.join(known)}"


def _angle(span: _Span) -> Quantity:
    """Return an angle: degrees if it is a bare number."""
    try:
        angle = Quantity(plain_number(span.text), f"{span.text} deg")
    except QuantityError as error:
        if error.fault != "unit":
            raise WordError(span.start, str(error)) from None
        angle = _quantity(span, "angle")
    if not STRAIGHT_DEG <= angle <= _MOST_DEG:
        raise WordError(span.start, f"expected an angle from {STRAIGHT_DEG:g} to 180 deg, got {angle.text!r}")
    return angle


def _size(span: _Span) -> Quantity:
    length = _quantity(span, "length")
    if length <= 0.0:
        raise WordError(span.start, f"expected more than zero, got {length.text!r}")
    return length


def _quantity(span: _Span, dimension: str) -> Quantity:
    try:
        return parse(span.text, dimension)
    except QuantityError as error:
        at = span.text.find(error.unit.split(" ")[0]) if error.unit and error.fault != "long" else 0
        raise WordError(span.start + max(at, 0), str(error)) from None


def _legs(steps: list[_Run | _Turn]) -> Iterator[Told]:
    first = steps[0]
    if isinstance(first, _Turn):
        raise WordError(first.at, "a route begins with a run, such as run forward 220 mm")
    stated = first.heading is not None
    pose = _first_pose(steps, first)
    length = first.length
    turn: _Turn | None = None
    for step in steps[1:]:
        if isinstance(step, _Turn):
            if turn is not None:
                raise WordError(step.at, "expected a run between two turns")
            turn = step
            continue
        if step.heading is not None:
            raise WordError(step.at, "only the first run states a direction: before this one, turn towards it")
        if turn is None:  # straight on: one leg in two pieces
            length = _sum(length, step.length)
            continue
        told, pose = _bent(length, turn, pose, stated)
        yield told
        length, turn = step.length, None
    if turn is not None:
        raise WordError(turn.at, "a route ends with a run: how far does the tube go on after this turn")
    yield Told(length, way=Way(pose.along, None) if stated else None)


def _first_pose(steps: list[_Run | _Turn], first: _Run) -> _Pose:
    """Return how the tube lies at first: as stated, else along any axis square to the first turn's direction."""
    if first.heading is not None:
        return _Pose(DIRECTIONS[first.heading], None)
    turns = [step for step in steps if isinstance(step, _Turn)]
    for turn in turns:
        if not _dot(DIRECTIONS[turn.direction], DIRECTIONS[turns[0].direction]):
            reason = f"{turn.direction!r} does not lie in the plane of {turns[0].direction!r}: state which way the"
            raise WordError(turn.at, f"{reason} first run goes, such as run forward {first.length.text}")
    upright = bool(turns) and turns[0].direction in ("up", "down")
    return _Pose(DIRECTIONS["forward" if upright else "up"], None)


def _bent(length: Quantity, turn: _Turn, pose: _Pose, stated: bool) -> tuple[Told, _Pose]:
    """Return a leg with the bend at its end, and how the tube lies behind that."""
    along, towards = pose.along, DIRECTIONS[turn.direction]
    ahead = _dot(towards, along)
    across = _plus(towards, along, -ahead)
    size = hypot(*across)
    if degrees(asin(min(size, 1.0))) < STRAIGHT_DEG:
        raise WordError(turn.at, _no_plane(turn, ahead > 0.0))
    aside = _plus(_NONE, across, 1.0 / size)
    normal = _cross(along, aside)
    rotation = rotation_between(pose.normal, normal, along) if pose.normal is not None else None
    told = Told(length, turn.angle, rotation, turn.radius, Way(along, aside) if stated else None)
    angle = radians(turn.angle)
    behind = _plus(_plus(_NONE, along, cos(angle)), aside, sin(angle))
    return told, _Pose(_plus(_NONE, behind, 1.0 / hypot(*behind)), normal)


def _no_plane(turn: _Turn, same: bool) -> str:
    direction = turn.direction
    if same:
        return f"the tube runs {direction} already: {direction!r} turns it in no plane"
    against = next(name for name, way in DIRECTIONS.items() if _dot(way, DIRECTIONS[direction]) < 0.0)
    side = "up" if direction in ("left", "right") else "left"
    by = f"say by which side it turns, such as {side} {turn.angle:g}"
    return f"the tube runs {against}, straight away from {direction!r}: {by}"


def _sum(first: Quantity, second: Quantity) -> Quantity:
    total = float(first) + float(second)
    return Quantity(total, f"{total:.6g} mm")


def _plus(a: Point, b: Point, times: float) -> Point:
    return a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Point, b: Point) -> Point:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]

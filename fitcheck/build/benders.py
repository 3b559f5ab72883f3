"""The tools that a line is made with, as far as the build file says: which bender, and what straight tube it needs.

Lengths in mm, angles in degrees. A bender's radius is stated, or solved from one test bend; nothing here is guessed
without a mark that says so.
"""

from collections.abc import Mapping
from math import radians, tan
from typing import Final, Literal, NamedTuple

from fitcheck.build.load import Build
from fitcheck.build.routes import tangent_length
from fitcheck.build.tools import Bender, TestBend
from fitcheck.catalog.part import Part
from fitcheck.errors import FitcheckError
from fitcheck.standards.flares import flares
from fitcheck.standards.materials import UnknownMaterialError, material
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.tubes import bend_limits, bend_radius_mm

Marks = Literal["start", "corner", "middle"]
ROUNDED_MM: Final = 0.05
"""Radii are written rounded: 14.25 mm is three times 4.7625 mm."""
PRACTICE: Final = "common practice, no source"
STATED: Final = "stated in the build"
TEST_BEND: Final = "solved from test_bend"
UNSAID: Final = "taken as 0: neither offset nor test_bend.mark is stated"
CLAMP_DIAMETERS: Final = 3.0
"""Straight that a bender must hold where nobody says: two to three outside diameters, the larger (common practice)."""
LEAST_TEST_DEG: Final = 60.0
MOST_TEST_DEG: Final = 150.0
"""Outside these a test bend says too little of the radius: at 60 deg an error of 0.5 mm in a leg is one of 4.7 mm."""
SAME_RADIUS_MM: Final = 0.5
"""Radii this near to each other are one tool's (common practice, no source)."""


class BenderError(FitcheckError, ValueError):
    """A bender whose figures cannot be: `field` of the build file, and `reason`."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(field, reason)
        self.field = field
        self.reason = reason

    def __str__(self) -> str:
        return f"{self.field}: {self.reason}"


class Tool(NamedTuple):
    """One bender with its figures settled. Lengths in mm.

    Attributes:
        name: its key in `tools.benders`.
        radius_mm: centre-line radius of its bends.
        clamp_mm: straight tube that it must hold before a bend; None if not stated.
        between_mm: smallest straight that it can leave between two bends; None if not stated.
        marks: what is marked on the tube.
        offset_mm: from the mark to the tool's own line, towards the end measured from: the pencil goes that much
            nearer to that end.
        springback: how much further than 90 deg to pull [deg], by tube material.
        radius_source, offset_source: where the two figures come from, in words.
        tubes_mm: outside diameters that it takes; any if empty.
    """

    name: str
    radius_mm: float
    clamp_mm: float | None
    between_mm: float | None
    marks: Marks
    offset_mm: float
    springback: Mapping[str, float]
    radius_source: str
    offset_source: str
    tubes_mm: tuple[float, ...] = ()

    def takes(self, od_mm: float | None) -> bool:
        """Return whether it takes tube of this outside diameter [mm]; an unknown one only if it takes any."""
        return not self.tubes_mm or (od_mm is not None and any(same_tube(size, od_mm) for size in self.tubes_mm))

    def springback_deg(self, tube_material: str | None) -> float | None:
        """Return how much further than 90 deg to pull tube of this material [deg]; None if nobody has said."""
        if tube_material is None:
            return None
        wanted = _material_name(tube_material)
        return next((deg for name, deg in self.springback.items() if _material_name(name) == wanted), None)


class StraightsNeeded(NamedTuple):
    """The straight tube [mm] that the tools need, each with where the figure comes from.

    Attributes:
        clamp_mm: held by the bender before a bend.
        between_mm: left between two bends.
        grip_mm: held by the flaring tool behind the end, nut pushed back.
        grip_hand_mm: the same for a hand-held two-block tool; equal to `grip_mm` where the build states it.
    """

    clamp_mm: float
    between_mm: float
    grip_mm: float
    grip_hand_mm: float
    clamp_source: str
    between_source: str
    grip_source: str


class Radius(NamedTuple):
    """A bend's centre-line radius [mm], where it comes from, and the tool that makes it (None if none listed does)."""

    mm: float
    source: str
    tool: Tool | None


class TooTight(NamedTuple):
    """A radius [mm] that a bend is under, what that is and where it comes from; `refused` if it cannot be bent so."""

    mm: float
    words: str
    source: str
    refused: bool


class Solved(NamedTuple):
    """What a test bend says of its bender [mm]: the radius, and where it started from the end of the first leg."""

    radius_mm: float
    start_mm: float


def solve_test_bend(
    cut_mm: float, legs_mm: tuple[float, float], od_mm: float, angle_deg: float = 90.0, radius_mm: float | None = None
) -> Solved:
    """Return the centre-line radius and the start of a test bend, from lengths in mm and its angle in degrees.

    Legs are measured from each end to the back of the other leg, along the outside: to where the backs of both meet.
    R = (legs - cut - OD tan(A/2)) / (2 tan(A/2) - A), for 90 deg (legs - cut - OD) / (2 - pi/2); the bend starts
    at leg - (R + OD/2) tan(A/2). `radius_mm` takes the place of the solved radius where it is known.

    Limits: 60 to 150 deg; at 90 deg an error of 0.5 mm in a leg is one of 1.2 mm in R. Source: derived; for 90 deg a
    published calibration recipe. A published drawing of one bend (36 in of 1.5 in tube, R 6 in, legs 20 and 20.5 in)
    does not agree with its own radius: it solves to 6.99 in.

    >>> round(solve_test_bend(36.0, (20.0, 20.5), 1.5).radius_mm, 2)
    6.99

    Raises:
        ValueError: no tube was ever bent so.
    """
    if not LEAST_TEST_DEG <= angle_deg <= MOST_TEST_DEG:
        raise ValueError(f"expected a bend of {LEAST_TEST_DEG:g} to {MOST_TEST_DEG:g} deg, got {angle_deg:g} deg")
    half = tan(radians(angle_deg) / 2.0)
    if radius_mm is None:
        radius_mm = (sum(legs_mm) - cut_mm - od_mm * half) / (2.0 * half - radians(angle_deg))
    if radius_mm <= 0.0:
        raise ValueError(f"these legs come to a radius of {radius_mm:.1f} mm: measure cut, legs and od again")
    if radius_mm < od_mm / 2.0:
        raise ValueError(f"these legs come to a radius of {radius_mm:.1f} mm, less than half of od")
    starts = [leg - (radius_mm + od_mm / 2.0) * half for leg in legs_mm]
    if min(starts) < 0.0:
        raise ValueError(f"a leg of {min(legs_mm):.1f} mm is shorter than a bend of radius {radius_mm:.1f} mm")
    return Solved(radius_mm, starts[0])


def tool_of(build: Build, tag: str, tube: Part | None) -> Tool | None:
    """Return the bender that a line is bent with: its own `bender`, else the only one that takes the tube.

    None if the build lists none that takes it, or several.
    """
    line = build.file.lines.get(tag)
    if line is not None and line.bender is not None:
        return settled(line.bender, _benders(build)[line.bender])
    fitting = tools_for(build, tube)
    return fitting[0] if len(fitting) == 1 else None


def tools_for(build: Build, tube: Part | None) -> tuple[Tool, ...]:
    """Return the benders that take a tube, in the order of the file."""
    od = tube.od if tube is not None else None
    return tuple(settled(name, bender) for name, bender in _benders(build).items() if _takes(bender, od))


def bend_radius(build: Build, tag: str, tube: Part | None, stated_mm: float | None = None) -> Radius:
    """Return the radius of a line's bend that states `stated_mm` [mm] or nothing, and the tool that makes it.

    A stated radius is made by the line's own bender, or by any other listed one that takes the tube, to 0.5 mm. Without
    one it is the line's bender's, else the tube's smallest, else three outside diameters.
    """
    tool = tool_of(build, tag, tube)
    if stated_mm is None:
        if tool is not None:
            return Radius(tool.radius_mm, f"bender {tool.name}, {tool.radius_source}", tool)
        if tube is not None and tube.bend_radius is not None:
            return Radius(float(tube.bend_radius), f"bend radius of {tube.id}", None)
        return Radius(bend_radius_mm((tube.od if tube else None) or 0.0), "three outside diameters", None)
    listed = [*([tool] if tool is not None else []), *tools_for(build, tube)]
    near = [one for one in listed if abs(one.radius_mm - stated_mm) <= SAME_RADIUS_MM]
    return Radius(stated_mm, STATED, near[0] if near else None)


def too_tight(radius: Radius, tube: Part) -> TooTight | None:
    """Return the limit that a bend of a tube is under, the gravest first; None if its radius stands.

    A listed bender may go under the usual limits, but not under what the tube stands, nor under half its diameter: then
    the inside of the bend would have no length (geometry).
    """
    od = tube.od or 0.0
    limits = bend_limits(od)
    made = radius.tool is not None
    if radius.mm < od / 2.0:
        return TooTight(od / 2.0, "half its outside diameter", "geometry", True)
    if not made and radius.mm < limits.refuse_below_mm - ROUNDED_MM:
        return TooTight(limits.refuse_below_mm, "one and a half outside diameters", limits.mark, True)
    own = tube.bend_radius
    if own is not None and radius.mm < own - ROUNDED_MM:
        return TooTight(own, f"the smallest of {tube.id}", tube.source or f"catalog {tube.catalog}", False)
    if not made and radius.mm < limits.warn_below_mm - ROUNDED_MM:
        return TooTight(limits.warn_below_mm, "three outside diameters", limits.mark, False)
    return None


def straights_needed(build: Build, tag: str, tube: Part | None) -> StraightsNeeded:
    """Return the straight tube that the tools of a line need [mm], with the usual figure where the build has none.

    Clamp: three outside diameters; between: the clamp's; grip: that of a bar-and-yoke tool, or of a hand tool. All
    three defaults are common practice without a source.
    """
    tool = tool_of(build, tag, tube)
    clamp, clamp_source = (tool.clamp_mm, STATED) if tool is not None else (None, "")
    if clamp is None:
        clamp = CLAMP_DIAMETERS * ((tube.od if tube is not None else None) or 0.0)
        clamp_source = f"three outside diameters, {PRACTICE}"
    between, between_source = (tool.between_mm, STATED) if tool is not None else (None, "")
    if between is None:
        between, between_source = clamp, f"as the clamp: {clamp_source}"
    tools = build.file.tools
    stated = tools.flaring.grip if tools is not None and tools.flaring is not None else None
    if stated is not None:
        return StraightsNeeded(clamp, between, float(stated), float(stated), clamp_source, between_source, STATED)
    grip = max(flare.straight_mm for flare in flares().values())
    hand = max(flare.straight_hand_mm for flare in flares().values())
    words = f"bar-and-yoke tool; {hand:g} mm for a hand tool; {PRACTICE}"
    return StraightsNeeded(clamp, between, grip, hand, clamp_source, between_source, words)


def settled(name: str, bender: Bender) -> Tool:
    """Return a bender with its radius and offset settled.

    Raises:
        BenderError: its test bend is none that a tube could have.
    """
    test = bender.test_bend
    stated = float(bender.radius) if bender.radius is not None else None
    solved = _solved(name, test, stated) if test is not None else None
    radius = stated if stated is not None else (solved.radius_mm if solved is not None else 0.0)
    offset, words = _offset(bender, solved)
    return Tool(
        name=name,
        radius_mm=radius,
        clamp_mm=float(bender.clamp) if bender.clamp is not None else None,
        between_mm=float(bender.between) if bender.between is not None else None,
        marks=bender.marks,
        offset_mm=offset,
        springback={material: float(angle) for material, angle in bender.springback.items()},
        radius_source=STATED if stated is not None else TEST_BEND,
        offset_source=words,
        tubes_mm=tuple(map(float, bender.tubes)),
    )


def _solved(name: str, test: TestBend, radius: float | None) -> Solved:
    angle = float(test.angle) if test.angle is not None else 90.0
    legs = float(test.legs[0]), float(test.legs[1])
    try:
        return solve_test_bend(float(test.cut), legs, float(test.od), angle, radius)
    except ValueError as error:
        raise BenderError(f"tools.benders.{name}.test_bend", str(error)) from None


def _offset(bender: Bender, solved: Solved | None) -> tuple[float, str]:
    """Return how far the pencil mark goes towards the end measured from [mm], and where that comes from."""
    if bender.offset is not None:
        return float(bender.offset), STATED
    test = bender.test_bend
    if test is None or test.mark is None or solved is None:
        return 0.0, UNSAID
    angle = float(test.angle) if test.angle is not None else 90.0
    return marked_point(bender.marks, solved.start_mm, angle, solved.radius_mm) - float(test.mark), TEST_BEND


def marked_point(marks: Marks, start_mm: float, angle_deg: float, radius_mm: float) -> float:
    """Return where a bend that starts at `start_mm` is marked [mm]: at its start, its sharp corner or its middle.

    Limits: a U has no corner.

    >>> round(marked_point("corner", 105.7, 90.0, 14.3), 6)
    120.0
    """
    if marks == "corner":
        return start_mm + tangent_length(angle_deg, radius_mm)
    return start_mm + (radius_mm * radians(angle_deg) / 2.0 if marks == "middle" else 0.0)


def _benders(build: Build) -> Mapping[str, Bender]:
    return build.file.tools.benders if build.file.tools is not None else {}


def _takes(bender: Bender, od_mm: float | None) -> bool:
    return not bender.tubes or (od_mm is not None and any(same_tube(float(size), od_mm) for size in bender.tubes))


def _material_name(text: str) -> str:
    try:
        return material(text).name
    except UnknownMaterialError:
        return text.strip().lower()

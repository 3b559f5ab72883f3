"""A bench sheet as records, free of wording, so that it can be told, drawn and tabulated.

Lengths in mm, angles in degrees. End A is the end that is measured from, end B the other. A rotation is that of a
plane of bend against the one before, clockwise positive, seen along the tube from end A.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal, NamedTuple

from fitcheck.build.routes import Point

if TYPE_CHECKING:
    from fitcheck.making.hose_sheet import HoseSheet

EndName = Literal["from", "to"]
Letter = Literal["A", "B"]
Given = Literal["points", "legs", "length"]
When = Literal["before bends", "after bends", "in the car", "ready"]
Act = Literal[
    "cut", "measure", "square", "slide", "flare", "mark", "turn", "bend", "fit", "trim", "guard", "pass", "check"
]


class Fitting(NamedTuple):
    """A nut, sleeve, grommet or other thing that rides on the tube (`ride`).

    `part` is None if no catalog has one; `wanted` then says what would do. `gender` is that of a nut's thread, None if
    not known. `panel` is the hole that a grommet belongs to.
    """

    word: Literal["nut", "sleeve", "grommet", "ride"]
    part: str | None
    wanted: str
    gender: str | None = None
    panel: str | None = None


class EndPlan(NamedTuple):
    """What one end of a line gets. Lengths in mm; None where nobody has said.

    Attributes:
        name: `from` or `to`.
        joined: the port that it goes into.
        flare: how it is formed.
        allowance_mm: tube that the flare uses up; `allowance_mark` says where the figure comes from.
        nut, sleeve: what goes on before the flare.
        nut_mm: length of the nut; `nut_assumed` if it is the usual one and not the part's own.
        nut_least_mm: no nut of this thread is shorter.
        across_mm: the largest diameter of nut and formed end, to pass a hole with; 0 counts for what is not known.
        across_known: whether both are known.
        formed: flared already, with nut and sleeve on the tube behind it.
        taken_mm: what nut and parked things take of its straight while it is flared after bending; None for the nut.
        reason: why flare or nut are not known; None if they are.
    """

    name: EndName
    joined: str | None
    flare: str | None
    allowance_mm: float
    allowance_mark: str
    nut: Fitting | None = None
    sleeve: Fitting | None = None
    nut_mm: float = 0.0
    nut_assumed: bool = False
    nut_least_mm: float = 0.0
    across_mm: float = 0.0
    across_known: bool = False
    formed: bool = False
    taken_mm: float | None = None
    reason: str | None = None


class SheetBend(NamedTuple):
    """One bend as it is made, counted from end A.

    Attributes:
        angle_deg: how far the tube turns; 180 is a U.
        radius_mm: centre-line radius; `radius_source` says where it comes from.
        rotation_deg: plane of bend against that of the bend before; None for the first, and where nobody has said.
        arc_mm: tube in the bend.
        start_mm, corner_mm, middle_mm: where it starts, its layout mark and its middle, from the finished end A; of a U
            the layout mark is None, as it has no corner.
        mark_mm: where the pencil mark goes, after the tool's offset, from the finished face of end A.
        marks: which of the three is marked.
        tool: the bender; None if none is known.
        offset_mm: how much nearer to end A than that point the mark goes.
        pull_deg: what to pull to, springback included; None where that is not known.
        hand: the tool cannot hold it, or its mark is not on the tube: it is turned by hand round a clamped die.
        held_mm, needed_mm: straight there is on the shorter side, and straight that the tool needs.
        tail_below_mm: how far the tube already bent reaches below the plane of this bend, that is towards the bench.
        clash: the loose rest of the tube sweeps through tube already bent.
        corner: index of the route's corner, counted from the end `from`.
    """

    angle_deg: float
    radius_mm: float
    rotation_deg: float | None
    arc_mm: float
    start_mm: float
    corner_mm: float | None
    middle_mm: float
    mark_mm: float
    marks: Literal["start", "corner", "middle"]
    tool: str | None
    offset_mm: float
    radius_source: str
    pull_deg: float | None = None
    hand: bool = False
    held_mm: float = 0.0
    needed_mm: float = 0.0
    tail_below_mm: float = 0.0
    clash: bool = False
    corner: int = 0


class Hole(NamedTuple):
    """A panel's hole that a line passes. Lengths in mm, None where not given; `bends_before` counts from `from`."""

    panel: str
    hole_mm: float | None
    thickness_mm: float | None
    grommet: str | None
    corner: int
    bends_before: int


class Step(NamedTuple):
    """One thing to do. `bend` counts from 0; `items` are in the order of sliding on; `mm` belongs to the act.

    Its `mm` is: of `cut` and `measure` the length; of `square` what comes off; of `trim` what is left, from the end of
    its `bend`, without one from end A; of `check` the distance between both faces. `fit` is bending on the car.
    """

    act: Act
    end: Letter | None = None
    mm: float | None = None
    bend: int | None = None
    items: tuple[Fitting, ...] = ()
    holes: tuple[Hole, ...] = ()
    in_car: bool = False


class Remark(NamedTuple):
    """Something to be said of a line: a `word` that a report has a sentence for, and the figures in it."""

    word: str
    values: Mapping[str, str | float]


class TubeFacts(NamedTuple):
    """The tube of a line. Lengths in mm; None where the catalog does not say."""

    part: str
    description: str
    material: str | None
    od_mm: float | None
    wall_mm: float | None


class SheetClip(NamedTuple):
    """A clip on a line: where, from end A [mm]. `tag` is that of a component that holds the line there already.

    `straight` is False for a proposed one if no straight in reach takes it, or the shape is not known.
    """

    mm: float
    tag: str | None = None
    straight: bool = True


class SheetClips(NamedTuple):
    """The clips of a line, in order from end A, and what they are spaced by [mm]; `stated` if the build says that."""

    spacing_mm: float
    stated: bool
    clips: tuple[SheetClip, ...]


class Sheet(NamedTuple):
    """How one line is made. A line with `faults` cannot be, and has no steps.

    Attributes:
        tag: the line.
        tube: what it is made of.
        given: how the route is given; of `length` alone there are no bends.
        ends: end A and end B.
        run_mm: finished length along the tube, from face to face; None if it is not known.
        cut_mm: what to cut: run, both flares, what is trimmed off both ends.
        trim_mm: what is trimmed off each end.
        straights_mm, bends: in order from end A.
        flare_b: when end B is flared; `ready` if both ends are formed already. If one is, that is end A.
        hand_flare: end B has room for a hand-held flaring tool only.
        grip_mm, clamp_mm: straight that the flaring tool and the bender need; the sources say where that comes from.
        points: corners with both ends, from end A, two for a U; None if the route is no known shape in space.
        end_to_end_mm: straight distance of the two faces; None if not known.
        stated_mm: the line's own `length`, where there is a route as well.
        holes: panels passed, in order from end A; `lead` is the end that goes through them.
        steps: what to do, in order.
        faults: why it cannot be made.
        concerns: what to look at by hand.
        clips: where clips hold it; None if it cannot be made, or has room for more than are placed one by one.
    """

    tag: str
    tube: TubeFacts
    given: Given | None
    ends: tuple[EndPlan, EndPlan] | None
    run_mm: float | None = None
    cut_mm: float | None = None
    trim_mm: float = 0.0
    straights_mm: tuple[float, ...] = ()
    bends: tuple[SheetBend, ...] = ()
    flare_b: When = "after bends"
    hand_flare: bool = False
    grip_mm: float = 0.0
    grip_source: str = ""
    clamp_mm: float = 0.0
    clamp_source: str = ""
    points: tuple[Point, ...] | None = None
    end_to_end_mm: float | None = None
    stated_mm: float | None = None
    holes: tuple[Hole, ...] = ()
    lead: Letter | None = None
    steps: tuple[Step, ...] = ()
    faults: tuple[Remark, ...] = ()
    concerns: tuple[Remark, ...] = ()
    clips: SheetClips | None = None


class Sheets(NamedTuple):
    """The sheets of a build. `unit` is what the user measures in; `sheets` are those of lines."""

    build: str
    unit: Literal["mm", "in"]
    sheets: tuple[Sheet, ...]
    hoses: "tuple[HoseSheet, ...]" = ()

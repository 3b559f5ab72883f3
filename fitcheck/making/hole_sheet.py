"""A hole schedule as records, free of wording. Lengths and places in mm."""

from typing import Literal, NamedTuple

from fitcheck.build.positions import Position
from fitcheck.making.sheet import Remark
from fitcheck.standards.drill_sizes import Drill
from fitcheck.standards.drilling import Feed, Speed, Surface

What = Literal["panel", "bracket", "bracket screw", "clip"]


class Spot(NamedTuple):
    """Where holes of one kind are: the panel, component or line, how many, and the middle of the hole.

    `many` is None where nobody says how many; `at` [mm] where nobody says where. `lines` are those concerned.
    """

    name: str
    many: int | None = 1
    at: Position | None = None
    lines: tuple[str, ...] = ()


class DrillStep(NamedTuple):
    """One drill of a hole.

    Attributes:
        drill: its diameter and name.
        sheet_tool: a step drill or hole saw instead of a twist drill.
        speed: spindle speed; None if the metal is not known.
        set_rpm: which of the drilling machine's speeds to set; None if they are not stated, or the metal is not known.
        feed: feed of a twist drill in one turn; None of a step drill or hole saw, or if the metal is not known.
    """

    drill: Drill
    sheet_tool: bool = False
    speed: Speed | None = None
    set_rpm: float | None = None
    feed: Feed | None = None


class Job(NamedTuple):
    """Holes that are made in the same way.

    Attributes:
        what: whose hole it is.
        spots: where they are.
        mm: diameter that the hole has to have; None if it is not known or cannot be.
        why: why that diameter.
        source: where the figure comes from.
        material: the metal, by its name in the table of drilling, or as the file writes it; None if it does not.
        thickness_mm: of the metal.
        hardens: the metal hardens under a tool that rubs.
        steps: the drills, in order; empty where the diameter is not known.
        tap: the thread to cut afterwards.
        grommet: what guards the edge.
        wrong: what a rule finds wrong with it, or what cannot be.
        look_at: what to look at by hand.
        unknown: the fields that would say what is missing.
    """

    what: What
    spots: tuple[Spot, ...]
    mm: float | None
    why: Remark
    source: str
    material: str | None = None
    thickness_mm: float | None = None
    hardens: bool = False
    steps: tuple[DrillStep, ...] = ()
    tap: str | None = None
    grommet: str | None = None
    wrong: tuple[Remark, ...] = ()
    look_at: tuple[Remark, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def many(self) -> int | None:
        """How many holes there are; None if that is not known of one of the spots."""
        counts = [spot.many for spot in self.spots if spot.many is not None]
        return sum(counts) if len(counts) == len(self.spots) else None


class MetalSpeed(NamedTuple):
    """How fast the tool goes over one of the metals [mm/s], and whether that metal hardens under a tool that rubs."""

    name: str
    surface: Surface
    hardens: bool
    feed_mark: str


class HoleSchedule(NamedTuple):
    """The holes of a build.

    Attributes:
        build: its name.
        unit: what the user measures in.
        tool: what the drills are made of; `tool_assumed` if nobody says.
        jobs: the holes, those alike together.
        metals: the metals that they are drilled in.
        remarks: what holds for all of them.
    """

    build: str
    unit: Literal["mm", "in"]
    tool: str
    tool_assumed: bool
    jobs: tuple[Job, ...]
    metals: tuple[MetalSpeed, ...] = ()
    remarks: tuple[Remark, ...] = ()

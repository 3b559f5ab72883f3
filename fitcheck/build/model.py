"""Models of the build file, key by key. Positions and routes are kept as written, in `coordinates` units."""

from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Discriminator, Field, Tag, model_validator

from fitcheck.build.refs import checked_ref, checked_tag
from fitcheck.catalog.entries import (
    Amount,
    Count,
    Entry,
    Kind,
    Note,
    Number,
    Point,
    SectionedEntry,
    Size,
    Version,
    positive,
)
from fitcheck.fields import Angle, Force
from fitcheck.naming import hint
from fitcheck.standards.flares import FLARE_NAMES
from fitcheck.standards.fluids import fluid as known_fluid


def _flare(value: Any) -> Any:
    if isinstance(value, str) and value not in FLARE_NAMES:
        raise ValueError(f"{value!r} is no flare{hint(value, FLARE_NAMES)}; known: {', '.join(FLARE_NAMES)}")
    return value


def _fluid(value: Any) -> Any:
    if isinstance(value, str):
        known_fluid(value)
    return value


def _share(value: float) -> float:
    if not 0 <= value <= 1:
        raise ValueError(f"a share lies between 0 and 1, not {value:g}")
    return value


PartId = Annotated[str, Field(pattern=r"^[\w-]+$", description="A part's id in one of the catalogs.")]
NewTag = Annotated[str, BeforeValidator(checked_tag), Field(description="The name of one fitted thing.")]
Ref = Annotated[
    str,
    BeforeValidator(checked_ref),
    Field(
        description="A port or an end: tag, dot, name.",
        json_schema_extra={"pattern": r"^[\w-]+\.[\w-]+$"},
        examples=["caliper_fl.inlet", "front_left.to"],
    ),
]
FlareName = Annotated[
    str,
    BeforeValidator(_flare),
    Field(description="How the tube's end is formed.", json_schema_extra={"enum": list(FLARE_NAMES)}),
]
FluidName = Annotated[str, BeforeValidator(_fluid), Field(description="The fluid.", examples=["DOT 4", "mineral oil"])]


def _said(value: str) -> str:
    if not value.strip():
        raise ValueError("expected a reason in words")
    return value


def _percent(value: float) -> float:
    if not 0 <= value <= 1000:
        raise ValueError(f"expected 0 to 1000 per cent, got {value:g}")
    return value


def _more_than_zero(value: float) -> float:
    if value <= 0:
        raise ValueError(f"expected more than zero, got {value:g}")
    return value


Push = Annotated[Force, AfterValidator(positive)]
Ratio = Annotated[Number, AfterValidator(_more_than_zero)]
Percent = Annotated[Number, AfterValidator(_percent), Field(description="Per cent.")]
Share = Annotated[Number, AfterValidator(_share), Field(description="A share between 0 and 1.")]


class About(Entry):
    """An axis to turn about."""

    what: ClassVar[str] = "an axis"
    point: Point
    axis: Point


class Pose(Entry):
    """One position that a moving body takes."""

    what: ClassVar[str] = "a pose"
    shift: Point | None = Field(None, description="How far the body has moved.")
    turn: Angle | None = Field(None, description="How far it has turned, right-handed about the axis.")
    about: About | None = Field(None, description="The axis it turns about.")

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if (self.turn is None) != (self.about is None):
            raise ValueError("a turn needs an axis to turn about: give both `turn` and `about`")
        return self


class Body(Entry):
    """Something rigid that components are mounted on and that moves against the chassis."""

    what: ClassVar[str] = "a body"
    poses: dict[str, Pose] = Field(default_factory=dict, description="Named positions, such as droop and bump.")
    note: Note = None


class Component(Entry):
    """One fitted part."""

    what: ClassVar[str] = "a component"
    part: PartId
    at: Point | None = Field(None, description="Where it is, in `coordinates` units.")
    on: str | None = Field(None, description="The body it is mounted on; chassis if left out.")
    note: Note = None


class PairJoint(Entry):
    """Two ports brought together, with anything stated about how."""

    what: ClassVar[str] = "a joint"
    ports: list[Ref] = Field(min_length=2, max_length=2, description="The two ports.")
    washers: Count | None = Field(None, description="How many soft washers go in; chosen if left out.")
    note: Note = None


class BanjoJoint(Entry):
    """One port, and the banjo eyes that its bolt clamps."""

    what: ClassVar[str] = "a banjo joint"
    port: Ref
    eyes: list[Ref] = Field(min_length=1, max_length=4, description="The eyes under one bolt.")
    bolt: PartId | None = Field(None, description="The banjo bolt; chosen if left out.")
    washers: Count | None = Field(None, description="How many soft washers go in; chosen if left out.")
    note: Note = None


def _joint_form(value: Any) -> str:
    if isinstance(value, list):
        return "pair"
    if isinstance(value, PairJoint) or (isinstance(value, dict) and "ports" in value):
        return "stated"
    return "banjo"


JointEntry = Annotated[
    Annotated[list[Ref], Field(min_length=2, max_length=2), Tag("pair")]
    | Annotated[PairJoint, Tag("stated")]
    | Annotated[BanjoJoint, Tag("banjo")],
    Discriminator(_joint_form),
]


class LineEnd(Entry):
    """What the builder states about one end of a tube."""

    what: ClassVar[str] = "a line's end"
    flare: FlareName | None = Field(
        None, description="How the tube's end is formed; chosen to suit if left out, checked if stated."
    )
    nut: PartId | None = Field(None, description="The tube nut; chosen if left out.")
    sleeve: PartId | None = Field(None, description="The sleeve of a 37 degree joint; chosen if left out.")
    at: Point | None = Field(None, description="The face this end seals on, if not its component's place.")


class LineEnds(Entry):
    """Both ends of a line."""

    what: ClassVar[str] = "a line's ends"
    from_: LineEnd | None = Field(None, alias="from", description="The end at `from`.")
    to: LineEnd | None = Field(None, description="The end at `to`.")


class Corner(Entry):
    """A corner point with something stated about it."""

    what: ClassVar[str] = "a corner"
    at: Point
    bend: Size | None = Field(None, description="Centre-line radius of the bend here.")
    through: str | None = Field(None, description="The panel hole this point lies in.")


class Leg(Entry):
    """One measured leg, corner to corner, and the bend at its far end."""

    what: ClassVar[str] = "a leg"
    leg: Size
    angle: Angle | None = Field(None, description="Bend at the end of this leg.")
    rotation: Angle | None = Field(None, description="Turn of the bend plane, clockwise seen along the tube.")
    bend: Size | None = Field(None, description="Centre-line radius of that bend.")


def _route_form(value: Any) -> str:
    if isinstance(value, (list, tuple)):
        return "point"
    if isinstance(value, Leg) or (isinstance(value, dict) and "leg" in value):
        return "leg"
    return "corner"


RouteEntry = Annotated[
    Annotated[Point, Tag("point")] | Annotated[Corner, Tag("corner")] | Annotated[Leg, Tag("leg")],
    Discriminator(_route_form),
]


class Line(Entry):
    """One rigid tube run, both ends flared."""

    what: ClassVar[str] = "a line"
    from_: Ref = Field(alias="from")
    to: Ref
    tube: PartId
    route: list[RouteEntry] | None = Field(None, description="Corner points between the ports, or legs.")
    length: Size | None = Field(None, description="Length from seat to seat along the tube.")
    ends: LineEnds | None = Field(None, description="What you state about its two ends.")
    note: Note = None

    @model_validator(mode="after")
    def _one_kind_of_route(self) -> Self:
        legs = sum(isinstance(entry, Leg) for entry in self.route or ())
        if legs and legs != len(self.route or ()):
            raise ValueError("a route is corner points or legs, not both")
        return self


class Hose(Entry):
    """One flexible run."""

    what: ClassVar[str] = "a hose"
    part: PartId
    from_: Ref | None = Field(None, alias="from", description="May be left out where a joint names this end.")
    to: Ref | None = Field(None, description="May be left out where a joint names this end.")
    length: Size | None = Field(None, description="Length to cut, for hose bought by length.")
    note: Note = None


class Circuit(Entry):
    """What the builder intends one pressure outlet to feed."""

    what: ClassVar[str] = "a circuit"
    from_: Ref = Field(alias="from")
    feeds: list[Ref] = Field(description="The ports that must be reached.")
    fluid: FluidName | None = Field(None, description="If this circuit holds another fluid than the rest.")
    note: Note = None


class Heat(Entry):
    """Something hot or moving that lines keep away from."""

    what: ClassVar[str] = "a heat source"
    path: list[Point] = Field(min_length=1, description="Its middle line, point by point.")
    radius: Size | None = Field(None, description="How thick it is, from its path outwards.")
    clearance: Size | None = Field(None, description="How far lines must keep away.")
    on: str | None = Field(None, description="The body it is mounted on.")
    note: Note = None


class Panel(Entry):
    """A sheet that something passes through."""

    what: ClassVar[str] = "a panel"
    hole: Size | None = Field(None, description="Diameter of the hole.")
    thickness: Size | None = Field(None, description="Thickness of the sheet.")
    grommet: PartId | None = Field(None, description="What guards the edge.")
    at: Point | None = Field(None, description="The middle of the hole.")
    note: Note = None


class Pedal(Entry):
    """The driver's side of the pressure."""

    what: ClassVar[str] = "a pedal"
    force: Push | None = Field(None, description="Push of the driver's foot.")
    ratio: Ratio | None = Field(None, description="Pedal ratio.")
    balance: Share | None = Field(None, description="Share of the push that goes to the front master cylinder.")
    note: Note = None


class Acceptance(Entry):
    """A finding looked at and accepted, with the reason."""

    what: ClassVar[str] = "an acceptance"
    rule: str = Field(description="The rule whose finding is accepted.")
    at: str = Field(description="The end, tag or circuit it speaks of.")
    why: Annotated[str, AfterValidator(_said)] = Field(description="Why it is all right here.")


class Spare(Entry):
    """How many more of a kind are bought than the build needs."""

    what: ClassVar[str] = "a rule for spares"
    percent: Percent | None = Field(None, description="So many per cent more, rounded up.")
    plus: Count | None = Field(None, description="So many more of each part of the kind.")


class Spares(Entry):
    """What is bought beyond need. What is left out has the usual: a few washers and nuts, an end that is spoiled."""

    what: ClassVar[str] = "the spares"
    kinds: dict[Kind, Spare] = Field(default_factory=dict, description="By kind of part, such as washer or nut.")
    ends_per_spoiled: Count | None = Field(
        None, description="One flared end in so many is spoiled and its tube cut again; 0 for none."
    )


class Clips(Entry):
    """Clips along the lines."""

    what: ClassVar[str] = "the clips"
    part: PartId | None = Field(None, description="The clip; chosen by the tube if left out.")
    spacing: Size | None = Field(None, description="From one clip to the next along the line.")


class FluidToBuy(Entry):
    """The fluid to fill, bleed and flush with."""

    what: ClassVar[str] = "the fluid to buy"
    part: PartId | None = Field(None, description="The fluid; chosen by `fluid` if left out.")
    volume: Amount | None = Field(None, description="How much in all; computed if left out.")
    fills: Ratio | None = Field(None, description="How many times what the system holds, for bleeding and flushing.")


class Consumable(Entry):
    """Something that the work uses up."""

    what: ClassVar[str] = "a consumable"
    part: PartId | None = Field(None, description="The part; chosen if left out.")
    quantity: Count | None = Field(None, description="How many; counted from the build if left out, 0 for none.")


class Consumables(Entry):
    """What the work uses up. Whatever is left out is counted from the build."""

    what: ClassVar[str] = "the consumables"
    clips: Clips | None = Field(None, description="Clips along the lines.")
    fluid: FluidToBuy | None = Field(None, description="Fluid to fill, bleed and flush with.")
    sealant: Consumable | None = Field(None, description="Sealant for taper threads.")
    caps: Consumable | None = Field(None, description="Caps that keep open ends clean while the car is plumbed.")


class Variant(SectionedEntry):
    """A named what-if."""

    what: ClassVar[str] = "a variant"
    note: Note = None
    swap: dict[str, PartId] = Field(default_factory=dict, description="Tag to the part fitted instead.")
    set: dict[str, Any] = Field(default_factory=dict, description="Dotted path to its new value.")
    add: dict[str, Any] = Field(default_factory=dict, description="Sections with what comes on top.")
    drop: list[str] = Field(default_factory=list, description="Dotted paths of what goes.")


class BuildFile(SectionedEntry):
    """A build: one vehicle's fluid system, as its file states it."""

    what: ClassVar[str] = "a build"
    build: Version
    name: str = Field("unnamed", description="What you call the car.")
    note: Note = None
    fluid: FluidName | None = Field(None, description="What it is filled with; a circuit may hold another.")
    coordinates: Literal["mm", "cm", "m", "in"] = Field("mm", description="Unit of bare numbers in points.")
    catalogs: list[str] = Field(default_factory=list, description="Catalog files, searched first to last.")
    offers: list[str] = Field(default_factory=list, description="Files of suppliers' offers.")
    stock: str | None = Field(None, description="File of what is on the shelf.")
    bodies: dict[NewTag, Body] = Field(
        default_factory=dict, description="What components are mounted on and moves; `chassis` always exists."
    )
    components: dict[NewTag, Component] = Field(default_factory=dict, description="The fitted parts, by tag.")
    joints: list[JointEntry] = Field(default_factory=list, description="Ports brought together.")
    lines: dict[NewTag, Line] = Field(default_factory=dict, description="Rigid tube runs, by tag.")
    hoses: dict[NewTag, Hose] = Field(default_factory=dict, description="Flexible runs, by tag.")
    circuits: dict[NewTag, Circuit] = Field(
        default_factory=dict, description="What you intend each outlet to feed; checked against what is connected."
    )
    heat: dict[NewTag, Heat] = Field(
        default_factory=dict, description="Hot or moving things that lines keep away from."
    )
    panels: dict[NewTag, Panel] = Field(default_factory=dict, description="Holes that something passes through.")
    pedal: Pedal | None = Field(None, description="The driver's side: unlocks pressure and stroke.")
    spares: Spares | None = Field(None, description="What is bought beyond need; a few of what gets lost if left out.")
    consumables: Consumables | None = Field(None, description="Clips, fluid, sealant, caps; counted if left out.")
    accept: list[Acceptance] = Field(default_factory=list, description="Findings looked at and accepted.")
    variants: dict[NewTag, Variant] = Field(default_factory=dict, description="Named what-ifs.")

"""Models of the build file, key by key. Positions and routes are kept as written, in `coordinates` units."""

from collections.abc import Iterable
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import (
    AfterValidator,
    Discriminator,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    Tag,
    model_validator,
)
from pydantic_core import CoreSchema, core_schema

from fitcheck.build.driving import Brake, Car, ClutchPedal, Pedal
from fitcheck.build.supplies import Consumables, Spares
from fitcheck.build.terms import FlareName, FluidName, NewTag, PartId, Ref, said
from fitcheck.build.tools import Tools
from fitcheck.build.words import EXAMPLE, MOST_CHARACTERS, Way, read_words
from fitcheck.catalog.entries import Count, Entry, Note, Point, SectionedEntry, Size, Version
from fitcheck.fields import Angle
from fitcheck.quantities import Quantity


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
    formed: bool | None = Field(
        None,
        description="This end is flared already, with its nut and sleeve on the tube behind it: a ready-made line.",
    )
    across: Size | None = Field(
        None, description="The largest diameter of nut, sleeve and formed end, as measured: it has to pass holes."
    )


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
    angle: Angle | None = Field(None, description="Bend at the end of this leg; 180 deg is a U.")
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


class RouteWords(tuple[Leg, ...]):
    """A route told in words, as the legs that it means; `text` is what the file says.

    `ways` are the directions of its legs in the axes of the car, empty if no heading is stated.
    """

    text: str
    ways: tuple[Way, ...]

    def __new__(cls, legs: Iterable[Leg] = (), text: str = "", ways: tuple[Way, ...] = ()) -> Self:
        """Make a route of legs that are known already."""
        self = super().__new__(cls, legs)
        self.text, self.ways = text, ways
        return self

    @classmethod
    def read(cls, value: Any) -> Self:
        """Return the route that a text tells.

        Raises:
            WordError: it cannot be read.
        """
        if isinstance(value, cls):
            return value
        told = read_words(value)
        turns = [Quantity(deg, f"{deg:.6g} deg") if (deg := each.rotation_deg) is not None else None for each in told]
        legs = (
            Leg(leg=each.length, angle=each.angle, rotation=turn, bend=each.radius)
            for each, turn in zip(told, turns, strict=True)
        )
        return cls(legs, value, tuple(each.way for each in told if each.way is not None))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, RouteWords) and self.text == other.text

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(self.text)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        write = core_schema.plain_serializer_function_ser_schema(lambda value: value.text, when_used="json")
        return core_schema.no_info_plain_validator_function(cls.read, serialization=write)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        words = "a route told at the car: runs, and turns towards a direction, with commas between"
        return {"type": "string", "description": words, "maxLength": MOST_CHARACTERS, "examples": [EXAMPLE]}


def _told_how(value: Any) -> str:
    return "words" if isinstance(value, (str, RouteWords)) else "entries"


Route = Annotated[
    Annotated[list[RouteEntry], Tag("entries")] | Annotated[RouteWords, Tag("words")], Discriminator(_told_how)
]


class Line(Entry):
    """One rigid tube run, both ends flared."""

    what: ClassVar[str] = "a line"
    from_: Ref = Field(alias="from")
    to: Ref
    tube: PartId
    route: Route | None = Field(None, description="Corner points between the ports, or legs, or one text in words.")
    length: Size | None = Field(None, description="Length from seat to seat along the tube.")
    bender: str | None = Field(None, description="The bender it is bent with: a name in `tools.benders`.")
    ends: LineEnds | None = Field(None, description="What you state about its two ends.")
    slides: list[PartId] = Field(
        default_factory=list,
        description="What rides on the tube and has to be on before its second flare, in order from `from`.",
    )
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
    material: str | None = Field(None, description="Metal of the sheet, such as mild steel or aluminium.")
    grommet: PartId | None = Field(None, description="What guards the edge.")
    at: Point | None = Field(None, description="The middle of the hole.")
    note: Note = None


class Acceptance(Entry):
    """A finding looked at and accepted, with the reason."""

    what: ClassVar[str] = "an acceptance"
    rule: str = Field(description="The rule whose finding is accepted.")
    at: str = Field(description="The end, tag or circuit it speaks of.")
    why: Annotated[str, AfterValidator(said)] = Field(description="Why it is all right here.")


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
    clutch: ClutchPedal | None = Field(None, description="The clutch pedal: unlocks its pressure and stroke.")
    brakes: dict[NewTag, Brake] = Field(
        default_factory=dict, description="Brakes by the tag of their caliper or wheel cylinder: unlocks torque."
    )
    car: Car | None = Field(None, description="The car: unlocks deceleration and balance.")
    tools: Tools | None = Field(None, description="What lines are made with.")
    spares: Spares | None = Field(None, description="What is bought beyond need; a few of what gets lost if left out.")
    consumables: Consumables | None = Field(None, description="Clips, fluid, sealant, caps; counted if left out.")
    accept: list[Acceptance] = Field(default_factory=list, description="Findings looked at and accepted.")
    variants: dict[NewTag, Variant] = Field(default_factory=dict, description="Named what-ifs.")

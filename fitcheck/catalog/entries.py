"""Models of the catalog file: what users write, checked key by key.

Ports are given by name, so that a joint can say `tee_front.left`. Every refusal carries its own sentence;
`fitcheck.validation` adds file, line and column.
"""

from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    WithJsonSchema,
    model_validator,
)

from fitcheck.catalog.part import CONSUMERS, KINDS, SCREWED, Part, part_from_row
from fitcheck.fields import Give, Length, Mass, Pressure, Swelling, Volume
from fitcheck.naming import hint
from fitcheck.quantities import Quantity
from fitcheck.standards.fluids import rubber as known_rubber
from fitcheck.standards.materials import material as known_material
from fitcheck.standards.seats import SEAT_NAMES
from fitcheck.standards.threads import limits
from fitcheck.standards.threads import parse as parse_thread

_GENDERS = {"external": "external", "internal": "internal", "male": "external", "female": "internal"}


class Entry(BaseModel):
    """Base of every record that users write: unknown keys are refused, values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True, populate_by_name=False)
    what: ClassVar[str] = "an entry"


class SectionedEntry(Entry):
    """Base of whole files and others with sections: a section with nothing under it is an empty one."""

    @model_validator(mode="before")
    @classmethod
    def _empty_sections(cls, data: Any) -> Any:
        if not isinstance(data, dict) or None not in data.values():
            return data
        return {key: value for key, value in data.items() if value is not None or key not in cls.model_fields}


def _one_of(what: str, known: tuple[str, ...]) -> BeforeValidator:
    def check(value: Any) -> Any:
        if isinstance(value, str) and value not in known:
            raise ValueError(f"{value!r} is no {what}{hint(value, known)}; known: {', '.join(known)}")
        return value

    return BeforeValidator(check)


def _gender(value: Any) -> Any:
    if isinstance(value, str) and value.lower() not in _GENDERS:
        raise ValueError(f"{value!r} is no gender; write external or internal")
    return _GENDERS[value.lower()] if isinstance(value, str) else value


def _bleeder(value: str) -> str:
    """Return `none` or the thread of a bleed screw; any other word could be taken for either."""
    if value.strip().lower() == "none":
        return "none"
    try:
        parse_thread(value)
    except ValueError as error:
        raise ValueError(f"expected the thread of the bleed screw, such as M8x1.25, or none; {error}") from None
    return value


def _thread(value: str) -> str:
    limits(parse_thread(value))  # a class without table limits must not wait for a check to be found
    return value


def positive(value: Quantity) -> Quantity:
    """Return a quantity that is nothing if it is not more than zero.

    Raises:
        ValueError: it is zero or less.
    """
    if value <= 0:
        raise ValueError(f"expected more than zero, got {value.text!r}")
    return value


def _number(value: str) -> float:
    from fitcheck.quantities import plain_number

    return plain_number(value)


def _count(value: Any) -> Any:
    if isinstance(value, str) and not (value.isascii() and value.isdigit() and len(value) <= 3):
        raise ValueError(f"expected a whole number from 0 to 999, got {value!r}")
    return int(value) if isinstance(value, str) else value


def _some(value: int) -> int:
    if value < 1:
        raise ValueError("expected at least 1; a part without says `bleeder: none`")
    return value


def _rubber(value: str) -> str:
    known_rubber(value)
    return value


def _share_of_rise(value: float) -> float:
    if not 0 <= value <= 1:
        raise ValueError(f"a slope lies between 0 and 1, not {value:g}")
    return value


Size = Annotated[Length, AfterValidator(positive)]
Amount = Annotated[Volume, AfterValidator(positive)]
Weight = Annotated[Mass, AfterValidator(positive)]
Rating = Annotated[Pressure, AfterValidator(positive)]
"""Quantities that are nothing to a part if they are not more than zero."""
Count = Annotated[int, BeforeValidator(_count), WithJsonSchema({"type": "integer", "minimum": 0})]
Version = Annotated[Literal["1"], WithJsonSchema({"const": 1, "description": "Version of this file format; always 1."})]
Note = Annotated[str | None, Field(description="Anything worth remembering; no rule reads it.")]
Kind = Annotated[
    str,
    _one_of("kind of part", KINDS),
    Field(description="What the part is.", json_schema_extra={"enum": list(KINDS)}),
]
SeatName = Annotated[
    str,
    _one_of("seat", SEAT_NAMES),
    Field(description="The sealing form of the port.", json_schema_extra={"enum": list(SEAT_NAMES)}),
]
Gender = Annotated[
    Literal["external", "internal"],
    BeforeValidator(_gender),
    WithJsonSchema(
        {"enum": list(_GENDERS), "description": "Which side of the thread: external (male) or internal (female)."}
    ),
]
Designation = Annotated[
    str,
    AfterValidator(_thread),
    Field(description="A thread designation.", examples=["3/8-24 UNF", "M10x1", "1/8-27 NPT"]),
]
Name = Annotated[str, Field(pattern=r"^[\w-]+$", description="A name of letters, digits, _ and -.")]
Family = Annotated[
    str,
    _one_of("fluid family", ("glycol", "silicone", "mineral")),
    Field(json_schema_extra={"enum": ["glycol", "silicone", "mineral"]}),
]
Number = Annotated[
    float,
    BeforeValidator(lambda value: _number(value) if isinstance(value, str) else value),
    Field(description="A plain number.", json_schema_extra={"type": ["number", "string"]}),
]
Point = Annotated[
    tuple[Number, Number, Number],
    Field(description="x forward, y left, z up (ISO 8855), in the unit that `coordinates` names."),
]


class PortEntry(Entry):
    """One opening of a part."""

    what: ClassVar[str] = "a port"
    same_as: Name | None = Field(None, alias="same as", description="Copy every key from this port first.")
    thread: Designation | None = Field(None, description="The thread, as people write it: 3/8-24 UNF, M10x1.")
    gender: Gender | None = Field(None, description="external (male) or internal (female).")
    seat: SeatName | None = Field(None, description="How it seals.")
    tube: Size | None = Field(None, description="Outside diameter of the tube this port is made for.")
    hose: Size | None = Field(None, description="Bore of the hose that pushes on here.")
    eye: Size | None = Field(None, description="Hole of a banjo eye: this port is an eye.")
    depth: Size | None = Field(None, description="Usable thread depth of an internal thread.")
    length: Size | None = Field(None, description="Usable thread length of an external thread.")
    pattern: str | None = Field(None, description="Mounting pattern; makes this a mechanical port.")
    reach: Size | None = Field(None, description="How far a rod reaches, or must reach; makes this a mechanical port.")
    offset: Annotated[list[Length], Field(min_length=3, max_length=3)] | None = Field(
        None, description="Where the port's face stands from the part's own origin: x, y, z with units."
    )


class PanelEntry(Entry):
    """What a bulkhead part needs of its panel."""

    what: ClassVar[str] = "a panel"
    hole: Size | None = Field(None, description="Hole to drill.")
    grip: Size | None = Field(None, description="Thickest panel it can clamp.")


class SwellingEntry(Entry):
    """How much a hose swells at one pressure."""

    what: ClassVar[str] = "a swelling"
    at: Rating = Field(description="The pressure.")
    swelling: Annotated[Swelling, AfterValidator(positive)] = Field(description="Volume for each length of free hose.")


class PartEntry(Entry):
    """One part that can be bought."""

    what: ClassVar[str] = "a part"
    kind: Kind
    description: str = Field("", description="One line that the shop would recognise.")
    ports: dict[Name, PortEntry] = Field(default_factory=dict, description="Its openings, by name.")
    passages: list[list[Name]] | None = Field(
        None, description="Groups of ports that share fluid; all fluid ports are one group if left out."
    )
    outlets: list[Name] | None = Field(None, description="Ports where pressure is made: each begins a circuit.")
    feeds: list[Name] | None = Field(None, description="Ports that must be fed from a reservoir.")
    ends: list[Name] | None = Field(None, description="Ports that are rightly the end of the road.")
    bleeder: Annotated[str, AfterValidator(_bleeder)] | None = Field(
        None, description="Thread of its bleed screw, or `none`."
    )
    bleed_screws: Annotated[Count, AfterValidator(_some)] | None = Field(
        None, description="How many bleed screws it has; 1 if left out."
    )
    bleeder_at: Annotated[list[Length], Field(min_length=3, max_length=3)] | None = Field(
        None, description="Where its highest bleed screw stands from the part's own origin, as fitted: x, y, z."
    )
    side: Literal["left", "right"] | None = Field(None, description="The side of the car that a caliper is made for.")
    note: Note = None
    one_way: Annotated[list[Name], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Inlet and outlet of a part that passes or meters one way only."
    )
    volume: Amount | None = Field(None, description="Fluid it holds.")
    reservoir_volume: Amount | None = Field(
        None, description="Usable volume of a reservoir, or of one built into a master cylinder."
    )
    displacement: Amount | None = Field(
        None, description="Fluid taken by all its pistons from new linings to fully worn."
    )
    bore: Size | None = Field(None, description="Piston diameter.")
    stroke: Size | None = Field(None, description="Full travel of the piston.")
    chambers: list[Size] | None = Field(
        None, description="Travel of each outlet's chamber of a tandem master cylinder, in the order of `outlets`."
    )
    cut_off: Size | None = Field(None, description="Travel before a master cylinder's feed is shut off.")
    pistons: list[Size] | None = Field(None, description="Diameters of all pistons of a caliper or wheel cylinder.")
    style: Literal["fixed", "floating"] | None = Field(
        None, description="Whether a caliper has pistons on both sides of the disc, or floats."
    )
    give: Annotated[Give, AfterValidator(positive)] | None = Field(
        None, description="How much more fluid it takes as pressure bends it, pads and seals included."
    )
    expansion: list[SwellingEntry] | None = Field(None, description="How much a hose swells, as its maker says.")
    expansion_limit: Literal["regular", "low"] | None = Field(
        None, description="The limits of 49 CFR 571.106 that a hose is made to."
    )
    rubber: list[Annotated[str, AfterValidator(_rubber)]] | None = Field(
        None, description="Seals and liner, by material, such as EPDM or PTFE."
    )
    mass: Weight | None = Field(None, description="What it weighs, for shipping.")
    panel: PanelEntry | None = Field(None, description="What a bulkhead part needs of its panel.")
    fluid_families: list[Family] | None = Field(None, description="Fluids that its rubber stands.")
    equivalent_to: list[str] | None = Field(None, description="Parts that can stand in for it.")
    material: str | None = Field(None, description="What it is made of; for tube one of the known materials.")
    max_pressure: Rating | None = Field(None, description="Highest working pressure.")
    setting: Rating | None = Field(
        None, description="Pressure that a residual valve holds back, or above which a proportioning valve meters."
    )
    slope: Annotated[Number, AfterValidator(_share_of_rise)] | None = Field(
        None, description="What a proportioning valve lets on of each rise of pressure above its setting."
    )
    burst: Rating | None = Field(None, description="Pressure that it bursts at, as its maker says.")
    od: Size | None = Field(None, description="Outside diameter of a tube.")
    wall: Size | None = Field(None, description="Wall of a tube.")
    length: Size | None = Field(
        None, description="Free length of a hose, stock length of a tube, or length of a nut or guard."
    )
    bend_radius: Size | None = Field(None, description="Smallest centre-line radius.")
    inside: Size | None = Field(None, description="Bore of a washer, hose, clip, grommet, nut or guard.")
    outside: Size | None = Field(
        None, description="Outside diameter of a washer or grommet; across the corners of a nut."
    )
    thickness: Size | None = Field(None, description="Thickness of a washer.")
    eyes: Count | None = Field(None, description="How many eyes a banjo bolt is long enough for.")
    for_hose: Size | None = Field(None, description="Bore of the hose that a hose clip is for.")
    source: str | None = Field(None, description="Where the figures come from.")

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        names = set(self.ports)
        for key in ("outlets", "feeds", "ends", "one_way"):
            for name in getattr(self, key) or ():
                _known_port(key, name, names)
        for group in self.passages or ():
            for name in group:
                _known_port("passages", name, names)
        if self.chambers is not None and len(self.chambers) != len(self.outlets or ()):
            raise ValueError(f"expected in chambers one travel for each outlet, got {len(self.chambers)}")
        self._check_kind()
        self.resolved_ports()
        return self

    def _check_kind(self) -> None:
        if self.kind in ("hose", "feed hose") and set(self.ports) != {"from", "to"}:
            raise ValueError(f"a {self.kind} has exactly two ports, named from and to")
        if self.kind == "tube" and (self.od is None or self.wall is None):
            raise ValueError("a tube needs od and wall")
        if self.od is not None and self.wall is not None and 2 * self.wall >= self.od:
            raise ValueError(f"a wall of {self.wall.text} leaves no bore in {self.od.text}")
        if self.kind == "tube" and self.material is not None:
            known_material(self.material)
        if self.kind == "master cylinder" and not self.outlets:
            raise ValueError("a master cylinder needs outlets: the ports where pressure is made")
        if self.kind in CONSUMERS and not self.ports:
            raise ValueError(f"a {self.kind} needs at least one port")
        if self.kind in SCREWED and not self.ports:
            raise ValueError(f"a {self.kind} needs a port: what it goes into, by thread, gender, seat and tube")

    def resolved_ports(self) -> dict[str, dict[str, Any]]:
        """Return each port's own keys laid over those of the port it is `same as`.

        Raises:
            ValueError: a `same as` names no port of this part, or names in a circle.
        """
        return {name: self._resolve(name, ()) for name in self.ports}

    def _resolve(self, name: str, seen: tuple[str, ...]) -> dict[str, Any]:
        entry = self.ports[name]
        own = {key: value for key, value in entry if value is not None and key != "same_as"}
        if entry.same_as is None:
            return own
        if entry.same_as in (*seen, name):
            raise ValueError(f"port {name} is the same as itself, by way of {entry.same_as}")
        if entry.same_as not in self.ports:
            raise ValueError(f"port {name} is the same as {entry.same_as}, which this part lacks")
        return self._resolve(entry.same_as, (*seen, name)) | own

    def to_part(self, part_id: str, catalog: str) -> Part:
        """Return the record that the rest of the program works with."""
        row = {key: value for key, value in self if value is not None and key not in ("ports", "panel")}
        row["ports"] = self.resolved_ports()
        if self.expansion is not None:
            row["expansion"] = [(entry.at, entry.swelling) for entry in self.expansion]
        if self.panel is not None:
            row["panel"] = {"hole": self.panel.hole, "grip": self.panel.grip}
        return part_from_row(part_id, row, catalog)


def _known_port(key: str, name: str, names: set[str]) -> None:
    if name not in names:
        raise ValueError(f"{key} names {name!r}, which is no port of this part{hint(name, names)}")


class CatalogFile(SectionedEntry):
    """A catalog file: parts that can be bought, by id."""

    what: ClassVar[str] = "a catalog file"
    catalog: Version
    note: Note = None
    parts: dict[Name, PartEntry] = Field(description="The parts, by id.")

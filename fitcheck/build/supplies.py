"""Models of what is bought beyond the bill: spares, and what the work uses up."""

from typing import Annotated, ClassVar, Self

from pydantic import AfterValidator, Field, model_validator

from fitcheck.build.terms import PartId, Percent, Ratio
from fitcheck.catalog.entries import Amount, Count, Entry, Kind, Size
from fitcheck.standards.threads import parse as parse_thread


def _thread(value: str | None) -> str | None:
    if value is not None:
        parse_thread(value)
    return value


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


class ClipHole(Entry):
    """How clips are fixed to the car: into a tapped hole, by a screw through a plain one, or pushed into one."""

    what: ClassVar[str] = "how clips are fixed"
    thread: Annotated[str | None, AfterValidator(_thread)] = Field(
        None, description="Thread of the tapped hole that a clip is screwed into."
    )
    screw: Annotated[str | None, AfterValidator(_thread)] = Field(
        None, description="Thread of the screw that goes through a plain hole, with a nut behind it."
    )
    hole: Size | None = Field(None, description="Diameter of the plain hole that a clip is pushed into.")
    material: str | None = Field(None, description="The metal that is drilled, such as mild steel or aluminium.")
    thickness: Size | None = Field(None, description="Thickness of that metal.")

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if sum(way is not None for way in (self.thread, self.screw, self.hole)) > 1:
            raise ValueError("a clip is fixed in one way: give one of `thread`, `screw` and `hole`")
        return self


class Clips(Entry):
    """Clips along the lines."""

    what: ClassVar[str] = "the clips"
    part: PartId | None = Field(None, description="The clip; chosen by the tube if left out.")
    spacing: Size | None = Field(None, description="From one clip to the next along the line.")
    fixed: ClipHole | None = Field(None, description="How they are fixed; screwed into holes tapped M5 if left out.")


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

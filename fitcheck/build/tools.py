"""Models of the tools that lines are made with: benders, the flaring tool, what is trimmed."""

from typing import Annotated, ClassVar, Final, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from fitcheck.build.terms import Ratio
from fitcheck.catalog.entries import Entry, Note, Size
from fitcheck.fields import Angle, Length
from fitcheck.quantities import Quantity

MOST_SPRINGBACK_DEG: Final = 45.0
"""No tube springs back by so much of 90 deg in a hand bender: common practice, no source."""


def _springs(angle: Quantity) -> Quantity:
    """Return the springback of a bend of 90 deg, if it can be one."""
    if not 0.0 <= angle < MOST_SPRINGBACK_DEG:
        raise ValueError(f"expected from 0 to less than {MOST_SPRINGBACK_DEG:g} deg, got {angle.text!r}")
    return angle


class TestBend(Entry):
    """One bend made to measure a bender: the tube before, and both legs after, outside to outside."""

    what: ClassVar[str] = "a test bend"
    __test__ = False
    cut: Size = Field(description="Length of the straight tube before it was bent.")
    legs: list[Size] = Field(
        min_length=2, max_length=2, description="From each end to the back of the other leg, after the bend."
    )
    od: Size = Field(description="Outside diameter of the tube.")
    angle: Angle | None = Field(None, description="What the bend came to; 90 deg if left out.")
    mark: Size | None = Field(None, description="Where the mark was, from the end that `legs` begins with.")


class Bender(Entry):
    """A hand bender."""

    what: ClassVar[str] = "a bender"
    radius: Size | None = Field(None, description="Centre-line radius of its bends; solved from `test_bend`.")
    tubes: list[Size] = Field(default_factory=list, description="Outside diameters that it takes; any if left out.")
    clamp: Size | None = Field(None, description="Straight tube that it must hold before a bend.")
    between: Size | None = Field(None, description="Smallest straight that it can leave between two bends.")
    marks: Literal["start", "corner", "middle"] = Field(
        "start", description="What is marked on the tube: where the bend starts, its sharp corner, or its middle."
    )
    offset: Length | None = Field(
        None, description="From the mark to the tool's own line, towards the end measured from; solved if left out."
    )
    springback: dict[str, Annotated[Angle, AfterValidator(_springs)]] = Field(
        default_factory=dict, description="How much further than 90 deg to pull, by tube material."
    )
    test_bend: TestBend | None = Field(None, description="A bend made to measure the tool.")
    note: Note = None

    @model_validator(mode="after")
    def _known(self) -> Self:
        if self.radius is None and self.test_bend is None:
            raise ValueError("a bender needs radius, or a test_bend to solve it from")
        return self


class Flaring(Entry):
    """The flaring tool."""

    what: ClassVar[str] = "the flaring tool"
    grip: Size | None = Field(None, description="Straight tube that it needs behind the end, nut pushed back.")
    note: Note = None


class Drills(Entry):
    """What holes are drilled with."""

    what: ClassVar[str] = "the drills"
    kind: Literal["HSS", "cobalt", "carbide", "carbon steel"] | None = Field(
        None, description="What the drills are made of; HSS if left out."
    )
    largest: Size | None = Field(None, description="The largest twist drill that there is, or that the chuck holds.")
    speeds: list[Ratio] = Field(
        default_factory=list, max_length=50, description="Speeds of the drilling machine, in turns a minute."
    )
    note: Note = None


class Tools(Entry):
    """What lines and their holes are made with."""

    what: ClassVar[str] = "the tools"
    benders: dict[str, Bender] = Field(default_factory=dict, description="Benders, by name.")
    flaring: Flaring | None = Field(None, description="The flaring tool.")
    drills: Drills | None = Field(None, description="What holes are drilled with.")
    trim: Size | None = Field(None, description="What is cut off each end to make it square.")

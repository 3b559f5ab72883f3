"""What can be asked: the request of each question, checked before any work is done, and documented from here."""

from typing import Annotated, Final, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from fitcheck.files import plain_name
from fitcheck.service.settings import DEFAULT_BUILD, MOST_BODY

MOST_FILES: Final = 64
MOST_WORDS: Final = 200


def _inside(name: str) -> str:
    if plain_name(name) is None:
        raise ValueError("expected the path of a file below the build's folder")
    return name


FileName = Annotated[str, Field(min_length=1, max_length=400, examples=["house_parts.yaml"]), AfterValidator(_inside)]
Text = Annotated[str, Field(max_length=MOST_BODY)]
Word = Annotated[str, Field(min_length=1, max_length=MOST_WORDS)]
Tag = Annotated[str, Field(min_length=1, max_length=400)]


class Asked(BaseModel):
    """Anything that is asked. Keys that nobody knows are refused."""

    model_config = ConfigDict(extra="forbid")


class Posted(Asked):
    """A build and the files it names, as texts: nothing is read from the server's disk."""

    build: Text = Field(
        description="The text of the build file.",
        examples=["build: 1\nname: Wren\ncomponents:\n  mc: {part: mc-3-8-24-inverted}\n"],
    )
    name: FileName = Field(DEFAULT_BUILD, description="What the build file is called in the answer.")
    files: dict[FileName, Text] = Field(
        default_factory=dict,
        max_length=MOST_FILES,
        description="The texts of the catalog, offer and stock files that the build names, by their names.",
    )
    variant: Word | None = Field(None, description="The variant of the build to apply first.")


class MaybePosted(Posted):
    """As Posted; without a build the question is of the generic catalog alone."""

    build: Text | None = Field(None, description="The text of the build file, if the question is about one.")  # type: ignore[assignment]


class Served(Asked):
    """A build of the served folder."""

    path: FileName | None = Field(None, description="The build file in the served folder; the served one if left out.")
    variant: Word | None = Field(None, description="The variant of the build to apply first.")


class Options(Asked):
    """What a question takes besides the build."""


class CheckOptions(Options):
    """How to check."""

    remedies: Literal["none", "first", "all"] = Field("first", description="How many remedies each finding carries.")


class BomOptions(Options):
    """How to make the bill."""

    with_remedies: bool = Field(False, description="Of the build with its best remedies in it.")


class SwapOptions(Options):
    """What to exchange."""

    swaps: dict[Tag, Word] = Field(
        min_length=1, max_length=MOST_WORDS, description="Part ids by tag.", examples=[{"mc": "mc-m10x1-bubble"}]
    )
    on: Word | None = Field(None, description="When orders would go out, as 2026-12-01 or 2026-12-01T15:30; now.")
    text: bool = Field(False, description="Also the text of the changed build file, comments kept, as `text`.")


class ReplacementsOptions(Options):
    """What to replace."""

    tag: Tag = Field(description="The component, line or hose that could be replaced.", examples=["mc"])
    most: int = Field(10, ge=1, le=1000, description="List at most so many.")


class BridgeOptions(Options):
    """What to join."""

    first: Word = Field(description="An end of the build or words for one.", examples=["M10x1 internal bubble 4.75 mm"])
    second: Word = Field(description="The other end.", examples=["1/8 NPT female"])
    most: int = Field(3, ge=1, le=100, description="Show at most so many chains.")
    longest: int = Field(4, ge=1, le=8, description="At most so many adapters in a chain.")
    pressure: Word | None = Field(None, description="Refuse what is rated below this.", examples=["10 MPa"])
    fluid: Word | None = Field(None, description="Refuse what is made for others; the build's fluid if left out.")
    explain: bool = Field(False, description="Also what was refused and would stand before these.")


class CureOptions(Options):
    """What to cure."""

    only: list[Tag] = Field(default_factory=list, max_length=MOST_WORDS, description="Only what speaks of these tags.")
    text: bool = Field(False, description="Also the text of the cured build file, comments kept, as `text`.")


class OrderOptions(Options):
    """What to plan the purchase for."""

    aim: Literal["cheapest", "soonest", "trade-off"] = Field("cheapest", description="What the plan is to be.")
    by: Word | None = Field(None, description="Of the cheapest: everything has to be here by this day.")
    on: Word | None = Field(None, description="When orders go out, as 2026-12-01 or 2026-12-01T15:30; now.")
    currency: Word | None = Field(None, description="Of the sum; that of most prices if left out.")
    exact_parts: bool = Field(False, description="Nothing that stands in for another part.")
    spares: bool = Field(True, description="What may be lost or spoilt in the work is bought in reserve.")
    consumables: bool = Field(True, description="Clips, fluid, sealant and caps too.")
    kerf: Word | None = Field(None, description="What each cut takes away.", examples=["1 mm"])
    seconds: float = Field(10.0, gt=0, le=20, allow_inf_nan=False, description="How long to search.")
    with_remedies: bool = Field(False, description="For the build with its best remedies in it.")


class MakeOptions(Options):
    """What to make."""

    lines: list[Tag] = Field(default_factory=list, max_length=MOST_WORDS, description="These lines and hoses only.")
    holes: bool = Field(False, description="The hole schedule alone.")


class DrawOptions(Options):
    """What to draw."""

    view: Literal["circuit", "plan", "side", "front", "all"] = Field("circuit", description="What is drawn.")
    theme: Literal["auto", "light", "dark"] = Field("auto", description="The paper; auto follows the reader's.")
    findings: bool = Field(True, description="Whether the build is checked and the findings are marked.")


class PedalOptions(Options):
    """How the pedal is pressed."""

    force: Word | None = Field(None, description="Push of the foot; the build's if left out.", examples=["450 N"])
    against: Word | None = Field(None, description="Side by side with this variant of the build.")


class BleedOptions(Options):
    """What to bleed."""

    circuits: list[Tag] = Field(default_factory=list, max_length=MOST_WORDS, description="These circuits only.")
    on: Word | None = Field(None, description="When fluid is ordered, as 2026-12-01; now.")


class ThreadOptions(Options):
    """Which threads."""

    thread: Word = Field(description="A thread designation.", examples=["3/8-24 UNF"])
    into: Word | None = Field(None, description="The internal thread it is screwed into.", examples=["M10x1"])
    reverse: bool = Field(False, description="Also the other way round.")
    explain: bool = Field(False, description="Also the source of each figure.")
    engagement: Word | None = Field(None, description="The length of engagement.", examples=["8 mm"])


class IdentifyOptions(Options):
    """What was measured: `od` of an external thread or `bore` of an internal one."""

    od: Word | None = Field(None, description="Diameter over the crests.", examples=["9.4 mm"])
    bore: Word | None = Field(None, description="Diameter across the crests.")
    pitch: Word = Field(description="By pitch gauge, or turns over a length.", examples=["24tpi", "10 in 10.6mm"])
    tube: Word | None = Field(None, description="Outside diameter of the tube that the fitting takes.")


class SearchOptions(Options):
    """Which parts."""

    words: list[Word] = Field(default_factory=list, max_length=20, examples=[["tee", "3/16"]])
    kind: Word | None = Field(None, description="Only parts of this kind.", examples=["tee"])
    thread: Word | None = Field(None, description="With a port of this thread.", examples=["M10x1"])
    seat: Word | None = Field(None, description="With a port of this seat.", examples=["bubble"])
    tube: Word | None = Field(None, description="With a port for tube of this outside diameter.", examples=["3/16 in"])
    most: int = Field(20, ge=1, le=1000, description="Show at most so many.")


class PartOptions(Options):
    """Which part."""

    part: Tag = Field(description="The id of a part.", examples=["tee-3-16-inverted"])

"""Models of what drives and what is driven: pedals, brakes at the wheels, the car. They unlock pressure and stroke."""

from typing import Annotated, ClassVar, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from fitcheck.build.terms import Push, Ratio, RuleName, Share
from fitcheck.catalog.entries import Entry, Note, Number, Size, Weight
from fitcheck.fields import Length
from fitcheck.quantities import Quantity


def _not_negative(value: Quantity) -> Quantity:
    if value < 0:
        raise ValueError(f"expected zero or more, got {value.text!r}")
    return value


def _under_one(value: float) -> float:
    if not 0 < value <= 1:
        raise ValueError(f"expected more than 0 and at most 1, got {value:g}")
    return value


Gap = Annotated[Length, AfterValidator(_not_negative)]
Efficiency = Annotated[Number, AfterValidator(_under_one), Field(description="A share over 0, at most 1.")]


class BalanceBar(Entry):
    """A balance bar: where its pivot stands between the two rods."""

    what: ClassVar[str] = "a balance bar"
    front: Size = Field(description="From the pivot to the rod of the front master cylinder.")
    rear: Size = Field(description="From the pivot to the rod of the rear master cylinder.")
    adjust: Size | None = Field(None, description="How far the pivot can be moved to either side of the middle.")


class Booster(Entry):
    """A booster between pedal and master cylinder."""

    what: ClassVar[str] = "a booster"
    gain: Ratio = Field(description="Output force for each unit of input force, while it helps.")
    limit: Push | None = Field(None, description="The most force that it adds: from there on only the foot adds.")


class Pedal(Entry):
    """The driver's side of the pressure."""

    what: ClassVar[str] = "a pedal"
    force: Push | None = Field(None, description="Push of the driver's foot.")
    ratio: Ratio | None = Field(None, description="Pedal ratio.")
    balance: Share | None = Field(None, description="Share of the push that goes to the front master cylinder.")
    bar: BalanceBar | None = Field(None, description="The balance bar by its pins, instead of `balance`.")
    booster: Booster | None = Field(None, description="A booster behind the pedal.")
    efficiency: Efficiency | None = Field(None, description="Share of the force that friction leaves; 1 if left out.")
    travel: Size | None = Field(None, description="How far the foot can push it, to the floor or stop.")
    free_play: Gap | None = Field(None, description="How far it moves before the rod does, at the foot.")
    share_left: Share | None = Field(
        None, description="Share of the push that one master cylinder gets when the other's circuit is lost."
    )
    note: Note = None

    @model_validator(mode="after")
    def _one_share(self) -> Self:
        if self.balance is not None and self.bar is not None:
            raise ValueError("give balance or bar, not both: each says how the push is shared")
        return self


class ClutchPedal(Entry):
    """The clutch pedal, and what the clutch asks for at its slave cylinder."""

    what: ClassVar[str] = "a clutch pedal"
    force: Push | None = Field(None, description="Push of the driver's foot.")
    ratio: Ratio | None = Field(None, description="Pedal ratio.")
    efficiency: Efficiency | None = Field(None, description="Share of the force that friction leaves; 1 if left out.")
    travel: Size | None = Field(None, description="How far the foot can push it, to the floor or stop.")
    free_play: Gap | None = Field(None, description="How far it moves before the rod does, at the foot.")
    needs_travel: Size | None = Field(None, description="How far the slave cylinder must push to free the clutch.")
    needs_force: Push | None = Field(None, description="How hard it must push.")
    note: Note = None


class Brake(Entry):
    """A brake at a wheel, by the tag of its caliper or wheel cylinder."""

    what: ClassVar[str] = "a brake"
    axle: Literal["front", "rear"] | None = Field(None, description="The axle that it brakes.")
    friction: Ratio | None = Field(None, description="Friction of pad on disc.")
    radius: Size | None = Field(None, description="Effective radius of the disc, or radius of the drum.")
    factor: Ratio | None = Field(
        None,
        description="Brake factor: drag at the linings for each unit of force on one shoe; of a disc 2 x friction.",
    )
    tyre: Size | None = Field(None, description="Rolling radius of the tyre.")
    gap: Gap | None = Field(None, description="Clearance that each piston takes up before it bites.")
    knock_back: Gap | None = Field(None, description="How far more it has been pushed back.")
    note: Note = None


class Car(Entry):
    """The car, as far as braking asks for it."""

    what: ClassVar[str] = "a car"
    mass: Weight | None = Field(None, description="With driver and fuel.")
    wheelbase: Size | None = Field(None, description="From axle to axle.")
    cg_height: Size | None = Field(None, description="Height of the centre of gravity above the ground.")
    cg_behind_front: Size | None = Field(None, description="From the front axle back to the centre of gravity.")
    front_share: Share | None = Field(None, description="Share of the mass on the front axle, instead.")
    tyre_friction: Ratio | None = Field(None, description="Friction of tyre on road.")
    duty: Literal["road", "track"] | None = Field(None, description="What it is driven on: how hot its fluid gets.")
    rules: list[RuleName] = Field(default_factory=list, description="Published rules to compare with.")
    note: Note = None

    @model_validator(mode="after")
    def _one_centre(self) -> Self:
        if self.cg_behind_front is not None and self.front_share is not None:
            raise ValueError("give cg_behind_front or front_share, not both: each says where the weight lies")
        if self.cg_behind_front is not None and self.wheelbase is not None and self.cg_behind_front > self.wheelbase:
            raise ValueError("cg_behind_front is longer than wheelbase: the weight lies behind the rear axle")
        return self

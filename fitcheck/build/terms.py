"""The words of the build file that several of its models share: part ids, tags, references, flares, fluids, shares."""

from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field

from fitcheck.build.refs import checked_ref, checked_tag
from fitcheck.catalog.entries import Number, positive
from fitcheck.fields import Force
from fitcheck.naming import hint
from fitcheck.standards.braking_rules import braking_rule
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


def _rule(value: Any) -> Any:
    if isinstance(value, str):
        braking_rule(value)
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

RuleName = Annotated[
    str, BeforeValidator(_rule), Field(description="A published rule of braking.", examples=["ece-r13h", "fmvss-135"])
]


def said(value: str) -> str:
    """Return a reason as it is.

    Raises:
        ValueError: it says nothing.
    """
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

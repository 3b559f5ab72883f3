"""Field types for the models of offer and stock files: money, dates, days of the week, times of the day, packs."""

import re
from datetime import date, time
from decimal import Decimal
from typing import Annotated, Any, Final, NamedTuple

from pydantic import AfterValidator, BeforeValidator, Field, PlainValidator, WithJsonSchema

from fitcheck.catalog.money import Money, parse_currency, parse_money
from fitcheck.fields import Duration
from fitcheck.naming import hint
from fitcheck.quantities import Quantity

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
"""Days of the week as they are written in files; Monday first, as in ISO 8601."""
_LONGEST_LEAD: Final = 3653 * 86_400.0
_WORTH: Final = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,9})?) ([A-Z]{3})", re.ASCII)
_TIME: Final = re.compile(r"([01]?[0-9]|2[0-3]):([0-5][0-9])", re.ASCII)


class Worth(NamedTuple):
    """What one unit of a currency is worth: so many units of another."""

    amount: Decimal
    currency: str


def _money(value: Any) -> Money:
    if isinstance(value, Money):
        return value
    if not isinstance(value, str):
        raise ValueError("expected an amount and a currency, such as 12.50 GBP")
    return parse_money(value)


def _currency(value: Any) -> Any:
    return parse_currency(value) if isinstance(value, str) else value


def _worth(value: Any) -> Worth:
    if isinstance(value, Worth):
        return value
    match = _WORTH.fullmatch(value) if isinstance(value, str) else None
    if match is None or not Decimal(match[1]):
        shown = f", got {value[:40]!r}" if isinstance(value, str) else ""
        raise ValueError(f"expected a rate and a currency, such as 0.86 GBP{shown}")
    return Worth(Decimal(match[1]), match[2])


def _date(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    try:
        if len(value) == 10:
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise ValueError(f"expected a date such as 2026-12-31, got {value[:40]!r}")


def _time(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    match = _TIME.fullmatch(value)
    if match is None:
        raise ValueError(f"expected a time of the day such as 14:00, got {value[:40]!r}")
    return time(int(match[1]), int(match[2]))


def _weekday(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    day = value.strip().lower()[:3]
    if day not in WEEKDAYS:
        raise ValueError(f"{value[:40]!r} is no day of the week{hint(value, WEEKDAYS)}; write {', '.join(WEEKDAYS)}")
    return WEEKDAYS.index(day)


def _not_negative(value: Quantity) -> Quantity:
    if value < 0:
        raise ValueError(f"expected zero or more, got {value.text!r}")
    return value


def _not_for_ever(value: Quantity) -> Quantity:
    if value > _LONGEST_LEAD:
        raise ValueError(f"expected a lead time of at most 10 years, got {value.text!r}")
    return value


def _whole(least: int) -> Any:
    def check(value: Any) -> Any:
        if not isinstance(value, str):
            return value
        if not (value.isascii() and value.isdigit() and len(value) <= 4 and int(value) >= least):
            raise ValueError(f"expected a whole number from {least} to 9999, got {value[:40]!r}")
        return int(value)

    return BeforeValidator(check)


def _flag(value: Any) -> Any:
    if isinstance(value, str):
        if value.strip().lower() not in ("true", "false", "yes", "no"):
            raise ValueError(f"expected yes or no, got {value[:40]!r}")
        return value.strip().lower() in ("true", "yes")
    return value


MoneyText = Annotated[
    Money,
    PlainValidator(_money),
    WithJsonSchema({"type": "string", "pattern": r"^[0-9]{1,9}(\.[0-9]{1,4})? [A-Z]{3}$"}),
    Field(description="An amount and its currency.", examples=["12.50 GBP"]),
]
Currency = Annotated[
    str,
    BeforeValidator(_currency),
    Field(description="A currency, by its ISO 4217 code.", json_schema_extra={"pattern": "^[A-Z]{3}$"}),
]
WorthText = Annotated[
    Worth,
    PlainValidator(_worth),
    WithJsonSchema({"type": "string", "pattern": r"^[0-9]{1,9}(\.[0-9]{1,9})? [A-Z]{3}$"}),
    Field(description="What one of it is worth in another currency.", examples=["0.86 GBP"]),
]
LeadTime = Annotated[Duration, AfterValidator(_not_negative), AfterValidator(_not_for_ever)]
IsoDate = Annotated[date, BeforeValidator(_date), Field(description="A date, year first.")]
TimeOfDay = Annotated[
    time,
    BeforeValidator(_time),
    WithJsonSchema({"type": "string", "pattern": "^([01]?[0-9]|2[0-3]):[0-5][0-9]$"}),
]
Weekday = Annotated[int, BeforeValidator(_weekday), WithJsonSchema({"enum": list(WEEKDAYS)})]
Pack = Annotated[int, _whole(1), WithJsonSchema({"type": "integer", "minimum": 1, "maximum": 9999})]
Packs = Annotated[int, _whole(0), WithJsonSchema({"type": "integer", "minimum": 0, "maximum": 9999})]
YesNo = Annotated[bool, BeforeValidator(_flag), WithJsonSchema({"type": ["boolean", "string"]})]

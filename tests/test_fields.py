"""Field types of users' models: texts with units in, working units inside, and what editors are told."""

import json
import re
from typing import Any

import pytest
from pydantic import BaseModel, TypeAdapter, ValidationError

from fitcheck import fields
from fitcheck.quantities import Quantity, parse
from fitcheck.units import DIMENSIONS, UNITS

TYPES: dict[str, Any] = {
    "length": fields.Length,
    "pressure": fields.Pressure,
    "force": fields.Force,
    "angle": fields.Angle,
    "volume": fields.Volume,
    "time": fields.Duration,
    "mass": fields.Mass,
    "torque": fields.Torque,
    "temperature": fields.Temperature,
    "give": fields.Give,
    "swelling": fields.Swelling,
}


class _Tube(BaseModel):
    od: fields.Length
    wall: fields.Length | None = None


def test_every_dimension_has_a_type() -> None:
    """No dimension is without its field type."""
    assert set(TYPES) == set(DIMENSIONS)


@pytest.mark.parametrize("dimension", TYPES)
def test_texts_become_quantities(dimension: str) -> None:
    """Each type reads the examples that it shows, and keeps a quantity that is one already."""
    adapter = TypeAdapter(TYPES[dimension])
    for example in DIMENSIONS[dimension].examples:
        quantity = adapter.validate_python(example)
        assert isinstance(quantity, Quantity)
        assert quantity == parse(example, dimension)
        assert adapter.validate_python(quantity) is quantity


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (25, "a bare number where a length is needed: write '25 mm' or '1 in'"),
        (4.75, "a bare number where a length is needed: write '25 mm' or '1 in'"),
        ("25", "a bare number where a length is needed: write '25 mm' or '1 in'"),
        ("3 bar", "'3 bar' is a pressure where a length is needed"),
        (True, "expected a length such as '25 mm' or '1 in', got true or false"),
        (None, "expected a length such as '25 mm' or '1 in', got nothing"),
        ([], "expected a length such as '25 mm' or '1 in', got a list"),
        ({}, "expected a length such as '25 mm' or '1 in', got a mapping"),
    ],
)
def test_refusals(value: object, message: str) -> None:
    """What is no text with a unit is refused with the quantity reader's own sentence."""
    with pytest.raises(ValidationError) as caught:
        _Tube.model_validate({"od": value})
    (details,) = caught.value.errors()
    assert str(details["ctx"]["error"]) == message


def test_json_holds_what_the_user_wrote() -> None:
    """Written as JSON, a quantity is the user's text, which can be read again."""
    tube = _Tube.model_validate({"od": "3/16 in"})
    assert json.loads(tube.model_dump_json()) == {"od": "3/16 in", "wall": None}
    assert _Tube.model_validate_json(tube.model_dump_json()) == tube


def test_schema() -> None:
    """An editor is told the form, a sentence and examples."""
    assert TypeAdapter(fields.Length).json_schema() == {
        "type": "string",
        "description": "a length with its unit, such as '3/16 in' or '4.75 mm'",
        "pattern": fields.pattern("length"),
        "examples": ["3/16 in", "4.75 mm"],
    }


@pytest.mark.parametrize("word", UNITS)
@pytest.mark.parametrize("number", ["3/16", "1 1/2", "1-1/2", "½", "1½", "-4.75", ".5", "+ 5.", "\u22123"])
def test_pattern_takes_what_the_reader_takes(word: str, number: str) -> None:
    """An editor never marks a text as wrong that the reader takes."""
    dimension = UNITS[word].dimension
    text = f"{number} {word}"
    parse(text, dimension)
    assert re.search(fields.pattern(dimension), text)


def test_pattern_refuses_bare_numbers() -> None:
    """An editor does mark a number without unit, and a unit of another dimension."""
    assert not re.search(fields.pattern("length"), "25")
    assert not re.search(fields.pattern("length"), "25 bar")

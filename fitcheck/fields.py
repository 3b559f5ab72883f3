"""Field types for the models of users' files: quantities with a unit, one type for each dimension.

A field takes text such as ``3/16 in`` and holds a `Quantity` in working units. A bare number is refused.
"""

import re
from typing import Annotated, Any, Final

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from fitcheck.quantities import Quantity, QuantityError, parse
from fitcheck.units import DIMENSIONS, UNITS

__all__ = [
    "Angle",
    "Duration",
    "Force",
    "Give",
    "Length",
    "Mass",
    "Pressure",
    "Swelling",
    "Temperature",
    "Torque",
    "Volume",
    "pattern",
]

_SAMPLES: Final = {"length": ("3/16 in", "4.75 mm")}
"""Examples for editors, where others than those of the messages show more of what is taken."""
_KINDS: Final = {type(None): "nothing", bool: "true or false", dict: "a mapping", list: "a list"}


class _Field:
    """Teaches pydantic one dimension: how to check a value, and what an editor may be told about it."""

    def __init__(self, dimension: str) -> None:
        self.dimension = dimension

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        write = core_schema.plain_serializer_function_ser_schema(lambda value: value.text, when_used="json")
        return core_schema.no_info_plain_validator_function(self.check, serialization=write)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        dimension = DIMENSIONS[self.dimension]
        first, second = _SAMPLES.get(self.dimension, dimension.examples)
        return {
            "type": "string",
            "description": f"{dimension.phrase} with its unit, such as '{first}' or '{second}'",
            "pattern": pattern(self.dimension),
            "examples": [first, second],
        }

    def check(self, value: Any) -> Quantity:
        """Return `value` as a quantity of this dimension.

        Raises:
            QuantityError: it is no text, or not such a quantity.
        """
        if isinstance(value, str):
            return parse(value, self.dimension)
        if isinstance(value, Quantity):
            return value
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            raise QuantityError(str(value), self.dimension, "bare")
        kind = next((text for kind, text in _KINDS.items() if isinstance(value, kind)), type(value).__name__)
        raise QuantityError("", self.dimension, "wrong kind", kind)


def pattern(dimension: str) -> str:
    """Return a regular expression (ECMA 262) that every text of `dimension` matches, for editors.

    It is a little wider than the reader, which has the last word.
    """
    words = sorted((word for word, unit in UNITS.items() if unit.dimension == dimension), key=len, reverse=True)
    units = "|".join(re.sub(r"([.()*/])", r"\\\1", word).replace(" ", " +") for word in words)
    return rf"^\s*[-+\u2212]? ?[0-9./\u2044½⅓⅔¼¾⅛⅜⅝⅞ -]+\s*({units})\s*$"


Length = Annotated[Quantity, _Field("length")]
Pressure = Annotated[Quantity, _Field("pressure")]
Force = Annotated[Quantity, _Field("force")]
Angle = Annotated[Quantity, _Field("angle")]
Volume = Annotated[Quantity, _Field("volume")]
Duration = Annotated[Quantity, _Field("time")]
Mass = Annotated[Quantity, _Field("mass")]
Torque = Annotated[Quantity, _Field("torque")]
Temperature = Annotated[Quantity, _Field("temperature")]
Give = Annotated[Quantity, _Field("give")]
Swelling = Annotated[Quantity, _Field("swelling")]

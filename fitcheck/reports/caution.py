"""The caution that every report ends with."""

from typing import Final

CAUTION: Final = (
    "Brakes hurt people when they fail. This answer rests on the data given; it replaces neither a test nor a "
    "licensed engineer nor your local code. A joint that passes on paper is still leak-tested under pressure "
    "before the car moves."
)

"""The refusal of a name that a standards table does not hold."""

from collections.abc import Iterable
from typing import ClassVar

from fitcheck.errors import FitcheckError
from fitcheck.naming import hint

_LONGEST = 80


class UnknownNameError(FitcheckError, ValueError):
    """A name that the table does not hold. Each table has its own kind of it.

    Attributes:
        name: what was asked for.
        known: every name that the table holds, in its order.
    """

    what: ClassVar[str] = "name in the standards tables"

    def __init__(self, name: str, known: Iterable[str]) -> None:
        self.name = name
        self.known = tuple(known)
        super().__init__(name, self.known)

    def __str__(self) -> str:
        shown = self.name if len(self.name) <= _LONGEST else f"{self.name[:_LONGEST]}..."
        return f"{shown!r} is no {self.what}{hint(self.name, self.known)}; known: {', '.join(self.known)}"

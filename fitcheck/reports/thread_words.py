"""Words for how two threads meet, the same in text, table and drawing."""

from math import isinf
from typing import Final

from fitcheck.measures import number

OUTCOME: Final = {
    "mates": "mates",
    "may-bind": "may bind at the root",
    "will-not-start": "will not start",
    "starts-then-binds": "starts, then binds",
    "runs-in-loose": "runs in loose and strips when tightened",
    "drops-through": "drops through",
}
"""What each verdict of `fit` is called after the words `A into B`."""

DANGER: Final = "DANGEROUS: it goes together by hand and does not hold"


def span(bounds: tuple[float, float], places: int) -> str:
    """Return both ends of a range, `1.1 to 1.9`; one if they are equal, `any number` for what never ends."""
    least, most = number(bounds[0], places), "any number" if isinf(bounds[1]) else number(bounds[1], places)
    return least if least == most else f"{least} to {most}"

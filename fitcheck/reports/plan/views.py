"""Plan, side and front: directions of the car (ISO 8855: x forward, y left, z up) as they lie on paper."""

from typing import Final, Literal, NamedTuple

from fitcheck.reports.make_curve import Projection

View = Literal["plan", "side", "front"]
VIEWS: Final[tuple[View, ...]] = ("plan", "side", "front")


class Look(NamedTuple):
    """How a view is looked at.

    `arrows` name where two directions of paper point on the car: right or left, up or down; each is a step on paper
    with y downwards. `across` and `upright` are the axes along paper, each with 1 or -1: whether it grows to the right,
    and up.
    """

    title: str
    seen: str
    projection: Projection
    arrows: tuple[tuple[tuple[int, int], str], tuple[tuple[int, int], str]]
    across: tuple[str, int]
    upright: tuple[str, int]


LOOKS: Final[dict[View, Look]] = {
    "plan": Look(
        "Plan",
        "seen from above, front of the car to the left",
        Projection((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
        (((-1, 0), "front"), ((0, 1), "car's left")),
        ("x", -1),
        ("y", -1),
    ),
    "side": Look(
        "Side view",
        "seen from the car's left, front of the car to the left",
        Projection((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        (((-1, 0), "front"), ((0, -1), "up")),
        ("x", -1),
        ("z", 1),
    ),
    "front": Look(
        "Front view",
        "seen from ahead of the car, its left to the right",
        Projection((0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        (((1, 0), "car's left"), ((0, -1), "up")),
        ("y", 1),
        ("z", 1),
    ),
}
"""Plan and side lie the same way, so that one can be put above the other."""

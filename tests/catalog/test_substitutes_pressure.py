"""Which part can be bought for another: what changes pressure, or takes more of the stroke, tells two parts apart."""

import pytest

from fitcheck.catalog.substitutes import refusal
from tests.catalog.substitute_parts import FLARE, part

METER = {
    "kind": "proportioning valve",
    "ports": {"in": FLARE, "out": FLARE},
    "one_way": ["in", "out"],
}
DISC = {"pistons": [38.0, 41.0, 38.0, 41.0], "style": "fixed", "give": 90.0}
TWIN = {"chambers": [18.0], "cut_off": 1.0}
WHIP = {"expansion": [[7.0, 1.5], [10.0, 2.0]], "burst": 50.0}


@pytest.mark.parametrize(
    ("name", "base", "change", "reason"),
    [
        ("brake", DISC, {"pistons": [38.0, 38.0]}, "pistons 38 mm and 38 mm, not 38 mm and 41 mm and 38 mm and 41 mm"),
        ("brake", DISC, {"style": "floating"}, "style floating, not fixed"),
        ("brake", DISC, {"give": 120.0}, "give 120 mm3/MPa, not 90 mm3/MPa"),
        ("pump", TWIN, {"chambers": [15.0]}, "chambers 15 mm, not 18 mm"),
        ("pump", TWIN, {"cut_off": 2.0}, "cut_off 2 mm, not 1 mm"),
        ("whip", WHIP, {"burst": 40.0}, "burst 40 MPa, not 50 MPa"),
        ("whip", WHIP, {"expansion": [[7.0, 1.6], [10.0, 2.0]]}, "expansion 1.6 mm3/mm at 7 MPa, not 1.5 mm3/mm"),
        ("whip", WHIP, {"expansion": [[7.0, 1.5]]}, "parts.other.expansion is not given at 10 MPa"),
        ("whip", {"expansion_limit": "low"}, {"expansion_limit": "regular"}, "expansion_limit regular, not low"),
        ("valve", METER | {"slope": 0.4}, {"slope": 0.3}, "slope 0.3, not 0.4"),
    ],
)
def test_what_presses_otherwise_is_refused(
    name: str, base: dict[str, object], change: dict[str, object], reason: str
) -> None:
    """Each field that changes force, stroke or strength refuses, with both values and their unit."""
    assert refusal(part(name, **base), part(name, "other", **{**base, **change})) == reason


@pytest.mark.parametrize(
    ("name", "base", "field"),
    [
        ("brake", DISC, "pistons"),
        ("brake", DISC, "style"),
        ("brake", DISC, "give"),
        ("pump", TWIN, "chambers"),
        ("pump", TWIN, "cut_off"),
        ("whip", WHIP, "burst"),
        ("whip", WHIP, "expansion"),
        ("valve", METER | {"slope": 0.4}, "slope"),
    ],
)
def test_what_is_not_known_of_the_other_is_named(name: str, base: dict[str, object], field: str) -> None:
    """A figure that only the wanted part states cannot be taken for granted of the other."""
    known = part(name, **base)
    assert refusal(known, part(name, "other", **{**base, field: None})) == f"parts.other.{field} is not given"


@pytest.mark.parametrize(
    ("name", "base", "change"),
    [
        ("brake", DISC, {"pistons": [41.0, 41.0, 38.0, 38.0]}),
        ("brake", DISC, {"give": 80.0}),
        ("pump", TWIN, {"cut_off": 0.8}),
        ("whip", WHIP, {"burst": 60.0, "expansion": [[10.0, 1.9], [7.0, 1.4]]}),
        ("whip", {"expansion_limit": "regular"}, {"expansion_limit": "low"}),
    ],
)
def test_what_is_as_good_or_better_is_taken(name: str, base: dict[str, object], change: dict[str, object]) -> None:
    """The same pistons in another order, and anything that takes less of the stroke or bursts later, will do."""
    assert refusal(part(name, **base), part(name, "other", **{**base, **change})) is None


def test_a_stated_substitute_may_not_press_otherwise() -> None:
    """`equivalent_to` does not carry over pistons that are known to be others."""
    wanted = part("brake", **DISC, equivalent_to=["other"])
    assert refusal(wanted, part("brake", "other", **{**DISC, "pistons": [38.0, 38.0]})) == (
        "pistons 38 mm and 38 mm, not 38 mm and 41 mm and 38 mm and 41 mm"
    )
    assert refusal(wanted, part("brake", "other", give=90.0)) is None

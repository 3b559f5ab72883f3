"""One defect of each kind, put into a valid build: what has to be found, and where.

A defect is a function from an `Edit` to what it did: the rule that has to speak, and ends or tags of which at
least one must be named by the finding. `KINDS` lists them by name; `put` applies one. A defect that finds no
place for itself in a build returns None.
"""

from collections.abc import Callable
from typing import Any, NamedTuple

from hypothesis import reject
from hypothesis import strategies as st

from tests.properties import (
    defects_circuit,
    defects_duty,
    defects_file,
    defects_hoses,
    defects_joint,
    defects_place,
    defects_pressure,
)
from tests.properties.edited import Made
from tests.properties.editing import Edit, NoPlaceError
from tests.properties.generic_parts import Row
from tests.properties.growing import Draw, Plan
from tests.properties.strategies import builds

Kind = Callable[[Edit], Made | None]

KINDS: dict[str, Kind] = {
    name.replace("_", "-"): function
    for module in (
        defects_file,
        defects_joint,
        defects_circuit,
        defects_duty,
        defects_pressure,
        defects_place,
        defects_hoses,
    )
    for name, function in vars(module).items()
    if callable(function) and getattr(function, "__module__", "") == module.__name__ and not name.startswith("_")
}
"""Every kind of defect by name. Several kinds may have to be found by one rule."""


TRIES = 5
"""Builds looked at for one that has a place for the defect, before the example is given up."""

STRANGE = {
    "part-id-with-a-slip",
    "part-of-the-wrong-kind",
    "unknown-nut",
    "reference-with-a-slip",
    "reference-of-a-line",
    "circuit-names-no-port",
    "nut-that-nobody-sells",
    "little-thread",
    "single-flare-joint",
    "no-bleed-screw",
    "bleed-screw-below-its-port",
    "little-fluid",
    "rubber-for-another-fluid",
    "clutch-cylinder-too-small",
    "brake-too-weak",
}
"""Defects that the slow reading cannot follow: it knows neither unknown names nor other catalogs."""
GENERIC = [kind for kind in KINDS if kind not in STRANGE]


class Spoilt(NamedTuple):
    """A build with a defect: the file, its own catalog, the kind, and what has to be found where."""

    plan: Plan
    house: dict[str, Row]
    kind: str
    made: Made


def put(kind: str, plan: Plan, draw: Draw, house: dict[str, Row] | None = None) -> Spoilt | None:
    """Return a copy of the build with one defect of a kind in it, or None if it has no place for that kind."""
    edit = Edit.of(plan, draw, house)
    try:
        made = KINDS[kind](edit)
    except NoPlaceError:
        return None
    return None if made is None else Spoilt(edit.plan, edit.house, kind, made)


@st.composite
def spoilt(draw: Any, kind: str) -> Spoilt:
    """Draw a valid build with one defect of a kind."""
    found = None
    for _ in range(TRIES):
        found = found or put(kind, draw(builds()), draw)
    return found or reject()


@st.composite
def damaged(draw: Draw, most: int = 3) -> Plan:
    """Draw a build with up to three defects, of which any may hide another."""
    plan = draw(builds())
    for kind in draw(st.lists(st.sampled_from(GENERIC), max_size=most)):
        try:
            found = put(kind, plan, draw)
        except (IndexError, KeyError, StopIteration, ValueError):
            reject()  # a defect is made for a valid build; on a damaged one it may not find what it looks for
        plan = plan if found is None else found.plan
    return plan

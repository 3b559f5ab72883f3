"""What a swap says of pressure and stroke: other pistons with the area that acts, other chambers, give and hoses."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.catalog.part import part_from_row
from fitcheck.remedies.part_figures import differences

CALIPER = {"kind": "caliper", "bore": 40.0, "displacement": 9000.0, "pistons": [40.0, 40.0], "style": "fixed"}
PUMP = {"kind": "master cylinder", "bore": 20.0, "stroke": 32.0, "chambers": [14.0, 18.0], "cut_off": 1.0}
HOSE = {"kind": "hose", "expansion_limit": "low", "rubber": ["EPDM", "PTFE"], "burst": 50.0}
METER = {"kind": "proportioning valve", "setting": 2.0, "slope": 0.4}


@pytest.mark.parametrize(
    ("row", "change", "told"),
    [
        (
            CALIPER,
            {"pistons": [36.0, 36.0]},
            [("pistons", (40.0, 40.0), (36.0, 36.0)), ("piston_area", 1256.6, 1017.9)],
        ),
        (CALIPER, {"style": "floating"}, [("style", "fixed", "floating"), ("piston_area", 1256.6, 2513.3)]),
        (PUMP, {"chambers": [16.0, 16.0]}, [("chambers", (14.0, 18.0), (16.0, 16.0))]),
        (METER, {"slope": 0.3}, [("slope", 0.4, 0.3)]),
    ],
)
def test_what_presses_otherwise_matters(
    tmp_path: Path, row: dict[str, object], change: dict[str, object], told: list[tuple[str, object, object]]
) -> None:
    """The field is told with both values, the area that acts beside it, and the part does not do the same work."""
    found = compare(tmp_path, row, change)
    assert [(field, now, then) for field, now, then, _ in found] == [
        (field, *(pytest.approx(value, abs=0.1) if isinstance(value, float) else value for value in values))
        for field, *values in told
    ]
    assert all(matters for *_, matters in found)


@pytest.mark.parametrize(
    ("row", "change", "told"),
    [
        (CALIPER | {"give": 90.0}, {"give": 120.0}, ("give", 90.0, 120.0)),
        (CALIPER | {"give": 90.0}, {"give": None}, ("give", 90.0, None)),
        (PUMP, {"cut_off": None}, ("cut_off", 1.0, None)),
        (HOSE, {"expansion_limit": "regular"}, ("expansion_limit", "low", "regular")),
        (HOSE, {"rubber": ["EPDM"]}, ("rubber", ("EPDM", "PTFE"), ("EPDM",))),
        (HOSE, {"expansion": [[7.0, 1.5]]}, ("expansion", None, ((7.0, 1.5),))),
    ],
)
def test_what_takes_more_of_the_stroke_is_told(
    tmp_path: Path, row: dict[str, object], change: dict[str, object], told: tuple[str, object, object]
) -> None:
    """Feel changes, the work does not: told, without being counted as other work."""
    assert compare(tmp_path, row, change) == [(*told, False)]


def test_the_same_in_another_order_is_the_same(tmp_path: Path) -> None:
    """Pistons and rubber are named in any order."""
    assert compare(tmp_path, CALIPER | {"pistons": [36.0, 40.0]}, {"pistons": [40.0, 36.0]}) == []
    assert compare(tmp_path, HOSE, {"rubber": ["PTFE", "EPDM"]}) == []


def test_a_lower_burst_matters(tmp_path: Path) -> None:
    """A part that bursts sooner does not do the same work; one that bursts later is not told."""
    assert compare(tmp_path, HOSE, {"burst": 40.0}) == [("burst", 50.0, 40.0, True)]
    assert compare(tmp_path, HOSE, {"burst": 60.0}) == []


def compare(folder: Path, row: dict[str, object], change: dict[str, object]) -> list[tuple[str, object, object, bool]]:
    """Return what differs between a part and the same part with some fields changed."""
    (folder / "build.yaml").write_text("build: 1\nfluid: DOT 4\n")
    changed = {key: value for key, value in {**row, **change}.items() if value is not None}
    return [tuple(each) for each in differences(load(folder), part_from_row("old", row), part_from_row("new", changed))]

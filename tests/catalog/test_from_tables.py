"""What the generic catalog and the standards' tables both hold is the same: the catalog takes it from there."""

import pytest

from fitcheck.catalog import generic
from fitcheck.catalog.generic.ends import end
from fitcheck.catalog.generic.from_tables import FamilyError, of_topic, rows_from, slug
from fitcheck.catalog.part import Part, part_from_row
from fitcheck.standards.ports import usual_ports
from fitcheck.standards.tubes import tubes
from tests.standards.printed import banjo_bolts, banjo_washers, hoses


@pytest.fixture(scope="module")
def parts() -> dict[str, Part]:
    """Every generic part by id."""
    return {part_id: part_from_row(part_id, data) for part_id, data in generic.rows().items()}


def test_every_washer_bolt_and_tube_of_the_standards_is_a_part_and_no_other(parts: dict[str, Part]) -> None:
    """The standards' tables and the catalog hold the same washers, banjo bolts and tubes, with the same sizes."""
    rings = {(one.material, *map(_near, (one.inside_mm, one.outside_mm, one.thickness_mm))) for one in banjo_washers()}
    washers = [part for part in parts.values() if part.kind == "washer"]
    assert {(one.material, *map(_near, (one.inside, one.outside, one.thickness))) for one in washers} == rings
    assert len(washers) == len(banjo_washers())
    bolts = [part for part in parts.values() if part.kind == "banjo bolt"]
    assert {str(part.ports["bolt"].thread) for part in bolts} == {bolt.thread for bolt in banjo_bolts()}
    assert len(bolts) == 2 * len(banjo_bolts())
    walls = {(one.material, _near(one.od_mm), _near(one.wall_mm)) for one in tubes()}
    pipes = [part for part in parts.values() if part.kind == "tube"]
    assert {(part.material, _near(part.od), _near(part.wall)) for part in pipes} == walls
    assert len(pipes) == len(walls)


def _near(size: float | None) -> float:
    return round(size or 0, 4)


@pytest.mark.parametrize(
    ("part_id", "radius", "source"),
    [
        (
            "tube-4-75mm-steel",
            25.0,
            "od and wall: service manual citing DIN 74234; "
            "bend radius: service manual citing DIN 74234, for 4.75 mm tube",
        ),
        (
            "tube-3-16-steel",
            20.0,
            "od and wall: SAE J526 by a tube supplier's extract; "
            "bend radius: vehicle body builder manual (2015), for 4.76 mm tube",
        ),
        (
            "tube-5-16-steel",
            25.0,
            "od and wall: SAE J526 by a tube supplier's extract; "
            "bend radius: vehicle body builder manual (2015), for 8 mm tube",
        ),
        ("tube-1-4-steel", None, "od and wall: SAE J526 by a tube supplier's extract"),
        ("tube-3-16-cuni", None, "od and wall: SAE J1650, from memory"),
    ],
)
def test_a_bend_radius_is_the_one_printed_for_the_tube(
    parts: dict[str, Part], part_id: str, radius: float | None, source: str
) -> None:
    """4.75 mm steel bends at the 25 mm of the manual that cites DIN 74234; each radius names its own source."""
    assert (parts[part_id].bend_radius, parts[part_id].source) == (radius, source)


def test_ring_and_washer_ends_are_those_of_the_usual_ports() -> None:
    """Each O-ring and washer-face port of the standards' table is an end, with its thread and mark."""
    for port in usual_ports():
        if port.seat in ("o-ring", "washer-face"):
            one = end(f"{slug(port.thread)}-{'oring' if port.seat == 'o-ring' else 'washer'}")
            assert (one.thread, one.seat, one.source) == (port.thread, port.seat, port.mark)


def test_banjo_eyes_lie_in_the_range_of_a_bolt(parts: dict[str, Part]) -> None:
    """Every eye of the catalog is one that the standards' table allows for some bolt."""
    eyes = {port.eye for part in parts.values() for port in part.ports.values() if port.eye is not None}
    assert eyes
    for eye in eyes:
        assert any(bolt.eye_min_mm <= eye <= bolt.eye_max_mm for bolt in banjo_bolts()), eye


def test_hoses_run_from_end_to_end(parts: dict[str, Part]) -> None:
    """Every pressure hose has its two ends, and bore and bend radius of its construction in the standards' table."""
    made = {"hose-braided": hoses()["braided-ptfe-3"], "hose-rubber": hoses()["rubber-1-8"]}
    for part in (part for part in parts.values() if part.kind == "hose"):
        assert list(part.ports) == ["from", "to"]
        assert all((part.length, part.fluid_families))
        one = made["-".join(part.id.split("-")[:2])]
        assert (part.inside, part.bend_radius) == (one.bore_mm, one.bend_radius_mm)


def test_no_hose_has_a_working_pressure_that_nobody_gave(parts: dict[str, Part]) -> None:
    """A hose's burst and swelling tests are no rating: the generic catalog gives none and says whom to ask."""
    for part in (part for part in parts.values() if part.kind == "hose"):
        assert part.max_pressure is None, part.id
        assert (part.source or "").endswith("no working pressure is given here: ask the hose's maker"), part.id


def test_an_unknown_table_or_row_is_refused() -> None:
    """A family that misspells a table learns the nearest, one that asks for no row of it learns what it asked."""
    with pytest.raises(FamilyError) as caught:
        rows_from({"table": "washer"})
    assert str(caught.value) == "no table is called 'washer'; nearest is 'washers'"
    with pytest.raises(FamilyError) as caught:
        rows_from({"table": "hoses", "name": "braided"})
    assert str(caught.value) == "no row of the table hoses has {'name': 'braided'}"


def test_a_mark_is_cut_down_to_its_topic() -> None:
    """Of a mark only what it says of the topic is kept, and parts that speak of the whole row."""
    assert of_topic("thread", "trade guide (thread and bore); from memory (eye and hex)") == "trade guide"
    assert of_topic("thread", "trade guide (bore); from memory (thread and eye)") == "from memory"
    assert of_topic("thread", "trade guide; from memory (hex)") == "trade guide"

"""Tube nuts and their torques."""

import pytest

from fitcheck.standards.materials import materials
from fitcheck.standards.nuts import Nut, nuts, nuts_for
from fitcheck.standards.seats import SEAT_NAMES, UnknownSeatError, seat
from fitcheck.standards.torques import Torque, banjo_bolt_torque, bleed_screw_torque, torques, tube_nut_torque

NUTS = nuts()


@pytest.mark.parametrize("nut", NUTS, ids=lambda nut: f"{nut.seat} {nut.tube} {nut.thread}")
def test_a_nut_agrees_with_itself(nut: Nut) -> None:
    """Its thread is one, written canonically, and is larger than the tube; its hole clears the tube and its hex."""
    from fitcheck.standards.threads import parse

    thread = parse(nut.thread)
    assert thread.designation == nut.thread
    assert nut.use in ("usual", "oversize", "regional")
    assert nut.od_mm < thread.nominal_mm
    assert nut.gender == seat(nut.seat).nut_gender
    assert nut.lead == seat(nut.seat).nut_lead
    assert nut.bore_mm is None or nut.od_mm < nut.bore_mm < thread.nominal_mm
    floor = thread.nominal_mm if nut.gender == "internal" else 0.97 * thread.nominal_mm
    assert all(floor <= hexagon < 2 * thread.nominal_mm for hexagon in nut.hexes_mm)
    assert len(nut.hexes) == len(nut.hexes_mm)


def test_nuts_stand_in_order() -> None:
    """By seat, then by tube from small to large; each seat and tube has a usual nut; no row stands twice."""
    keys = [(SEAT_NAMES.index(nut.seat), nut.od_mm) for nut in NUTS]
    assert keys == sorted(keys)
    rows = [(nut.seat, nut.tube, nut.thread) for nut in NUTS]
    assert len(rows) == len(set(rows))
    usual = {(nut.seat, nut.tube) for nut in NUTS if nut.use == "usual"}
    assert usual == {(nut.seat, nut.tube) for nut in NUTS}


def test_only_seats_with_a_flared_tube_have_nuts() -> None:
    """Every seat that takes a flared tube has nuts, and no other has any."""
    assert {nut.seat for nut in NUTS} == {name for name in SEAT_NAMES if seat(name).tube_end}


@pytest.mark.parametrize(
    ("tube_in", "thread", "hexagon"),
    [
        (2 / 16, "5/16-24 UNF", "3/8 in"),
        (3 / 16, "3/8-24 UNF", "7/16 in"),
        (4 / 16, "7/16-20 UNF", "9/16 in"),
        (5 / 16, "1/2-20 UNF", "5/8 in"),
        (6 / 16, "9/16-18 UNF", "11/16 in"),
        (8 / 16, "3/4-16 UNF", "7/8 in"),
    ],
)
def test_the_published_37_degree_nuts_are_kept(tube_in: float, thread: str, hexagon: str) -> None:
    """AN818 Rev 20 (2010), dash -2 to -8: thread and width across flats (the sheet prints .375 to .875 in)."""
    nut = nuts_for("cone-37", tube_in * 25.4)[0]
    assert (nut.thread, nut.hexes) == (thread, (hexagon,))


@pytest.mark.parametrize(
    ("seat_name", "od", "thread"),
    [
        ("inverted-flare", 4.7625, "3/8-24 UNF"),
        ("inverted-flare", 6.35, "7/16-24 UNS"),
        ("bubble", 4.75, "M10x1"),
        ("bubble", 4.7625, "M10x1"),
        ("bubble", 6.0, "M12x1"),
        ("bubble", 8.0, "M14x1.5"),
        ("bubble", 10.0, "M16x1.5"),
        ("cone-45", 4.7625, "3/8-24 UNF"),
    ],
)
def test_the_usual_nut_is_the_one_in_the_drawer(seat_name: str, od: float, thread: str) -> None:
    """The nut chosen first for a seat and tube is the common one; inch and metric twins get the same."""
    assert nuts_for(seat_name, od)[0].thread == thread


def test_oversize_nuts_come_after_the_usual_ones() -> None:
    """3/16 in tube with inverted flares: the usual inch and metric nuts, then those keyed against cross-plumbing."""
    found = nuts_for("inverted-flare", 4.75)
    assert [nut.thread for nut in found[:2]] == ["3/8-24 UNF", "M10x1"]
    assert {"7/16-20 UNF", "7/16-24 UNS", "1/2-20 UNF", "9/16-18 UNF", "M12x1"} <= {n.thread for n in found[2:]}
    assert all(nut.use != "usual" for nut in found[2:])


def test_a_size_without_nuts_has_none() -> None:
    """A tube size that no row has gives an empty answer, a seat that is none is refused."""
    assert nuts_for("bubble", 12.0) == ()
    assert nuts_for("washer-face", 4.75) == ()
    with pytest.raises(UnknownSeatError):
        nuts_for("flat", 4.75)


@pytest.mark.parametrize("torque", torques(), ids=str)
def test_a_torque_agrees_with_itself(torque: Torque) -> None:
    """Its ends are in order, its seats, material and thread exist."""
    from fitcheck.standards.threads import parse

    assert 0 < torque.low_n_mm <= torque.high_n_mm
    assert set(torque.seats or ()) <= {nut.seat for nut in NUTS}
    assert torque.material is None or torque.material in materials()
    assert torque.thread is None or parse(torque.thread).designation == torque.thread


def test_37_degree_torques_grow_with_the_tube() -> None:
    """Down the 37 degree rows both ends of the torque grow with the tube."""
    rows = [(t.od_mm, t.low_n_mm, t.high_n_mm) for t in torques() if t.seats == ("cone-37",)]
    for column in zip(*rows, strict=True):
        assert list(column) == sorted(set(column))


def test_a_published_torque_is_kept() -> None:
    """Operator's manual with 37 degree torque table, -3 (3/8-24): 7 to 8 N m."""
    torque = tube_nut_torque("cone-37", 4.7625)
    assert torque is not None
    assert (torque.low_n_mm, torque.high_n_mm) == (7000, 8000)


def test_soft_copper_is_tightened_less() -> None:
    """Steel takes 13 to 16 N m on 3/16 in; plain copper 8 (vehicle workshop manual, 2009)."""
    steel, copper = tube_nut_torque("bubble", 4.75, "steel"), tube_nut_torque("bubble", 4.75, "copper")
    assert steel is not None
    assert copper is not None
    assert (steel.low_n_mm, steel.high_n_mm) == (13000, 16000)
    assert (copper.low_n_mm, copper.high_n_mm) == (8000, 8000)
    assert tube_nut_torque("bubble", 4.75) == steel


def test_what_the_table_lacks_is_none() -> None:
    """No figure is made up for 8 mm bubbles, 45 degree cones or inch banjo bolts."""
    assert tube_nut_torque("bubble", 8.0) is None
    assert tube_nut_torque("cone-45", 4.7625) is None
    assert banjo_bolt_torque("3/8-24 UNF") is None


def test_banjo_bolts_and_bleed_screws_have_torques() -> None:
    """Workshop manuals print 34 to 54 N m for an M10 banjo bolt and 7 to 10 N m for a bleed screw."""
    banjo, bleed = banjo_bolt_torque("M10x1"), bleed_screw_torque()
    assert banjo is not None
    assert bleed is not None
    assert (banjo.low_n_mm, banjo.high_n_mm) == (34000, 54000)
    assert (bleed.low_n_mm, bleed.high_n_mm) == (7000, 10000)

"""Hoses, banjo bolts with their washers, and the usual ports."""

import pytest

from fitcheck.standards.figures import measure
from fitcheck.standards.hoses import Kind, bore_class, burst_pressure, expansion_limits, hose_pressures
from fitcheck.standards.ports import UsualPort, usual_ports
from fitcheck.standards.seats import seat
from tests.standards.printed import BanjoBolt, Hose, Washer, banjo_bolts, banjo_washers, hoses, washers_for

PSI = 0.45359237 * 9.80665 / 645.16
CC_PER_FOOT = 1000 / 304.8


@pytest.mark.parametrize("bolt", banjo_bolts(), ids=lambda bolt: bolt.thread)
def test_a_banjo_bolt_agrees_with_itself(bolt: BanjoBolt) -> None:
    """It passes through its eye with little play, is hollow, and has washers that fit it."""
    from fitcheck.standards.threads import parse

    thread = parse(bolt.thread)
    assert thread.designation == bolt.thread
    assert bolt.nominal_mm == pytest.approx(thread.nominal_mm)
    assert bolt.nominal_mm <= bolt.eye_min_mm < bolt.eye_max_mm < bolt.nominal_mm + 0.5
    assert 0 < bolt.bore_min_mm < bolt.bore_max_mm < bolt.nominal_mm / 2
    assert all(bolt.nominal_mm < hexagon < 2 * bolt.nominal_mm for hexagon in bolt.hexes_mm)
    assert washers_for(bolt.nominal_mm)


@pytest.mark.parametrize("washer", banjo_washers(), ids=str)
def test_a_washer_agrees_with_itself(washer: Washer) -> None:
    """It slips over its bolt with little play and is a flat ring."""
    assert washer.nominal_mm <= washer.inside_mm < washer.nominal_mm + 0.5
    assert washer.inside_mm + 2 < washer.outside_mm < 2 * washer.inside_mm
    assert 0.5 < washer.thickness_mm < 2


def test_a_washer_of_a_standard_is_kept() -> None:
    """DIN 7603 form A 10 x 14 x 1, from memory: the first washer for an M10 bolt."""
    washer = washers_for(10)[0]
    assert (washer.inside_mm, washer.outside_mm, washer.thickness_mm) == (10.0, 14.0, 1.0)
    assert washer.mark == "from memory (DIN 7603 A 10 x 14 x 1)"


def test_inch_and_metric_washers_are_kept_apart() -> None:
    """No washer for an M10 bolt is offered for a 3/8 in one, nor the other way round."""
    assert not set(washers_for(10)) & set(washers_for(9.525))
    assert washers_for(8) == ()


@pytest.mark.parametrize("one", hoses().values(), ids=list(hoses()))
def test_a_hose_agrees_with_itself(one: Hose) -> None:
    """The planning radius is no tighter than the least, both are many bores, and the kind of swelling is known."""
    assert 5 * one.bore_mm < one.least_bend_radius_mm <= one.bend_radius_mm
    assert expansion_limits(one.bore_mm, one.expansion)


@pytest.mark.parametrize(
    ("bore", "size"),
    [
        (3.0, "small"),
        (3.175, "small"),
        (3.2, "small"),
        (3.3, "middle"),
        (4.7625, "middle"),
        (6.0, "large"),
        (6.35, "large"),
    ],
)
def test_bores_fall_in_the_three_classes(bore: float, size: str) -> None:
    """1/8 in or 3 mm and less, 1/4 in or 6 mm and more, and the middle row for all between."""
    assert bore_class(bore) == size


def test_published_hose_pressures_are_kept() -> None:
    """49 CFR 571.106: hold 4,000 psi for two minutes; burst 7,000 psi to 1/8 in bore, 5,000 psi above."""
    hold = hose_pressures(3.175)[0]
    assert (hold.test, hold.seconds) == ("hold", 120)
    assert hold.low_mpa == pytest.approx(4000 * PSI)
    assert burst_pressure(3.2).low_mpa == pytest.approx(7000 * PSI)
    assert burst_pressure(4.8).low_mpa == pytest.approx(5000 * PSI)
    assert burst_pressure(6.35).low_mpa == pytest.approx(5000 * PSI)


def test_published_swelling_is_kept() -> None:
    """49 CFR 571.106 table I, 1/8 in low expansion: 0.33, 0.42, 0.61 cc/ft at 1,000, 1,500, 2,900 psi."""
    limits = expansion_limits(3.175, "low")
    assert [limit.pressure_mpa / PSI for limit in limits] == pytest.approx([1000, 1500, 2900])
    assert [limit.mm3_per_mm / CC_PER_FOOT for limit in limits] == pytest.approx([0.33, 0.42, 0.61])


@pytest.mark.parametrize("kind", ["regular", "low"])
def test_swelling_grows_with_pressure_and_bore(kind: Kind) -> None:
    """Within a bore it grows with pressure; at one pressure it grows with bore."""
    columns = [expansion_limits(bore, kind) for bore in (3.0, 4.8, 6.35)]
    for column in columns:
        assert [limit.pressure_mpa for limit in column] == sorted({limit.pressure_mpa for limit in column})
        assert [limit.mm3_per_mm for limit in column] == sorted({limit.mm3_per_mm for limit in column})
    for row in zip(*columns, strict=False):
        assert [limit.mm3_per_mm for limit in row] == sorted({limit.mm3_per_mm for limit in row})


def test_low_expansion_hose_swells_less() -> None:
    """At every bore and pressure the low figure is under the regular one."""
    for bore in (3.0, 4.8, 6.35):
        for low, regular in zip(expansion_limits(bore, "low"), expansion_limits(bore, "regular"), strict=True):
            assert low.mm3_per_mm < regular.mm3_per_mm


def test_the_unknown_swelling_of_large_hose_is_left_out() -> None:
    """Large bores have two figures, not a made-up third at 2,900 psi."""
    assert len(expansion_limits(6.35, "regular")) == 2


def test_measured_hose_swells_less_than_it_may() -> None:
    """A test note on stainless braided and rubber hose (2005): 1/8 in rubber stays far under the regular limit."""
    measured = (("1000 psi", "0.136 cc/ft"), ("1500 psi", "0.150 cc/ft"), ("2900 psi", "0.290 cc/ft"))
    for (pressure, swelling), limit in zip(measured, expansion_limits(3.175, "regular"), strict=True):
        assert measure(pressure) == limit.pressure_mpa
        assert measure(swelling) < 0.5 * limit.mm3_per_mm


@pytest.mark.parametrize("port", usual_ports(), ids=lambda port: f"{port.use} {port.thread} {port.seat}")
def test_a_usual_port_agrees_with_itself(port: UsualPort) -> None:
    """Its thread is one, written canonically; its gender is that of its seat; its tube is smaller than its thread."""
    from fitcheck.standards.threads import parse

    thread = parse(port.thread)
    assert thread.designation == port.thread
    assert port.seat is None or port.gender in seat(port.seat).port_genders
    assert port.od_mm is None or port.od_mm < thread.nominal_mm
    assert all(0 < hexagon < 2 * thread.nominal_mm for hexagon in port.hexes_mm)


def test_a_published_port_is_kept() -> None:
    """After-market tandem cylinder data: outlets 3/8-24, 1/2-20 and 9/16-18, all for inverted flares."""
    ports = [port for port in usual_ports() if port.use == "master cylinder outlet"]
    outlets = [port.thread for port in ports if port.seat == "inverted-flare"]
    assert outlets == ["3/8-24 UNF", "1/2-20 UNF", "9/16-18 UNF"]


def test_no_port_stands_twice() -> None:
    """Use, thread and seat together name a row."""
    rows = [(port.use, port.thread, port.seat) for port in usual_ports()]
    assert len(rows) == len(set(rows))

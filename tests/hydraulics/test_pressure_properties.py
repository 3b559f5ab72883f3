"""What must only ever go one way: more force, more pressure; smaller bore, more pressure; shares that add up."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.hydraulics.car import Masses, Tyre, adhesion_used, axle_loads_n, ideal_front_share, stop
from fitcheck.hydraulics.outlets import Valve, area_mm2, bar_share
from fitcheck.hydraulics.push import Lever, metered_mpa, pressure_mpa

steady = settings(derandomize=True, database=None, deadline=None, max_examples=200)

forces = st.floats(0.0, 5_000.0)
more = st.floats(1.0, 1_000.0)
bores = st.floats(10.0, 40.0)
lengths = st.floats(5.0, 80.0)
levers = st.builds(
    Lever,
    ratio=st.floats(2.0, 8.0),
    efficiency=st.floats(0.5, 1.0),
    gain=st.floats(1.0, 5.0),
    limit_n=st.none() | st.floats(100.0, 3_000.0),
)
valves = st.lists(st.builds(Valve, setting_mpa=st.floats(0.5, 6.0), slope=st.floats(0.05, 1.0)), max_size=3)
cars = st.builds(
    Masses,
    mass_kg=st.floats(300.0, 3_000.0),
    front_static=st.floats(0.3, 0.7),
    transfer=st.floats(0.05, 0.4),
    tyre_friction=st.floats(0.1, 1.4),
)


@steady
@given(levers, forces, more)
def test_more_foot_is_more_rod(by: Lever, foot: float, extra: float) -> None:
    """A harder push never gives less."""
    assert by.rod_n(foot + extra) > by.rod_n(foot)


@steady
@given(st.floats(1.0, 10_000.0), more, bores, st.floats(0.01, 10.0))
def test_more_force_or_less_bore_is_more_pressure(force: float, extra: float, bore: float, wider: float) -> None:
    """Pressure rises with the force and falls with the bore."""
    assert pressure_mpa(force + extra, area_mm2(bore)) > pressure_mpa(force, area_mm2(bore))
    assert pressure_mpa(force, area_mm2(bore)) > pressure_mpa(force, area_mm2(bore + wider))


@steady
@given(lengths, lengths, more)
def test_shares_of_a_bar_add_up(front: float, rear: float, further: float) -> None:
    """Both shares make one, and a rod further from the pivot gets less."""
    assert bar_share(front, rear) + bar_share(rear, front) == pytest.approx(1.0)
    assert bar_share(front + further, rear) < bar_share(front, rear)


@steady
@given(st.floats(0.0, 15.0), st.floats(0.01, 5.0), valves)
def test_valves_never_raise_and_never_turn_round(pressure: float, extra: float, row: list[Valve]) -> None:
    """Behind valves there is never more than before them; more before is more behind."""
    behind = metered_mpa(pressure, row)
    assert behind <= pressure
    assert metered_mpa(pressure + extra, row) > behind


@steady
@given(cars, st.floats(0.0, 1.0))
def test_at_the_ideal_share_both_axles_lock_at_once(car: Masses, part: float) -> None:
    """Shared ideally, any deceleration below lifting uses the same friction on both axles, and the loads add up."""
    z = part * min(1.0, 0.95 * car.lift_g)
    share = ideal_front_share(car.front_static, car.transfer, z)
    force = z * car.weight_n
    used = adhesion_used([Tyre("front", share * force, 1.0), Tyre("rear", (1.0 - share) * force, 1.0)], car)
    assert used == pytest.approx((z, z), abs=1e-9)
    assert sum(axle_loads_n(car.weight_n, car.front_static, car.transfer, z)) == pytest.approx(car.weight_n)


@steady
@given(cars, st.lists(st.floats(0.0, 20_000.0), min_size=4, max_size=4))
def test_no_stop_is_better_than_asked_or_than_the_road(car: Masses, asked: list[float]) -> None:
    """What is reached is at most what is asked and what the road holds, and is what the tyres hold at just that."""
    tyres = [Tyre("front" if index < 2 else "rear", force) for index, force in enumerate(asked)]
    found = stop(400.0, tyres, car)
    assert found.reached_g <= min(found.asked_g, car.tyre_friction) * (1.0 + 1e-12)
    loads = axle_loads_n(car.weight_n, car.front_static, car.transfer, found.reached_g)
    held = sum(min(one.force_n, car.tyre_friction * 0.5 * loads[one.axle == "rear"]) for one in tyres)
    assert found.reached_g == pytest.approx(min(held / car.weight_n, car.lift_g), rel=1e-9)
    if found.reached_g == found.asked_g:
        assert found.locks is None
    elif found.reached_g < min(found.asked_g, car.lift_g) * (1.0 - 1e-9):
        assert found.locks is not None


@steady
@given(cars, st.floats(0.0, 20_000.0), st.floats(0.0, 20_000.0), more)
def test_more_of_either_brake_never_stops_worse(car: Masses, front: float, rear: float, extra: float) -> None:
    """Within this model a harder brake never lengthens the stop."""
    base = stop(400.0, [Tyre("front", front, 1.0), Tyre("rear", rear, 1.0)], car).reached_g
    for harder in ((front + extra, rear), (front, rear + extra)):
        tyres = [Tyre("front", harder[0], 1.0), Tyre("rear", harder[1], 1.0)]
        assert stop(400.0, tyres, car).reached_g >= base * (1.0 - 1e-12)

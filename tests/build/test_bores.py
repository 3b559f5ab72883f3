"""What slides past a bend: the closed form against a sweep of a bore along a sampled tube."""

from math import cos, inf, pi, radians, sin

import pytest

from fitcheck.build.bores import bore_needed

_STEPS = 500


def edges(od, radius, angle, leg):
    """Return points of both sides of a bent tube [mm]: a straight, the bend to the left, another straight."""
    turn = radians(angle)
    middle = [(-leg * (1.0 - step / _STEPS), 0.0, 0.0) for step in range(_STEPS)]
    for step in range(_STEPS + 1):
        at = turn * step / _STEPS
        middle.append((radius * sin(at), radius - radius * cos(at), at))
    x, y, _ = middle[-1]
    middle += [
        (x + leg * step / _STEPS * cos(turn), y + leg * step / _STEPS * sin(turn), turn) for step in range(1, _STEPS)
    ]
    half = od / 2.0
    return [(x - side * half * sin(at), y + side * half * cos(at)) for x, y, at in middle for side in (-1.0, 1.0)]


def swept(od, radius, angle, length):
    """Return the least bore that gets past: at every direction on its way the best place along it, then the worst."""
    points = edges(od, radius, angle, length)
    needed = 0.0
    for step in range(13):
        at = radians(angle) * step / 12
        along = [(x * cos(at) + y * sin(at), y * cos(at) - x * sin(at)) for x, y in points]
        # The bore's middle stays near where the tube has the bore's direction.
        spot = radius * sin(at) * cos(at) + (radius - radius * cos(at)) * sin(at)
        widths = []
        for shift in range(-8, 9):
            inside = [far for near, far in along if abs(near - spot - shift * length / 32) <= length / 2]
            widths.append(max(inside) - min(inside))
        needed = max(needed, min(widths))
    return needed


@pytest.mark.parametrize("length", [2.0, 9.5, 19.0])
@pytest.mark.parametrize(("radius", "angle"), [(14.3, 90.0), (14.3, 40.0), (25.0, 120.0), (30.0, 15.0)])
def test_bore_against_a_sweep(radius, angle, length):
    """The closed form is what a bore moved along a sampled tube needs, to what the sampling resolves."""
    assert bore_needed(4.76, radius, angle, length) == pytest.approx(swept(4.76, radius, angle, length), abs=0.12)


def test_sagitta_where_the_bore_ends_on_the_bend():
    """A short nut needs the tube and the sagitta of the inner side over its length, whatever the angle beyond."""
    inner = 14.3 - 4.76 / 2
    assert bore_needed(4.76, 14.3, 90.0, 9.5) == pytest.approx(4.76 + inner - (inner**2 - 4.75**2) ** 0.5)
    assert bore_needed(4.76, 14.3, 90.0, 9.5) == bore_needed(4.76, 14.3, 170.0, 9.5)


def test_no_bend_and_no_length_need_the_tube_alone():
    """A bend of no angle, and a hole of no thickness, need no more than the tube."""
    assert bore_needed(4.76, 14.3, 0.0, 30.0) == 4.76
    assert bore_needed(4.76, 14.3, 90.0, 0.0) == pytest.approx(4.76)


def test_nothing_long_gets_round_a_u():
    """Past half a turn no bore reaches that is longer than the inside of the bend is wide."""
    assert bore_needed(4.76, 14.3, 180.0, 2 * (14.3 - 2.38) + 0.01) == inf
    assert bore_needed(4.76, 14.3, 180.0, 20.0) == pytest.approx(4.76 + 11.92 - (11.92**2 - 100.0) ** 0.5)


def test_where_both_forms_meet():
    """At the length that just spans the bend both forms give one figure."""
    inner = 14.3 - 2.38
    span = 2 * inner * sin(pi / 6)
    just = bore_needed(4.76, 14.3, 60.0, span)
    assert just == pytest.approx(bore_needed(4.76, 14.3, 60.0, span + 1e-9))
    assert bore_needed(4.76, 14.3, 60.0, span + 2.0) > just

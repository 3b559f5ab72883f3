"""Bend data against a CAD kernel (cadquery-ocp-novtk, the extra `reference`): random routes in space, solids.

The kernel finds its fillets by itself (`cad_kernel.py`). What is compared with it is a sheet made from the text of a
build.
"""

from itertools import pairwise
from math import cos, dist, hypot, pi, radians, sin, tan
from random import Random

import pytest

from fitcheck.build.routes import developed_length, through_points
from fitcheck.making.shape import plus, rebuilt, unit
from tests.making.benches import made
from tests.published import cad_kernel

AGREES_MM = 1e-6
ROUTES = 240
G1 = [(0, 0, 0), (120, 0, 0), (120, 80, 0), (200, 80, 60), (200, 160, 60), (330, 160, -20)]
S = 3**0.5
A1 = [(0, 0, 0), (4, 0, 0), (4, 2, 0), (2, 2 + 2 * S, 0), (2 - S, 3 + 2 * S, 0), (1 - S, 3 + S, 0)]
"""Corners of the brochure's example [in], every bend to the left."""

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module", autouse=True)
def kernel():
    """Pass over these tests, with the reason, where the kernel is not installed."""
    reason = "cadquery-ocp-novtk is not installed: no CAD kernel looked at bend data"
    pytest.importorskip("OCP.ChFi2d", reason=reason, exc_type=ImportError)


def random_route(draw):
    """Return corners and radii of a route of 1 to 8 bends, each with an angle, a plane and a radius of its own."""
    bends = draw.randint(1, 8)
    angles = [draw.uniform(5, 175) for _ in range(bends)]
    radii = [draw.uniform(8, 60) for _ in range(bends)]
    room = [radius * tan(radians(angle) / 2) for angle, radius in zip(angles, radii, strict=True)]
    kept = [draw.uniform(70, 300), *(draw.uniform(0.5, 200) for _ in angles[1:]), draw.uniform(70, 300)]
    here = tuple(draw.uniform(-900, 900) for _ in range(3))
    along = any_direction(draw)
    points = [here]
    for straight, before, after, angle in zip(kept, [0.0, *room], [*room, 0.0], [*angles, 0.0], strict=True):
        here = plus(here, along, straight + before + after)
        points.append(here)
        along = bent(draw, along, angle)
    return points, radii


def any_direction(draw):
    """Return a direction in space."""
    vector = [draw.gauss(0, 1) for _ in range(3)]
    return tuple(value / hypot(*vector) for value in vector)


def bent(draw, along, angle):
    """Return a direction at an angle to another, in any plane."""
    other = any_direction(draw)
    share = sum(a * b for a, b in zip(along, other, strict=True))
    aside = plus(other, along, -share)
    size = hypot(*aside)
    return plus(plus((0.0, 0.0, 0.0), along, cos(radians(angle))), aside, sin(radians(angle)) / size)


def sheet_of(points, radii):
    """Return the sheet of a line through points, read from the text of a build."""
    corners = ", ".join(
        f"{{at: {list(at)}, bend: {radius} mm}}" for at, radius in zip(points[1:-1], radii, strict=True)
    )
    return made(f"[{corners}]", tools="", start=str(list(points[0])), end=str(list(points[-1])))


def joints_of(page):
    """Return where straights and arcs of a sheet meet, ends included, from straights, angles, rotations and radii."""
    bends = [(bend.angle_deg, bend.rotation_deg, bend.radius_mm) for bend in page.bends]
    angles, rotations, radii = zip(*bends, strict=True)
    corners = rebuilt(page.straights_mm, angles, rotations, radii)
    taken = [radius * tan(radians(angle) / 2) for angle, radius in zip(angles, radii, strict=True)]
    found = []
    for (a, b), straight, before in zip(pairwise(corners), page.straights_mm, [0.0, *taken], strict=True):
        found += [plus(a, unit(a, b), before), plus(a, unit(a, b), before + straight)]
    return found


def laid_on(points, onto):
    """Return points turned and shifted as one, never mirrored, to where they lie best on others (scipy)."""
    transform = pytest.importorskip("scipy.spatial.transform", reason="scipy is not installed: nothing was laid on")
    from numpy import array

    here, there = array(points), array(onto)
    turn, _ = transform.Rotation.align_vectors(there - there.mean(axis=0), here - here.mean(axis=0))
    return [tuple(row) for row in turn.apply(here - here.mean(axis=0)) + there.mean(axis=0)]


def test_random_routes():
    """Of 240 routes length, both ends and all ends of bends are the kernel's to 1e-6 mm, rebuilt from the sheet."""
    draw = Random(6)
    lengths, places = [], []
    for _ in range(ROUTES):
        points, radii = random_route(draw)
        wire = cad_kernel.wire(points, radii)
        page = sheet_of(points, radii)
        assert len(page.bends) == len(radii)
        joints = wire.joints if page.ends[0].name == "from" else wire.joints[::-1]
        lengths.append(abs(developed_length(through_points(points, radii)) - wire.length_mm))
        lengths.append(abs(page.run_mm - wire.length_mm))
        places += map(dist, laid_on(joints_of(page), joints), joints)
    print(f"{ROUTES} routes: length off by at most {max(lengths):.1e} mm, place by at most {max(places):.1e} mm")
    assert max(lengths) < AGREES_MM
    assert max(places) < AGREES_MM


def test_a_mirrored_tube_is_not_taken_for_it():
    """The comparison tells hands apart: the sheet of the other side's tube does not lie on the kernel's wire."""
    wire = cad_kernel.wire(G1, [14.3] * 4)
    other = sheet_of([(x, y, -z) for x, y, z in G1], [14.3] * 4)
    joints = wire.joints if other.ends[0].name == "from" else wire.joints[::-1]
    assert max(map(dist, laid_on(joints_of(other), joints), joints)) > 1.0


@pytest.mark.parametrize("seed", range(6))
def test_volume_of_a_solid(seed):
    """A disc of the tube's diameter swept along the wire holds area times developed length, to a part in 1e9."""
    points, radii = random_route(Random(seed))
    solid = cad_kernel.tube_volume(cad_kernel.wire(points, radii), 4.7625 / 2)
    assert solid == pytest.approx(pi / 4 * 4.7625**2 * sheet_of(points, radii).run_mm, rel=1e-9)


@pytest.mark.parametrize(
    ("points", "radius", "length"),
    [
        (G1, 14.3, 508.0929251174056),
        ([(0, 0, 0), (100, 0, 0), (100, 100, 0)], 15.0, 193.561945),  # G3
        ([(0, 0, 0), (100, 0, 0), (100, 30.002, 0), (0, 30.002, 0)], 15.0, 217.123890 + 0.002),  # G4, just not touching
        (A1, 9 / 16, 13.50330880722232),
    ],
)
def test_named_routes(points, radius, length):
    """The kernel itself gives the golden lengths that other tests keep where it is not installed."""
    assert cad_kernel.wire(points, [radius] * (len(points) - 2)).length_mm == pytest.approx(length, abs=5e-7)

"""Hot things with what must be kept clear, hoses as they hang, clips and holes."""

from itertools import pairwise
from math import dist, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.reports.plan.heat import hatching
from fitcheck.reports.plan.views import View
from tests.making.benches import SAME_EVERY_TIME
from tests.reports.plan.seen import BENT, SVG, Spot, context, path_of, root_of, steps, tagged, told, view_of

SPOT = st.tuples(st.floats(-80, 80), st.floats(-80, 80))
HOSE = """\
catalogs: []
components:
  a: {part: union-3-16-inverted, at: [0, 0, 500]}
  b: {part: union-3-16-inverted, at: [160, 0, 500]}
hoses:
  h: {part: feed-hose-8mm, from: a.a, to: b.a, length: LENGTH}
"""


def off(spot: Spot, a: Spot, b: Spot) -> float:
    """Return how far a point is from a straight."""
    along = b[0] - a[0], b[1] - a[1]
    square = along[0] ** 2 + along[1] ** 2
    share = ((spot[0] - a[0]) * along[0] + (spot[1] - a[1]) * along[1]) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return dist(spot, (a[0] + share * along[0], a[1] + share * along[1]))


@SAME_EVERY_TIME
@given(path=st.lists(SPOT, min_size=1, max_size=4), reach=st.floats(3.0, 30.0))
def test_hatching_fills_the_band_and_nothing_else(path: list[Spot], reach: float) -> None:
    """Each slanting line lies within reach of the path all along, and both of its ends lie on the edge of the band."""
    pieces = list(pairwise(path)) or [(path[0], path[0])]
    lines = [steps(line.partition('d="')[2].partition('"')[0]) for line in hatching([(path, reach)])]
    assert lines
    for start, end in lines:
        for share in (0.0, 0.3, 0.7, 1.0):
            spot = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
            nearest = min(off(spot, *piece) for piece in pieces)
            assert nearest <= reach + 2e-3
            if share in (0.0, 1.0):
                assert nearest == pytest.approx(reach, abs=2e-3)


def test_band_is_as_wide_as_lines_must_keep_away() -> None:
    """A pipe of 25 mm radius with 75 mm clearance is 50 mm thick in a band of 200 mm, at 1 : 3 a third of that."""
    heat = "heat:\n  pipe: {path: [[1000, 0, 0], [700, 0, 0]], radius: 25 mm, clearance: 75 mm}\n"
    root = root_of(context(heat + BENT), "plan")
    assert "1 : 3," in told(root)
    widths = [
        float(each.get("stroke-width") or 0) for each in view_of(root).iter(f"{SVG}path") if "round" in str(each.attrib)
    ]
    assert widths[:2] == pytest.approx([200.0 / 3.0, 200.0 / 3.0 - 0.6], abs=1e-3)
    bar = next(tagged(root, "heat")["pipe"].iter(f"{SVG}path"))
    assert float(bar.get("stroke-width") or 0) == pytest.approx(50.0 / 3.0, abs=1e-3)
    assert steps(bar.get("d") or "") == [
        pytest.approx((-1000.0 / 3.0, 0.0), abs=1e-3),
        pytest.approx((-700.0 / 3.0, 0.0), abs=1e-3),
    ]


def test_hot_point_is_a_disc() -> None:
    """Something hot at one point is a disc of its radius."""
    root = root_of(context("heat:\n  pot: {path: [[0, 0, 0]], radius: 20 mm, clearance: 10 mm}\n"), "front")
    disc = next(tagged(root, "heat")["pot"].iter(f"{SVG}circle"))
    assert float(disc.get("r") or 0) == pytest.approx(20.0)


@pytest.mark.parametrize(("view", "high"), [("side", True), ("plan", False)])
def test_hose_hangs_down_at_rest(view: View, high: bool) -> None:
    """A hose of 200 mm over 160 mm keeps its length, ends at its ports, and sags by the curve of least bending."""
    root = root_of(context(HOSE.replace("LENGTH", "200 mm")), view)
    spots = steps(path_of(tagged(root, "hose")["h"]))
    assert spots[0] == pytest.approx((0.0, -500.0 if high else 0.0), abs=1e-3)
    assert spots[-1] == pytest.approx((-160.0, -500.0 if high else 0.0), abs=1e-3)
    if not high:
        assert all(y == pytest.approx(0.0, abs=1e-3) for _, y in spots)
        return
    assert sum(dist(a, b) for a, b in pairwise(spots)) == pytest.approx(200.0, rel=2e-3)
    low = max(y for _, y in spots)
    # an arc of that length and chord: sin x = 0.8 x, x = 1.1311, R = 88.41 mm, sag R (1 - cos x) = 50.8 mm; the curve
    # of least bending sags a little more
    assert 50.8 < low + 500.0 < 55.0


def test_hose_that_does_not_reach_is_straight_and_told() -> None:
    """A hose shorter than the way is drawn straight, with the reason; one of unknown length names the field."""
    root = root_of(context(HOSE.replace("LENGTH", "150 mm")), "side")
    assert len(steps(path_of(tagged(root, "hose")["h"]))) == 2
    assert "h: drawn straight: it does not reach" in told(root)
    unknown = root_of(context(HOSE.replace(", length: LENGTH", "")), "side")
    assert "h: drawn straight: its length is not known; hoses.h.length missing" in told(unknown)


def test_upright_hose_bows_to_the_rear() -> None:
    """Between ends one above the other there is no way down beside the hose: it bows rearward, the same way always."""
    upright = HOSE.replace("[160, 0, 500]", "[0, 0, 340]").replace("LENGTH", "200 mm")
    spots = steps(path_of(tagged(root_of(context(upright), "side"), "hose")["h"]))
    assert 50.8 / 1.5 < max(x for x, _ in spots) < 55.0 / 1.5
    assert min(x for x, _ in spots) > -1e-3


def test_clip_stands_across_its_line() -> None:
    """A clip that the build places is a thick bar across the line, where it is."""
    text = BENT.replace("lines:\n", "  c: {part: clip-3-16, at: [950, 200, 300]}\nlines:\n")
    build = context(text)
    assert build.graph.fitted["c"].part is not None
    group = next(each for each in root_of(build, "plan").iter(f"{SVG}g") if each.get("data-line") == "run")
    assert next(group.iter(f"{SVG}title")).text == "clip c on run"
    start, end = steps(path_of(group))
    assert start[0] == end[0] == pytest.approx(-950.0, abs=0.6)
    assert hypot(start[0] - end[0], start[1] - end[1]) == pytest.approx(2.6)


def test_holes_are_of_their_size() -> None:
    """A hole whose place the panel states is a ring of its diameter; of one without place the field is told."""
    panels = "panels:\n  wall: {hole: 14 mm, at: [950, 250, 300]}\n  floor: {hole: 12 mm}\n"
    root = root_of(context(panels + BENT), "plan")
    ring = next(tagged(root, "hole")["wall"].iter(f"{SVG}circle"))
    assert (float(ring.get("cx") or 0), float(ring.get("cy") or 0)) == (-950.0, 250.0)
    assert float(ring.get("r") or 0) == pytest.approx(7.0)
    assert "floor: panels.floor.at missing" in told(root)

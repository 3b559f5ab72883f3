"""The sign of rotations against published torsion angles: four points in space, and an angle with its sign.

The rule of chemistry is ours: seen along the middle leg, clockwise from the first plane to the second is positive. Its
figures are the only published ones with a sign; machines that bend tube each have a rule of their own.
"""

import json

import pytest

from fitcheck.cli.main import main
from tests.making.benches import made

FORUM = {
    "n": (24.969, 13.428, 30.692),
    "ca": (24.044, 12.661, 29.808),
    "c": (22.785, 13.482, 29.543),
    "o": (21.951, 13.670, 30.431),
    "cb": (23.672, 11.328, 30.466),
    "cg": (22.881, 10.326, 29.620),
    "cd1": (23.691, 9.935, 28.389),
    "cd2": (22.557, 9.096, 30.459),
}
"""Atoms of one residue, as question 20305272 of a programmers' question-and-answer site gives them."""
TRAJECTORIES = "unit tests of an open library for molecular trajectories"
ANGLES = [
    (["n", "ca", "c", "o"], -71.21515),
    (["n", "ca", "cb", "cg"], -171.94319),
    (["ca", "cb", "cg", "cd1"], 60.82226),
    (["ca", "cb", "cg", "cd2"], -177.63641),
]
"""The answers printed there; the tests of at least four open libraries of chemistry use them."""
PUBLISHED = [
    ([(3.2, 5.3, 2.5), (3.2, 3.3, 2.5), (1.2, 3.3, 2.5), (1.2, 4.3, 1.5)], 45.0, TRAJECTORIES),  # A6
    ([(3.2, 5.3, 2.5), (3.2, 3.3, 2.5), (1.2, 3.3, 2.5), (1.2, 4.3, 3.5)], -45.0, TRAJECTORIES),
    ([(3.2, -5.3, 2.5), (3.2, 3.3, 2.5), (1.2, 3.3, 2.5), (1.2, 4.3, 3.5)], 135.0, TRAJECTORIES),
    ([(1.2, 3.3, 5.2), (1.2, 3.3, 2.5), (1.2, -1.3, 2.5), (-13.2, -1.3, 2.5)], 90.0, TRAJECTORIES),
    ([(1.2, 3.3, 5.2), (1.2, 3.3, 2.5), (1.2, -1.3, 2.5), (2.2, -1.3, 2.5)], -90.0, TRAJECTORIES),
    ([(1.2, -5.3, 2.5), (1.2, 3.3, 2.5), (3.2, 3.3, 2.5), (3.2, 4.3, 2.5)], 180.0, TRAJECTORIES),
    # A7: an open chemistry text asks for a positive sign only; its size is derived
    ([(-0.5, 0, 1), (0, 0, 0), (0, 1, 0), (0, 1, 1)], 26.565, "open chemistry text (sign); derived (size)"),
    (
        [(50.63, 49.73, 50.57), (50.16, 49.14, 52.02), (50.22, 49.95, 53.21), (50.97, 49.23, 54.31)],
        -127.83976634524326,
        "unit test of an open library for the structure of RNA",
    ),
    (
        [(21.350, 31.325, 22.681), (22.409, 31.286, 21.483), (22.840, 29.751, 21.498), (23.543, 29.175, 22.594)],
        -65.609,
        "worked example on a page of structural biology, October 2009",
    ),
    *(([FORUM[name] for name in names], angle, "question 20305272") for names, angle in ANGLES),
]


def line_through(points):
    """Return the route, the start and the end of a line through four points, 200 mm for each unit."""
    first, *corners, last = [[round(200.0 * value, 6) for value in point] for point in points]
    return str(corners), str(first), str(last)


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(("points", "published", "source"), PUBLISHED)
def test_sign_of_published_torsions(points, published, source, backwards):
    """The rotation on a line's sheet has size and sign of the published torsion, whichever end is given first."""
    route, start, end = line_through(points[::-1] if backwards else points)
    sheet = made(route, tools="", start=start, end=end)
    assert sheet.faults == (), source
    assert sheet.bends[1].rotation_deg == pytest.approx(published, abs=5e-4), source


@pytest.mark.parametrize(("row", "way", "turn"), [(0, "clockwise", "anticlockwise"), (1, "anticlockwise", "clockwise")])
def test_words_of_the_sign(row, way, turn, tmp_path, capsys):
    """A positive torsion is told as a bend that goes clockwise, seen along the tube from end A: a file and `make`."""
    route, start, end = line_through(PUBLISHED[row][0])
    (tmp_path / "build.yaml").write_text(
        "build: 1\nname: four points\ncomponents:\n"
        f"  a: {{part: union-3-16-inverted, at: {start}}}\n  b: {{part: union-3-16-inverted, at: {end}}}\n"
        f"lines:\n  run: {{from: a.b, to: b.a, tube: tube-3-16-cuni, route: {route}}}\n"
    )
    assert main(("make", str(tmp_path), "--format", "json")) == 0
    (line,) = json.loads(capsys.readouterr().out)["lines"]
    told = [step["text"] for step in line["steps"] if step["act"] == "turn"]
    assert told == [f"Turn the tube 45 deg {turn} in the tool, so that bend 2 goes 45 deg {way} from bend 1."]

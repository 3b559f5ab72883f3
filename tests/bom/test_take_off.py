"""Counting a build."""

import shutil
from pathlib import Path

import pytest

from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.making.make import sheets
from fitcheck.standards.flares import allowance_mm
from tests.bom.house import CAR, bom_of

ELBOW = 193.561945  # legs of 100 mm, R 15 mm
BUBBLE = allowance_mm("bubble", 4.75).mm


def rows_of(bom):
    """Return quantity, unit and places by part, or by wording where there is no part."""
    return {row.part or row.description: (row.quantity, row.unit, row.places) for row in bom.rows}


def only_piece(bom, tag="feed"):
    """Return the length of the one piece that is for `tag`."""
    (piece,) = [piece for row in bom.rows for piece in row.pieces if piece.tag == tag]
    return piece.length


def test_components_lines_and_chosen_nuts(tmp_path):
    """Components, tube and the nuts that nobody stated are counted, grouped by part, with what they are for."""
    bom = bom_of(tmp_path, CAR)
    rows = rows_of(bom)
    assert list(rows) == ["pump", "brake", "pipe-nut", "pipe"]
    assert rows["pump"] == (1, "each", ("mc",))
    assert rows["pipe-nut"] == (2, "each", ("feed.from", "feed.to"))
    assert rows["pipe"][1:] == ("mm", ("feed",))
    assert bom.not_counted == ()


def test_cut_length_is_run_and_allowance(tmp_path):
    """A routed line is cut to its developed length and both flares' allowance, and both parts are stated."""
    length = only_piece(bom_of(tmp_path, CAR))
    assert length.run_mm == pytest.approx(ELBOW, abs=1e-6)
    assert length.allowance_mm == pytest.approx(2 * BUBBLE)
    assert length.mm == pytest.approx(ELBOW + 2 * BUBBLE, abs=1e-6)
    assert length.unknown is None
    assert length.source.startswith(f"route, bend radius 15 mm of pipe; flares: bubble {BUBBLE:g} mm, ")


def test_radius_of_the_corner_before_that_of_the_tube(tmp_path):
    """A corner's own bend radius is used before the tube's."""
    car = CAR.replace("[[0, 0, 100]]", "[{at: [0, 0, 100], bend: 30 mm}]")
    length = only_piece(bom_of(tmp_path, car))
    assert length.run_mm == pytest.approx(200 - 30 * 0.4292036732, abs=1e-6)
    assert length.source.startswith("route, bends as stated; flares: ")


def test_radius_of_three_diameters_by_default(tmp_path):
    """Where neither corner nor tube names a radius it is three outside diameters, and the source says so."""
    length = only_piece(bom_of(tmp_path, CAR.replace("tube: pipe,", "tube: plain-pipe,")))
    assert length.run_mm == pytest.approx(200 - 14.25 * 0.4292036732, abs=1e-6)
    assert length.source.startswith("route, bend radius 14.25 mm, three outside diameters; flares: ")


def test_route_wins_as_on_the_bench_sheet(tmp_path):
    """A line of both route and length is cut for its route: its bends are marked on what is cut."""
    length = only_piece(bom_of(tmp_path, CAR.replace("route:", "length: 190 mm, route:")))
    assert length.run_mm == pytest.approx(ELBOW, abs=1e-6)
    assert length.source.startswith("route, bend radius 15 mm of pipe; flares: ")


def test_stated_length_where_the_route_has_no_ends(tmp_path):
    """The stated length counts where nobody knows where the route begins."""
    car = CAR.replace("route:", "length: 250 mm, route:").replace(", at: [0, 0, 0]", "")
    length = only_piece(bom_of(tmp_path, car))
    assert (length.run_mm, length.mm) == (250.0, 250.0 + 2 * BUBBLE)


def test_coordinates_in_inches(tmp_path):
    """Points are read in the unit that the build names."""
    length = only_piece(bom_of(tmp_path, "coordinates: in\n" + CAR))
    assert length.run_mm == pytest.approx(200 * 25.4 - 15 * 0.4292036732, abs=1e-6)


def test_legs(tmp_path):
    """Measured legs need no positions."""
    legs = "[{leg: 100 mm, angle: 90 deg}, {leg: 100 mm}]"
    car = CAR.replace("[[0, 0, 100]]", legs).replace(", at: [0, 0, 0]", "")
    assert only_piece(bom_of(tmp_path, car)).run_mm == pytest.approx(ELBOW, abs=1e-6)


@pytest.mark.parametrize(
    ("old", "new", "reason"),
    [
        (", route: [[0, 0, 100]]", "", "lines.feed.route or lines.feed.length is not given"),
        (", at: [0, 0, 0]", "", "components.mc.at is not given"),
        (", at: [100, 0, 100]", "", "components.fl.at is not given"),
        (
            "[[0, 0, 100]]",
            "[[0, 0, 10], [5, 0, 10]]",
            "lines.feed.route: leg 1 is 10.0 mm long, its bends take 15.0 mm",
        ),
        ("[[0, 0, 100]]", "[{leg: 9 cm}, {leg: 9 cm}]", "lines.feed.route.0.angle is not given"),
        (
            "[[0, 0, 100]]",
            "[{leg: 9 cm, angle: 45 deg}]",
            "lines.feed.route ends in a bend; the leg after it is not given",
        ),
        (
            "to: fl.pipe",
            "to: fl.bare",
            "the flare at feed.to is not known: parts.brake.ports.bare.seat is not given",
        ),
        ("tube: pipe", "tube: pope", "no catalog has the tube pope"),
    ],
)
def test_length_that_is_not_known(tmp_path, old, new, reason):
    """A length that cannot be told is None with the field that is missing, and so is its row's quantity."""
    bom = bom_of(tmp_path, CAR.replace(old, new))
    length = only_piece(bom)
    assert (length.mm, length.unknown) == (None, reason)
    (row,) = [row for row in bom.rows if row.unit == "mm"]
    assert row.quantity is None


def test_known_lengths_beside_an_unknown_one(tmp_path):
    """One unknown piece makes the quantity unknown; the known ones are added up apart."""
    car = CAR + "  more: {from: mc.out, to: fl.pipe, tube: pipe}\n"
    (row,) = [row for row in bom_of(tmp_path, car).rows if row.unit == "mm"]
    assert row.quantity is None
    assert row.known_mm == pytest.approx(ELBOW + 2 * BUBBLE, abs=1e-6)


def test_banjo_bolt_and_washers(tmp_path):
    """A banjo joint brings its bolt and one washer more than eyes."""
    body = """\
components: {fl: {part: brake}}
hoses:
  a: {part: whip}
  b: {part: whip}
joints:
  - {port: fl.in, eyes: [a.to, b.to]}
"""
    rows = rows_of(bom_of(tmp_path, body))
    assert rows["eye-bolt"] == (1, "each", ("fl.in",))
    assert rows["ring"] == (3, "each", ("fl.in",))
    assert rows["whip"] == (2, "each", ("a", "b"))


def test_hose_by_length(tmp_path):
    """A hose without a length of its own is cut goods; without a stated length the cut is not known."""
    bom = bom_of(tmp_path, "hoses:\n  a: {part: drip, length: 420 mm}\n  b: {part: drip}\n")
    (row,) = bom.rows
    assert (row.unit, row.quantity, row.known_mm) == ("mm", None, 420.0)
    assert [piece.length.unknown for piece in row.pieces] == [None, "hoses.b.length is not given"]


def test_unknown_parts_are_rows(tmp_path):
    """An id that no catalog has is a row marked unknown, with the reason; it comes last."""
    car = CAR.replace("part: pump", "part: pmp").replace("tube: pipe", "tube: pipe, ends: {to: {nut: nut-9}}")
    bom = bom_of(tmp_path, car)
    unknown = {row.part: row.description for row in bom.rows if row.unknown}
    assert set(unknown) == {"pmp", "nut-9"}
    assert unknown["pmp"] == "no catalog has a part 'pmp'; nearest is pump"
    assert bom.rows[-1].unknown
    assert [(item.at, item.reason) for item in bom.not_counted] == [
        (("mc.out", "feed.from"), "no catalog has what mc is: pmp")
    ]


def test_fixing_that_no_catalog_has(tmp_path):
    """A fixing without a part is a row with the wording of what is wanted."""
    body = """\
components: {mc: {part: pump}, fl: {part: brake}}
lines:
  feed: {from: mc.out, to: fl.pipe, tube: tube-1-2-steel}
"""
    (row,) = [row for row in bom_of(tmp_path, body).rows if row.part is None]
    assert (row.kind, row.quantity, row.unknown) == ("nut", 2, False)
    assert row.description == "M10x1 external nut, bubble, for 1/2 in tube"


def test_grommets_of_panels(tmp_path):
    """A panel's grommet is bought too."""
    rows = rows_of(bom_of(tmp_path, "panels: {wall: {grommet: rubber}, floor: {grommet: rubber}}\n"))
    assert rows == {"rubber": (2, "each", ("wall", "floor"))}


def test_what_could_not_be_counted(tmp_path):
    """A line to nowhere and a port without a seat are named, so that nuts are not missed in silence."""
    car = CAR.replace("to: fl.pipe", "to: fl.bare") + "  lost: {from: nobody.here, to: mc.out, tube: pipe}\n"
    found = {item.at[0]: item.reason for item in bom_of(tmp_path, car).not_counted}
    assert found == {
        "fl.bare": "parts.brake.ports.bare.seat is not given",
        "nobody.here": "nothing here has the tag nobody",
    }


def test_benders_and_trim_are_in_the_cut_length(tmp_path):
    """The bill cuts what the bench sheet cuts: bends by the bender's radius, and what is trimmed off both ends."""
    demo = Path(__file__).parents[2] / "demo_vehicle"
    text = (demo / "build.yaml").read_text(encoding="utf-8")
    assert "radius: 14.3 mm, clamp" in text
    assert "  flaring: {grip" in text
    copy = Path(shutil.copytree(demo, tmp_path / "car")) / "build.yaml"
    changed = text.replace("radius: 14.3 mm, clamp", "radius: 18 mm, clamp").replace("bend: 14.3 mm", "bend: 18 mm")
    changed = changed.replace("  flaring: {grip", "  trim: 1 mm\n  flaring: {grip")
    copy.write_text(changed, encoding="utf-8")
    lengths = []
    for place in (demo / "build.yaml", copy):
        graph = assemble(load(place, "as_corrected"))
        cut = {piece.tag: piece.length.mm for row in take_off(graph).rows for piece in row.pieces}
        made = {sheet.tag: sheet.cut_mm for sheet in sheets(graph).sheets}
        assert made == {tag: pytest.approx(cut[tag], abs=1e-9) for tag in made}
        lengths.append(cut["rear_feed"])
    assert lengths[1] != lengths[0]

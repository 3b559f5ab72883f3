"""Centre-lines as DXF: straights and arcs that meet where the tube's do, in mm, one layer for each line."""

import io
import sys
from math import dist
from typing import Any

import pytest

from fitcheck.build.curves import Arc, Straight, point_at
from fitcheck.errors import FitcheckError
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_curve import curve_of
from fitcheck.reports.make_dxf import NoShapeError, make_dxf, without_shape
from fitcheck.reports.workbook import NoPrintError
from tests.making.benches import made
from tests.reports.drawn import sheets, single, snake

LEGS = "[{leg: 100 mm, angle: 90 deg}, {leg: 80 mm, angle: 90 deg}, {leg: 100 mm}]"


@pytest.fixture
def library() -> Any:
    """Return the library that reads a drawing back, or skip."""
    return pytest.importorskip("ezdxf", reason="ezdxf is not installed: drawings of centre-lines were not made")


def test_pieces_lie_where_the_tube_does(library: Any) -> None:
    """Each straight and arc starts and ends, in space, where the centre-line's does, with its radius."""
    sheet = snake()
    drawing = library.read(io.StringIO(make_dxf(sheets(sheet))))
    assert drawing.audit().errors == []
    assert drawing.units == 4
    curve = curve_of(sheet) or ()
    drawn = [each for each in drawing.modelspace() if each.dxftype() in ("LINE", "ARC")]
    assert len(drawn) == len(curve) == 13
    for entity, piece in zip(drawn, curve, strict=True):
        ends = point_at(piece, 0.0), point_at(piece, 1.0)
        if isinstance(piece, Straight):
            found = [entity.dxf.start, entity.dxf.end]
        else:
            assert isinstance(piece, Arc)
            assert entity.dxf.radius == pytest.approx(piece.radius_mm)
            found = [entity.start_point, entity.end_point]
        for spot, end in zip(found, ends, strict=True):
            assert dist(tuple(spot), end) < 1e-6


def test_arcs_go_the_short_way(library: Any) -> None:
    """Every arc passes the middle of its bend, not the far side of its circle."""
    sheet = snake()
    drawing = library.read(io.StringIO(make_dxf(sheets(sheet))))
    arcs = [piece for piece in curve_of(sheet) or () if isinstance(piece, Arc)]
    for entity, arc in zip(drawing.modelspace().query("ARC"), arcs, strict=True):
        swept = (entity.dxf.end_angle - entity.dxf.start_angle) % 360.0
        (middle,) = entity.vertices([entity.dxf.start_angle + swept / 2.0])
        assert dist(tuple(middle), point_at(arc, 0.5)) < 1e-6


def test_layers_letters_and_caution(library: Any) -> None:
    """Each line has its layer, named by safe characters, with A and B at its ends; the caution is in the file."""
    sheet = snake()
    text = make_dxf(sheets(sheet._replace(tag='a<b>"\x1b'), single()))
    drawing = library.read(io.StringIO(text))
    assert {each.dxf.layer for each in drawing.modelspace()} == {"1_a_b___", "2_run"}
    letters = {each.dxf.text: tuple(each.dxf.insert) for each in drawing.modelspace().query('TEXT[layer=="1_a_b___"]')}
    assert sheet.points is not None
    assert letters["A"] == pytest.approx(sheet.points[0])
    assert letters["B"] == pytest.approx(sheet.points[-1])
    assert ("caution", CAUTION) in list(drawing.header.custom_vars)


def test_same_input_same_text(library: Any) -> None:
    """Neither the time nor a number by chance gets into the file, and the library's option is put back."""
    before = library.options.write_fixed_meta_data_for_testing
    assert make_dxf(sheets(snake())) == make_dxf(sheets(snake()))
    assert library.options.write_fixed_meta_data_for_testing is before


def test_lines_without_a_shape_are_left_out_by_name(library: Any) -> None:
    """What cannot be made or has no known shape is named; a drawing of nothing else is refused."""
    fault = made("[[20, 0, 0]]", end="[20, 200, 0]")._replace(tag="stub")
    both = sheets(fault, made(LEGS)._replace(tag="odd"), snake())
    assert without_shape(both) == ("stub", "odd")
    drawing = library.read(io.StringIO(make_dxf(both)))
    assert {each.dxf.layer for each in drawing.modelspace()} == {"1_run"}
    with pytest.raises(NoShapeError) as caught:
        make_dxf(sheets(fault))
    assert str(caught.value) == "no line to draw: the shape in space of none of them is known"
    assert isinstance(caught.value, FitcheckError)


def test_the_missing_library_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the library the message says which extra brings it."""
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    with pytest.raises(NoPrintError) as caught:
        make_dxf(sheets(snake()))
    assert str(caught.value) == 'this report needs a library that is not installed: pip install "fitcheck[cad]"'

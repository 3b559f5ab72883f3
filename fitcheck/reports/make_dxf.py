"""Centre-lines as a DXF drawing in space, for other drawing programs: straights and true arcs, mm."""

from collections.abc import Iterable
from importlib import import_module
from io import StringIO
from typing import Any, Final

from fitcheck.build.curves import Arc, Piece, point_at
from fitcheck.errors import FitcheckError
from fitcheck.making.shape import cross
from fitcheck.making.sheet import Sheet, Sheets
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_curve import curve_of
from fitcheck.reports.workbook import NoPrintError

_MILLIMETRES: Final = 4
"""Code of the format's header field for units."""
_VERSION: Final = "R2010"
_LETTER_MM: Final = 8.0


class NoShapeError(FitcheckError, ValueError):
    """None of the lines asked for has a shape in space."""

    def __str__(self) -> str:
        return "no line to draw: the shape in space of none of them is known"


def without_shape(made: Sheets) -> tuple[str, ...]:
    """Return the lines that a drawing in space leaves out: those that cannot be made or whose shape is not known."""
    return tuple(sheet.tag for sheet in made.sheets if sheet.faults or sheet.points is None)


def make_dxf(made: Sheets) -> str:
    """Return the centre-lines as DXF text, a layer for each line, its ends lettered; the rest is left out.

    Same input, same text.

    Raises:
        NoPrintError: the library that writes the format is not installed.
        NoShapeError: no line has a shape in space.
    """
    drawn = [sheet for sheet in made.sheets if sheet.tag not in without_shape(made)]
    if not drawn:
        raise NoShapeError
    library = _library()
    before = library.options.write_fixed_meta_data_for_testing
    # Otherwise the library puts in the time and numbers by chance.
    library.options.write_fixed_meta_data_for_testing = True
    try:
        return _text(library, drawn)
    finally:
        library.options.write_fixed_meta_data_for_testing = before


def _text(library: Any, sheets: Iterable[Sheet]) -> str:
    drawing = library.new(_VERSION, units=_MILLIMETRES)
    for index, sheet in enumerate(sheets, 1):
        layer = f"{index}_{_safe(sheet.tag)}"
        drawing.layers.add(layer)
        curve = curve_of(sheet) or ()
        for piece in curve:
            _add(drawing.modelspace(), library, piece, layer)
        for letter, piece, share in (("A", curve[0], 0.0), ("B", curve[-1], 1.0)):
            look = {"layer": layer, "height": _LETTER_MM, "insert": point_at(piece, share)}
            drawing.modelspace().add_text(letter, dxfattribs=look)
    drawing.header.custom_vars.append("caution", CAUTION)
    _sort_classes(drawing)
    stream = StringIO()
    drawing.write(stream)
    return stream.getvalue()


def _sort_classes(drawing: Any) -> None:
    """Put the list of kinds of entities in order: the library keeps them in a set."""
    drawing.classes.add_required_classes(drawing.dxfversion)
    drawing.classes.classes = dict(sorted(drawing.classes.classes.items()))


def _library() -> Any:
    try:
        return import_module("ezdxf")  # 0.5 s to import, needed here only
    except ImportError:
        raise NoPrintError("cad") from None


def _add(space: Any, library: Any, piece: Piece, layer: str) -> None:
    look: dict[str, Any] = {"layer": layer}
    if not isinstance(piece, Arc):
        space.add_line(piece.start, piece.end, dxfattribs=look)
        return
    upright = cross(piece.out, piece.along)
    frame = library.math.OCS(upright)
    start, end = (
        frame.from_wcs(tuple(a - b for a, b in zip(point_at(piece, share), piece.centre, strict=True)))
        for share in (0.0, 1.0)
    )
    angles = (library.math.Vec3(spot).angle_deg for spot in (start, end))
    look["extrusion"] = upright
    space.add_arc(frame.from_wcs(piece.centre), piece.radius_mm, *angles, dxfattribs=look)


def _safe(name: str) -> str:
    """Return a name of the characters that a layer may have."""
    return "".join(char if char.isascii() and (char.isalnum() or char in "_-") else "_" for char in name)

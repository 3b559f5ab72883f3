"""Centre-lines as a CAD kernel makes them, as an outside opinion on bend data. Needs the extra `reference`.

The kernel gets straight edges from corner to corner, and the radius. It finds each fillet itself, in the plane of its
two edges, trims the edges and makes the wire; length and volume are its own integrals. Nothing here knows of tangent
lengths, arcs, or rotations.
"""

from itertools import pairwise
from math import dist
from typing import Any, NamedTuple

from fitcheck.build.routes import Point


class Wire(NamedTuple):
    """A wire of the kernel: its length, and where its edges begin and end, in order, both ends of it included [mm]."""

    length_mm: float
    joints: tuple[Point, ...]
    shape: Any


def wire(points: list[Point], radii_mm: list[float]) -> Wire:
    """Return the wire through corners [mm], ends included, rounded with a radius for each inner corner."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.gp import gp_Pnt

    corners = [gp_Pnt(*point) for point in points]
    legs = [BRepBuilderAPI_MakeEdge(a, b).Edge() for a, b in pairwise(corners)]
    edges = [legs[0]]
    for corner, following, radius in zip(corners[1:-1], legs[1:], radii_mm, strict=True):
        edges += _filleted(edges.pop(), corner, following, radius)
    maker = BRepBuilderAPI_MakeWire()
    for edge in edges:
        maker.Add(edge)
    assert maker.IsDone()
    return Wire(_length(maker.Wire()), tuple(_joints(edges, points[0])), maker.Wire())


def tube_volume(made: Wire, radius_mm: float) -> float:
    """Return the volume of the solid that a disc of this radius sweeps along a wire [mm3]."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepGProp import BRepGProp
    from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipe
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt, gp_Vec
    from OCP.GProp import GProp_GProps

    start, along = gp_Pnt(*made.joints[0]), gp_Vec(gp_Pnt(*made.joints[0]), gp_Pnt(*made.joints[1]))
    ring = BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(start, gp_Dir(along)), radius_mm)).Edge()
    disc = BRepBuilderAPI_MakeFace(BRepBuilderAPI_MakeWire(ring).Wire()).Face()
    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(BRepOffsetAPI_MakePipe(made.shape, disc).Shape(), sums, 1e-9, False, False)
    return abs(sums.Mass())


def _filleted(leg: Any, corner: Any, following: Any, radius_mm: float) -> list[Any]:
    """Return two edges and the fillet that the kernel puts between them, the nearest to their corner."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.ChFi2d import ChFi2d_FilletAPI
    from OCP.gp import gp_Dir, gp_Pln
    from OCP.TopoDS import TopoDS_Edge

    one, two = (BRepAdaptor_Curve(edge).Line().Direction() for edge in (leg, following))
    fillet = ChFi2d_FilletAPI(leg, following, gp_Pln(corner, gp_Dir(one.Crossed(two).XYZ())))
    assert fillet.Perform(radius_mm)
    before, after = TopoDS_Edge(), TopoDS_Edge()
    arc = fillet.Result(corner, before, after)
    return [before, arc, after]


def _length(shape: Any) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    sums = GProp_GProps()
    BRepGProp.LinearProperties_s(shape, sums)
    return float(sums.Mass())


def _joints(edges: list[Any], start: Point) -> list[Point]:
    """Return where edges meet, from `start` on; the kernel may run any edge either way round."""
    from OCP.BRep import BRep_Tool
    from OCP.TopExp import TopExp

    found = [start]
    for edge in edges:
        spots = [BRep_Tool.Pnt_s(vertex) for vertex in (TopExp.FirstVertex_s(edge), TopExp.LastVertex_s(edge))]
        near, far = sorted(((spot.X(), spot.Y(), spot.Z()) for spot in spots), key=lambda spot: dist(spot, found[-1]))
        assert dist(near, found[-1]) < 1e-6  # the wire has no gap
        found.append(far)
    return found

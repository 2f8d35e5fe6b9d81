"""The same ring by our way and by the CAD kernel's: extrude, fillet, cut; timed in one run.

The kernel gets the openings as sharp polygons (arcs of rims and pads as chords), extrudes each,
fillets its upright edges with the cutter's radius, and cuts all of them out of the plate at once.
Ours goes from the spec to the exact outlines, and on to the exact solid. Budget: the kernel is at
least 50 times slower.
"""

import time
from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.collections import List_TopoDS_Shape
from OCP.gp import gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.Standard import Standard_Failure
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopoDS import TopoDS

import openwork
from openwork.measure.figures import mass
from openwork.render.accept.read_step import _all
from openwork.render.shop.step import ring_step
from openwork.render.solid.brep import solid
from openwork.render.solid.faces import faces
from openwork.ring import Design
from openwork.shape.contour import Contour, Points, area, sampled
from tests.bench._timing import seconds

DEMO = "gallery/harbour/spec.toml"
LARGE = "gallery/lighthouse/spec.toml"
MANY = {"pattern.name": "honeycomb", "pattern.columns": 50, "pattern.rows": 3}
CHORD = 0.01  # mm of the outline as the kernel gets it


def prism(points: Points, height: float) -> Any:
    polygon = BRepBuilderAPI_MakePolygon()
    for x, y in points.tolist():
        polygon.Add(gp_Pnt(x, y, 0.0))
    polygon.Close()
    face = BRepBuilderAPI_MakeFace(polygon.Wire()).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, height)).Shape()


def sharp(contour: Contour, corner: float) -> Points:
    """Return the corners (n, 2) where the sides of an opening would meet without its fillets."""
    sides = np.flatnonzero((contour.bulges <= 0) | (contour.radii > 2 * corner))
    start, along = contour.points[sides], contour.chords[sides]
    other, beside = np.roll(start, -1, axis=0), np.roll(along, -1, axis=0)
    cross = along[:, 0] * beside[:, 1] - along[:, 1] * beside[:, 0]
    apart = other - start
    part = (apart[:, 0] * beside[:, 1] - apart[:, 1] * beside[:, 0]) / cross
    return start + part[:, None] * along


def rounded(shape: Any, corner: float) -> tuple[Any, int]:
    """Return a prism with its upright edges filleted, and 1; itself, and 0, where that fails."""
    fillet = BRepFilletAPI_MakeFillet(shape)
    for one in _all(shape, TopAbs_EDGE):
        edge = TopoDS.Edge(one)
        if upright(edge):
            fillet.Add(corner, edge)
    try:
        return fillet.Shape(), 1
    except (Standard_Failure, RuntimeError):
        return shape, 0


def upright(edge: Any) -> bool:
    curve = BRepAdaptor_Curve(edge)
    start, end = curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter())
    return bool(abs(start.X() - end.X()) + abs(start.Y() - end.Y()) < 1e-9)


def by_kernel(design: Design) -> tuple[float, int]:
    """Return the volume of the slab that the kernel makes, and how many openings it rounded."""
    ring, corner = design.blank, design.site.corner
    whole, tools = List_TopoDS_Shape(), List_TopoDS_Shape()
    whole.Append(prism(sampled(ring.outline, CHORD), ring.plate))
    for one in (ring.edge, *ring.bolts):
        tools.Append(prism(sampled(one, CHORD), ring.plate))
    done = 0
    for one in design.openings:
        tool, success = rounded(prism(sharp(one, corner), ring.plate), corner)
        tools.Append(tool)
        done += success
    cut = BRepAlgoAPI_Cut()
    cut.SetArguments(whole)
    cut.SetTools(tools)
    cut.Build()
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(cut.Shape(), properties)
    return properties.Mass(), done


def slab(design: Design) -> float:
    """Return the volume of our ring if its teeth were as thick as its plate, mm3."""
    thick = design.blank.plate / design.blank.tooth_width
    band = area(design.blank.outline) - np.pi * design.blank.shroud**2
    total = mass(design) / design.blank.material.density
    return float(total + band * design.blank.tooth_width * (thick - 1))


def exact_solid(design: Design) -> object:
    return solid(faces(design))


def rows() -> Iterator[tuple[str, str]]:
    for path, changes in ((DEMO, {}), (LARGE, MANY)):
        spec = openwork.load(path, {**changes, "web.bevel": 0.0, "ring.sides": "square"})
        design = openwork.design(spec)
        count = f"{len(design.openings)} openings"
        ours = seconds(partial(openwork.design, spec))
        exact = seconds(partial(exact_solid, design), 3)
        data = ring_step(design)
        file = seconds(partial(ring_step, design), 3)
        start = time.perf_counter()
        volume, done = by_kernel(design)
        theirs = time.perf_counter() - start
        yield f"{count}: spec to Design", f"{1e3 * ours:.1f} ms"
        yield f"{count}: Design to exact solid", f"{1e3 * exact:.0f} ms"
        yield f"{count}: Design to STEP", f"{1e3 * file:.0f} ms, {len(data) / 1e6:.2f} MB"
        yield f"{count}: kernel, {done} of them filleted, then cut", f"{theirs:.2f} s"
        yield f"{count}: kernel's volume over ours", f"{volume / slab(design):.4f}"
        yield f"{count}: kernel over spec to Design", f"{theirs / ours:.0f} times"
        yield f"{count}: kernel over spec to exact solid", f"{theirs / (ours + exact):.0f} times"

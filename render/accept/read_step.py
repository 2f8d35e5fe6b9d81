"""The STEP file as the CAD kernel reads it: its solid, its faces, and its level contours."""

from __future__ import annotations

import math
import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.collections import (
    IndexedDataMap_TopoDS_Shape_List_TopoDS_Shape_TopTools_ShapeMapHasher as Ancestors,
)
from OCP.collections import IndexedMap_TopoDS_Shape_TopTools_ShapeMapHasher as Shapes
from OCP.collections import Sequence_TCollection_AsciiString as Texts
from OCP.GeomAbs import (
    GeomAbs_Circle,
    GeomAbs_Cone,
    GeomAbs_Cylinder,
    GeomAbs_Line,
    GeomAbs_Plane,
    GeomAbs_Torus,
)
from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_SOLID, TopAbs_VERTEX, TopAbs_WIRE
from OCP.TopExp import TopExp
from OCP.TopoDS import TopoDS

from openwork.render.accept.probes import probes
from openwork.render.accept.reading import Body, Reading
from openwork.render.accept.sections import edge_in, least_bolts_in, openings_in, outline_in, parted
from openwork.render.accept.upright import upright_contours
from openwork.render.solid.kernel import quiet
from openwork.shape.contour import Contour, area, reverse

if TYPE_CHECKING:
    from openwork.ring import Design

KINDS = {GeomAbs_Plane: "planes", GeomAbs_Cylinder: "cylinders", GeomAbs_Cone: "cones"}
KINDS |= {GeomAbs_Torus: "tori"}
PROTOCOLS = re.compile(r"AUTOMOTIVE_DESIGN|AP242_MANAGED_MODEL_BASED_3D_ENGINEERING")
FAR = 50.0  # mm over and under any ring
PLACES = 4  # decimals of a mm to which heights are told apart


@dataclass(frozen=True, slots=True)
class Piece:
    """A level edge: the numbers of its ends, where it starts, and its sweep (0 for a line)."""

    ends: tuple[int, int]
    starts: tuple[tuple[float, float], tuple[float, float]]
    sweep: float


def read_step(path: Path, design: Design) -> Reading:
    """Return the solid at *path* as read; raises ValueError where it is no STEP file."""
    reader, lengths = STEPControl_Reader(), Texts()
    with quiet():
        if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise ValueError("no STEP file")
        roots = reader.TransferRoots()
        reader.FileUnits(lengths, Texts(), Texts())
    if not roots or not reader.NbShapes():
        raise ValueError("no shape in the file")
    shape = reader.OneShape()
    units = {lengths.Value(k).ToCString() for k in range(1, lengths.Length() + 1)}
    blank, edges = design.blank, design.spec.edges
    levels = _levels(shape)
    inner = levels.get(round(edges.bore - blank.plate / 2, PLACES), ())
    if blank.sides is None and blank.alternating is None:
        band = levels.get(round(blank.band[0] + edges.teeth, PLACES), ())
    else:
        band = tuple(upright_contours(shape, blank.shroud))
    openings, pockets = _openings(levels, design)
    every = [loop for loops in levels.values() for loop in loops]
    head = path.read_text(encoding="ascii", errors="replace").partition("ENDSEC")[0]
    return Reading(
        reader=f"Open CASCADE {version('cadquery-ocp-novtk')}",
        unit="mm" if units == {"millimetre"} else " and ".join(sorted(units)),
        outline=(*outline_in(band), *edge_in(inner)),
        bolts=least_bolts_in(every, design),
        openings=openings,
        pockets=pockets,
        foreign=tuple(_foreign(shape, head)),
        body=replace(_body(shape), heights=_heights(shape, design)),
    )


def _openings(
    levels: Mapping[float, Sequence[Contour]], design: Design
) -> tuple[tuple[Contour, ...], tuple[Contour, ...]]:
    """Return openings and pockets: both end at the bevel, pockets at their floor too."""
    half, pocket = design.blank.plate / 2, design.spec.pocket
    side = -1 if pocket.faces[0] == "back" else 1
    every: tuple[Contour, ...] = ()
    # The widest bevel first: where another has no width, the ends of all lie beside its opening.
    for width in sorted(set(design.bevels(design.openings)), reverse=True):
        there = levels.get(round(side * (half - width), PLACES) + 0.0, ())
        every += parted(openings_in(there, design), every)[1]
    if not design.floors:
        return every, ()
    floor = levels.get(round(side * (half - pocket.depth(2 * half)), PLACES) + 0.0, ())
    pockets, openings = parted(every, openings_in(floor, design))
    return openings, pockets


def _foreign(shape: Any, head: str) -> Iterator[str]:
    if not PROTOCOLS.search(head):
        yield "an application protocol that is neither AP214 nor AP242"
    solids, faces, edges = (_all(shape, kind) for kind in (TopAbs_SOLID, TopAbs_FACE, TopAbs_EDGE))
    if len(solids) != 1:
        yield f"{len(solids)} solids"
        return
    for kind, all_of_kind, name in ((TopAbs_FACE, faces, "faces"), (TopAbs_EDGE, edges, "edges")):
        if extra := len(all_of_kind) - len(_all(solids[0], kind)):
            yield f"{extra} {name} outside the solid"


def _body(shape: Any) -> Body:
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties)
    centre = properties.CentreOfMass()
    vertices = [BRep_Tool.Pnt_s(TopoDS.Vertex(one)) for one in _all(shape, TopAbs_VERTEX)]
    heights = [point.Z() for point in vertices]
    faces = [TopoDS.Face(one) for one in _all(shape, TopAbs_FACE)]
    kinds = Counter(KINDS.get(BRepAdaptor_Surface(one).GetType(), "others") for one in faces)
    edges = [TopoDS.Edge(one) for one in _all(shape, TopAbs_EDGE)]
    edge_count = sum(not BRep_Tool.Degenerated_s(one) for one in edges)
    wires = len(_all(shape, TopAbs_WIRE))
    # Euler and Poincare: V - E + F - (L - F) = 2 (1 - G) for one shell of genus G with L loops.
    characteristic = len(vertices) - edge_count + 2 * len(faces) - wires
    return Body(
        volume=properties.Mass(),
        centre=np.array([centre.X(), centre.Y(), centre.Z()]),
        low=min(heights, default=math.nan),
        high=max(heights, default=math.nan),
        through=1 - characteristic // 2,
        faces=dict(kinds),
        loose=tuple(_loose(shape)),
    )


def _heights(shape: Any, design: Design) -> tuple[tuple[float, float], ...]:
    """Return the lowest and the highest metal that an upright line meets at each probe, mm."""
    finder = IntCurvesFace_ShapeIntersector()
    finder.Load(shape, 1e-7)
    found = []
    for one in probes(design):
        line = gp_Lin(gp_Pnt(one.point.real, one.point.imag, -FAR), gp_Dir(0, 0, 1))
        finder.Perform(line, 0.0, 2 * FAR)
        met = [finder.WParameter(k) - FAR for k in range(1, finder.NbPnt() + 1)]
        found.append((min(met, default=math.nan), max(met, default=math.nan)))
    return tuple(found)


def _loose(shape: Any) -> Iterator[str]:
    if not BRepCheck_Analyzer(shape).IsValid():
        yield "the shape is not valid"
    faces = Ancestors()
    TopExp.MapShapesAndAncestors_s(shape, TopAbs_EDGE, TopAbs_FACE, faces)
    open_edges = sum(
        faces.FindFromIndex(k).Size() != 2
        for k in range(1, faces.Extent() + 1)
        if not BRep_Tool.Degenerated_s(TopoDS.Edge(faces.FindKey(k)))
    )
    if open_edges:
        yield f"{open_edges} edges do not lie between two faces"


def _levels(shape: Any) -> Mapping[float, Sequence[Contour]]:
    """Return the closed contours of level edges, ccw, by height."""
    numbers = Shapes()
    TopExp.MapShapes_s(shape, TopAbs_VERTEX, numbers)
    pieces: dict[float, list[Piece]] = defaultdict(list)
    for one in _all(shape, TopAbs_EDGE):
        edge = TopoDS.Edge(one)
        if BRep_Tool.Degenerated_s(edge):
            continue
        curve = BRepAdaptor_Curve(edge)
        first, last = curve.FirstParameter(), curve.LastParameter()
        start, end = curve.Value(first), curve.Value(last)
        if abs(start.Z() - end.Z()) > 10.0**-PLACES or curve.GetType() not in {
            GeomAbs_Line,
            GeomAbs_Circle,
        }:
            continue
        sweep = 0.0
        if curve.GetType() == GeomAbs_Circle:
            sweep = math.copysign(last - first, curve.Circle().Axis().Direction().Z())
        ends = TopExp.FirstVertex_s(edge), TopExp.LastVertex_s(edge)
        pieces[round(start.Z(), PLACES) + 0.0].append(
            Piece(
                (numbers.FindIndex(ends[0]), numbers.FindIndex(ends[1])),
                ((start.X(), start.Y()), (end.X(), end.Y())),
                sweep,
            )
        )
    return {height: list(_chained(found)) for height, found in pieces.items()}


def _chained(pieces: Sequence[Piece]) -> Iterator[Contour]:
    """Yield the closed contours that *pieces* form, ccw."""
    at: dict[int, list[int]] = defaultdict(list)
    for k, piece in enumerate(pieces):
        for end in piece.ends:
            at[end].append(k)
    left = set(range(len(pieces)))
    for first in range(len(pieces)):
        if first not in left:
            continue
        points, bulges, k, corner = [], [], first, pieces[first].ends[0]
        while k in left:
            left.remove(k)
            side = pieces[k].ends.index(corner)
            points.append(pieces[k].starts[side])
            bulges.append(math.tan(pieces[k].sweep / 4) * (1 - 2 * side))
            corner = pieces[k].ends[1 - side]
            k = next((other for other in at[corner] if other in left), first)
        if len(points) > 1 and corner == pieces[first].ends[0]:
            contour = Contour(np.array(points), np.array(bulges))
            yield contour if area(contour) > 0 else reverse(contour)


def _all(shape: Any, kind: Any) -> list[Any]:
    """Return all parts of a kind, each once."""
    found = Shapes()
    TopExp.MapShapes_s(shape, kind, found)
    return [found.FindKey(k) for k in range(1, found.Extent() + 1)]

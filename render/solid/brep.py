"""The faces of a ring as one solid of the CAD kernel.

Nothing is cut and nothing is sewn: vertices and edges are made once for each loop and shared by
the faces that meet there. Arcs stand on cylinders, bevels of arcs on cones, all else on planes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, TypeAlias

import numpy as np
from OCP.BRep import BRep_Builder
from OCP.collections import Array1_gp_Pnt
from OCP.Geom import (
    Geom_BezierCurve,
    Geom_Circle,
    Geom_ConicalSurface,
    Geom_CylindricalSurface,
    Geom_Line,
    Geom_Plane,
)
from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt
from OCP.TopAbs import TopAbs_FORWARD, TopAbs_REVERSED
from OCP.TopoDS import (
    TopoDS_Edge,
    TopoDS_Face,
    TopoDS_Shell,
    TopoDS_Solid,
    TopoDS_Vertex,
    TopoDS_Wire,
)

from openwork.render.solid.faces import Faces, Floor, Loop, Wall
from openwork.render.solid.poles import to_poles
from openwork.render.solid.turned import TurnedMaker
from openwork.shape.contour import Points, area

TOLERANCE = 1e-6  # mm
UP = gp_Dir(0, 0, 1)

Use: TypeAlias = tuple[Any, bool]  # an edge, and whether it is run backwards


def solid(faces: Faces) -> Any:
    """Return the kernel's solid that *faces* bound."""
    maker = Maker()
    shell = TopoDS_Shell()
    maker.builder.MakeShell(shell)
    for floor in faces.floors:
        maker.builder.Add(shell, maker.floor(floor))
    for wall in faces.walls:
        for face in maker.wall(wall):
            maker.builder.Add(shell, face)
    sides = TurnedMaker(maker)
    for patch in faces.patches:
        maker.builder.Add(shell, sides.patch(patch))
    for cliff in faces.cliffs:
        maker.builder.Add(shell, sides.cliff(cliff))
    for strip in faces.strips:
        maker.builder.Add(shell, sides.strip(strip))
    shell.Closed(True)
    whole = TopoDS_Solid()
    maker.builder.MakeSolid(whole)
    maker.builder.Add(whole, shell)
    return whole


class Maker:
    """Makes faces, each vertex and each edge once."""

    def __init__(self) -> None:
        self.builder = BRep_Builder()
        self.loops: dict[Loop, tuple[list[Any], list[Any]]] = {}

    def floor(self, floor: Floor) -> Any:
        """Return a plane face."""
        plane = Geom_Plane(gp_Pnt(0, 0, floor.outer.height), UP)
        uses = [(edge, False) for edge in self.loop(floor.outer)[1]]
        holes = [[(edge, True) for edge in reversed(self.loop(one)[1])] for one in floor.holes]
        return _turned(self.face(plane, uses, *holes), not floor.front)

    def wall(self, wall: Wall) -> Iterator[Any]:
        """Yield a face for each piece of a wall."""
        vertices, edges = self.loop(wall.start)
        ends, far_edges = self.loop(wall.end)
        contour, rise = wall.start.contour, wall.end.height - wall.start.height
        onward = _onward(len(contour), wall.kept)
        sides = [
            self.side(vertices[k], ends[onward[k]], _path(wall, k, onward[k]))
            for k in range(len(contour))
        ]
        going_on = dict(zip(wall.kept, far_edges, strict=True))
        bulges = contour.bulges.tolist()
        for k, (surface, bulge) in enumerate(zip(_surfaces(wall), bulges, strict=True)):
            uses = [(edges[k], False), (sides[(k + 1) % len(sides)], False), (sides[k], True)]
            if k in going_on:
                uses.insert(2, (going_on[k], True))
            # The surface faces away from an arc's centre, and to the right of a line; the
            # edges as listed run counter-clockwise as seen from the right of the contour.
            if (bulge >= 0) != (rise > 0):
                uses = [(edge, not backwards) for edge, backwards in reversed(uses)]
            yield _turned(self.face(surface, uses), (bulge >= 0) != wall.outside)

    def loop(self, loop: Loop) -> tuple[list[Any], list[Any]]:
        """Return vertices and edges of a loop."""
        if loop not in self.loops:
            vertices = [self.vertex(x, y, loop.height) for x, y in loop.contour.points]
            self.loops[loop] = vertices, list(self.loop_edges(loop, vertices))
        return self.loops[loop]

    def loop_edges(self, loop: Loop, vertices: Sequence[Any]) -> Iterator[Any]:
        """Yield the edges of a loop between its *vertices*."""
        contour, height = loop.contour, loop.height
        pieces = zip(contour.points, contour.sweeps, contour.centres, contour.radii, strict=True)
        for k, (point, sweep, centre, radius) in enumerate(pieces):
            ends = vertices[k], vertices[(k + 1) % len(vertices)]
            if sweep == 0:
                other = contour.points[(k + 1) % len(vertices)]
                yield self.side(*ends, np.array([[*point, height], [*other, height]]))
                continue
            yield self.arc(ends, np.array([point, centre]), radius, sweep, height)

    def side(self, start: Any, end: Any, path: Points) -> Any:
        """Return the edge along *path* (2, 3), or the curve through *path* (n, 3), evenly run."""
        if len(path) == 2:
            along = path[1] - path[0]
            line = Geom_Line(gp_Pnt(*path[0]), gp_Dir(*along))
            return self.edge(line, start, end, float(np.linalg.norm(along)))
        poles = Array1_gp_Pnt(1, len(path))
        for k, pole in enumerate(to_poles(len(path)) @ path, start=1):
            poles.SetValue(k, gp_Pnt(*pole))
        return self.edge(Geom_BezierCurve(poles), start, end, 1.0)

    def vertex(self, x: float, y: float, z: float) -> Any:
        """Return a new vertex."""
        vertex = TopoDS_Vertex()
        self.builder.MakeVertex(vertex, gp_Pnt(x, y, z), TOLERANCE)
        return vertex

    def edge(self, curve: Any, start: Any, end: Any, length: float) -> Any:
        """Return the edge on *curve* between two vertices, its parameters from 0 to *length*."""
        edge = TopoDS_Edge()
        self.builder.MakeEdge(edge, curve, TOLERANCE)
        self.builder.Add(edge, start.Oriented(TopAbs_FORWARD))
        self.builder.Add(edge, end.Oriented(TopAbs_REVERSED))
        self.builder.Range(edge, 0.0, length)
        return edge

    def arc(
        self, ends: tuple[Any, Any], plan: Points, radius: float, sweep: float, height: float
    ) -> Any:
        """Return the level arc between *ends*; *plan* (2, 2) is where it starts, and its centre."""
        (first, centre), axis = plan, UP if sweep > 0 else UP.Reversed()
        spoke = gp_Dir(*(first - centre), 0)
        circle = Geom_Circle(gp_Ax2(gp_Pnt(*centre, height), axis, spoke), radius)
        return self.edge(circle, *ends, abs(sweep))

    def face(self, surface: Any, *wires: Sequence[Use]) -> Any:
        """Return the face of *surface* within *wires*, the outer one first."""
        face = TopoDS_Face()
        self.builder.MakeFace(face, surface, TOLERANCE)
        for uses in wires:
            wire = TopoDS_Wire()
            self.builder.MakeWire(wire)
            for edge, backwards in uses:
                self.builder.Add(wire, _turned(edge, backwards))
            wire.Closed(True)
            self.builder.Add(face, wire)
        return face


def _turned(shape: Any, backwards: bool) -> Any:
    return shape.Reversed() if backwards else shape


def _surfaces(wall: Wall) -> Iterator[Any]:
    """Yield what each piece of a wall lies on: it leans if the contour changes on the way."""
    contour, low = wall.start.contour, wall.start.height
    leans, rises = wall.end.contour != contour, wall.end.height > low
    widens = not leans or area(wall.end.contour) > area(contour)
    for (x, y), bulge, (dx, dy), centre, radius in zip(
        contour.points.tolist(),
        contour.bulges.tolist(),
        contour.chords.tolist(),
        contour.centres.tolist(),
        contour.radii.tolist(),
        strict=True,
    ):
        if bulge == 0:
            slope = math.copysign(math.hypot(dx, dy), 1 if widens else -1) if leans else 0.0
            yield Geom_Plane(gp_Pnt(x, y, low), gp_Dir(dy, -dx, -slope if rises else slope))
            continue
        grows = (bulge > 0) == widens
        axis = gp_Ax3(gp_Pnt(*centre, low), UP if grows == rises else UP.Reversed())
        if leans:
            yield Geom_ConicalSurface(axis, wall.slope, radius)
        else:
            yield Geom_CylindricalSurface(axis, radius)


def _onward(count: int, kept: Sequence[int]) -> list[int]:
    """Return, for each corner of the start, the corner of the end that it moves to."""
    following = np.searchsorted(kept, np.arange(count))
    return [int(k) % len(kept) for k in following]


def _path(wall: Wall, start: int, end: int) -> Points:
    """Return the points (2 or 5, 3) that the joint passes from *start* to *end*."""
    ridge = wall.ridges[start]
    flat = [wall.start.contour.points[start], wall.end.contour.points[end]]
    if ridge is not None:
        flat[1:1] = list(ridge)
    heights = np.linspace(wall.start.height, wall.end.height, len(flat))
    return np.column_stack([np.array(flat), heights])

"""Turned sides of teeth, and the cliffs round them, as faces of the CAD kernel.

A side turned with a radius lies on a torus, a straight one on a cone; where it meets an upright
face the edge is a curve of degree 8 through nine points of both, which lies on them to 1e-6 mm.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from OCP.collections import Array2_gp_Pnt
from OCP.Geom import (
    Geom_BezierSurface,
    Geom_ConicalSurface,
    Geom_CylindricalSurface,
    Geom_Plane,
    Geom_ToroidalSurface,
)
from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt

from openwork.render.solid.band import Cliff, Height, Rise, Turned, height_at
from openwork.render.solid.poles import to_poles
from openwork.shape.contour import Points
from openwork.shape.edge import Edge, at, edge, edges
from openwork.shape.snap import Snap

if TYPE_CHECKING:
    from openwork.render.solid.brep import Maker, Use
    from openwork.render.solid.broken import Strip
    from openwork.render.solid.faces import Patch

POINTS = 9  # of a curve on a turned side
CENTRED = 1e-6  # mm from the axis within which an arc runs about it
UP = gp_Dir(0, 0, 1)


class TurnedMaker:
    """Makes patches and cliffs; their corners and edges are known by where they lie."""

    def __init__(self, maker: Maker) -> None:
        self.maker = maker
        self.snap = Snap()
        self.corners: dict[int, Any] = {}
        self.known: dict[tuple[int, int, int], Any] = {}

    def patch(self, patch: Patch) -> Any:
        """Return a plane or turned face."""
        uses = [self.use(one, patch.height) for one in edges(patch.outer)]
        holes = [
            [(one, True) for one in reversed(self.maker.loop(hole)[1])] for hole in patch.holes
        ]
        if not isinstance(patch.height, Turned):
            plane = Geom_Plane(gp_Pnt(0, 0, patch.height), UP)
            return _turned(self.maker.face(plane, uses, *holes), not patch.front)
        # A turned surface faces outwards by itself: seen from behind, outlines run the other way.
        rings = [uses, *holes] if patch.front else [_back(ring) for ring in (uses, *holes)]
        return self.maker.face(_surface(patch.height), *rings)

    def cliff(self, cliff: Cliff) -> Any:
        """Return an upright face: along its foot, up, back along its brow, and down."""
        low = [(one, one.low) for one in cliff.rises]
        high = [(one, one.high) for one in reversed(cliff.rises)]
        uses: list[Use] = []
        for k, (one, height) in enumerate(low):
            uses.append(self.use(_edge(one), height))
            following = low[k + 1][1] if k + 1 < len(low) else high[0][1]
            uses += self.upright(one.end, height, following)
        for k, (one, height) in enumerate(high):
            made, backwards = self.use(_edge(one), height)
            uses.append((made, not backwards))
            following = high[k + 1][1] if k + 1 < len(high) else low[0][1]
            uses += self.upright(one.start, height, following)
        longest = max((_edge(one) for one in cliff.rises), key=lambda one: abs(one.end - one.start))
        surface, convex = _carrier(longest)
        return _turned(self.maker.face(surface, uses if convex else _back(uses)), not convex)

    def strip(self, strip: Strip) -> Any:
        """Return a chamfer: a cone where its edges are level arcs, else a ruled surface."""
        foot, brow = strip.foot, strip.brow
        near, far = (self.use(*one) for one in ((foot, strip.low), (brow, strip.high)))
        uses: list[Use] = [near, *self.leaning(strip, end=True)]
        uses += [(far[0], not far[1]), *self.leaning(strip, end=False)]
        if _level(foot, strip.low) and _level(brow, strip.high):
            # A cone faces away from its axis; so does the metal of an arc that bulges out.
            convex = foot.sweep > 0
            seen = uses if strip.front == convex else _back(uses)
            return _turned(self.maker.face(_cone(strip), seen), not convex)
        return _turned(self.maker.face(_ruled(strip), uses), not strip.front)

    def leaning(self, strip: Strip, *, end: bool) -> list[Use]:
        """Return the line across a strip: up at its end, down at its start."""
        foot, brow = (one.end if end else one.start for one in (strip.foot, strip.brow))
        low, high = self.corner(foot, strip.low), self.corner(brow, strip.high)
        if (low, high, -1) not in self.known:
            path = np.array([self.snap.points[low], self.snap.points[high]])
            made = self.maker.side(self.corners[low], self.corners[high], path)
            self.known[low, high, -1] = made
        return [(self.known[low, high, -1], not end)]

    def use(self, one: Edge, height: Height) -> Use:
        """Return the edge over a piece of the plan, and whether it is run backwards."""
        ends = [self.corner(z, height) for z in (one.start, one.end)]
        middle = at(one, 0.5)
        over = self.snap.number((middle.real, middle.imag, height_at(height, middle)))
        if (ends[1], ends[0], over) in self.known:
            return self.known[ends[1], ends[0], over], True
        if (ends[0], ends[1], over) not in self.known:
            vertices = [self.corners[k] for k in ends]
            self.known[ends[0], ends[1], over] = self.made(one, height, *vertices)
        return self.known[ends[0], ends[1], over], False

    def made(self, one: Edge, height: Height, start: Any, end: Any) -> Any:
        """Return the edge over a piece: a line, an arc, or a curve on a turned side."""
        if one.sweep and _level(one, height):
            plan = np.array([(z.real, z.imag) for z in (one.start, one.centre)])
            rise = height_at(height, one.start)
            return self.maker.arc((start, end), plan, one.radius, one.sweep, rise)
        count = POINTS if isinstance(height, Turned) else 2
        return self.maker.side(start, end, _path(one, height, count))

    def upright(self, point: complex, height: Height, following: Height) -> list[Use]:
        """Return the upright edge from one height to another, none where they are one."""
        start, end = self.corner(point, height), self.corner(point, following)
        if start == end:
            return []
        low, high = sorted((start, end), key=lambda k: self.snap.points[k][2])
        if (low, high, -1) not in self.known:
            path = np.array([self.snap.points[low], self.snap.points[high]])
            made = self.maker.side(self.corners[low], self.corners[high], path)
            self.known[low, high, -1] = made
        return [(self.known[low, high, -1], start == high)]

    def corner(self, point: complex, height: Height) -> int:
        """Return the number of a corner, whose vertex is made once."""
        place = point.real, point.imag, height_at(height, point)
        number = self.snap.number(place)
        if number not in self.corners:
            self.corners[number] = self.maker.vertex(*place)
        return number


def _edge(one: Rise) -> Edge:
    return edge(one.start, one.end, one.bulge)


def _path(one: Edge, height: Height, count: int) -> Points:
    """Return points (count, 3) over a piece, evenly run."""
    points = [at(one, part) for part in np.linspace(0, 1, count).tolist()]
    return np.array([(z.real, z.imag, height_at(height, z)) for z in points])


def _level(one: Edge, height: Height) -> bool:
    """Tell whether a piece runs at one height."""
    return not isinstance(height, Turned) or (one.sweep != 0 and abs(one.centre) < CENTRED)


def _cone(strip: Strip) -> Any:
    """Return what a chamfer between two level arcs lies on."""
    foot, brow = strip.foot, strip.brow
    low, high = height_at(strip.low, foot.start), height_at(strip.high, brow.start)
    up = (foot.radius < brow.radius) == (low < high)
    centre = gp_Pnt(foot.centre.real, foot.centre.imag, low)
    slope = math.atan2(abs(brow.radius - foot.radius), abs(high - low))
    return Geom_ConicalSurface(gp_Ax3(centre, UP if up else UP.Reversed()), slope, foot.radius)


def _ruled(strip: Strip) -> Any:
    """Return the surface ruled between the edges of a chamfer."""
    poles = Array2_gp_Pnt(1, POINTS, 1, 2)
    sides = ((strip.foot, strip.low), (strip.brow, strip.high))
    for k, (one, height) in enumerate(sides, start=1):
        for j, pole in enumerate(to_poles(POINTS) @ _path(one, height, POINTS), start=1):
            poles.SetValue(j, k, gp_Pnt(*pole))
    return Geom_BezierSurface(poles)


def _back(uses: list[Use]) -> list[Use]:
    return [(one, not backwards) for one, backwards in reversed(uses)]


def _turned(shape: Any, backwards: bool) -> Any:
    return shape.Reversed() if backwards else shape


def _surface(height: Turned) -> Any:
    """Return what a turned side lies on; it faces away from the band's middle."""
    one, way = height.profile, 1 if height.front else -1
    if math.isinf(one.radius):
        axis = gp_Ax3(gp_Pnt(0, 0, height.level), UP.Reversed() if height.front else UP)
        return Geom_ConicalSurface(axis, math.pi / 2 - math.atan(one.slope), one.start)
    axis = gp_Ax3(gp_Pnt(0, 0, height.level - way * one.radius), UP)
    return Geom_ToroidalSurface(axis, one.start, one.radius)


def _carrier(one: Edge) -> tuple[Any, bool]:
    """Return the plane or cylinder that stands on a piece, and whether it faces to its right."""
    if one.sweep == 0:
        across = -1j * one.leaving
        plane = Geom_Plane(
            gp_Pnt(one.start.real, one.start.imag, 0), gp_Dir(across.real, across.imag, 0)
        )
        return plane, True
    axis = gp_Ax3(gp_Pnt(one.centre.real, one.centre.imag, 0), UP)
    return Geom_CylindricalSurface(axis, one.radius), one.sweep > 0

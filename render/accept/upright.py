"""The outline of a solid from its upright faces: each stands on a line or an arc of the plan."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepTools import BRepTools
from OCP.GeomAbs import GeomAbs_Cylinder, GeomAbs_Plane
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

from openwork.shape.contour import Contour, area, reverse
from openwork.shape.snap import Snap

LEVEL = 1e-6  # of a direction that is level, or upright

Piece = tuple[complex, complex, float]  # start, end and sweep


def upright_contours(shape: Any, beyond: float) -> Iterator[Contour]:
    """Yield the closed contours (ccw) under the upright faces whose ends lie *beyond* a radius."""
    pieces = [one for one in _pieces(shape) if min(abs(one[0]), abs(one[1])) > beyond + 1e-3]
    snap = Snap()
    ends = [[snap.number((z.real, z.imag)) for z in one[:2]] for one in pieces]
    at: dict[int, list[int]] = {}
    for k, pair in enumerate(ends):
        for corner in pair:
            at.setdefault(corner, []).append(k)
    left = {k for k, pair in enumerate(ends) if all(len(at[corner]) == 2 for corner in pair)}
    while left:
        k = first = min(left)
        corner, points, bulges = ends[first][0], [], []
        while k in left:
            left.remove(k)
            back = ends[k].index(corner)
            start, sweep = pieces[k][back], pieces[k][2]
            points.append((start.real, start.imag))
            bulges.append(math.tan(sweep / 4) * (1 - 2 * back))
            corner = ends[k][1 - back]
            k = next((other for other in at[corner] if other in left), first)
        if len(points) > 2 and corner == ends[first][0]:
            contour = Contour(np.array(points), np.array(bulges))
            yield contour if area(contour) > 0 else reverse(contour)


def _pieces(shape: Any) -> Iterator[Piece]:
    """Yield the line or arc under each upright face."""
    walk = TopExp_Explorer(shape, TopAbs_FACE)
    while walk.More():
        face = TopoDS.Face(walk.Current())
        walk.Next()
        surface = BRepAdaptor_Surface(face, False)
        kind = surface.GetType()
        if kind == GeomAbs_Cylinder and abs(abs(surface.Cylinder().Axis().Direction().Z()) - 1) < (
            LEVEL
        ):
            low, high, *rest = BRepTools.UVBounds_s(face)
            ends = [surface.Value(u, rest[0]) for u in (low, high)]
            up = surface.Cylinder().Axis().Direction().Z() > 0
            z = [complex(one.X(), one.Y()) for one in ends]
            yield z[0], z[1], (high - low) * (1 if up else -1)
        elif kind == GeomAbs_Plane and abs(surface.Plane().Axis().Direction().Z()) < LEVEL:
            low, high, bottom, top = BRepTools.UVBounds_s(face)
            corners = [surface.Value(u, v) for u in (low, high) for v in (bottom, top)]
            z = [complex(one.X(), one.Y()) for one in corners]
            far = max(z, key=lambda one: abs(one - z[0]))
            if abs(far - z[0]) > LEVEL:
                yield z[0], far, 0.0

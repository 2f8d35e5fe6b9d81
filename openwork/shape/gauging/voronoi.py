"""The Voronoi diagram of points, read off their Delaunay triangles.

Two triangles with a side in common have their circumcentres at the ends of a ridge::

         .-----b-----.        the ridge *---* runs between circumcentres and is
        /   * /|\\ *  \\       midway between a and b, its two nearest points
       .-----/ | \\----.
              \\|/
               a
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from openwork.shape.contour import Complex, Numbers, as_points


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagram:
    """The finite ridges (n,) of a Voronoi diagram, by numbers of its points and vertices."""

    first: Numbers  # nearest point on one side, and on the other
    second: Numbers
    ends: Numbers  # (n, 2), vertices
    vertices: Complex  # not finite where three points lie on one line


def voronoi(points: Complex) -> Diagram:
    """Return the Voronoi diagram of *points* (n,), all different.

    Where more than three lie on one circle some ridges have no length.

    >>> square = np.array([0, 2, 2 + 2j, 2j])
    >>> voronoi(square).vertices.tolist()
    [(1+1j), (1+1j)]
    """
    triangles = _triangles(points)
    sides = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    sides.sort(axis=1)
    order = np.lexsort(sides.T)
    twice = (sides[order[1:]] == sides[order[:-1]]).all(axis=1)
    one, other = order[1:][twice], order[:-1][twice]
    first, second = sides[one].T
    return Diagram(
        first=first,
        second=second,
        ends=np.column_stack([one, other]) % len(triangles),
        vertices=_circumcentres(points[triangles]),
    )


def _triangles(points: Complex) -> Numbers:
    """Return the numbers (m, 3) of the corners of the Delaunay triangles."""
    plane = shapely.multipoints(as_points(points))
    corners = shapely.get_coordinates(shapely.delaunay_triangles(plane)).reshape(-1, 4, 2)[:, :3]
    order = np.argsort(points)
    return np.asarray(order[np.searchsorted(points[order], corners @ np.array([1.0, 1.0j]))])


def _circumcentres(corners: Complex) -> Complex:
    """Return the centres (m,) of the circles through the *corners* (m, 3) of triangles."""
    a, b, c = corners.T
    b, c = b - a, c - a
    with np.errstate(divide="ignore", invalid="ignore"):
        centre = b * c * (c - b).conj() / (2 * (b.conj() * c).imag)
    return np.asarray(a + 1j * centre)

"""Shapes shrunk with mitred corners, and what GEOS does in doubtful cases set right."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.shape.contour import Floats

SPECK = 0.1  # of its area: a core that is less may be one that GEOS put in the wrong place
MISPLACED = 1e-4  # mm a core may be too near the border: GEOS's mitres miss by some 1e-6

Shapely = NDArray[np.object_]


def eroded(shapes: Shapely, by: float) -> Shapely:
    """Return *shapes* shrunk by *by* with mitred corners; empty where next to nothing is left.

    GEOS may leave nothing where little should be left, but seldom in two steps. It may put a speck
    in the wrong place when less than nothing should be left, it cannot shrink a cell that crosses
    itself, and one that is not convex may fall in two that would lie nearer than a rib: only the
    largest part stays, and in doubt only where it really is *by* away from the border.
    """
    cores = _shrunk(shapes, by)
    empty = shapely.is_empty(cores)
    cores[empty] = _shrunk(_shrunk(shapes[empty], by / 2), by / 2)
    cores = largest(cores)
    small = shapely.area(cores) < SPECK * shapely.area(shapes)
    doubtful = np.flatnonzero(small | ~shapely.is_valid(shapes))
    apart = shapely.distance(cores[doubtful], shapely.boundary(shapes[doubtful]))
    cores[doubtful[~(apart >= by - MISPLACED)]] = shapely.Polygon()
    return cores


def _shrunk(shapes: Shapely, by: float) -> Shapely:
    return np.asarray(shapely.buffer(shapes, -by, join_style="mitre", mitre_limit=10))


def largest(shapes: Shapely) -> Shapely:
    """Return the largest polygon of each geometry, islands in it filled."""
    parts, index = shapely.get_parts(shapes, return_index=True)
    order = np.lexsort((shapely.area(parts), index))
    last = order[np.flatnonzero(np.diff(index[order], append=-1))]
    result = np.full(len(shapes), shapely.Polygon(), dtype=object)
    result[index[last]] = shapely.polygons(shapely.get_exterior_ring(parts[last]))
    return result


def opened_area(cores: Shapely, radius: float) -> Floats:
    """Return the area of each core grown by *radius*: Steiner's formula for convex shapes."""
    grown = shapely.area(cores) + shapely.length(cores) * radius + np.pi * radius**2
    areas: Floats = np.where(shapely.is_empty(cores), 0.0, grown)
    return areas

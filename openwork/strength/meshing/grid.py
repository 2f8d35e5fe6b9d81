"""Nodes inside a plate: a hexagonal grid, halved where finer elements are wanted."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from openwork.shape.contour import Points
from openwork.strength.meshing.sides import Sides, Size

CLEAR = 0.6  # of the grid spacing: how far grid nodes stay from edge nodes
DEEPEST = 6  # halvings of the grid
LENIENT = 0.2  # of a halving: grids this much coarser than wanted still do


def _hexagonal(low: Points, high: Points, step: float) -> Points:
    """Return a hexagonal grid of points *step* apart over a box, one on the origin."""
    row = step * np.sqrt(3) / 2
    j = np.arange(np.floor(low[1] / row), np.ceil(high[1] / row) + 1)
    i = np.arange(np.floor(low[0] / step) - 1, np.ceil(high[0] / step) + 1)
    x, y = np.meshgrid(i * step, j * row)
    x = x + (np.abs(j)[:, None] % 2) * step / 2
    return np.column_stack([x.ravel(), y.ravel()])


def in_metal(points: Points, boundary: Sides) -> NDArray[np.bool_]:
    """Tell which *points* lie in the metal, from the nearest side; near sides it may err."""
    tree = cKDTree(boundary.middles)
    _, nearest = tree.query(points)
    a = boundary.ends[nearest]
    d = boundary.ends[boundary.following[nearest]] - a
    v = points - a
    left: NDArray[np.bool_] = d[:, 0] * v[:, 1] - d[:, 1] * v[:, 0] > 0
    return left


def clear_of(points: Points, boundary: Sides, distance: float) -> NDArray[np.bool_]:
    """Tell which *points* keep *distance* (mm) from the nodes of the sides."""
    tree = cKDTree(np.concatenate([boundary.ends, boundary.middles]))
    away, _ = tree.query(points, distance_upper_bound=distance)
    clear: NDArray[np.bool_] = np.isinf(away)
    return clear


def grid_nodes(boundary: Sides, step: float, size: Size | None, extra: Points) -> Points:
    """Return the nodes inside: grids of halved steps where *size* asks for them, and *extra*."""
    edge_nodes = np.concatenate([boundary.ends, boundary.middles, extra])
    tree = cKDTree(edge_nodes)
    low, high = boundary.ends.min(axis=0), boundary.ends.max(axis=0)
    kept = []
    levels = 1
    if size is not None:
        halvings = np.log2(step / size(boundary.ends).min()) - LENIENT
        levels = 1 + int(np.clip(np.ceil(halvings), 0, DEEPEST))
    for level in range(levels):
        spacing = step / 2**level
        points = _hexagonal(low, high, spacing)
        if size is not None:
            wanted = np.clip(np.ceil(np.log2(step / size(points)) - LENIENT), 0, levels - 1)
            points = points[wanted == level]
        distance, _ = tree.query(points, distance_upper_bound=CLEAR * spacing)
        points = points[np.isinf(distance)]
        kept.append(points[in_metal(points, boundary)])
    return np.concatenate(kept)

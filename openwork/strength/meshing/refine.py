"""A second mesh, fine round the hottest places of a first."""

from __future__ import annotations

import numpy as np
from scipy.spatial import cKDTree

from openwork.shape.contour import Floats, Points
from openwork.strength.meshing.sides import Size

SPOTS = 30  # a coarse mesh ranks places wrongly by up to a quarter of their stress
APART = 3.0  # mm between two spots
FINEST = 0.5  # mm, elements at a spot
REACH = 0.5  # mm round a spot that are as fine as that
GROWTH = 0.5  # of the distance beyond, by which elements grow
FAR = 6.0  # mm from a spot, where elements as large as any mesh has would do


def hot_spots(points: Points, values: Floats, *, count: int = SPOTS) -> Points:
    """Return up to *count* places (k, 2) of the largest *values*, at least APART from another."""
    spots: list[Points] = []
    for point in points[np.argsort(-values)]:
        if all(np.hypot(*(point - spot)) >= APART for spot in spots):
            spots.append(point)
        if len(spots) == count:
            break
    return np.array(spots).reshape(-1, 2)


def around(spots: Points) -> Size:
    """Return the element size that is FINEST at *spots* and grows away from them."""
    tree = cKDTree(spots)

    def size(points: Points) -> Floats:
        away, _ = tree.query(points, distance_upper_bound=FAR)
        return np.asarray(FINEST + GROWTH * np.maximum(np.minimum(away, FAR) - REACH, 0))

    return size

"""A second mesh, fine round the hottest places of a first."""

from __future__ import annotations

import numpy as np

from openwork.shape.contour import Floats, Points
from openwork.strength.meshing.sides import Size

SPOTS = 6
APART = 3.0  # mm between two spots
FINEST = 0.5  # mm, elements at a spot
REACH = 1.0  # mm round a spot that are as fine as that
GROWTH = 0.35  # of the distance beyond, by which elements grow


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

    def size(points: Points) -> Floats:
        away = np.hypot(*np.moveaxis(points[:, None] - spots, -1, 0)).min(axis=1)
        return np.asarray(FINEST + GROWTH * np.maximum(away - REACH, 0))

    return size

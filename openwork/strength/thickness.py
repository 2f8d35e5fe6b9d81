"""How thick the ring is at a place: the plate, less what the cutter takes from its faces.

A cut is a function of the model, of places and of the size of their elements, that returns what
is taken there, mm; one more function in CUTS is all that another cut needs.
"""

from __future__ import annotations

import numpy as np
import shapely
from scipy.spatial import cKDTree

from openwork.shape.contour import Floats, Points, sampled
from openwork.strength.model import Model

CHORD = 5e-3  # mm that a sampled opening leaves its arcs
DENSE = 0.1  # mm between the points an opening is sampled at


def thickness(model: Model, points: Points, heights: Floats) -> Floats:
    """Return the thickness (m, g) at *points* (m, g, 2) of elements *heights* (m,) high, mm."""
    taken = sum(cut(model, points, heights[:, None]) for cut in CUTS)
    return np.asarray(model.plate - taken)


def band(model: Model, points: Points, _: Floats) -> Floats:
    """Return what the step down to the tooth band takes."""
    return np.where(beyond_shroud(model, points), model.plate - model.tooth_width, 0.0)


def beyond_shroud(model: Model, points: Points) -> Floats:
    """Return 1 at *points* (..., 2) in the tooth band, 0 inside it."""
    return np.asarray(np.hypot(*np.moveaxis(points, -1, 0)) > model.shroud, dtype=float)


def counterbores(model: Model, points: Points, _: Floats) -> Floats:
    """Return what the counterbores take."""
    if model.counterbore is None:
        return np.zeros(points.shape[:-1])
    radius, depth = model.counterbore
    away, _ = cKDTree(model.positions).query(points)
    return np.where(away < radius, depth, 0.0)


def bevels(model: Model, points: Points, heights: Floats) -> Floats:
    """Return what the bevels of the openings take, 45 degrees from both faces.

    A bevel narrower than a third of an element is spread over that third, no wider cut for it, so
    that three Gauss points take its section b^2 in full: 2/3 h (b/w)^2 (w - h/6) with w = h/3.
    """
    if not model.bevel or not model.openings:
        return np.zeros(points.shape[:-1])
    width = np.maximum(model.bevel, heights / 3)
    tree = cKDTree(np.concatenate([_dense(sampled(one, CHORD)) for one in model.openings]))
    away, _ = tree.query(points, distance_upper_bound=float(width.max()))
    return np.asarray(2 * (model.bevel / width) ** 2 * np.maximum(width - away, 0.0))


def _dense(outline: Points) -> Points:
    line = shapely.segmentize(shapely.LinearRing(outline), DENSE)
    return np.asarray(shapely.get_coordinates(line))


CUTS = (band, counterbores, bevels)

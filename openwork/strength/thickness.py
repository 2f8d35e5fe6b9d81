"""How thick the ring is at a place: the plate, less what the cutter takes from its faces.

A cut is a function of the model, of places and of the size of their elements, that returns what
is taken there, mm; one more function in CUTS is all that another cut needs.
"""

from __future__ import annotations

import numpy as np
import shapely
from scipy.spatial import cKDTree

from openwork.part.zones import thickness as part_thickness
from openwork.shape.contour import Contour, Floats, Points, polygon, sampled
from openwork.strength.model import Model

CHORD = 5e-3  # mm that a sampled opening leaves its arcs
DENSE = 0.1  # mm between the points an opening is sampled at


def thickness(model: Model, points: Points, heights: Floats) -> Floats:
    """Return the thickness (m, g) at *points* (m, g, 2) of elements *heights* (m,) high, mm."""
    taken = sum(cut(model, points, heights[:, None]) for cut in CUTS)
    return np.asarray(model.plate - taken)


def band(model: Model, points: Points, _: Floats) -> Floats:
    """Return what the step down to the tooth band takes, and the sides of its teeth.

    A run-out, or a wide tooth, that is thicker than the plate takes less than nothing.
    """
    beyond = beyond_plate(model, points)
    there = model.tooth_width if model.blank is None else part_thickness(model.blank, points)
    return np.asarray(beyond * (model.plate - there))


def beyond_plate(model: Model, points: Points) -> Floats:
    """Return 1 at *points* (..., 2) beyond the full plate, 0 in it."""
    return np.asarray(_radius(points) > model.full, dtype=float)


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
    return _sloped(model.openings, model.bevel, points, heights)


def chamfers(model: Model, points: Points, heights: Floats) -> Floats:
    """Return what the chamfers of other edges take, as bevels do."""
    given, steps = model.chamfers, model.blank.steps if model.blank else ()
    both = (
        _sloped((model.edge,), given.bore, points, heights)
        + _sloped(model.bolts, given.bolts, points, heights)
        + _sloped((model.outline,), given.teeth, points, heights)
    )
    if not given.step:
        return both
    width = np.maximum(given.step, heights / 3)
    within = model.shroud - _radius(points)
    slope = np.where(within > 0, (given.step / width) ** 2 * np.maximum(width - within, 0.0), 0.0)
    return np.asarray(both + sum(one > 0 for one in steps) * slope)


def recesses(model: Model, points: Points, heights: Floats) -> Floats:
    """Return what pockets take, by where a point lies; their bevels lie outside of them."""
    if model.recesses is None:
        return np.zeros(points.shape[:-1])
    outlines = model.recesses.outlines
    tree = shapely.STRtree([polygon(one, (), CHORD) for one in outlines])
    flat = shapely.points(points.reshape(-1, 2))
    met = np.zeros(len(flat), dtype=bool)
    met[tree.query(flat, predicate="intersects")[0]] = True
    inside = met.reshape(points.shape[:-1])
    slope = _sloped(outlines, model.recesses.bevel, points, heights) * model.recesses.faces / 2
    return np.where(inside, model.recesses.depth, slope)


def _sloped(
    outlines: tuple[Contour, ...],
    bevel: float | tuple[float, ...],
    points: Points,
    heights: Floats,
) -> Floats:
    """Return what bevels of *outlines*, on both faces, take: all of one width, or each of its own.

    Of two bevels that reach a place, that of the nearer outline counts.
    """
    if not np.any(bevel) or not outlines:
        return np.zeros(points.shape[:-1])
    lines = shapely.segmentize([shapely.LinearRing(sampled(one, CHORD)) for one in outlines], DENSE)
    places, owner = shapely.get_coordinates(lines, return_index=True)
    each = np.broadcast_to(bevel, len(outlines))[owner]
    reach = float(max(each.max(), heights.max() / 3))
    away, nearest = cKDTree(places).query(points, distance_upper_bound=reach)
    own = np.append(each, 0.0)[nearest]  # what lies out of reach is numbered last
    width = np.maximum(own, heights / 3)
    return np.asarray(2 * (own / width) ** 2 * np.maximum(width - away, 0.0))


def _radius(points: Points) -> Floats:
    return np.asarray(np.hypot(*np.moveaxis(points, -1, 0)))


CUTS = (band, counterbores, bevels, chamfers, recesses)

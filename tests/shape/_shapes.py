"""Closed polylines of curves whose equations are known, and what the tests measure of contours."""

import math

import numpy as np
import shapely

from openwork.shape.contour import Contour, Floats, Points, sampled


def polyline(x: Floats, y: Floats) -> Points:
    return np.column_stack([x, y])


def ellipse(a: float, b: float, count: int) -> Points:
    t = 2 * np.pi * np.arange(count) / count
    return polyline(a * np.cos(t), b * np.sin(t))


def lobes(radius: float, depth: float, number: int, count: int) -> Points:
    """Return a round whose radius waves: curvature of both signs."""
    t = 2 * np.pi * np.arange(count) / count
    r = radius * (1 + depth * np.cos(number * t))
    return polyline(r * np.cos(t), r * np.sin(t))


def spiral_cell(inner: float, outer: float, lean: float, sector: float, count: int) -> Points:
    """Return a cell between two logarithmic spirals and two rounds about the origin."""
    r = inner * (outer / inner) ** np.linspace(0, 1, count)
    t = math.tan(lean) * np.log(r / inner)
    out = np.linspace(0, sector, count)[1:-1]
    angle = np.concatenate([t, t[-1] + out, (t + sector)[::-1], out[::-1]])
    radius = np.concatenate([r, np.full(len(out), outer), r[::-1], np.full(len(out), inner)])
    return polyline(radius * np.cos(angle), radius * np.sin(angle))


def turned(points: Points, angle: float) -> Points:
    c, s = math.cos(angle), math.sin(angle)
    return np.asarray(points @ np.array([[c, s], [-s, c]]))


def turns(contour: Contour) -> Floats:
    """Return the angles (n,), radians, from each piece to the next."""
    heading = np.angle(contour.chords @ np.array([1.0, 1.0j]))
    half = contour.sweeps / 2
    turn = np.roll(heading - half, -1) - (heading + half)
    return np.asarray((turn + np.pi) % (2 * np.pi) - np.pi)


def lengths(contour: Contour) -> Floats:
    """Return the lengths (n,) of the pieces, mm."""
    chord = np.hypot(*contour.chords.T)
    bend = np.abs(contour.sweeps) / 2
    return np.asarray(chord * np.where(bend == 0, 1.0, bend / np.where(bend, np.sin(bend), 1.0)))


def apart(contour: Contour, ring: Points) -> float:
    """Return the greatest distance from *contour* to *ring* or back, by shapely."""
    given = sampled(contour, 5e-5)
    return max(_far(given, ring), _far(ring, given))


def _far(ring: Points, other: Points) -> float:
    line = shapely.LinearRing(ring)
    points = shapely.points(shapely.get_coordinates(shapely.segmentize(line, line.length / 2000)))
    segments = shapely.linestrings(np.stack([other, np.roll(other, -1, axis=0)], axis=1))
    _, distance = shapely.STRtree(segments).query_nearest(
        points, return_distance=True, all_matches=False
    )
    return float(distance.max())


def ends(contour: Contour) -> tuple[Points, Points]:
    """Return start and middle (n,) of each piece, complex; a bulge lifts the middle by its share.

    The rise of an arc over its chord is the bulge times half of that (DXF Reference, LWPOLYLINE).
    """
    start, chord = contour.points @ np.array([1.0, 1.0j]), contour.chords @ np.array([1.0, 1.0j])
    return start, start + chord / 2 - 0.5j * chord * contour.bulges


def alike(contour: Contour) -> Floats:
    """Return how far (n,), mm, each piece and the next lie off the circle or line nearest to both.

    The circle by least squares of its equation (Kasa, IEEE Trans. Instrum. Meas. 1976).
    """
    start, middle = ends(contour)
    path = np.column_stack([start, middle]).ravel()
    count = len(path)
    found = []
    for k in range(0, count, 2):
        z = path[np.arange(k, k + 5) % count]
        scale = np.abs(z - z.mean()).max()
        x, y = ((z - z.mean()) / scale).real, ((z - z.mean()) / scale).imag
        # a (x^2 + y^2) + b x + c y + d = 0 holds for lines too; divided by the slope it is mm.
        rows = np.column_stack([x * x + y * y, x, y, np.ones(5)])
        a, b, c, d = np.linalg.svd(rows)[2][-1]
        slope = np.hypot(2 * a * x + b, 2 * a * y + c)
        found.append(float((np.abs(rows @ [a, b, c, d]) / slope).max() * scale))
    return np.array(found)

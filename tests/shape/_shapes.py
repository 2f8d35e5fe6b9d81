"""Closed polylines of curves whose equations are known, and what the tests measure of contours."""

import math

import numpy as np
import shapely

from openwork.shape.contour import Contour, Floats, Points, polygon


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
    """Return the greatest distance from contour to *ring* or back, by finely sampled lines."""
    traced = polygon(contour, sagitta=1e-6).exterior
    given = shapely.LinearRing(ring)
    finely = [shapely.segmentize(one, one.length / 4000) for one in (traced, given)]
    far = [
        shapely.distance(shapely.points(shapely.get_coordinates(a)), b).max()
        for a, b in (finely, finely[::-1])
    ]
    return float(max(far))


def same_piece(contour: Contour) -> list[int]:
    """Return the numbers of pieces that lie on one line or circle with the next, in a tangent."""
    found = []
    curvature = np.sign(contour.bulges) / contour.radii
    for k, turn in enumerate(turns(contour)):
        step = abs(curvature[k] - curvature[(k + 1) % len(contour)])
        both = lengths(contour)[[k, (k + 1) % len(contour)]].min()
        if abs(turn) < 1e-6 and step * both**2 < 1e-6:
            found.append(k)
    return found

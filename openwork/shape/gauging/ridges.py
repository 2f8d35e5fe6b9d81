"""Voronoi ridges between samples of contours: where two stretches of outline face each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from openwork.shape.contour import Complex, Contour, Floats, Numbers
from openwork.shape.gauging.samples import Samples, samples
from openwork.shape.gauging.voronoi import voronoi

FACING = math.radians(120.0)  # least angle between the two sides, seen from the ridge


@dataclass(frozen=True, slots=True, kw_only=True)
class Ridges:
    """Ridges (n,) whose two nearest samples face each other; points as complex numbers."""

    first: Numbers  # contours on either side
    second: Numbers
    here: Complex  # samples on either side
    there: Complex
    middle: Complex
    length: Floats
    width: Floats  # from outline to outline through the middle of the ridge
    around: Floats  # between the samples along the outline, if both lie on one


def facing(contours: Sequence[Contour], spacing: float) -> Ridges:
    """Return the ridges between samples at most *spacing* (mm) apart, neighbours left out."""
    found = samples(contours, spacing)
    diagram = voronoi(found.points)
    a, b, corners = diagram.first, diagram.second, diagram.vertices[diagram.ends]
    kept = np.isfinite(corners).all(axis=1) & (found.after[a] != b) & (found.after[b] != a)
    a, b, corners = a[kept], b[kept], corners[kept]
    middle = corners.mean(axis=1)
    here, there = found.points[a], found.points[b]
    opposite = np.abs(here - there) >= 2 * math.sin(FACING / 2) * np.abs(middle - here)
    a, b, corners, middle = a[opposite], b[opposite], corners[opposite], middle[opposite]
    around = np.abs(found.along[a] - found.along[b])
    return Ridges(
        first=found.owner[a],
        second=found.owner[b],
        here=found.points[a],
        there=found.points[b],
        middle=middle,
        length=np.abs(np.diff(corners, axis=1)[:, 0]),
        width=_apart(found, a, middle) + _apart(found, b, middle),
        around=np.minimum(around, found.length[a] - around),
    )


def _apart(found: Samples, nearest: Numbers, points: Complex) -> Floats:
    """Return the distances of *points* from the outlines next to their *nearest* found."""
    apart = np.abs(points - found.points[nearest])
    for start in (nearest, found.before[nearest]):
        a, b = found.points[start], found.points[found.after[start]]
        chord = b - a
        along = ((points - a) * chord.conj()).real / np.abs(chord) ** 2
        foot = a + along * chord
        arm = points - found.centre[start]
        # A line has its centre at infinity; what comes of that is not taken.
        with np.errstate(invalid="ignore"):
            curved = np.isfinite(found.radius[start]) & (arm != 0)
        with np.errstate(invalid="ignore"):
            ring = found.centre[start] + found.radius[start] * arm / np.abs(arm)
        foot = np.where(curved, ring, foot)
        part = ((foot - a) * chord.conj()).real / np.abs(chord) ** 2
        within = (part >= 0) & (part <= 1)
        apart = np.where(within, np.minimum(apart, np.abs(points - foot)), apart)
    return np.asarray(apart)

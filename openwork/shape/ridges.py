"""Voronoi ridges between samples of contours: where two stretches of outline face each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Voronoi

from openwork.shape.contour import Contour, Floats

FACING = math.radians(120.0)  # least angle between the two sides, seen from the ridge

Complex = NDArray[np.complex128]
Numbers = NDArray[np.intp]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Samples:
    """Samples (n,) of closed contours, and the piece that leads from each to the next."""

    points: Complex
    owner: Numbers
    after: Numbers  # numbers of the next and the last sample of the same contour
    before: Numbers
    centre: Complex  # of the piece; NaN for a line
    radius: Floats
    along: Floats  # length from the contour's start
    length: Floats  # of the whole contour


def facing(contours: Sequence[Contour], spacing: float) -> Ridges:
    """Return the ridges between samples at most *spacing* (mm) apart, neighbours left out."""
    samples = _samples(contours, spacing)
    diagram = Voronoi(np.column_stack([samples.points.real, samples.points.imag]))
    ends = np.array(diagram.ridge_vertices)
    a, b = diagram.ridge_points.T
    kept = (ends >= 0).all(axis=1) & (samples.after[a] != b) & (samples.after[b] != a)
    a, b, ends = a[kept], b[kept], ends[kept]
    corners = diagram.vertices @ np.array([1.0, 1.0j])
    middle = corners[ends].mean(axis=1)
    here, there = samples.points[a], samples.points[b]
    opposite = np.abs(here - there) >= 2 * math.sin(FACING / 2) * np.abs(middle - here)
    a, b, ends, middle = a[opposite], b[opposite], ends[opposite], middle[opposite]
    around = np.abs(samples.along[a] - samples.along[b])
    return Ridges(
        first=samples.owner[a],
        second=samples.owner[b],
        here=samples.points[a],
        there=samples.points[b],
        middle=middle,
        length=np.abs(np.diff(corners[ends], axis=1)[:, 0]),
        width=_apart(samples, a, middle) + _apart(samples, b, middle),
        around=np.minimum(around, samples.length[a] - around),
    )


def _samples(contours: Sequence[Contour], spacing: float) -> Samples:
    start = np.concatenate([one.points for one in contours]) @ np.array([1.0, 1.0j])
    chord = np.concatenate([one.chords for one in contours]) @ np.array([1.0, 1.0j])
    sweep = np.concatenate([one.sweeps for one in contours])
    centre = np.concatenate([one.centres for one in contours]) @ np.array([1.0, 1.0j])
    radius = np.concatenate([one.radii for one in contours])
    size = np.where(sweep == 0, np.abs(chord), np.abs(sweep) * np.where(sweep == 0, 0, radius))
    owner = np.repeat(np.arange(len(contours)), [len(one) for one in contours])
    count = np.ceil(size / spacing).astype(int)
    piece = np.repeat(np.arange(len(start)), count)
    part = (np.arange(len(piece)) - np.repeat(np.cumsum(count) - count, count)) / count[piece]
    turned = centre[piece] + (start - centre)[piece] * np.exp(1j * sweep[piece] * part)
    points = np.where(sweep[piece] == 0, start[piece] + part * chord[piece], turned)
    owners = owner[piece]
    first = np.searchsorted(owners, owners)
    last = np.searchsorted(owners, owners, side="right") - 1
    here = np.arange(len(points))
    total: Floats = np.bincount(owner, weights=size).astype(float)
    return Samples(
        points=points,
        owner=owners,
        after=np.where(here == last, first, here + 1),
        before=np.where(here == first, last, here - 1),
        centre=centre[piece],
        radius=radius[piece],
        along=(np.cumsum(size) - size)[piece] + part * size[piece],
        length=total[owners],
    )


def _apart(samples: Samples, nearest: Numbers, points: Complex) -> Floats:
    """Return the distances of *points* from the outlines next to their *nearest* samples."""
    apart = np.abs(points - samples.points[nearest])
    for start in (nearest, samples.before[nearest]):
        a, b = samples.points[start], samples.points[samples.after[start]]
        chord = b - a
        along = ((points - a) * chord.conj()).real / np.abs(chord) ** 2
        foot = a + along * chord
        arm = points - samples.centre[start]
        # A line has its centre at infinity; what comes of that is not taken.
        with np.errstate(invalid="ignore"):
            ring = samples.centre[start] + samples.radius[start] * arm / np.abs(arm)
        foot = np.where(np.isinf(samples.radius[start]), foot, ring)
        part = ((foot - a) * chord.conj()).real / np.abs(chord) ** 2
        within = (part >= 0) & (part <= 1)
        apart = np.where(within, np.minimum(apart, np.abs(points - foot)), apart)
    return np.asarray(apart)

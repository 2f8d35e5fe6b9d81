"""Points on many contours at once, each with the piece it lies on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.shape.bulge import centre_of, radius_of, sweep_of
from openwork.shape.contour import (
    SAGITTA,
    Complex,
    Contour,
    Floats,
    Numbers,
    as_complex,
    as_points,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Samples:
    """Samples (n,) of closed contours, every end of a piece among them; points are complex."""

    points: Complex
    owner: Numbers  # number of the contour
    after: Numbers  # numbers of the next and the last sample of the same contour
    before: Numbers
    centre: Complex  # of the piece that leads on; NaN for a line
    radius: Floats
    along: Floats  # length from the contour's start
    length: Floats  # of the whole contour


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """The pieces (n,) of several contours; points as complex numbers."""

    owner: Numbers  # number of the contour
    start: Complex
    chord: Complex
    sweep: Floats
    centre: Complex  # NaN for a line
    radius: Floats
    length: Floats


def pieces_of(contours: Sequence[Contour]) -> Pieces:
    """Return the pieces of all *contours*, one after the other."""
    counts = np.array([len(one) for one in contours], dtype=np.intp)
    start = as_complex(np.concatenate([np.empty((0, 2)), *(one.points for one in contours)]))
    bulge = np.concatenate([np.empty(0), *(one.bulges for one in contours)])
    after = np.arange(1, len(start) + 1)
    last = np.cumsum(counts) - 1
    after[last] -= counts
    chord = start[after] - start
    line = bulge == 0
    safe = np.where(line, 1.0, bulge)
    sweep = sweep_of(bulge)
    radius = np.where(line, np.inf, radius_of(np.abs(chord), safe))
    centre = centre_of(start, start[after], safe)
    return Pieces(
        owner=np.repeat(np.arange(len(contours)), counts),
        start=start,
        chord=chord,
        sweep=sweep,
        centre=np.where(line, np.nan, centre),
        radius=radius,
        length=np.abs(np.where(line, chord, sweep * np.where(line, 0.0, radius))),
    )


def _points(pieces: Pieces, number: Numbers, part: Floats) -> Complex:
    """Return the points *part* of the way along the pieces of the given *number*."""
    start, sweep, centre = pieces.start[number], pieces.sweep[number], pieces.centre[number]
    turned = centre + (start - centre) * np.exp(1j * sweep * part)
    straight = (sweep == 0) | (part == 0)
    return np.asarray(np.where(straight, start + part * pieces.chord[number], turned))


def _parts(count: Numbers) -> tuple[Numbers, Numbers]:
    """Return for *count* (n,) things of each piece the number of the piece and of the thing."""
    number = np.repeat(np.arange(len(count)), count)
    return number, np.arange(len(number)) - np.repeat(np.cumsum(count) - count, count)


def samples(contours: Sequence[Contour], spacing: float) -> Samples:
    """Return samples at most *spacing* (mm) apart along the outlines."""
    pieces = pieces_of(contours)
    count = np.ceil(np.maximum(pieces.length / spacing - 1e-9, 1.0)).astype(int)
    number, step = _parts(count)
    part = step / count[number]
    owner = pieces.owner[number]
    first = np.searchsorted(owner, owner)
    last = np.searchsorted(owner, owner, side="right") - 1
    here = np.arange(len(owner))
    begun = np.cumsum(pieces.length) - pieces.length
    return Samples(
        points=_points(pieces, number, part),
        owner=owner,
        after=np.where(here == last, first, here + 1),
        before=np.where(here == first, last, here - 1),
        centre=pieces.centre[number],
        radius=pieces.radius[number],
        along=begun[number] + part * pieces.length[number],
        length=np.bincount(pieces.owner, weights=pieces.length)[owner].astype(float),
    )


def lines(pieces: Pieces, numbers: Numbers, sagitta: float) -> NDArray[np.object_]:
    """Return the pieces of the given *numbers* as shapely lines within *sagitta* (mm)."""
    sweep, radius = np.abs(pieces.sweep[numbers]), pieces.radius[numbers]
    step = 2 * np.arccos(np.clip(1 - sagitta / radius, -1.0, 1.0))
    chords = np.ceil(np.where(sweep == 0, 1.0, sweep / np.where(sweep == 0, 1.0, step)))
    count = np.maximum(chords, 1.0).astype(int)
    which, place = _parts(count + 1)
    points = _points(pieces, numbers[which], place / count[which])
    coordinates = as_points(points)
    return np.asarray(shapely.linestrings(coordinates, indices=which), dtype=object)


def polygons(contours: Sequence[Contour], sagitta: float = SAGITTA) -> NDArray[np.object_]:
    """Return the shapely polygons (n,) of *contours*, arcs as chords within *sagitta* (mm)."""
    pieces = pieces_of(contours)
    # Even a circle smaller than the sagitta keeps enough points to be a ring.
    step = np.minimum(2 * np.arccos(np.clip(1 - sagitta / pieces.radius, -1, 1)), 2 * np.pi / 3)
    line = pieces.sweep == 0
    chords = np.ceil(np.abs(pieces.sweep) / np.where(line, 1.0, step) - 1e-9)
    count = np.maximum(chords, 1.0).astype(int)
    which, place = _parts(count)
    points = _points(pieces, which, place / count[which])
    coordinates = as_points(points)
    rings = shapely.linearrings(coordinates, indices=pieces.owner[which])
    return np.asarray(shapely.polygons(rings), dtype=object)

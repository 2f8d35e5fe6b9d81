"""Neutral numbers about a look: they tell designs apart and never say which is better.

Measured on the finished openings: a raster of the web in radius and angle, and the openings'
areas and outlines. Handedness and rhythm are read off Fourier transforms of the raster.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.shape.contour import Contour, Floats
from openwork.shape.gauging.integrals import integrals
from openwork.shape.gauging.samples import polygons

ROWS, COLUMNS = 32, 720  # of the raster: half a degree resolves 120 columns threefold
CHORD = 0.002  # mm; finer changes no cell of the raster
ORDERS = 121  # angular orders looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """Numbers from 0 to 1 unless said; see ``figures`` for the meaning of each."""

    cell_spread: float
    circularity: float
    handedness: float
    mirror: float
    rhythm: tuple[int, float]


def looks(
    openings: Sequence[Contour], fold: int, inner: float, outer: float, turn: float = 0.0
) -> Looks:
    """Return the looks of *openings* in the web between the radii *inner* and *outer* (mm).

    The first ``len(openings) // fold`` are one symmetry sector, the others its rotations; all are
    turned by *turn*, radians.
    """
    if not openings:
        return Looks(
            cell_spread=0.0, circularity=math.nan, handedness=0.0, mirror=1.0, rhythm=(0, 0.0)
        )
    found = integrals(openings)
    areas, lengths = found.areas, found.lengths
    open_ = raster(openings, fold, inner, outer, turn)
    spectrum = np.fft.fft2(open_ - open_.mean())
    return Looks(
        cell_spread=float(areas.std() / areas.mean()),
        circularity=float(np.mean(4 * np.pi * areas / lengths**2)),
        handedness=_handedness(spectrum),
        mirror=_mirror(open_),
        rhythm=_rhythm(open_),
    )


def raster(
    openings: Sequence[Contour], fold: int, inner: float, outer: float, turn: float = 0.0
) -> NDArray[np.bool_]:
    """Return where the web is open: rows in ln r from hem to rim, columns in angle from *turn*.

    One sector is looked at and turned, where the sectors hold whole columns. A line at a multiple
    of a quarter degree from there mirrors the places looked at onto each other.
    """
    turns = fold if COLUMNS % fold == 0 else 1
    sector = shapely.multipolygons(polygons(openings[: len(openings) // turns], CHORD))
    shapely.prepare(sector)
    radii = np.exp(np.log(inner) + (np.arange(ROWS) + 0.5) / ROWS * np.log(outer / inner))
    angles = turn + 2 * np.pi * (np.arange(COLUMNS) + 0.5) / COLUMNS
    x, y = np.outer(radii, np.cos(angles)), np.outer(radii, np.sin(angles))
    open_ = shapely.contains_xy(sector, x, y)
    turned = [np.roll(open_, k * COLUMNS // turns, axis=1) for k in range(turns)]
    return np.asarray(np.logical_or.reduce(turned))


def _handedness(spectrum: NDArray[np.complex128]) -> float:
    """Return the balance of right- and left-leaning waves, -1 to 1; 0 for a mirrored look.

    A wave exp(i (a u + m v)) leans by the sign of a m: the quadrants of the two-dimensional
    transform hold the two leanings.
    """
    power = np.abs(spectrum) ** 2
    right = power[1 : ROWS // 2, 1:ORDERS].sum()
    left = power[ROWS // 2 + 1 :, 1:ORDERS].sum()
    total = right + left
    return float((left - right) / total) if total else 0.0


def _mirror(open_: NDArray[np.bool_]) -> float:
    """Return the share of the web that is the same in the best of all mirror lines."""
    signs = np.fft.fft(np.where(open_, 1.0, -1.0), axis=1)
    agreement = np.fft.ifft((signs * signs).sum(axis=0)).real / open_.size
    return float((1 + agreement.max()) / 2)


def _rhythm(open_: NDArray[np.bool_]) -> tuple[int, float]:
    """Return the strongest angular order and its share of all orders' power."""
    transform = np.fft.rfft(open_ - open_.mean(axis=1, keepdims=True), axis=1)
    power: Floats = (np.abs(transform) ** 2).sum(axis=0)[1:ORDERS]
    best = int(power.argmax())
    return best + 1, float(power[best] / power.sum()) if power.sum() else 0.0

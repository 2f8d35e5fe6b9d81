"""Contours put together from arcs, with points as complex numbers."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from openwork.shape.contour import Contour

Piece: TypeAlias = tuple[complex, float]  # where a piece starts, and its bulge


def arc(centre: complex, start: complex, end: complex, turn: int) -> Piece:
    """Return the arc about *centre* from *start* to *end*: ccw for *turn* +1, clockwise for -1.

    >>> round(arc(0j, 1 + 0j, -1 + 0j, 1)[1], 12)
    1.0
    """
    sweep = (turn * cmath.phase((end - centre) / (start - centre))) % math.tau
    return start, math.tan(turn * sweep / 4)


def joined(pieces: Sequence[Piece]) -> Contour:
    """Return the closed contour of *pieces*, each ending where the next one starts."""
    points, bulges = zip(*pieces, strict=True)
    z = np.array(points)
    return Contour(np.column_stack([z.real, z.imag]), np.array(bulges))

"""How far the ribs of a look may grow before it is another look."""

from __future__ import annotations

import math

import numpy as np

from openwork.measure.cell import cell
from openwork.ring import Design
from openwork.shape.contour import area

BEARS = 0.4  # of a cell across: a rib wider than that reads as metal with holes in it


def widest_rib(ring: Design) -> float:
    """Return the widest rib, mm, that the cells of *ring* bear, and never less than its own.

    A pattern that bears another share of its cell states it as ``BEARS``.
    """
    found = cell(ring)
    across = found.size * math.exp(-abs(math.log(found.proportion)) / 2)
    return max(ring.site.rib, getattr(type(ring.pattern), "BEARS", BEARS) * across)


def kept_openings(ring: Design, loses: float) -> int:
    """Return how many openings stay when the smallest go that make up the share *loses* of all."""
    areas = np.sort([area(one) for one in ring.sector])
    gone = int((np.cumsum(areas) <= loses * areas.sum()).sum())
    return (len(areas) - gone) * ring.fold

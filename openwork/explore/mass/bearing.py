"""How far the ribs of a look may grow before it is another look."""

from __future__ import annotations

import math

from openwork.measure.cell import cell
from openwork.ring import Design

BEARS = 0.4  # of a cell across: a rib wider than that reads as metal with holes in it


def widest_rib(ring: Design) -> float:
    """Return the widest rib, mm, that the cells of *ring* bear, and never less than its own.

    A pattern that bears another share of its cell states it as ``BEARS``.
    """
    found = cell(ring)
    across = found.size * math.exp(-abs(math.log(found.proportion)) / 2)
    return max(ring.site.rib, getattr(type(ring.pattern), "BEARS", BEARS) * across)


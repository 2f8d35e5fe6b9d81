"""An arc by its centre, with points as complex numbers."""

from __future__ import annotations

import cmath
import math

from openwork.shape.arc import Piece


def arc(centre: complex, start: complex, end: complex, turn: int) -> Piece:
    """Return the arc about *centre* from *start* to *end*: ccw for *turn* +1, clockwise for -1.

    >>> round(arc(0j, 1 + 0j, -1 + 0j, 1)[1], 12)
    1.0
    """
    sweep = (turn * cmath.phase((end - centre) / (start - centre))) % math.tau
    return start, math.tan(turn * sweep / 4)

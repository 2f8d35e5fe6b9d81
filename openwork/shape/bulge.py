"""An arc by its ends and its bulge, for numbers and arrays alike; points are complex.

The bulge is the tangent of a quarter of the sweep: 0 for a line, 1 for a half circle, positive
where the arc runs counter-clockwise about its centre, which then lies on the left of the chord::

           end
          .  |
        .    |  h = bulge * chord / 2, the height of the arc over its chord
       .-----|  . centre
        .  h |
          .  |
          start
"""

from __future__ import annotations

from typing import Any, TypeVar

import numpy as np

Real = TypeVar("Real", float, Any)
Point = TypeVar("Point", complex, Any)


def radius_of(chord: Real, bulge: Real) -> Real:
    """Return the radius of the arc over a *chord* of that length; *bulge* is not 0.

    >>> radius_of(2.0, 1.0), radius_of(2.0, -1.0)
    (1.0, 1.0)
    """
    return chord * (1 + bulge * bulge) / (4 * abs(bulge))


def centre_of(start: Point, end: Point, bulge: Real) -> Point:
    """Return the centre of the arc from *start* to *end*; *bulge* is not 0.

    >>> centre_of(1 + 0j, -1 + 0j, 1.0)
    0j
    """
    centre: Point = (start + end) / 2 + 1j * (end - start) * (1 - bulge * bulge) / (4 * bulge)
    return centre


def sweep_of(bulge: Real) -> Real:
    """Return the angle the arc turns through, radian, counter-clockwise positive.

    >>> float(sweep_of(1.0) / np.pi)
    1.0
    """
    sweep: Real = 4 * np.arctan(bulge)
    return sweep

"""The broken edge of teeth whose sides are turned: a chamfer that follows the side.

It goes the width down the outline's wall and the width in from the outline, square to it, and is
ruled between the two; where the side is plane that is 45 degrees.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from openwork.shape.cut import circle_edge, split
from openwork.shape.edge import Edge, edges, moved

if TYPE_CHECKING:
    from openwork.part.blank import Blank
    from openwork.part.sides import Profile
    from openwork.shape.contour import Floats

NODES, WEIGHTS = (np.array(one) for one in np.polynomial.legendre.leggauss(12))


def divisions(one: Edge, width: float, start: float) -> list[float]:
    """Return where along *one*, 0 to 1, it or its parallel *width* mm inside crosses a radius.

    Raises ValueError where there is no such parallel.
    """
    circle, inner = circle_edge(0j, start), moved(one, -width)
    if inner is None:
        raise ValueError(f"an arc of {one.radius:g} mm has no parallel {width:g} mm inside")
    return sorted({*split(one, circle), *split(inner, circle)})


def broken(ring: Blank, sides: Profile, width: float) -> float:
    """Return what a chamfer of *width* (mm) takes off both faces of equal teeth, mm3.

    Integrated between the side and the ruled surface on either side of the radius where *sides*
    begin; the quadrature errs by less than 1e-6 of the result.
    """
    tooth = edges(ring.outline)[: len(ring.outline) // ring.teeth]
    return 2 * ring.teeth * sum(_taken(one, sides, width) for one in tooth)


def _taken(one: Edge, sides: Profile, width: float) -> float:
    """Return what is taken along one arc of the outline, on one face, mm3."""
    inward = math.copysign(width, -one.sweep)  # as the radius of the arc changes
    total = 0.0
    for low, high in pairwise(divisions(one, width, sides.start)):
        t = low + (high - low) * (NODES + 1) / 2
        spoke = (one.start - one.centre) / one.radius * np.exp(1j * one.sweep * t)
        knot = np.clip((_meets(one, spoke, sides.start) - one.radius) / inward, 0.0, 1.0)
        foot, brow = (
            -sides.recess(np.abs(one.centre + (one.radius + part * inward) * spoke))
            for part in (0.0, 1.0)
        )
        across: Floats = np.zeros(len(t))
        for begin, end in ((np.zeros(len(t)), knot), (knot, np.ones(len(t)))):
            part = begin[:, None] + (end - begin)[:, None] * (NODES + 1) / 2
            radius = one.radius + part * inward
            top = -sides.recess(np.abs(one.centre + radius * spoke[:, None]))
            ruled = (1 - part) * (foot - width)[:, None] + part * brow[:, None]
            across += (((top - ruled) * radius) @ WEIGHTS) * (end - begin) / 2
        total += float(across @ WEIGHTS) * (high - low) / 2 * abs(one.sweep) * width
    return total


def _meets(one: Edge, spoke: Floats, start: float) -> Floats:
    """Return how far along each *spoke* from the arc's centre a circle about the axis lies, mm.

    Of its two crossings that nearer to the arc; the arc itself where there is none.
    """
    half = (one.centre * np.conj(spoke)).real
    square = half**2 - abs(one.centre) ** 2 + start**2
    root = np.sqrt(np.maximum(square, 0.0))
    near, far = -half + root, -half - root
    found = np.where(np.abs(near - one.radius) < np.abs(far - one.radius), near, far)
    return np.asarray(np.where(square > 0, found, one.radius))

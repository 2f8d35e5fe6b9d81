"""What a finished look would be faulted for, counted on its outlines.

The finisher fills fragments and drops slivers; this counts what is left all the same.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from openwork.shape.contour import Contour, Floats, area, centroid, is_circle, polygon

SMALL = 0.4  # of the openings at its radius: less looks like a leftover
ROW = 0.4  # share of the openings at a radius that makes equal small ones a row of their own
BESIDE = 0.06  # share of the radius within which openings count as at one radius
EQUAL = 0.02  # share of the area within which openings count as equal
NARROW = 1.1  # cutter radii in the widest place: less is a sliver
KINK = math.radians(5.0)  # a joint that turns more is a corner


def defects(sector: Sequence[Contour], *, corner: float) -> dict[str, int]:
    """Return how many fragments, slivers and kinks one *sector* of openings has.

    ``fragments`` are much smaller than the others at their radius, round holes and whole rows of
    equal ones excepted; ``slivers`` hold no circle of 1.1 times *corner*, the cutter's radius in
    mm; ``kinks`` are corners in an outline.
    """
    return {
        "fragments": _fragments(sector),
        "slivers": _slivers(sector, corner),
        "kinks": sum(kinks(one) for one in sector),
    }


def kinks(contour: Contour) -> int:
    """Return the number of joints of *contour* that turn more than five degrees."""
    heading = np.arctan2(contour.chords[:, 1], contour.chords[:, 0])
    half = contour.sweeps / 2
    turn = np.angle(np.exp(1j * (np.roll(heading - half, -1) - (heading + half))))
    return int((np.abs(turn) > KINK).sum())


def _fragments(sector: Sequence[Contour]) -> int:
    areas = np.array([area(one) for one in sector])
    radii = np.array([np.hypot(*centroid(one)) for one in sector])
    return sum(
        _is_fragment(areas[k], areas[np.abs(radii - radii[k]) < BESIDE * radii[k]])
        for k, one in enumerate(sector)
        if not is_circle(one)
    )


def _is_fragment(one: float, beside: Floats) -> bool:
    equal = np.abs(beside - one) < EQUAL * one
    return bool(one < SMALL * np.median(beside) and equal.mean() < ROW)


def _slivers(sector: Sequence[Contour], corner: float) -> int:
    shapes = [polygon(one, sagitta=0.01) for one in sector]
    return int(shapely.is_empty(shapely.buffer(shapes, -NARROW * corner)).sum())

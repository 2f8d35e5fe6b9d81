"""The log-polar frame: u = ln r, v = angle, in which a conformal pattern is a plain lattice.

Cells keep their proportions while they grow with the radius, and any whole number of columns
closes round the ring. Rows are quantised: a whole number of them fills the web exactly.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points

SAME = 1e-9  # radians between two directions that are one
MOST_STRETCH = 0.12  # |ln| of the cell proportion beyond which a stretched row shows


def mapped(u: ArrayLike, v: ArrayLike) -> Points:
    """Return the points (n, 2) at log-radius *u* and angle *v*.

    >>> mapped([0.0], [0.0]).tolist()
    [[1.0, 0.0]]
    """
    radius = np.exp(np.asarray(u, dtype=float))
    return np.column_stack([radius * np.cos(v), radius * np.sin(v)])


def extent(site: Site) -> tuple[float, float]:
    """Return the u of the rims, half a rib outside the region.

    Cells that fill this exactly are, once half a rib is taken off, flush with the region.
    """
    return math.log(site.inner - site.rib / 2), math.log(site.outer + site.rib / 2)


def row_levels(site: Site, growth: float) -> Callable[[ArrayLike], Floats]:
    """Return the function from a share of the rows, 0 at the hem and 1 at the rim, to u.

    Rows are as high as the radius to the power *growth*: 1 keeps cells alike, 0 makes rows equally
    high. So u' is as r to the power growth - 1, and r to the power 1 - growth is even in the share.
    """
    low, high = extent(site)
    power = 1 - growth
    if power == 0:
        return lambda share: np.asarray(low + (high - low) * np.asarray(share, dtype=float))
    first, last = math.exp(power * low), math.exp(power * high)

    def level(share: ArrayLike) -> Floats:
        within = np.clip(share, 0, 1)
        return np.asarray(np.log(first + (last - first) * within) / power)

    return level


def phase_shift(phase: str, step: float) -> float:
    """Return the angle that puts a cell (``cell``) or a rib (``node``) on the first bolt."""
    return 0.0 if phase == "cell" else step / 2


def column_angle(site: Site, columns: int) -> Callable[[ArrayLike], Floats]:
    """Return the function from a number of columns, whole or not, to the angle where it ends.

    Columns are even between two bolts, and a column begins on every bolt: where the bolts are
    uneven, so are the columns, by a little; so every bolt meets the same place of the lattice.
    """
    per_sector = columns / site.fold
    numbers, angles = _column_knots(site, columns)

    def angle(number: ArrayLike) -> Floats:
        number = np.asarray(number, dtype=float)
        turns = np.floor(number / per_sector)
        within = np.interp(number - turns * per_sector, numbers, angles)
        return np.asarray(turns * site.sector + within)

    return angle


def unevenness(site: Site, columns: int) -> float:
    """Return the logarithm of the widest over the narrowest column; 0 for evenly spaced bolts."""
    if site.even:
        return 0.0
    widths = np.divide(*(np.diff(knots) for knots in _column_knots(site, columns)[::-1]))
    return float(np.log(widths.max() / widths.min()))


def _column_knots(site: Site, columns: int) -> tuple[Floats, Floats]:
    """Return the column numbers at the bolts of one sector and its end, and their angles."""
    angles = np.array([*(a for a in site.bolts if a < site.sector - SAME), site.sector])
    per_sector = columns // site.fold
    share = angles / site.sector * per_sector
    numbers = np.round(share)
    if (np.diff(numbers) < 1).any():
        return share[[0, -1]], angles[[0, -1]]
    return numbers, angles


def curve(corners: Iterable[tuple[float, float]], parts: int = 24) -> tuple[Floats, Floats]:
    """Return u and v along the sides of the closed polygon of (u, v) *corners*, subdivided."""
    points = np.array([*corners])
    fractions = np.arange(parts) / parts
    closed = [*points, points[0]]
    path = np.concatenate([a + np.outer(fractions, b - a) for a, b in pairwise(closed)])
    return path[:, 0], path[:, 1]

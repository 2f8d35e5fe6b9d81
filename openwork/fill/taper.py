"""Ribs that thicken towards bolts and rim: the corners of a core move inwards, each by its own."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.shrunk import Shapely, eroded
from openwork.fill.site import Site
from openwork.shape.contour import Complex, Contour, Floats, centroid
from openwork.shape.parallel.offset import dilated

Integers = NDArray[np.int64]
Booleans = NDArray[np.bool_]

THICKER = 1.0  # ribs: how much thicker a rib is at a bolt under a full taper
AT_RIM = 0.5  # of that: how much of it remains at the rim between the bolts
STEPS = 4  # straight pieces across the web that a side is cut into, so that it can curve
SMALL = 0.3  # of the web's width: a curved core that reaches less far from its middle, and
ROUND = 16  # has so many corners at least, keeps its curve and shrinks evenly
BORDER = 0.05  # mm from the border of the web within which a side is the border's


def tapered(cores: Shapely, site: Site) -> Shapely:
    """Return *cores* with each side moved inwards, so that ribs thicken; never outwards.

    A core too small for its corners to move apart from each other shrinks evenly instead.
    """
    present = np.flatnonzero(~shapely.is_empty(cores))
    if not site.taper or not len(present):
        return cores
    fine = shapely.segmentize(shapely.orient_polygons(cores[present]), _step(site))
    z, of = shapely.get_coordinates(shapely.get_exterior_ring(fine), return_index=True)
    last = np.diff(of, append=-1) != 0  # rings come closed: their last point is their first
    z, of = (z @ np.array([1.0, 1.0j]))[~last], of[~last]
    moved, turned = _moved(z, of, site)
    result = cores.copy()
    rings = shapely.linearrings(np.column_stack([moved.real, moved.imag]), indices=of)
    result[present] = shapely.polygons(rings)
    poor = _small(z, of, site) | ~shapely.is_valid(result[present])
    poor[of[turned]] = True
    for k in np.flatnonzero(poor):
        result[present[k]] = eroded(cores[present[k : k + 1]], _even(z[of == k], site))[0]
    return result


def narrowed(pockets: Sequence[Contour], site: Site) -> list[Contour]:
    """Return whole *pockets* shrunk so that the metal round them thickens, exact."""
    if not site.taper:
        return list(pockets)
    places = np.array([centroid(one) for one in pockets]).reshape(-1, 2) @ np.array([1.0, 1.0j])
    return [
        dilated(one, -by) for one, by in zip(pockets, extra(places, site).tolist(), strict=True)
    ]


def extra(z: Complex, site: Site) -> Floats:
    """Return how much more than half a rib stands beside an opening at *z* (n,), mm.

    It falls off from a bolt, and from the rim, over the width of the web.
    """
    width = site.outer - site.inner
    bolts = site.bolt_points @ np.array([1.0, 1.0j])
    away = np.maximum(np.abs(z[:, None] - bolts) - site.pad, 0.0) / width
    rim = np.clip((site.outer - np.abs(z)) / width, 0.0, 1.0)
    thin = np.prod(1 - np.exp(-4 * away**2), axis=1) * (1 - AT_RIM * (1 - rim) ** 2)
    by: Floats = site.taper * THICKER * site.rib / 2 * (1 - thin)
    return by


def _step(site: Site) -> float:
    return (site.outer - site.inner) / STEPS


def _small(z: Complex, of: Integers, site: Site) -> Booleans:
    """Tell of each ring of the corners *z* whether it is a small round one."""
    count = np.bincount(of)
    middle = (np.bincount(of, z.real) + 1j * np.bincount(of, z.imag)) / count
    reach = np.zeros(len(count))
    np.maximum.at(reach, of, np.abs(z - middle[of]))
    small: Booleans = (count >= ROUND) & (reach < SMALL * (site.outer - site.inner))
    return small


def _even(z: Complex, site: Site) -> float:
    return float(extra(z.mean()[None], site)[0])


def _moved(z: Complex, of: Integers, site: Site) -> tuple[Complex, Booleans]:
    """Return the corners *z* moved inwards, and which sides turned round on the way."""
    after = _next(of)
    before = np.empty_like(after)
    before[after] = np.arange(len(z))
    side = z[after] - z
    inward = 1j * side / np.abs(side)
    kept = _on_border(z, site) & _on_border(z[after], site)
    by = extra(z, site)
    mine, earlier = np.where(kept, 0.0, by), np.where(kept[before], 0.0, by)
    moved = z + _meeting(inward[before], earlier, inward, mine)
    return moved, ((moved[after] - moved) * side.conj()).real <= 0


def _next(of: Integers) -> Integers:
    """Return the place of the next corner of the same ring."""
    after = np.arange(1, len(of) + 1)
    start = np.flatnonzero(np.diff(of, prepend=-1))
    after[np.append(start[1:], len(of)) - 1] = start
    return after


def _on_border(z: Complex, site: Site) -> Booleans:
    r = np.abs(z)
    near = site.corner + BORDER
    return np.asarray((r > site.outer - near) | (r < site.inner + near))


def _meeting(first: Complex, by: Floats, second: Complex, other: Floats) -> Complex:
    """Return where two sides meet that were moved *by* and *other* along their unit normals."""
    turn = (first.conj() * second).imag
    smooth = np.abs(turn) < 0.05
    safe = np.where(smooth, 1.0, turn)
    crossing = 1j * (by * second - other * first) / -safe
    mean = (first + second) / (1 + np.maximum((first.conj() * second).real, 0.0))
    moved: Complex = np.where(smooth, mean * (by + other) / 2, crossing)
    return moved

"""Ribs of unlike widths: each side of a core moves inwards by its own."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.shrunk import Shapely, eroded
from openwork.fill.site import Site
from openwork.fill.widths import Widths
from openwork.shape.contour import Complex, Contour, Floats, as_complex, centroid
from openwork.shape.parallel.offset import dilated

Integers = NDArray[np.int64]
Booleans = NDArray[np.bool_]

STEPS = 4  # straight pieces across the web that a side is cut into, so that it can curve
SMALL = 0.3  # of the web's width: a curved core that reaches less far from its middle, and
ROUND = 16  # has so many corners at least, keeps its curve and shrinks evenly
SMOOTH = 0.25  # sine of a turn below which two sides are pieces of one curve
BORDER = 0.05  # mm from the border of the web within which a side is the border's


def tapered(cores: Shapely, site: Site, widths: Widths | None) -> Shapely:
    """Return *cores* with each side moved inwards by its own of the *widths*, never outwards.

    A core too small for its corners to move apart from each other shrinks evenly instead.
    """
    present = np.flatnonzero(~shapely.is_empty(cores))
    if widths is None or not len(present):
        return cores
    fine = shapely.segmentize(shapely.orient_polygons(cores[present]), _step(site))
    z, of = shapely.get_coordinates(shapely.get_exterior_ring(fine), return_index=True)
    last = np.diff(of, append=-1) != 0  # rings come closed: their last point is their first
    z, of = (z @ np.array([1.0, 1.0j]))[~last], of[~last]
    after = _next(of)
    by = _by(z, after, site, widths)
    moved = _moved(z, after, by)
    turned = ((moved[after] - moved) * (z[after] - z).conj()).real <= 0
    result = cores.copy()
    rings = shapely.linearrings(np.column_stack([moved.real, moved.imag]), indices=of)
    result[present] = shapely.polygons(rings)
    poor = _small(z, of, site) | ~shapely.is_valid(result[present])
    poor[of[turned]] = True
    for k in np.flatnonzero(poor):
        result[present[k]] = eroded(cores[present[k : k + 1]], float(by[of == k].mean()))[0]
    return result


def narrowed(pockets: Sequence[Contour], widths: Widths | None) -> list[Contour]:
    """Return whole *pockets* shrunk by the *widths* at their centroids, exact."""
    if widths is None or not pockets:
        return list(pockets)
    by = widths(as_complex(np.array([centroid(one) for one in pockets]))).tolist()
    return [dilated(one, -less) for one, less in zip(pockets, by, strict=True)]


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


def _by(z: Complex, after: Integers, site: Site, widths: Widths) -> Floats:
    """Return how far each side moves: none on the border of the web."""
    by = widths((z + z[after]) / 2)
    kept = _on_border(z, site) & _on_border(z[after], site)
    moved: Floats = np.where(kept, 0.0, by)
    return moved


def _moved(z: Complex, after: Integers, by: Floats) -> Complex:
    """Return the corners *z* when the side after each has moved inwards *by* its own, mm."""
    before = np.empty_like(after)
    before[after] = np.arange(len(z))
    side = z[after] - z
    inward = 1j * side / np.abs(side)
    moved: Complex = z + _meeting(inward[before], by[before], inward, by)
    return moved


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
    smooth = np.abs(turn) < SMOOTH
    safe = np.where(smooth, 1.0, turn)
    crossing = 1j * (by * second - other * first) / -safe
    mean = (first + second) / (1 + np.maximum((first.conj() * second).real, 0.0))
    moved: Complex = np.where(smooth, mean * (by + other) / 2, crossing)
    return moved

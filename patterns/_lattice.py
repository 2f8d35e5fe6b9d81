"""Lattices of the log-polar frame: the tiles of one column, repeated round the ring.

A tile is a closed path in u = ln r and x, the angle counted in columns.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeAlias

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from openwork.fill.finish import NARROWEST
from openwork.fill.pattern import Cells
from openwork.fill.polar import column_angle, extent, mapped
from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points

Tile: TypeAlias = Floats  # (n, 2): u and x along the outline

COMFORT = 1.4 * NARROWEST  # cutter diameters across a tile that still looks like an opening
PINHOLE = 1.15 * NARROWEST  # cutter diameters across a tile below which it is better left out
ARC = 0.0125  # radians of a circle that one straight piece stands for: 0.002 mm at 100 mm


def cells(lattice: Any, site: Site) -> Cells:
    """Return the tiles of every column, or of every period of columns, of one sector."""
    return _repeated(lattice.tiles(site), lattice, site)


def cells_with_wide_rims(lattice: Any, site: Site) -> Cells:
    """Return ``cells`` less those of a rim where any of them is too narrow to be worth cutting."""
    tiles = lattice.tiles(site)
    return _repeated(without_narrow_rims(tiles, site, lattice.columns, PINHOLE), lattice, site)


def _repeated(tiles: Iterable[Tile], lattice: Any, site: Site) -> Cells:
    angle = column_angle(site, lattice.columns)
    transposed = [one.T for one in tiles]
    columns = range(0, lattice.columns // site.fold, getattr(lattice, "period", 1))
    return Cells([mapped(u, angle(column + x)) for column in columns for u, x in transposed])


def tile(
    corners: ArrayLike, site: Site, columns: int,
    *, parts: int = 1, along: bool = False, level: Callable[[Floats], Floats] | None = None,
) -> Tile:  # fmt: skip
    """Return the tile with these corners (n, 2), its sides in *parts* straight pieces.

    Corners are u and x; with a *level* they are what it makes u of, and x. Sides on the rims are
    arcs, drawn a little past them so that the rims cut the tile exactly; with *along* other sides
    along the ring are arcs too.
    """
    starts = np.asarray(corners, dtype=float)
    steps = np.roll(starts, -1, axis=0) - starts
    sides = starts[:, None] + steps[:, None] * (np.arange(parts) / parts)[:, None]
    if level:
        sides[..., 0] = level(sides[..., 0])
    on_rim = np.zeros(len(sides), dtype=bool)
    for rim in extent(site):
        at = np.isclose(sides[:, 0, 0], rim, rtol=0, atol=1e-9)
        sides[at, 0, 0] = rim
        on_rim |= at
    starts, ends = sides[:, 0], np.roll(sides[:, 0], -1, axis=0)
    round_ = (starts[:, 0] == ends[:, 0]) & (along | on_rim)
    if not round_.any():
        return np.asarray(sides.reshape(-1, 2))
    width, high = 2 * np.pi / columns, extent(site)[1]
    return np.concatenate(
        [
            rim_side(a, b, width, outer=a[0] == high) if bent else side
            for a, b, bent, side in zip(starts, ends, round_, sides, strict=True)
        ]
    )


def rim_side(a: Floats, b: Floats, width: float, *, outer: bool) -> Floats:
    """Return points of a side along the ring, outside the circle at the *outer* rim."""
    parts = max(1, math.ceil(abs(b[1] - a[1]) * width / ARC - 1e-9))
    if not outer:
        return np.asarray(a + np.outer(np.arange(parts) / parts, b - a))
    past = -np.log(np.cos((b[1] - a[1]) * width / parts / 2))
    middles = np.array([past, 0.0]) + a + np.outer((np.arange(parts) + 0.5) / parts, b - a)
    return np.concatenate([a[None], middles])


def without_narrow_rims(
    tiles: Sequence[Tile], site: Site, columns: int, least: float
) -> list[Tile]:
    """Return *tiles* less those with a side on one rim, rim by rim, where any is too narrow."""
    low, high = extent(site)
    on_inner = np.array([(one[:, 0] <= low).sum() > 1 for one in tiles])
    on_outer = np.array([(one[:, 0] >= high).sum() > 1 for one in tiles])
    wide = roomy(tiles, site, columns, least)
    left_out = np.zeros(len(tiles), dtype=bool)
    for rim in (on_inner & ~on_outer, on_outer & ~on_inner):
        left_out |= rim & ~wide[rim].all()
    return [one for one, out in zip(tiles, left_out, strict=True) if not out]


def roomy(
    tiles: Iterable[Tile], site: Site, columns: int, least: float = COMFORT
) -> NDArray[np.bool_]:
    """Tell of each tile whether it is *least* cutter diameters wide at the widest, pads aside."""
    width = np.array([1, 2 * np.pi / columns])
    shapes = polygons([mapped(*(one * width).T) for one in tiles])
    cores = shapely.buffer(shapes, -site.rib / 2 - least * site.corner, join_style="mitre")
    return np.asarray(~shapely.is_empty(cores))


def polygons(rings: Sequence[Points]) -> NDArray[np.object_]:
    """Return the shapely polygons inside *rings*."""
    return np.asarray(shapely.polygons([shapely.linearrings(ring) for ring in rings]))

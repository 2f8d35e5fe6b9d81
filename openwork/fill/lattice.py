"""Lattices of the log-polar frame: the tiles of one column, repeated round the ring.

A tile is a closed path in u = ln r and x, the angle counted in columns::

    u   rim  +-----+-----+-----+
    ^        |     |     |     |    x goes round the ring, a column is 2 pi / columns wide;
    |        +-----+-----+-----+    u goes outwards: rows fill the web from hem to rim
    |        |     |     |     |
    |   hem  +-----+-----+-----+
             0     1     2     3   x >
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any, Protocol, TypeAlias

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from openwork.fill.biarc import SAGITTA
from openwork.fill.fillings import Cells
from openwork.fill.finish import NARROWEST
from openwork.fill.polar import column_angle, extent, mapped
from openwork.fill.registry import Pattern
from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points

Tile: TypeAlias = Floats  # (n, 2): u and x along the outline

COMFORT = 1.4 * NARROWEST  # cutter diameters across a tile that still looks like an opening
PINHOLE = 1.15 * NARROWEST  # cutter diameters across a tile below which it is better left out
ROUGH = 0.02  # cutter radii a tile may be off where it is only judged
SAME = 1e-9  # within which a corner is on a rim
PAST = 2e-4  # in u, how far past a rim a tile is drawn at least, for the rim alone to cut it
SPIRAL = 16  # straight pieces of a side that is drawn as a spiral
STRAY = 0.2  # of the height of a row: how far a straight side may leave it
RIM_ARC = 0.05  # radians of a rim that one straight piece goes round
ARC = 0.008  # radians of a circle that one straight piece stands for: 0.0008 mm at 100 mm


class Lattice(Pattern, Protocol):
    """A pattern whose tiles repeat round the ring, to inherit from.

    ``phase`` "cell" and "node" are half a period apart.
    """

    @property
    def columns(self) -> int:
        """Columns round the ring."""
        ...

    @property
    def phase(self) -> str:
        """What stands on the bolt's radius, "cell" or "node"."""
        ...

    @property
    def period(self) -> int:
        """Columns after which the tiles repeat."""
        return 1

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the tiles of the first period, curves within about *sagitta* (mm)."""
        ...

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the tiles of one sector."""
        del rng
        return repeated(self.tiles(site), self, site)


def comfortable(site: Site) -> float:
    """Return how far apart cells are, mm, whose openings the cutter works in with ease."""
    return site.rib + 2 * COMFORT * site.corner


def cells_with_wide_rims(lattice: Lattice, site: Site) -> Cells:
    """Return the tiles less those of a rim where any of them is too narrow to be worth cutting."""
    tiles = lattice.tiles(site)
    return repeated(without_narrow_rims(tiles, site, lattice.columns, PINHOLE), lattice, site)


def repeated(tiles: Iterable[Tile], lattice: Lattice, site: Site) -> Cells:
    """Return *tiles* of one column, or of one period of columns, round one sector."""
    angle = column_angle(site, lattice.columns)
    transposed = [one.T for one in tiles]
    columns = range(0, lattice.columns // site.fold, lattice.period)
    return Cells([mapped(u, angle(column + x)) for column in columns for u, x in transposed])


def tile(
    corners: ArrayLike, site: Site, columns: int,
    *, sagitta: float = SAGITTA, parts: int = 1, along: bool = False,
) -> Tile:  # fmt: skip
    """Return the tile with these corners (n, 2), its sides in *parts* straight pieces.

    Corners are u and x. Sides on the rims are arcs, drawn a little past them so that the rims cut
    the tile exactly; with *along* other sides along the ring are arcs too, the finer the smaller
    the *sagitta*.
    """
    starts = np.array(corners, dtype=float)
    low, high = extent(site)
    first = starts.copy()
    first[np.abs(starts[:, 0] - low) < SAME, 0] = low
    first[np.abs(starts[:, 0] - high) < SAME, 0] = high
    u, last = first[:, 0], _next(first)
    round_ = (u == last[:, 0]) & (along | (u == low) | (u == high))
    sides = first[:, None]
    if parts > 1:
        shares = np.arange(parts)[:, None] / parts
        sides = starts[:, None] + shares * (_next(starts) - starts)[:, None]
        sides[:, 0] = first
    width, coarser, done = 2 * np.pi / columns, math.sqrt(sagitta / SAGITTA), 0
    drawn = []
    for k in np.flatnonzero(round_).tolist():
        drawn.append(sides[done:k].reshape(-1, 2))
        if u[k] in (low, high):
            drawn.append(rim_side(first[k], last[k], width, outer=u[k] == high))
        else:
            drawn.append(_ring_side(first[k], last[k], width, coarser))
        done = k + 1
    return np.concatenate([*drawn, sides[done:].reshape(-1, 2)])


def _next(points: Floats) -> Floats:
    return np.concatenate([points[1:], points[:1]])


def spiral_parts(height: float, lean: float, site: Site, sagitta: float) -> int:
    """Return how many chords, *sagitta* (mm) off, stand for a spiral across *height* and *lean*.

    They are how far it goes in u and in v.

    A logarithmic spiral at an angle psi to the radius has the radius of curvature r / sin psi.
    """
    across = math.hypot(height, lean)
    return max(1, math.ceil(math.sqrt(site.outer * abs(lean) * across / (8 * sagitta))))


def bent(span: float, height: float, sagitta: float) -> dict[str, Any]:
    """Return how ``tile`` shall draw sides *span* radians long in rows *height* high, in u.

    Straight, unless a chord would leave its row by much; then along rings and spirals.
    """
    if span**2 / 8 <= STRAY * height:
        return {"sagitta": sagitta}
    parts = math.ceil(SPIRAL * math.sqrt(SAGITTA / sagitta))
    return {"sagitta": sagitta, "parts": parts, "along": True}


def _ring_side(a: Floats, b: Floats, width: float, coarser: float) -> Floats:
    """Return points of a side along the ring, on the circle, chords *coarser* than ``ARC``."""
    parts = 2 * max(1, math.ceil(abs(b[1] - a[1]) * width / (coarser * ARC) / 2 - 1e-9))
    return np.asarray(a + np.outer(np.arange(parts) / parts, b - a))


def rim_side(a: Floats, b: Floats, width: float, *, outer: bool) -> Floats:
    """Return points of a side on the inner or the *outer* rim, all the way past it."""
    parts = 1 + math.ceil(abs(b[1] - a[1]) * width / RIM_ARC)
    past = PAST - np.log(np.cos((b[1] - a[1]) * width / parts / 2)) if outer else -PAST
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
    shapes = polygons([mapped(*(one * width).T) for one in tiles], ROUGH * site.corner)
    cores = shapely.buffer(shapes, -site.rib / 2 - least * site.corner, join_style="mitre")
    return np.asarray(~shapely.is_empty(cores))


def polygons(rings: Sequence[Points], tolerance: float) -> NDArray[np.object_]:
    """Return the shapely polygons inside *rings*, simplified within *tolerance* (mm)."""
    if not len(rings):
        return np.empty(0, dtype=object)
    exact = shapely.polygons([shapely.linearrings(ring) for ring in rings])
    return np.asarray(shapely.simplify(exact, tolerance, preserve_topology=False))

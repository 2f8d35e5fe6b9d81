"""Drawings of one cell laid round the ring: grown with the radius, bent, or stamped unbent.

Points of a page are shares: x from 0 to 1 round the ring, y from 0 to its height over its width
outwards.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from openwork.fill.polar import column_angle, extent
from openwork.fill.site import Site
from openwork.shape.contour import Complex, Points, as_complex, as_points

CHORD = 0.2  # mm of the ring that one straight piece of a laid line stands for
Place = Callable[[Complex, float, int], Complex]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """So many cells round and across the ring, of pages ``ratio`` times as high as wide."""

    lay: str
    columns: int
    rows: int
    ratio: float
    mirror: str = "none"
    stagger: float = 0.0
    phase: str = "cell"

    def cells(self, site: Site) -> Iterator[tuple[float, int, bool, bool]]:
        """Yield column, row and whether it is mirrored along and across, for one sector."""
        shift = -0.5 if self.phase == "cell" else 0.0
        for row in range(self.rows):
            for column in range(self.columns // site.fold):
                along = self.mirror in ("columns", "both") and column % 2 == 1
                across = self.mirror in ("rows", "both") and row % 2 == 1
                yield column + shift + self.stagger * (row % 2), row, along, across


def laid(
    rings: Sequence[Points], grid: Grid, site: Site, chord: float = CHORD
) -> Iterator[list[Points]]:
    """Yield for each cell of a sector the closed polylines *rings* laid in it, mm."""
    fine = _subdivided(rings, grid, site, chord)
    place = _placing(grid, site)
    for column, row, along, across in grid.cells(site):
        yield [as_points(place(_turned(z, grid.ratio, along, across), column, row)) for z in fine]


def _subdivided(rings: Sequence[Points], grid: Grid, site: Site, chord: float) -> list[Complex]:
    """Return *rings* with sides that are at most about *chord* long on the ring."""
    longest = chord * grid.columns / (2 * math.pi * site.outer)
    lines = shapely.segmentize(
        shapely.linearrings([*rings])
        if len({len(one) for one in rings}) == 1
        else np.array([shapely.LinearRing(one) for one in rings]),
        longest,
    )
    return [as_complex(shapely.get_coordinates(one)[:-1]) for one in lines]


def _turned(z: Complex, ratio: float, along: bool, across: bool) -> Complex:
    x = 1 - z.real if along else z.real
    y = ratio - z.imag if across else z.imag
    return np.asarray(x + 1j * y)


def _placing(grid: Grid, site: Site) -> Place:
    """Return the function from points of a page, column and row to points of the ring, mm."""
    low, high = extent(site)
    angle = column_angle(site, grid.columns)
    inner, outer = math.exp(low), math.exp(high)
    height = (outer - inner) / grid.rows

    def grown(z: Complex, column: float, row: int) -> Complex:
        u = low + (row + z.imag / grid.ratio) * (high - low) / grid.rows
        return np.asarray(np.exp(u + 1j * angle(column + z.real)))

    def bent(z: Complex, column: float, row: int) -> Complex:
        radius = inner + (row + z.imag / grid.ratio) * height
        return np.asarray(radius * np.exp(1j * angle(column + z.real)))

    def stamped(z: Complex, column: float, row: int) -> Complex:
        foot = inner + row * height
        start, end = angle(column), angle(column + 1)
        wide = 2 * foot * math.tan((end - start) / 2)
        size = min(height / grid.ratio, wide)
        across = foot + height / 2 + (z.imag - grid.ratio / 2) * size
        return np.asarray((across + 1j * (z.real - 0.5) * size) * np.exp(0.5j * (start + end)))

    return {"grown": grown, "bent": bent, "stamped": stamped}[grid.lay]


def stretch(grid: Grid, site: Site) -> float:
    """Return by how much, as a logarithm, a cell is stretched; 0 where its page just fits it."""
    low, high = extent(site)
    wide = 2 * math.pi / grid.columns
    if grid.lay == "grown":
        return math.log((high - low) / grid.rows / (grid.ratio * wide))
    height = (math.exp(high) - math.exp(low)) / grid.rows
    return math.log(height / (grid.ratio * wide * math.exp((high + low) / 2)))

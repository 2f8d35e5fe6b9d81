"""Stars by the method of polygons in contact, over squares or hexagons.

From the middle of every side of a tiling two ribs start at the contact angle and run until they
meet their neighbours: a star is left in every polygon and a rosette round every corner. E. H.
Hankin, The drawing of geometric patterns in Saracenic art, 1925; C. S. Kaplan, Islamic star
patterns from polygons in contact, Graphics Interface 2005. The rows are stretched to fill the
log-polar frame; the first and the last end on the rims.
"""

import cmath
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Self, TypeAlias

import numpy as np
from numpy.typing import NDArray

from openwork.fill.biarc import SAGITTA
from openwork.fill.fillings import Cells
from openwork.fill.fit import Fit
from openwork.fill.lattice import Lattice, Tile, bent, cells_with_wide_rims, tile
from openwork.fill.parameters import param
from openwork.fill.polar import extent
from openwork.fill.registry import pattern
from openwork.fill.site import Site

Complex: TypeAlias = NDArray[np.complex128]  # columns + i times columns, as in the plane

HEIGHTS = {"squares": 1.0, "hexagons": np.sqrt(3) / 2}  # of a row, in columns
fit = Fit(size=9.0, share=0.3, ratio=1.0, angles=(66.0, 60.0, 54.0, 48.0))


@pattern
@dataclass(frozen=True, kw_only=True)
class Stars(Lattice):
    """Islamic stars on squares or hexagons."""

    grid: str = param("squares", choices=("squares", "hexagons"), help="the tiling of the stars")
    angle: float = param(
        66.0, low=40, high=70, help="contact angle of ribs and sides, degrees", suited=True
    )
    columns: int = param(
        20, low=6, high=36, per_bolt=True, help="stars round the ring", suited=True
    )
    rows: int = param(2, low=1, high=4, help="stars across the web", suited=True)
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius", suited=True
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the stars that suit *site*."""
        return fit.best(cls, site, given)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the stars of one column, and the rosettes round the corners of its polygons."""
        low, high = extent(site)
        top = self.rows * HEIGHTS[self.grid]
        start = (self.phase == "node") / 2
        drawn = bent(2 * np.pi / self.columns, (high - low) / self.rows, sagitta)
        tiles = []
        for one in _outlines(self.grid, self.rows, self.angle):
            corners = np.column_stack([low + (high - low) * one.imag / top, one.real + start])
            tiles.append(tile(corners, site, self.columns, **drawn))
        return tiles

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the stars and rosettes of one sector."""
        del rng
        return cells_with_wide_rims(self, site)


@lru_cache(maxsize=32)
def _outlines(grid: str, rows: int, angle: float) -> list[Complex]:
    """Return the outlines of the stars and rosettes of one column, a column wide."""
    found: list[Complex] = []
    corners = defaultdict(list)
    for polygon in _polygons(grid, rows):
        middles, dents = _motif(polygon, np.radians(angle))
        found.append(np.stack([dents, middles], axis=1).ravel())
        fans = np.stack([middles, dents, np.roll(middles, 1)], axis=1)
        for column in (-1, 0, 1):
            places = np.round(polygon + column, 9).tolist()
            for corner, fan in zip(places, (fans + column).tolist(), strict=True):
                corners[corner].append(fan)
    near = (corner for corner in corners if -0.25 < corner.real < 0.75)
    return [*found, *(_rosette(corner, corners[corner]) for corner in near)]


def _polygons(grid: str, rows: int) -> Iterator[Complex]:
    """Yield the polygons of one column, counter-clockwise, the first and last row cut flat."""
    height = HEIGHTS[grid]
    x = np.array([0.5, 0.5, -0.5, -0.5])
    for row in range(rows):
        y = np.array([row, row + 1, row + 1, row]) * height
        if grid == "squares":
            yield np.asarray(x + 1j * y)
            continue
        foot, head = height / 6 * (row > 0), height / 6 * (row < rows - 1)
        tips = ([1j * (y[1] + head)] if head else [], [1j * (y[0] - foot)] if foot else [])
        corners = x + 1j * (y + np.array([foot, -head, -head, foot]))
        outline = np.array([*corners[:2], *tips[0], *corners[2:], *tips[1]], dtype=complex)
        yield np.asarray(outline + row % 2 / 2, dtype=np.complex128)


def _motif(polygon: Complex, angle: float) -> tuple[Complex, Complex]:
    """Return the middles of the sides, and where the ribs from them meet near the corners.

    At a corner with equal sides the ribs meet on the bisector (sine rule); the affine form of it
    serves the polygons that are cut flat.
    """
    middles = (polygon + np.roll(polygon, -1)) / 2
    after, before = middles - polygon, np.roll(middles, 1) - polygon
    half = np.angle(before / after) / 2
    share = np.sin(angle) / (2 * np.cos(half) * np.sin(half + angle))
    return middles, polygon + share * (after + before)


def _rosette(corner: complex, fans: list[list[complex]]) -> Complex:
    """Return the outline round *corner*, given (middle, dent, middle) of every polygon there."""
    fans = sorted(fans, key=lambda fan: cmath.phase(fan[1] - corner))
    whole = abs(fans[0][0] - fans[-1][2]) < 1e-9
    return np.array([*(z for fan in fans for z in fan[:2]), *([] if whole else [fans[-1][2]])])

"""Sine waves in equal steps of phase: the rosette of an engine-turned dial or a banknote.

The waves u = middle + A sin(lobes v + 2 pi i / strands) touch both rims with their crests and
cross on ``strands`` - 1 circles between; from crossing to crossing they are drawn as four arcs.
Gaps behind the crests are left solid where they are narrow. On such turning: J. J. Holtzapffel,
Turning and Mechanical Manipulation, vol. 5, 1884 (from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import SAGITTA, Complex, biarcs, without_repeats
from openwork.fill.fit import chosen, multiples, options
from openwork.fill.lattice import COMFORT, Lattice, Tile, tile, without_narrow_rims
from openwork.fill.parameters import param
from openwork.fill.polar import extent, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import Floats

STEEPNESS = 2.5  # tangent of the angle from the ring at which waves cross the middle
MOST = 25  # crests of a wave
HIGHEST = 8.0  # mm of web for every wave


@pattern
@dataclass(frozen=True, kw_only=True)
class Guilloche(Lattice):
    """Crossing sine waves, as on an engine-turned dial."""

    lobes: int = param(
        10, low=3, high=MOST, per_bolt=True, help="crests of a wave round the ring", suited=True
    )
    strands: int = param(3, low=2, high=4, help="waves", suited=True)
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius", suited=True
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the waves that suit *site*."""
        low, high = extent(site)
        size = 8.5 + 0.2 * (site.outer - site.inner)
        most = min(4, max(2, round((site.outer - site.inner) / HIGHEST)))

        def cost(one: Self) -> float:
            steep = np.log((high - low) / 2 * one.lobes / STEEPNESS)
            wide = np.log(site.middle * 2 * np.pi / one.columns / size)
            return float(steep**2 + wide**2 + unevenness(site, one.columns) ** 2)

        candidates = [
            cls(**{**given, "lobes": lobes, "strands": strands})
            for lobes in options("lobes", given, multiples(3, site, 2 * size, MOST))
            for strands in options("strands", given, range(2, most + 1))
        ]
        return chosen(((cost(one), one) for one in candidates), site, given)

    @property
    def columns(self) -> int:
        """Crossings on each circle."""
        return self.lobes * self.strands

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the cells of one column; those at the rims, behind the crests, only if wide."""
        width = 2 * np.pi / self.columns
        tiles = []
        for row in range(self.strands + 1):
            x = row % 2 / 2 + (self.phase == "node") / 2
            corners = [(row + 1, x), (row, x + 0.5), (row - 1, x), (row, x - 0.5)]
            within = [corner for corner in corners if 0 <= corner[0] <= self.strands]
            sides = np.array(
                [(a, b) for a, b in pairwise([*within, within[0]]) if a[0] != b[0]]
            )  # fmt: skip
            halves = np.stack([sides[:, 0], sides.mean(axis=1), sides[:, 1]], axis=1)
            curves = self._waves(halves[:, :2], halves[:, 1:], site, sagitta)
            path = without_repeats(curves.ravel())
            tiles.append(tile(np.column_stack([path.real, path.imag / width]), site, self.columns))
        return without_narrow_rims(tiles, site, self.columns, COMFORT)

    def _waves(self, starts: Floats, ends: Floats, site: Site, sagitta: float) -> Complex:
        """Return the pieces of waves from *starts* to *ends* (..., 2), in rows and columns."""
        low, high = extent(site)
        width = 2 * np.pi / self.columns
        rows, x = np.moveaxis(np.stack([starts, ends]).reshape(2, -1, 2), -1, 0)
        phase = np.pi * rows / self.strands
        points = (low + high) / 2 - (high - low) / 2 * np.cos(phase) + 1j * width * x
        way = np.sign(x[1] - x[0])
        slope = np.sign(rows[1] - rows[0]) * self.lobes * (high - low) / 2 * np.sin(phase)
        return biarcs(*points, *(slope + 1j * way), sagitta=sagitta)

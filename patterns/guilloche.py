"""Sine waves in equal steps of phase: the rosette of an engine-turned dial or a banknote.

The waves u = middle + A sin(lobes v + 2 pi i / strands) cross on strands - 1 circles; A is such
that the first and the last of these lie on the rims, so the waves are cut where they are steep and
no ribs pile up along the rims. On turning such rosettes: C. H. Evans, Ornamental Turning, 1886
(from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import extent, unevenness
from openwork.fill.site import Site
from openwork.shape.contour import Floats

from ._fit import chosen, options
from ._lattice import COMFORT, Tile, cells, tile, without_narrow_rims

PARTS = 12  # straight pieces of a wave between two crossings
HIGHEST = 8.0  # mm of web for every wave
STEEPNESS = 2.2  # tangent of the angle from the ring at which waves cross the middle


def _best(site: Site, given: Mapping[str, Any]) -> "Guilloche":
    low, high = extent(site)
    size = 8.5 + 0.2 * (site.outer - site.inner)
    most = max(2, round((site.outer - site.inner) / HIGHEST))

    def cost(one: Guilloche) -> float:
        steep = np.log((high - low) / 2 * one.lobes / STEEPNESS)
        wide = np.log(site.middle * 2 * np.pi / one.columns / size)
        return float(steep**2 + wide**2 + unevenness(site, one.columns) ** 2)

    candidates = [
        Guilloche(**{**given, "lobes": lobes, "strands": strands})
        for lobes in options("lobes", given, range(site.fold, 41, site.fold))
        for strands in options("strands", given, range(2, most + 1))
    ]
    best: Guilloche = chosen(candidates, site, given, cost)
    return best


@pattern
@dataclass(frozen=True, kw_only=True)
class Guilloche:
    """Crossing sine waves, as on an engine-turned dial."""

    lobes: int = param(
        10, low=1, high=60, per_bolt=True, help="crests of a wave round the ring",
        choose=lambda site, given: _best(site, given).lobes,
    )  # fmt: skip
    strands: int = param(
        4, low=2, high=12, help="waves", choose=lambda site, given: _best(site, given).strands
    )
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius",
        choose=lambda site, given: _best(site, given).phase,
    )  # fmt: skip

    @property
    def columns(self) -> int:
        """Crossings on each circle."""
        return self.lobes * self.strands

    def tiles(self, site: Site) -> list[Tile]:
        """Return the cells of one column; those at the rims, behind the crests, only if wide."""
        low, high = extent(site)

        def level(row: Floats) -> Floats:
            return (low + high) / 2 - (high - low) / 2 * np.cos(np.pi * row / self.strands)

        tiles = []
        for row in range(self.strands + 1):
            x = row % 2 / 2 + (self.phase == "node") / 2
            corners = [(row + 1, x), (row, x + 0.5), (row - 1, x), (row, x - 0.5)]
            inside = [corner for corner in corners if 0 <= corner[0] <= self.strands]
            tiles.append(tile(inside, site, self.columns, parts=PARTS, level=level))
        return without_narrow_rims(tiles, site, self.columns, COMFORT)

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the cells of one sector."""
        del rng
        return cells(self, site)

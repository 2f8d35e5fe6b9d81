"""Even organic cells: a centroidal Voronoi diagram, the same in every sector.

Seeds of one sector are moved to the centroids of their cells until they are evenly spread (Lloyd,
Least squares quantization in PCM, IEEE Trans. Inf. Theory 28, 1982); the seeds of the other
sectors are their rotations. Fewer than ten steps leave slivers.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np

from openwork.fill.fillings import Cells
from openwork.fill.lattice import comfortable
from openwork.fill.parameters import param
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.voronoi import grid, relaxed, voronoi_cells

STEPS = 24


def _cells(site: Site) -> int:
    size = max(5.5 + 0.3 * (site.outer - site.inner), comfortable(site))
    each = np.pi * (site.outer**2 - site.inner**2) / size**2 / site.fold
    return site.fold * max(2, round(each))


@pattern
@dataclass(frozen=True, kw_only=True)
class Voronoi:
    """Even organic cells, the same in every sector."""

    cells: int = param(
        60, low=8, high=160, per_bolt=True, help="cells in the web", suited=True
    )  # fmt: skip
    growth: float = param(
        0.5, low=-2, high=2, help="power of the radius that the size of the cells follows"
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return as many cells as suit the web."""
        return cls(**{"cells": _cells(site), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the Voronoi cells of one sector's seeds."""
        count = self.cells // site.fold
        points = grid(site, count * 20)[0]
        seeds = points[rng.choice(len(points), count, replace=False)]
        return voronoi_cells(relaxed(seeds, site, STEPS, growth=self.growth), site)

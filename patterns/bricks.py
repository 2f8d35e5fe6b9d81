"""Staggered courses of bricks between concentric rings, their ends radial or slanted.

In the log-polar frame all bricks are equal rectangles, so courses grow with the radius and keep
their proportion. ``stagger`` 0.5 is a running bond; a third makes a stair that climbs one way.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns._fit import Fit
from openwork.patterns._lattice import Tile, cells, spiral_parts, tile

fit = Fit(family="bricks", size=11.0, share=0.4, ratio=0.5)


@pattern
@dataclass(frozen=True, kw_only=True)
class Bricks:
    """Staggered courses of bricks."""

    columns: int = param(
        25, low=4, high=40, per_bolt=True, help="bricks round the ring", choose=fit.columns
    )
    rows: int = param(3, low=1, high=4, help="courses across the web", choose=fit.rows)
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", choose=fit.phase
    )
    stagger: float = param(0.5, low=0, high=1, help="share of a brick that courses are shifted by")
    slant: float = param(0.0, low=-45, high=45, help="angle of the ends from the radius, degrees")

    def tiles(self, site: Site) -> list[Tile]:
        """Return the bricks of one column, one in every course."""
        tiles = []
        for row, (inner, outer) in enumerate(pairwise(np.linspace(*extent(site), self.rows + 1))):
            lean = np.tan(np.radians(self.slant)) * (outer - inner) * self.columns / (2 * np.pi)
            x = (self.phase == "cell") / 2 + row * self.stagger - lean / 2
            corners = [(inner, x), (inner, x + 1), (outer, x + 1 + lean), (outer, x + lean)]
            parts = spiral_parts(outer - inner, lean * 2 * np.pi / self.columns, site)
            tiles.append(tile(corners, site, self.columns, parts=parts, along=True))
        return tiles

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the bricks of one sector."""
        del rng
        return cells(self, site)

"""Staggered courses of bricks between concentric rings, their ends radial or slanted.

In the log-polar frame all bricks are equal rectangles, so courses grow with the radius and keep
their proportion. ``stagger`` 0.5 is a running bond; a third makes a stair that climbs one way.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import SAGITTA
from openwork.fill.fit import Fit
from openwork.fill.lattice import Lattice, Tile, spiral_parts, tile
from openwork.fill.parameters import param
from openwork.fill.polar import extent
from openwork.fill.registry import pattern
from openwork.fill.site import Site

fit = Fit(size=11.0, share=0.4, ratio=0.5)


@pattern
@dataclass(frozen=True, kw_only=True)
class Bricks(Lattice):
    """Staggered courses of bricks."""

    columns: int = param(
        25, low=4, high=40, per_bolt=True, help="bricks round the ring", suited=True
    )
    rows: int = param(3, low=1, high=4, help="courses across the web", suited=True)
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", suited=True
    )
    stagger: float = param(0.5, low=0, high=1, help="share of a brick that courses are shifted by")
    slant: float = param(0.0, low=-45, high=45, help="angle of the ends from the radius, degrees")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the courses that suit *site*."""
        return fit.best(cls, site, given)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the bricks of one column, one in every course."""
        tiles = []
        for row, (inner, outer) in enumerate(pairwise(np.linspace(*extent(site), self.rows + 1))):
            lean = np.tan(np.radians(self.slant)) * (outer - inner) * self.columns / (2 * np.pi)
            x = (self.phase == "cell") / 2 + row * self.stagger - lean / 2
            corners = [(inner, x), (inner, x + 1), (outer, x + 1 + lean), (outer, x + lean)]
            parts = spiral_parts(outer - inner, lean * 2 * np.pi / self.columns, site, sagitta)
            one = tile(corners, site, self.columns, sagitta=sagitta, parts=parts, along=True)
            tiles.append(one)
        return tiles

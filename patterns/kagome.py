"""Hexagons and triangles, four ribs to a node: the weave of baskets.

Half rows of hexagons in the log-polar frame, their points touching, triangles in the gaps; every
second row of hexagons is shifted by half a column, so every rib runs on straight through its
nodes. The trihexagonal tiling is known as kagome since I. Syozi, Prog. Theor. Phys. 6, 1951.
"""

from dataclasses import dataclass

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns._fit import Fit
from openwork.patterns._lattice import Tile, bent, cells, tile

fit = Fit(family="kagome", size=14.0, share=0.5, ratio=np.sqrt(3) / 4)


@pattern
@dataclass(frozen=True, kw_only=True)
class Kagome:
    """Hexagons and triangles, four ribs to a node."""

    columns: int = param(
        20, low=6, high=40, per_bolt=True, help="hexagons round the ring", choose=fit.columns
    )
    rows: int = param(2, low=1, high=6, help="half hexagons across the web", choose=fit.rows)
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius", choose=fit.phase
    )

    def tiles(self, site: Site) -> list[Tile]:
        """Return the hexagons and triangles of one column; half hexagons end on the rim."""
        u = np.linspace(*extent(site), self.rows + 1)
        outlines = []
        for low in range(0, self.rows, 2):
            x = low % 4 / 4 + (self.phase == "node") / 2
            foot = [(u[low], x - 0.25), (u[low], x + 0.25), (u[low + 1], x + 0.5)]
            outlines.append([(u[low], x + 0.25), (u[low], x + 0.75), (u[low + 1], x + 0.5)])
            if low + 1 == self.rows:
                outlines.append([*foot, (u[low + 1], x - 0.5)])
                continue
            top = u[low + 2]
            outlines.append([*foot, (top, x + 0.25), (top, x - 0.25), (u[low + 1], x - 0.5)])
            outlines.append([(u[low + 1], x + 0.5), (top, x + 0.75), (top, x + 0.25)])
        drawn = bent(np.pi / self.columns, u[1] - u[0])
        return [tile(corners, site, self.columns, **drawn) for corners in outlines]

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the hexagons and triangles of one sector."""
        del rng
        return cells(self, site)

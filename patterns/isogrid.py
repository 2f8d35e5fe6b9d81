"""Equilateral triangles in whole rows: as stiff in every direction.

Nodes of a triangular lattice in the log-polar frame, joined by straight ribs; every second row of
nodes is shifted by half a column, so six ribs meet in each. Isogrid Design Handbook, NASA
CR-124075, revision A, 1973: triangles make a plate behave as an isotropic one.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns._fit import Fit
from openwork.patterns._lattice import Tile, bent, cells, tile

fit = Fit(family="isogrid", size=8.0, share=0.45, ratio=np.sqrt(3) / 2)


@pattern
@dataclass(frozen=True, kw_only=True)
class Isogrid:
    """Triangles in whole rows, six ribs to a node."""

    columns: int = param(
        30, low=6, high=48, per_bolt=True, help="nodes round the ring", choose=fit.columns
    )
    rows: int = param(2, low=1, high=3, help="rows of triangles across the web", choose=fit.rows)
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", choose=fit.phase
    )

    def tiles(self, site: Site) -> list[Tile]:
        """Return the triangles of one column: one on each side of every row."""
        levels = np.linspace(*extent(site), self.rows + 1)
        drawn = bent(2 * np.pi / self.columns, levels[1] - levels[0])
        tiles = []
        for row, (inner, outer) in enumerate(pairwise(levels)):
            x = row % 2 / 2 + (self.phase == "cell") / 2
            tiles += [
                tile([(inner, x), (outer, x + 0.5), (inner, x + 1)], site, self.columns, **drawn),
                tile(
                    [(outer, x + 0.5), (outer, x + 1.5), (inner, x + 1)],
                    site,
                    self.columns,
                    **drawn,
                ),
            ]
        return tiles

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the triangles of one sector."""
        del rng
        return cells(self, site)

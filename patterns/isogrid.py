"""Equilateral triangles in whole rows: as stiff in every direction.

Nodes of a triangular lattice in the log-polar frame, joined by straight ribs; every second row of
nodes is shifted by half a column, so six ribs meet in each. Isogrid Design Handbook, NASA
CR-124075, revision A, 1973: triangles make a plate behave as an isotropic one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import SAGITTA
from openwork.fill.fit import Fit
from openwork.fill.lattice import Lattice, Tile, bent, tile
from openwork.fill.parameters import param
from openwork.fill.polar import row_levels
from openwork.fill.registry import pattern
from openwork.fill.site import Site

fit = Fit(size=8.0, share=0.45, ratio=np.sqrt(3) / 2)


@pattern
@dataclass(frozen=True, kw_only=True)
class Isogrid(Lattice):
    """Triangles in whole rows, six ribs to a node."""

    columns: int = param(
        30, low=6, high=48, per_bolt=True, help="nodes round the ring", suited=True
    )
    rows: int = param(2, low=1, high=3, help="rows of triangles across the web", suited=True)
    growth: float = param(
        1.0, low=-1, high=4, help="power of the radius that the height of rows follows"
    )
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", suited=True
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the triangles that suit *site*."""
        return fit.best(cls, site, given)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the triangles of one column: one on each side of every row."""
        levels = row_levels(site, self.growth)(np.linspace(0, 1, self.rows + 1))
        drawn = bent(2 * np.pi / self.columns, float(np.diff(levels).min()), sagitta)
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

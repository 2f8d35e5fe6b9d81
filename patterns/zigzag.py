"""Struts that zigzag between concentric rings, like the web of a girder.

Every row is bent alike, so the points of one row stand between those of the next and only four
ribs meet in a node; the rings are arcs. ``lean`` moves the points sideways, up to saw teeth.
A row of equal struts is a girder of J. Warren and W. T. Monzani, British patent 12242 of 1848 (from
memory).
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
from openwork.fill.polar import extent
from openwork.fill.registry import pattern
from openwork.fill.site import Site

fit = Fit(size=8.0, share=0.4, ratio=1.2)


@pattern
@dataclass(frozen=True, kw_only=True)
class Zigzag(Lattice):
    """Rows of struts that zigzag between rings."""

    columns: int = param(
        30, low=6, high=48, per_bolt=True, help="points round the ring", suited=True
    )
    rows: int = param(1, low=1, high=3, help="rows of struts across the web", suited=True)
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", suited=True
    )
    lean: float = param(0.0, low=-1, high=1, help="how far the points lean; 1 makes saw teeth")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the struts that suit *site*."""
        return fit.best(cls, site, given)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the triangles of one column: one on each side of every row."""
        tiles = []
        start = (self.phase == "cell") / 2
        point = start + (1 + self.lean) / 2
        levels = np.linspace(*extent(site), self.rows + 1)
        span = (1 + abs(self.lean)) * 2 * np.pi / self.columns
        drawn = {"along": True} | bent(span, levels[1] - levels[0], sagitta)
        for inner, outer in pairwise(levels):
            for corners in (
                [(inner, start), (outer, point), (inner, start + 1)],
                [(outer, point), (outer, point + 1), (inner, start + 1)],
            ):
                tiles.append(tile(corners, site, self.columns, **drawn))
        return tiles

"""Hexagons and triangles, four ribs to a node: the weave of baskets.

Half rows of hexagons in the log-polar frame, their points touching, triangles in the gaps; every
second row of hexagons is shifted by half a column, so every rib runs on straight through its
nodes. The trihexagonal tiling is known as kagome since I. Syozi, Prog. Theor. Phys. 6, 1951.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import SAGITTA
from openwork.fill.fit import Fit
from openwork.fill.lattice import Lattice, Tile, bent, tile
from openwork.fill.parameters import param
from openwork.fill.polar import extent
from openwork.fill.registry import pattern
from openwork.fill.site import Site

fit = Fit(size=14.0, share=0.5, ratio=np.sqrt(3) / 4)


@pattern
@dataclass(frozen=True, kw_only=True)
class Kagome(Lattice):
    """Hexagons and triangles, four ribs to a node."""

    columns: int = param(
        20, low=6, high=40, per_bolt=True, help="hexagons round the ring", suited=True
    )
    rows: int = param(2, low=1, high=6, help="half hexagons across the web", suited=True)
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius", suited=True
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the hexagons that suit *site*."""
        return fit.best(cls, site, given)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
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
        drawn = bent(np.pi / self.columns, u[1] - u[0], sagitta)
        return [tile(corners, site, self.columns, **drawn) for corners in outlines]

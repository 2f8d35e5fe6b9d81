"""Round holes in staggered rows: the cheapest openings to mill.

Holes grown by half a rib touch their neighbours in a log-polar hexagonal lattice; the first and
the last row touch the rims. A hole that a pad would cut is made smaller, or left out.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np
import shapely

from openwork.errors import RuleError
from openwork.fill.fillings import Shapes
from openwork.fill.finish import NARROWEST
from openwork.fill.parameters import param
from openwork.fill.polar import column_angle, extent, phase_shift
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.hexrows import FEWEST, HexRows, tangent_share
from openwork.shape.contour import circle

SMALLEST = 0.55  # of a row's holes: a hole made smaller than this for a pad is left out

fit = HexRows(size=8.0, most_rows=4, most_columns=56)


@pattern
@dataclass(frozen=True, kw_only=True)
class Circles:
    """Round holes in staggered rows."""

    columns: int = param(
        40,
        low=FEWEST,
        high=fit.most_columns,
        per_bolt=True,
        help="holes round the ring",
        suited=True,
    )
    rows: int = param(2, low=1, high=fit.most_rows, help="rows across the web", suited=True)
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the rows and columns that suit *site*."""
        return cls(**{**fit.suited(site, given), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Shapes:
        """Return the holes of one sector."""
        del rng
        place = column_angle(site, self.columns)
        low, high = np.exp(extent(site))
        narrowest = np.diff(place(np.arange(self.columns + 1))).min()
        share = tangent_share(low, high, self.rows, narrowest)
        radii = np.geomspace(low / (1 - share), high / (1 + share), self.rows)
        needed = NARROWEST * site.corner
        if (least := share * radii[0] - site.rib / 2) < needed:
            raise RuleError(
                f"pattern.columns {self.columns}: the holes of the inner row would have a radius "
                f"of {max(least, 0):.2f} mm, less than the {needed:.2f} mm that a cutter of radius "
                f"{site.corner:g} mm needs; fewer columns or rows make them larger"
            )
        if self.rows == 1:
            radii = np.array([(low + high) / 2])
        room = site.room().boundary
        holes = []
        for row, radius in enumerate(radii):
            wanted = share * radius - site.rib / 2
            for column in range(self.columns // site.fold):
                angle = place(phase_shift(self.phase, 1.0) + column + row % 2 / 2)
                centre = radius * np.array([np.cos(angle), np.sin(angle)])
                free = min(wanted, room.distance(shapely.Point(centre)) - 1e-6)
                inside = site.room().contains(shapely.Point(centre))
                if inside and free > max(SMALLEST * wanted, needed):
                    holes.append(circle(free, centre))
        return Shapes(holes)

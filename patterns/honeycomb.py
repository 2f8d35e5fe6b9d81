"""Hexagonal cells with straight sides, in whole rows.

A regular hexagonal lattice in the log-polar frame; its corners are mapped and joined by straight
lines, so neighbours share their sides exactly. Cells of the first and last row are drawn past the
rims and end on them. ``frame`` "flat" takes equal cells instead and lets the annulus cut them.
Stiffness of hexagonal cells: Gibson and Ashby, Cellular Solids, 2nd ed. 1997.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any, Self

import numpy as np
import shapely

from openwork.fill.fillings import Cells
from openwork.fill.parameters import param
from openwork.fill.polar import column_angle, extent, mapped, phase_shift, row_levels
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.hexrows import FEWEST, PITCH, HexRows
from openwork.shape.contour import Points, as_points

WHOLE = 0.45  # of a hexagon: less of it in the wedge is filled

fit = HexRows(size=7.0, most_rows=4, most_columns=66)


@pattern
@dataclass(frozen=True, kw_only=True)
class Honeycomb:
    """Hexagonal cells in whole rows."""

    columns: int = param(
        40,
        low=FEWEST,
        high=fit.most_columns,
        per_bolt=True,
        help="cells round the ring",
        suited=True,
    )
    rows: int = param(2, low=1, high=fit.most_rows, help="rows across the web", suited=True)
    phase: str = param("cell", choices=("cell", "node"), help="what stands on the bolt's radius")
    growth: float = param(
        1.0, low=-1, high=4, help="power of the radius that the height of polar rows follows"
    )
    frame: str = param(
        "polar", choices=("polar", "flat"), help="cells that grow with the radius, or all equal"
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the rows and columns that suit *site*."""
        return cls(**{**fit.suited(site, given), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the hexagons of one sector."""
        del rng
        return Cells([*(self._polar(site) if self.frame == "polar" else self._flat(site))])

    def _polar(self, site: Site) -> Iterator[Points]:
        low, high = extent(site)
        width, level = 2 * np.pi / self.columns, row_levels(site, self.growth)
        angle = column_angle(site, self.columns)
        past = np.array([np.log(1 - width**2 / 4), np.log(1 + width**2 / 4)])
        for row in range(self.rows):
            shift = phase_shift(self.phase, 1.0) + row / 2
            u = level((row + 0.5 + np.array([2, 1, -1, -2, -1, 1]) / 3) / self.rows)
            if row == 0:
                u[2:5] = low + past[0]
            if row == self.rows - 1:
                u[[5, 0, 1]] = high + past[1]
            for column in range(self.columns // site.fold):
                x = shift + column + np.array([0, 1, 1, 0, -1, -1]) / 2
                yield mapped(u, angle(x))

    def _flat(self, site: Site) -> Iterator[Points]:
        """Yield equal hexagons, cut to a wedge for each bolt where their lattice does not close."""
        pitch = 2 * np.pi * site.middle / self.columns
        corners = pitch / np.sqrt(3) * np.exp(1j * (np.pi / 6 + np.pi / 3 * np.arange(6)))
        closes, wedge = 6 % site.fold == 0, _wedge(site)
        count = int(2 * site.outer / pitch) + 2
        for row, column in product(range(-count, count + 1), repeat=2):
            centre = pitch * (column + row % 2 / 2 + 1j * row * PITCH)
            if not site.inner < abs(centre) < site.outer:
                continue
            cell = centre + corners
            hexagon = shapely.Polygon(as_points(cell))
            if closes and 0 <= np.angle(centre * np.exp(1e-9j)) % (2 * np.pi) < site.sector:
                yield shapely.get_coordinates(hexagon.exterior)[:-1]
            elif not closes:
                part = hexagon.intersection(wedge)
                if part.area > WHOLE * hexagon.area:
                    yield shapely.get_coordinates(part.exterior)[:-1]


def _wedge(site: Site) -> shapely.Polygon:
    """Return one sector, the first bolt on its axis, as far out as the ring goes."""
    angle = np.linspace(-site.sector / 2, site.sector / 2, 33)
    return shapely.Polygon([(0, 0), *mapped(np.full(33, np.log(2 * site.outer)), angle)])

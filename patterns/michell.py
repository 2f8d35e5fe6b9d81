"""Two families of logarithmic spirals that cross: the lightest net for pure torque.

Lines at +45 and -45 degrees to the radius are the least-volume frame for a torque between two
circles (A. G. M. Michell, The limits of economy of material in frame-structures, Phil. Mag. 1904).
In the log-polar frame they are straight, so the openings are diamonds whose rows are quantised:
the crossings land on both rims.
"""

import math
from dataclasses import dataclass

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import curve, extent, mapped, phase_shift
from openwork.fill.site import Site


def _columns(site: Site) -> int:
    """Return the most columns whose half diamonds at the hem still let the cutter in.

    A right-angled half diamond on a side w holds a circle of 0.207 w, less half a rib.
    """
    least = (1.3 * site.corner + site.rib / 2) / 0.207
    size = max(least, 5.0 + 0.4 * (site.outer - site.inner))
    return site.fold * max(2, math.floor(2 * math.pi * site.inner / size / site.fold))


@pattern
@dataclass(frozen=True, kw_only=True)
class Michell:
    """Crossed logarithmic spirals, about 45 degrees to the radius."""

    columns: int = param(
        30, low=6, high=120, per_bolt=True, help="spirals in each direction",
        choose=lambda site, _: _columns(site),
    )  # fmt: skip
    angle: float = param(
        45.0, low=30, high=60, help="wanted angle of the spirals to the radius, degrees"
    )
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    def rows(self, site: Site) -> int:
        """Return the half diamonds across the web that come nearest the wanted angle."""
        low, high = extent(site)
        exact = (high - low) * self.columns / np.pi * np.tan(np.radians(self.angle))
        return max(1, round(exact))

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the diamonds of one sector; half diamonds end on the rims."""
        del rng
        low, high = extent(site)
        width, rows = 2 * np.pi / self.columns, self.rows(site)
        half = (high - low) / rows
        first = phase_shift(self.phase, width)
        cells = []
        for row in range(rows + 1):
            u, shift = low + row * half, first + (row % 2) * width / 2
            for column in range(self.columns // site.fold):
                v = shift + column * width
                corners = _clipped(u, v, half, width / 2, (row == 0, row == rows))
                cells.append(mapped(*curve(corners)))
        return Cells(cells)


def _clipped(
    u: float, v: float, half: float, side: float, at_rim: tuple[bool, bool]
) -> list[tuple[float, float]]:
    """Return the corners of a diamond, or of the half of it that lies inside a rim."""
    inner, outer = at_rim
    past = side**2 / 2
    if inner:
        return [(u + half, v), (u, v + side), (u - past, v), (u, v - side)]
    if outer:
        return [(u - half, v), (u, v - side), (u + past, v), (u, v + side)]
    return [(u + half, v), (u, v + side), (u - half, v), (u, v - side)]

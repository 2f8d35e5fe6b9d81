"""Two sets of logarithmic spirals that cross: the lightest net for pure torque.

Lines at +45 and -45 degrees to the radius are the least-volume frame for a torque between two
circles (A. G. M. Michell, The limits of economy of material in frame-structures, Phil. Mag. 1904).
In the log-polar frame they are straight, so the openings are diamonds whose rows are quantised:
the crossings land on both rims.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np

from openwork.fill.fillings import Cells
from openwork.fill.parameters import param
from openwork.fill.polar import column_angle, curve, extent, mapped, phase_shift
from openwork.fill.registry import pattern
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
        30, low=6, high=60, per_bolt=True, help="spirals in each direction", suited=True
    )  # fmt: skip
    angle: float = param(
        45.0, low=30, high=60, help="wanted angle of the spirals to the radius, degrees"
    )
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return as many spirals as let the cutter in."""
        return cls(**{"columns": _columns(site), **given})

    def rows(self, site: Site) -> int:
        """Return the half diamonds across the web that come nearest the wanted angle."""
        low, high = extent(site)
        exact = (high - low) * self.columns / np.pi * np.tan(np.radians(self.angle))
        return max(1, round(float(exact)))

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the diamonds of one sector; half diamonds end on the rims."""
        del rng
        low, high = extent(site)
        rows = self.rows(site)
        half = (high - low) / rows
        first = phase_shift(self.phase, 1.0)
        angle = column_angle(site, self.columns)
        past = (np.pi / self.columns) ** 2 / 2
        cells = []
        for row in range(rows + 1):
            corners = _clipped(low + row * half, half, past, (row == 0, row == rows))
            u, x = curve(corners)
            for column in range(self.columns // site.fold):
                cells.append(mapped(u, angle(first + row % 2 / 2 + column + x)))
        return Cells(cells)


def _clipped(
    u: float, half: float, past: float, at_rim: tuple[bool, bool]
) -> list[tuple[float, float]]:
    """Return the corners (u, columns) of a diamond, or of its half inside a rim and *past* it."""
    inner, outer = at_rim
    return [
        (u + (past if outer else half), 0.0),
        (u, 0.5),
        (u - (past if inner else half), 0.0),
        (u, -0.5),
    ]

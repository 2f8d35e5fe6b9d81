"""A net of strong ribs that carries the torque, with finer ornament in its diamonds.

The strong ribs are crossed spirals at about 45 degrees, as in the lightest net for a torque
between two circles (A. G. M. Michell, The limits of economy of material in frame-structures,
Phil. Mag. 1904); the ornament stiffens their meshes. Both are drawn in the log-polar frame, the
ornament on a square that stands on its corner, from -1 to 1 and -i to i.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Self

import numpy as np
import shapely

from openwork.fill.biarc import SAGITTA, Complex, biarcs, without_repeats
from openwork.fill.draft import Draft
from openwork.fill.fit import multiples, options
from openwork.fill.lattice import COMFORT, Lattice, Tile
from openwork.fill.parameters import param
from openwork.fill.polar import extent, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import as_complex, as_points, circle, polygon

PAST = 0.9  # ribs past a rim where cells end, for it to cut them exactly
FEWEST, MOST = 3, 24  # strong spirals in each direction
WIDE = 28.0  # mm of web from which on rays look better
ROUND = 0.42  # radius of a wheel
SAME = 1e-9
TURNS = (1, 1j, -1, -1j)
SQUARE = np.array(TURNS)


def _straight(corners: Complex) -> Complex:
    """Return starts, ends and the directions there (4, k) of the sides between *corners*."""
    ends = np.roll(corners, -1)
    return np.array([corners, ends, ends - corners, ends - corners])


def _wheel() -> list[Complex]:
    rim = ROUND * np.exp(1j * np.pi / 4 * np.arange(9))
    corner = _straight(np.array([rim[1], 0.5 + 0.5j, 1j, -0.5 + 0.5j, rim[3], rim[2]]))
    corner[2:, 4:] = -1j * np.array([rim[[3, 2]], rim[[2, 1]]])
    hub = np.array([rim[:-1], rim[1:], 1j * rim[:-1], 1j * rim[1:]])
    return [hub, *(turn * corner for turn in TURNS)]


# What is drawn in a diamond, and the radius of the circle in the least part the rim leaves of it.
ORNAMENTS = {
    "diamonds": ([_straight((SQUARE + turn) / 2) for turn in TURNS], 0.207),
    "rays": ([_straight(turn * np.array([0, 1, 1j])) for turn in TURNS], 0.293),
    "wheels": (_wheel(), 0.16),
}


@pattern
@dataclass(frozen=True, kw_only=True)
class Hybrid(Lattice):
    """Strong crossed spirals with finer ornament between them."""

    ornament: str = param(
        "diamonds",
        choices=tuple(ORNAMENTS),
        help="what fills the diamonds of the strong ribs",
        suited=True,
    )
    thickness: float = param(
        2.0, was="strength", low=1, high=4, help="width of the strong ribs, in ribs"
    )
    columns: int = param(
        12,
        low=FEWEST,
        high=MOST,
        per_bolt=True,
        help="strong spirals in each direction",
        suited=True,
    )
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", suited=True
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the most strong ribs that leave room for the cutter, in the phase for the pads."""
        ornament = "rays" if site.outer - site.inner > WIDE else "diamonds"
        values = {"ornament": ornament, **given}
        strip = (values["thickness"] - 1) * site.rib / 2
        least = (site.rib / 2 + strip / 2 + COMFORT * site.corner) / ORNAMENTS[values["ornament"]][
            1
        ]
        size = max(2 * least, (14 + 0.5 * (site.outer - site.inner)) * site.inner / site.middle)

        def cost(columns: int) -> float:
            width = 2 * np.pi * site.inner / columns
            return float(np.log(width / size) ** 2 + unevenness(site, columns) ** 2)

        counts = sorted(options("columns", given, multiples(FEWEST, site, size, MOST)), key=cost)
        drafts = [Draft(cls(**{**values, "columns": count}), site) for count in counts]
        roomy = next((one for one in drafts if one.lost == 0), drafts[0])
        phase = min(options("phase", given, ("node", "cell")), key=roomy.spoilt.__getitem__)
        one: Self = replace(roomy.lattice, phase=phase)
        return one

    def rows(self, site: Site) -> int:
        """Return the half diamonds across the web that come nearest to 45 degrees."""
        low, high = extent(site)
        return max(1, round((high - low) * self.columns / np.pi))

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the ornament in the diamonds of one column."""
        low, high = extent(site)
        width, half = 2 * np.pi / self.columns, (high - low) / self.rows(site)
        past = PAST * site.rib
        web = polygon(circle(site.outer + past), [circle(site.inner - past)], sagitta)
        parts = ORNAMENTS[self.ornament][0]
        tiles = []
        for row in range(self.rows(site) + 1):
            x = row % 2 / 2 + (self.phase == "node") / 2
            middle = low + row * half + 1j * x * width

            def drawn(sides: Complex, middle: complex = middle) -> shapely.Polygon:
                framed = half * sides.imag + 1j * width / 2 * sides.real
                path = biarcs(*(framed[:2] + middle), *framed[2:], sagitta=sagitta)
                z = without_repeats(np.exp(path.ravel()))
                return shapely.Polygon(as_points(z))

            strip = (self.thickness - 1) * site.rib / 2
            clear = drawn(_straight(SQUARE)).buffer(-strip, join_style="mitre").intersection(web)
            within = {0: 1, self.rows(site): -1}.get(row, 0)
            kept = [sides for sides in parts if within * sides[0].imag.mean() > -SAME]
            for part in shapely.intersection([drawn(sides) for sides in kept], clear):
                if part.geom_type == "Polygon" and not part.is_empty:
                    z = np.log(as_complex(shapely.get_coordinates(part.exterior)[:-1]))
                    tiles.append(np.column_stack([z.real, z.imag / width]))
        return tiles

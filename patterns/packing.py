"""Round holes of many sizes, each the largest that finds room beside those already there.

The greedy packing that fills the gaps of a few large circles as that of Apollonius does (E. Kasner
and F. Supnick, The Apollonian packing of circles, Proc. Natl. Acad. Sci. 29, 1943), between rims
and pads and a rib apart. One half of a symmetry sector is filled and mirrored, so the holes meet
the bolts alike; where the bolts have no mirror line a whole sector is filled.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Self

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.fillings import Shapes
from openwork.fill.finish import NARROWEST
from openwork.fill.parameters import param
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.hole_gaps import Complex, Mirrors, Obstacles, settled, walls
from openwork.shape.contour import Contour, circle

POINTS = 6000  # candidates for a centre in the part that is filled
SNUG = 0.05  # how much a hole would rather touch three neighbours than be larger


def _largest(site: Site) -> float:
    """Return one row of large holes for a narrow web, two for a wide one."""
    return round(min(max(1.05 - 0.015 * (site.outer - site.inner), 0.5), 0.9), 2)


@pattern
@dataclass(frozen=True, kw_only=True)
class Packing:
    """Round holes of many sizes, fitted into each other's gaps."""

    LEVEL: ClassVar[str] = "gap"  # wider ribs would make another packing
    SIZE: ClassVar[str] = "largest"  # the greater it is, the fewer and larger the holes

    largest: float = param(
        0.7, low=0.2, high=1, help="radius of the largest hole, of half the web", suited=True
    )  # fmt: skip
    smallest: float = param(
        0.2, low=0.05, high=1, help="radius of the smallest hole, of the largest"
    )
    gap: float = param(
        0.0, low=0, high=8, help="how much more than a rib is left between the packed holes, mm"
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return holes that suit the width of the web."""
        return cls(**{"largest": _largest(site), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Shapes:
        """Return the holes of one sector."""
        del rng
        mirrors = Mirrors.of(site)
        most = self.largest * (site.outer - site.inner) / 2
        least = max(self.smallest * most, 1.01 * NARROWEST * site.corner)
        points, line = _candidates(site, mirrors)
        obstacles = walls(site)
        own = mirrors.gaps(points)
        own[line[:, None] == np.arange(own.shape[1])] = np.inf
        near = np.sort(np.column_stack([obstacles.gaps(points), own]))[:, :3]
        holes: list[Contour] = []
        while True:
            open_ = near[:, 0] >= least
            points, line, near = points[open_], line[open_], near[open_]
            if not len(points):
                return Shapes(holes)
            best = np.argmax(np.minimum(near[:, 0], most) - SNUG * near.mean(axis=1))
            centre, radius = settled(
                complex(points[best]), int(line[best]), obstacles, mirrors, most
            )
            twins = (
                [centre]
                if line[best] >= 0 or not mirrors.angles
                else [centre, mirrors.image(centre)]
            )
            cut = max(least, radius - self.gap / 2)
            holes += [circle(cut, (twin.real, twin.imag)) for twin in twins]
            turns = np.exp(1j * site.sector * np.arange(site.fold))
            copies = np.outer(twins, turns).ravel()
            new = Obstacles.circles(copies, np.full(len(copies), radius + site.rib))
            obstacles += new
            near = np.sort(np.column_stack([near, new.gaps(points)]))[:, :3]


def _candidates(site: Site, mirrors: Mirrors) -> tuple[Complex, NDArray[np.int64]]:
    """Return points in the part to fill, and the mirror line each lies on, -1 for none."""
    start, stop = mirrors.angles or (0.0, site.sector)
    area = (stop - start) * (site.outer**2 - site.inner**2) / 2
    step = np.sqrt(area / POINTS)
    radii = np.linspace(site.inner, site.outer, int((site.outer - site.inner) / step) + 2)[1:-1]
    angles = np.linspace(start, stop, int((stop - start) * site.middle / step) + 2)
    grid = (radii[:, None] * np.exp(1j * angles)).ravel()
    line = np.full((len(radii), len(angles)), -1)
    if mirrors.angles:
        line[:, 0], line[:, -1] = 0, 1
    inside = shapely.contains_xy(site.room(), grid.real, grid.imag)
    return grid[inside], line.ravel()[inside]

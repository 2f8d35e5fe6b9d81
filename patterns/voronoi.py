"""Even organic cells: a centroidal Voronoi diagram, the same in every sector.

Seeds of one sector are moved to the centroids of their cells until they are evenly spread (Lloyd,
Least squares quantization in PCM, IEEE Trans. Inf. Theory 28, 1982); the seeds of the other
sectors are their rotations. Fewer than ten steps leave slivers.
"""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import Voronoi as Diagram
from scipy.spatial import cKDTree

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import mapped
from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points

STEPS = 40
PAST = 0.4  # ribs past a rim where the cells of its row end, to be cut by the rim exactly
GUARDS = mapped(np.full(12, 1.5), np.arange(12) * np.pi / 6)  # far points that bound every cell
SAMPLES = 130  # grid points per cell for the centroids: more changes nothing the eye can see


def _cells(site: Site) -> int:
    size = 5.5 + 0.3 * (site.outer - site.inner)
    return max(1, round(np.pi * (site.outer**2 - site.inner**2) / site.fold / size**2))


@pattern
@dataclass(frozen=True, kw_only=True)
class Voronoi:
    """Even organic cells, the same in every sector."""

    cells: int = param(
        12, low=2, high=400, help="cells in one sector", choose=lambda site, _: _cells(site)
    )
    growth: float = param(
        0.5, low=-2, high=2, help="power of the radius that the size of the cells follows"
    )

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the Voronoi cells of one sector's seeds."""
        seeds = _relaxed(site, self.cells, self.growth, rng)
        around = _around(seeds, site)
        diagram = Diagram(np.concatenate([around, _mirrored(around, site), GUARDS * site.outer]))
        rings = [diagram.regions[diagram.point_region[k]] for k in range(self.cells)]
        return Cells([_ordered(diagram.vertices[ring]) for ring in rings])


def _relaxed(site: Site, count: int, growth: float, rng: np.random.Generator) -> Points:
    """Return seeds (count, 2) at the weighted centroids of their own cells."""
    grid, weight = _grid(site, count * SAMPLES, growth)
    seeds = grid[rng.choice(len(grid), count, replace=False)]
    turns = site.sector * np.array([0, 1, -1])
    for _ in range(STEPS):
        owner = cKDTree(_around(seeds, site)).query(grid)[1]
        back = -turns[owner // count]
        c, s = np.cos(back), np.sin(back)
        x = grid[:, 0] * c - grid[:, 1] * s
        y = grid[:, 0] * s + grid[:, 1] * c
        total = np.bincount(owner % count, weight, count)
        sums = np.column_stack([np.bincount(owner % count, weight * p, count) for p in (x, y)])
        seeds = np.where(total[:, None] > 0, sums / np.maximum(total, 1e-12)[:, None], seeds)
    return seeds


def _grid(site: Site, count: int, growth: float) -> tuple[Points, Floats]:
    """Return points spread evenly over one sector of the region, and their weights.

    Cells of a centroidal diagram shrink with the fourth root of the density in the plane.
    """
    step = np.sqrt(site.sector * (site.outer**2 - site.inner**2) / 2 / count)
    rows = round((site.outer - site.inner) / step)
    radii = site.inner + (np.arange(rows) + 0.5) * (site.outer - site.inner) / rows
    counts = np.round(site.sector * radii / step).astype(int)
    around = [np.arange(many) * site.sector / many for many in counts]
    angle = np.concatenate(around)
    radius = np.repeat(radii, counts)
    points = mapped(np.log(radius), angle)
    near = points[:, None, :] - site.bolt_points[None, :, :]
    free = (np.hypot(near[..., 0], near[..., 1]) > site.pad).all(axis=1)
    return points[free], (radius[free] / site.middle) ** (-4 * growth)


def _around(seeds: Points, site: Site) -> Points:
    """Return the seeds and their copies in the neighbouring sectors."""
    turns = site.sector * np.array([0, 1, -1])
    z = seeds @ np.array([1, 1j])
    turned = (np.exp(1j * turns)[:, None] * z).ravel()
    return np.column_stack([turned.real, turned.imag])


def _mirrored(seeds: Points, site: Site) -> Points:
    """Return the images of *seeds* in circles just past the rims: cells end there, not far away."""
    square = (seeds**2).sum(axis=1)[:, None]
    inner, outer = site.inner - (0.5 + PAST) * site.rib, site.outer + (0.5 + PAST) * site.rib
    return np.concatenate([seeds * inner**2 / square, seeds * outer**2 / square])


def _ordered(corners: Points) -> Points:
    """Return the corners of a convex cell counter-clockwise."""
    z = (corners - corners.mean(axis=0)) @ np.array([1, 1j])
    return np.asarray(corners[np.argsort(np.angle(z))])

"""Voronoi cells of seeds that are the same in every sector, whole at the rims and round the pads.

The cells of the seeds' mirror images in the rims and in the pads bound them: inversion in a circle
puts the side between a seed near the circle and its image close to that circle.
"""

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import Voronoi, cKDTree

from openwork.errors import RuleError
from openwork.fill.fillings import Cells
from openwork.fill.polar import mapped
from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points, as_complex

PAST = 0.4  # ribs past a rim where the cells of its row end, to be cut by the rim exactly
NEAR = 3.0  # pad radii from a bolt within which a seed is mirrored in the pad
GUARDS = mapped(np.full(12, 1.5), np.arange(12) * np.pi / 6)  # far points that bound every cell
CHORD = 3e-4  # mm between a rounded corner, shrunk for the cutter, and its chords; kept off ribs
PUSH = 1.6  # over-relaxation: half as many steps as with 1


def voronoi_cells(seeds: Points, site: Site) -> Cells:
    """Return the Voronoi cells of the *seeds* (k, 2) of one sector among all their copies."""
    around = everywhere(seeds, site)
    points = np.concatenate([around, _mirrored(around, site), GUARDS * site.outer])
    diagram = Voronoi(points)
    rings = [diagram.regions[diagram.point_region[k]] for k in range(len(seeds))]
    return Cells([_ordered(diagram.vertices[ring]) for ring in rings])


def rounded(cells: Cells, roundness: float, site: Site) -> Cells:
    """Return *cells* with round corners.

    Their radius is that of the inscribed circle times *roundness*, or the cutter's where that is
    larger.
    """
    shapes = shapely.polygons([shapely.linearrings(ring) for ring in cells.polygons])
    inscribed = shapely.length(shapely.maximum_inscribed_circle(shapes))
    least = site.rib / 2 + site.corner
    radius = roundness * inscribed
    cores = shapes
    for _ in range(2):  # in one step GEOS may leave nothing where little should be left
        cores = shapely.buffer(cores, -radius / 2, join_style="mitre", mitre_limit=10)
    quadrant = math.ceil(math.pi / 4 / math.sqrt(2 * CHORD / max(radius.max() - least, CHORD)))
    soft = np.where(
        (radius > least) & ~shapely.is_empty(cores),
        shapely.buffer(cores, radius - CHORD, quad_segs=quadrant),
        shapes,
    )
    return Cells([shapely.get_coordinates(shapely.get_exterior_ring(one))[:-1] for one in soft])


def everywhere(seeds: Points, site: Site) -> Points:
    """Return the seeds and then, sector by sector, their copies in all others."""
    z = as_complex(seeds)
    turned = np.exp(1j * site.sector * np.arange(site.fold))[:, None] * z
    return np.column_stack([turned.real.ravel(), turned.imag.ravel()])


def relaxed(
    seeds: Points, site: Site, steps: int, *, growth: float = 0.0, samples: int = 100,
    moving: NDArray[np.bool_] | None = None,
) -> Points:  # fmt: skip
    """Return *seeds* moved towards the centroids of their cells, those *moving* or all.

    Cells of a centroidal diagram shrink with the fourth root of the density in the plane: the
    density makes their size follow the radius to the power *growth*. The centroids are taken
    over about *samples* points a cell. Raises RuleError where there are no seeds.
    """
    count = len(seeds)
    if not count:
        raise RuleError(
            f"pattern: no cell has its middle clear of the pads on a web "
            f"{site.outer - site.inner:.1f} mm wide; more cells or rows do"
        )
    points, weight = grid(site, count * samples)
    weight = weight * (np.hypot(*points.T) / site.middle) ** (-4 * growth)
    z = as_complex(points)
    for _ in range(steps):
        owner = cKDTree(everywhere(seeds, site)).query(points)[1]
        home = z * np.exp(-1j * site.sector * (owner // count))
        total = np.bincount(owner % count, weight, count)
        sums = [np.bincount(owner % count, weight * part, count) for part in (home.real, home.imag)]
        centres = np.column_stack(sums) / np.maximum(total, 1e-12)[:, None]
        push = np.where(total > 0, PUSH, 0.0)
        if moving is not None:
            push = push * moving
        seeds = seeds + push[:, None] * (centres - seeds)
    return seeds


def grid(site: Site, count: int) -> tuple[Points, Floats]:
    """Return about *count* points spread evenly over one sector off the pads, and their areas."""
    step = np.sqrt(site.sector * (site.outer**2 - site.inner**2) / 2 / count)
    rows = max(2, round((site.outer - site.inner) / step))
    radii = site.inner + (np.arange(rows) + 0.5) * (site.outer - site.inner) / rows
    counts = np.round(site.sector * radii / step).astype(int)
    angle = np.concatenate([(np.arange(many) + 0.5) * site.sector / many for many in counts])
    radius = np.repeat(radii, counts)
    points = mapped(np.log(radius), angle)
    near = points[:, None, :] - site.bolt_points[None, :, :]
    free = (np.hypot(near[..., 0], near[..., 1]) > site.pad).all(axis=1)
    return points[free], (radius / np.repeat(counts, counts))[free]


def _mirrored(seeds: Points, site: Site) -> Points:
    """Return the images of *seeds* in circles just past the rims and the edges of the pads."""
    past = (0.5 + PAST) * site.rib
    square = (seeds**2).sum(axis=1)[:, None]
    images = [seeds * (site.inner - past) ** 2 / square, seeds * (site.outer + past) ** 2 / square]
    radius = site.pad - past
    for bolt in site.bolt_points:
        arm = seeds - bolt
        apart = np.hypot(*arm.T)
        near = (apart < NEAR * site.pad) & (apart > radius)
        images.append(bolt + arm[near] * (radius / apart[near])[:, None] ** 2)
    return np.concatenate(images)


def _ordered(corners: Points) -> Points:
    """Return the corners of a convex cell counter-clockwise."""
    z = as_complex(corners - corners.mean(axis=0))
    return np.asarray(corners[np.argsort(np.angle(z))])

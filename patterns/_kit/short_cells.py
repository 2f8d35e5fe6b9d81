"""Cells that the hem or a pad cuts short, joined to their neighbours further out."""

from __future__ import annotations

import math
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from typing import TypeAlias

import numpy as np
import shapely

from openwork.fill.finish import NARROWEST
from openwork.fill.nearness import rotated_points
from openwork.fill.site import Site
from openwork.shape.contour import Points

Key: TypeAlias = tuple[int, int]  # number along the rim within one sector, and depth from it

SHORT = 0.5  # of its area: a cell of which less is left is joined to a neighbour
SMALL = 0.45  # of the area usual at its radius: so is a cell whose opening would be less
BESIDE = 0.08  # share of the radius within which cells count as at one radius
WHOLE = 0.99  # of its area: a cell of which more is left is not cut
LEAST = 0.3  # of its area: less is left solid where no neighbour is to be preferred
ALIKE = 0.02  # ranks nearer than that are equal: neither of two mirror images is chosen
PAST = 0.9  # ribs past the region where cells end, for its edge to cut them exactly
GRID = 1e-7  # mm; neighbours share their sides within it


def with_whole_edges(outlines: Mapping[Key, Points], site: Site, per_sector: int) -> list[Points]:
    """Return the *outlines* of one sector cut a little past the region, the short ones joined."""
    drawn = {key: shapely.Polygon(ring) for key, ring in outlines.items()}
    keys = [key for key, shape in drawn.items() if shape.is_valid]
    if not keys:
        return []
    cells = np.array([drawn[key] for key in keys])
    cut = ~shapely.contains_properly(site.room(), cells)
    near = shapely.buffer(site.room(), PAST * site.rib, quad_segs=8)
    areas, edged = shapely.area(cells), cells.copy()
    areas[cut] = shapely.area(shapely.intersection(cells[cut], site.room()))
    edged[cut] = [_largest(one) for one in shapely.intersection(cells[cut], near)]
    shares = dict(zip(keys, (areas / shapely.area(cells)).tolist(), strict=True))
    shapes = dict(zip(keys, edged, strict=True))
    short = {key for key, share in shares.items() if share < SHORT}
    solid = {key for key in short if shares[key] < LEAST}
    _join(shapes, short, solid, shares, site, per_sector)
    little = {key for key in _little(shapes, site) if shares[key] < WHOLE}
    lightness = {key: -math.log(max(shape.area, GRID)) for key, shape in shapes.items()}
    _join(shapes, little, little, lightness, site, per_sector)
    return [shapely.get_coordinates(shape.exterior)[:-1] for shape in shapes.values()]


def _join(
    shapes: dict[Key, shapely.Polygon],
    short: AbstractSet[Key],
    solid: AbstractSet[Key],
    rank: Mapping[Key, float],
    site: Site,
    per_sector: int,
) -> None:
    """Add the *short* cells of *shapes*, from within, to the neighbour of higher *rank*.

    The neighbours of (j, q) further out are (j, q - 1) and (j - 1, q - 1). Where these are mirror
    images of each other, the cell stays as it is, or is left out where it is to be *solid*.
    """
    for j, q in sorted(short, key=lambda key: (-key[1], key[0])):
        homes = {((j - k) % per_sector, q - 1): (j - k) // per_sector for k in (0, 1)}
        known = sorted((key for key in homes if key in shapes), key=lambda key: rank[key])
        alike = len(known) == 2 and rank[known[1]] - rank[known[0]] < ALIKE
        if known and not alike:
            home = known[-1]
            back = -homes[home] * site.sector
            part = shapely.transform(shapes[j, q], lambda ring, by=back: rotated_points(ring, by))
            shapes[home] = _largest(shapely.union(shapes[home], part, grid_size=GRID))
        if not alike or (j, q) in solid:
            del shapes[j, q]


def _little(shapes: Mapping[Key, shapely.Polygon], site: Site) -> set[Key]:
    """Return the cells too narrow for the cutter, or with openings much smaller than beside."""
    cores = shapely.buffer([*shapes.values()], -site.rib / 2 - site.corner, join_style="mitre")
    cores = shapely.intersection(cores, site.room(site.corner))
    wide = ~shapely.is_empty(shapely.buffer(cores, -(NARROWEST - 1) * site.corner))
    areas = shapely.area(shapely.buffer(cores[wide], site.corner))
    radii = np.hypot(*shapely.get_coordinates(shapely.centroid(cores[wide])).T)
    beside = np.abs(radii[:, None] - radii) < BESIDE * radii[:, None]
    usual = np.array([np.median(areas[near]) for near in beside])
    fit = np.flatnonzero(wide)[areas >= SMALL * usual]
    return {*shapes} - {[*shapes][k] for k in fit}


def _largest(shape: shapely.Geometry) -> shapely.Polygon:
    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]
    return max(parts, key=lambda part: part.area, default=shapely.Polygon())

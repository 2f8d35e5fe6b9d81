"""Cells that the hem or a pad cuts short, joined to their neighbours further out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

import shapely

from openwork.fill.finish import rotated_points
from openwork.fill.site import Site
from openwork.shape.contour import Points

Key: TypeAlias = tuple[int, int]  # number along the rim within one sector, and depth from it

SHORT = 0.5  # of its area: a cell of which less is left is joined to a neighbour
LEAST = 0.3  # of its area: less is left solid where no neighbour is to be preferred
ALIKE = 0.02  # shares nearer than that are equal: neither of two mirror images is chosen
PAST = 0.9  # ribs past the region where cells end, for its edge to cut them exactly
GRID = 1e-7  # mm; neighbours share their sides within it


def with_whole_edges(outlines: Mapping[Key, Points], site: Site, per_sector: int) -> list[Points]:
    """Return the *outlines* of one sector cut a little past the region, the short ones joined.

    The neighbours of (j, q) further out are (j, q - 1) and (j - 1, q - 1).
    """
    near = shapely.buffer(site.room(), PAST * site.rib, quad_segs=8)
    drawn = {key: shapely.Polygon(ring) for key, ring in outlines.items()}
    whole = {key: shape.area for key, shape in drawn.items() if shape.is_valid}
    shares = {key: drawn[key].intersection(site.room()).area / whole[key] for key in whole}
    shapes = {key: _largest(drawn[key].intersection(near)) for key in whole}
    for j, q in sorted(whole, key=lambda key: -key[1]):
        if shares[j, q] >= SHORT:
            continue
        homes = {((j - k) % per_sector, q - 1): (j - k) // per_sector for k in (0, 1)}
        known = sorted((key for key in homes if key in shapes), key=lambda key: shares[key])
        alike = len(known) == 2 and shares[known[1]] - shares[known[0]] < ALIKE
        if known and not alike:
            home = known[-1]
            back = -homes[home] * site.sector
            short = shapely.transform(shapes[j, q], lambda ring, by=back: rotated_points(ring, by))
            shapes[home] = _largest(shapely.union(shapes[home], short, grid_size=GRID))
        if not alike or shares[j, q] < LEAST:
            del shapes[j, q]
    return [shapely.get_coordinates(shape.exterior)[:-1] for shape in shapes.values()]


def _largest(shape: shapely.Geometry) -> shapely.Polygon:
    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]
    return max(parts, key=lambda part: part.area, default=shapely.Polygon())

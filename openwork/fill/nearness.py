"""Which openings of the ring are near each other, the copies in other sectors counted."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.errors import RuleError
from openwork.fill.shrunk import Shapely
from openwork.fill.site import Site
from openwork.shape.contour import Points


def crowded(shapes: Shapely, site: Site, distance: float) -> NDArray[np.bool_]:
    """Tell of each shape of a sector whether it is within *distance* (mm) of another or a copy."""
    near = np.zeros(len(shapes), dtype=bool)
    first, second = shapely.STRtree(around(shapes, site)).query(
        shapes, predicate="dwithin", distance=distance
    )
    near[first[first != second]] = True
    return near


def around(shapes: Shapely, site: Site) -> Shapely:
    """Return the polygons *shapes* (n,) and then their copies in the neighbouring sectors."""
    turns = sorted({k % site.fold for k in (0, 1, -1)})
    return np.concatenate([_turned(shapes, k * site.sector) for k in turns])


def _turned(shapes: Shapely, angle: float) -> Shapely:
    return np.asarray(
        shapely.transform(shapes, lambda points: rotated_points(points, angle)), dtype=object
    )


def rotated_points(points: Points, angle: float) -> Points:
    """Return *points* (n, 2) turned by *angle* radians about the origin."""
    c, s = np.cos(angle), np.sin(angle)
    turned: Points = points @ np.array([[c, s], [-s, c]])
    return turned


def one_per_class(faces: Shapely, site: Site) -> Shapely:
    """Return the faces whose centroids lie in one sector, cut at the widest gap between them.

    Raises RuleError where a face runs round the centre.
    """
    solid = shapely.polygons(shapely.get_exterior_ring(faces))
    refuse_round_the_centre(solid)
    centre = shapely.centroid(solid)
    angle = np.arctan2(shapely.get_y(centre), shapely.get_x(centre))
    within = np.sort(angle % site.sector)
    gaps = np.diff(within, append=within[:1] + site.sector)
    start = within[np.argmax(gaps)] + gaps.max() / 2
    return np.asarray(solid[(angle - start) % (2 * np.pi) < site.sector], dtype=object)


def refuse_round_the_centre(solid: Shapely) -> None:
    """Raise RuleError where one of the *solid* polygons holds the centre of the ring."""
    if shapely.contains_xy(solid, 0.0, 0.0).any():
        raise RuleError(
            "an opening would run right round the ring and cut it in two; "
            "more ribs across the web hold it together"
        )

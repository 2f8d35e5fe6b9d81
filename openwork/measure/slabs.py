"""Metal where the look wants openings: slabs, rows mostly filled, a half of the web left solid.

Judged on the outlines alone, against the openings that the ring has.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.site import Site
from openwork.shape.contour import Contour
from openwork.shape.gauging.integrals import integrals
from openwork.shape.gauging.samples import polygons

CHORD = 0.02  # mm between an arc and the chords that stand for it
ROOMY = 1.1  # of the usual opening's half width: where as much has room, one is missing
FILLED = 0.5  # of a circle that lies in slabs: more, and the row there is mostly filled
BARE = 0.4  # of the other half's open share: less, and a half of the web is solid
CIRCLES, PLACES = 60, 720  # on which, and at which, rows are looked for
QUARTER = 4  # chords in a quarter of a rounding: nothing here is told finer


def slabs(openings: Sequence[Contour], site: Site) -> dict[str, int]:
    """Return how many faults the whole ring has in the metal between its *openings*.

    ``slabs`` are pieces of metal in which an opening of the usual width, and somewhat more, would
    have room with full ribs round it; ``filled_rows`` are bands, as high as such an opening, where
    slabs take most of the circle; ``solid_half`` is 1 where the inner or the outer half of the web
    is less than 0.4 times as open as the other.
    """
    if not openings:
        return {"slabs": 0, "filled_rows": 0, "solid_half": 0}
    width = ROOMY * usual_half_width(openings)
    shapes = polygons(openings, CHORD)
    taken = shapely.union_all(shapely.buffer(shapes, site.rib, quad_segs=QUARTER))
    middles = shapely.buffer(site.room().difference(taken), -width, quad_segs=QUARTER)
    found = [one for one in shapely.get_parts(middles) if not one.is_empty]
    return {
        "slabs": len(found),
        "filled_rows": _rows(shapely.buffer(middles, width), site, 2 * width) if found else 0,
        "solid_half": int(_solid_half(shapes, site)),
    }


def usual_half_width(openings: Sequence[Contour]) -> float:
    """Return half the width of the openings, mm: that which half of the open area exceeds.

    Twice the area over the outline is the radius of a circle and of the circle in any polygon that
    has one.
    """
    found = integrals(openings)
    halves = 2 * found.areas / found.lengths
    order = np.argsort(halves)
    summed = np.cumsum(found.areas[order])
    return float(halves[order][np.searchsorted(summed, summed[-1] / 2)])


def _rows(metal: shapely.Geometry, site: Site, height: float) -> int:
    """Return how many bands of *height* mm are mostly *metal*."""
    radii = np.linspace(site.inner, site.outer, CIRCLES)
    angles = 2 * np.pi * (np.arange(PLACES) + 0.5) / PLACES
    inside = shapely.contains_xy(
        metal, np.outer(radii, np.cos(angles)), np.outer(radii, np.sin(angles))
    )
    filled = np.flatnonzero(inside.mean(axis=1) > FILLED)
    runs = np.split(filled, np.flatnonzero(np.diff(filled) > 1) + 1)
    return sum(max(1, round(float(np.ptp(radii[run])) / height)) for run in runs if len(run) > 1)


def _solid_half(shapes: NDArray[np.object_], site: Site) -> bool:
    """Tell whether one half of the web, parted at its middle radius, is much less open."""
    middle = shapely.Point(0, 0).buffer(site.middle, quad_segs=180)
    room, opened = site.room(), shapely.make_valid(shapes)
    halves = shapely.intersection(opened, middle), shapely.difference(opened, middle)
    inner, outer = (float(shapely.area(half).sum()) for half in halves)
    inner /= max(room.intersection(middle).area, 1e-9)
    outer /= max(room.difference(middle).area, 1e-9)
    return bool(min(inner, outer) < BARE * max(inner, outer))

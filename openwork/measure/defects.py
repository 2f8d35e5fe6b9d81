"""What a finished look would be faulted for, counted on its outlines.

The finisher fills fragments and drops slivers; this counts what is left all the same.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.nearness import crowded
from openwork.fill.site import Site
from openwork.shape.contour import Contour, Floats, is_circle, rotated
from openwork.shape.gauging.integrals import integrals
from openwork.shape.gauging.samples import polygons
from openwork.tables.figure import Figure

SMALL = 0.4  # of the openings at its radius: less looks like a leftover
TRIMMED = 0.5  # of the openings at its radius: less, beside a pad, looks cut off
ROW = 0.4  # share of the openings at a radius that makes equal small ones a row of their own
BESIDE = 0.06  # share of the radius within which openings count as at one radius
EQUAL = 0.02  # share of the area within which openings count as equal
NARROW = 1.1  # cutter radii in the widest place: less is a sliver
KINK = math.radians(5.0)  # a joint that turns more is a corner
THIN = 0.01  # mm by which a rib is seen to be thinner than it should
CHORD = 1e-3  # mm between an arc and the chords that stand for it
ON = 1e-3  # mm within which an outline lies on a pad

OF_OPENINGS = ("fragments", "trimmed", "slivers", "kinks", "thin_ribs")
DEFECTS = {
    "fragments": Figure("", "openings much smaller than others at their radius", better=-1),
    "trimmed": Figure("", "openings that a pad leaves less than half as large", better=-1),
    "slivers": Figure("", "openings hardly wider than the cutter", better=-1),
    "kinks": Figure("", "corners in the outlines of openings", better=-1),
    "thin_ribs": Figure("", "openings nearer to another than the rib", better=-1),
    "dropped": Figure("", "slivers dropped, metal in their place", better=-1),
    "slabs": Figure("", "solid places where an opening of the usual width has room", better=-1),
    "filled_rows": Figure("", "rows of openings that are mostly metal", better=-1),
    "solid_half": Figure("", "1 where the inner or outer half of the web is solid", better=-1),
}


def defects(openings: Sequence[Contour], site: Site) -> dict[str, int]:
    """Return how many faults one sector of the *openings* of a ring has.

    ``fragments`` are much smaller than the others at their radius, round holes and whole rows of
    equal ones excepted; ``trimmed`` are those that a pad leaves less than half as large as the
    others; ``slivers`` hold no circle of 1.1 times the cutter's radius; ``kinks`` are corners in an
    outline; ``thin_ribs`` are openings nearer to another than the rib.
    """
    if not openings:
        return dict.fromkeys(OF_OPENINGS, 0)
    sector = openings[: len(openings) // site.fold]
    shares = _shares(sector)
    shapes = polygons(sector, CHORD)
    narrow = shapely.is_empty(shapely.buffer(shapes, -NARROW * site.corner))
    return {
        "fragments": int((shares < SMALL).sum()),
        "trimmed": int(((shares >= SMALL) & (shares < TRIMMED) & _beside_pads(sector, site)).sum()),
        "slivers": int(narrow.sum()),
        "kinks": sum(kinks(one) for one in sector),
        "thin_ribs": int(crowded(shapes, site, site.rib - THIN).sum()),
    }


def kinks(contour: Contour) -> int:
    """Return the number of joints of *contour* that turn more than five degrees."""
    return int((np.abs(contour.turns) > KINK).sum())


def _shares(sector: Sequence[Contour]) -> Floats:
    """Return each area as a share of the median at its radius; 1 for round holes and rows."""
    found = integrals(sector)
    areas, radii = found.areas, np.abs(found.centroids)
    shares = np.ones(len(sector))
    for k, one in enumerate(sector):
        beside = areas[np.abs(radii - radii[k]) < BESIDE * radii[k]]
        equal = np.abs(beside - areas[k]) < EQUAL * areas[k]
        if not is_circle(one) and equal.mean() < ROW:
            shares[k] = areas[k] / _median(beside)
    return shares


def _median(values: Floats) -> float:
    """Return the median; numpy's own imports its masked arrays to look for NaN."""
    low, high = (len(values) - 1) // 2, len(values) // 2
    return float(np.sort(values)[low : high + 1].mean())


def _beside_pads(sector: Sequence[Contour], site: Site) -> NDArray[np.bool_]:
    """Tell of each opening whether its outline runs along a pad."""
    drawn = [rotated(one, -site.turn).points for one in sector]
    apart = [np.hypot(*(points[:, None] - site.bolt_points).T).min() for points in drawn]
    return np.asarray(np.abs(np.array(apart) - site.pad) < ON)

"""Where a blank is how thick: plate, run-out of a dished ring, tooth band, sides and lands."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.part.alternate import lands
from openwork.shape.contour import Floats, Points, area, polygon
from openwork.shape.cut import radial_integral
from openwork.shape.edge import edges

if TYPE_CHECKING:
    from openwork.part.blank import Blank

RUNOUT = 2.0  # mm of full thickness where a dished band joins the plate; common practice, no source
FINE = 1e-3  # mm between lands and the chords that stand for them


@dataclass(frozen=True, slots=True)
class Zone:
    """Metal from ``back`` to ``front`` (mm from the plate's mid-plane) out to the radius."""

    outer: float
    back: float
    front: float

    @property
    def thickness(self) -> float:
        """From back to front, mm."""
        return self.front - self.back


def zones(plate: float, width: float, offset: float, shroud: float) -> tuple[Zone, ...]:
    """Return the zones inside the tooth band, innermost first.

    A band whose middle lies outside the plate is joined to it by a run-out that is as thick as
    both together reach.

    >>> [one.thickness for one in zones(4.0, 2.0, 5.0, 80.0)]
    [4.0, 8.0]
    """
    plain = Zone(shroud, -plate / 2, plate / 2)
    if abs(offset) <= plate / 2:
        return (plain,)
    back = min(-plate / 2, offset - width / 2)
    front = max(plate / 2, offset + width / 2)
    return (
        Zone(shroud - RUNOUT, plain.back, plain.front),
        Zone(shroud, back, front),
    )


def thickness(ring: Blank, points: Points) -> Floats:
    """Return the thickness (mm) of *ring* at *points* (..., 2), holes and openings left out."""
    points = np.asarray(points, dtype=float)
    radius = np.hypot(points[..., 0], points[..., 1])
    found = np.full(radius.shape, ring.tooth_width)
    if ring.alternating is not None:
        found = np.where(on_lands(ring, points), ring.wide_width, found)
    if ring.sides is not None:
        found = found - 2 * ring.sides.recess(radius)
    for zone in reversed(ring.zones):
        found = np.where(radius < zone.outer, zone.thickness, found)
    return np.asarray(found)


def on_lands(ring: Blank, points: Points) -> NDArray[np.bool_]:
    """Tell which *points* (..., 2) lie on a land of a wide tooth."""
    thick = [polygon(one, (), FINE) for land in lands(ring) for one in land]
    flat = shapely.points(points.reshape(-1, 2))
    on = np.zeros(len(flat), dtype=bool)
    on[shapely.STRtree(thick).query(flat, predicate="intersects")[0]] = True
    return on.reshape(points.shape[:-1])


@lru_cache(maxsize=64)  # the blank is the same in all rings of a search
def volume(ring: Blank) -> float:
    """Return the volume, mm3, inside the outline of *ring*: nothing bored, pierced or chamfered.

    Exact, but for the quadrature of turned sides, whose error is below 1e-9 of the volume.
    """
    disc = np.pi * ring.shroud**2
    inner = [0.0, *(np.pi * one.outer**2 for one in ring.zones)]
    plate = sum(
        (outer - within) * one.thickness
        for one, within, outer in zip(ring.zones, inner, inner[1:], strict=False)
    )
    band = (area(ring.outline) - disc) * ring.tooth_width
    thick = sum(area(one) for land in lands(ring) for one in land)
    return float(plate + band + thick * (ring.wide_width - ring.tooth_width) - _relieved(ring))


def _relieved(ring: Blank) -> float:
    """Return what the sides of all teeth are relieved by, mm3."""
    if ring.sides is None:
        return 0.0
    one = edges(ring.outline)[: len(ring.outline) // ring.teeth]
    return 2 * ring.teeth * radial_integral(one, ring.sides.moment, (ring.sides.start,))

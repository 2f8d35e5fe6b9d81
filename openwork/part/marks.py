"""Circles a shop needs beside the outline: where thickness changes, and what is sunk for bolts."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from openwork.shape.contour import Contour, circle

if TYPE_CHECKING:
    from openwork.part.blank import Blank

SAME = 1e-6  # mm between heights that are one


def band_circles(ring: Blank) -> tuple[Contour, ...]:
    """Return the circles (ccw) at which a face of *ring* steps, the innermost first."""
    back, front = ring.band
    ends = [*((one.back, one.front) for one in ring.zones), (back, front)]
    return tuple(
        circle(zone.outer)
        for zone, (one, other) in zip(ring.zones, pairwise(ends), strict=True)
        if abs(one[0] - other[0]) > SAME or abs(one[1] - other[1]) > SAME
    )


def recesses(ring: Blank) -> dict[str, tuple[Contour, ...]]:
    """Return the rims (ccw) of what is sunk for bolts, by kind and face: as "counterbore back"."""
    found: dict[str, list[Contour]] = {}
    for hole, point in zip(ring.mount.bolt_holes, ring.mount.bolt_points, strict=True):
        for kind, sunk in (("counterbore", hole.counterbore), ("countersink", hole.countersink)):
            if sunk is not None:
                name = kind if sunk.face == "front" else f"{kind} back"
                found.setdefault(name, []).append(circle(sunk.diameter / 2, point))
    return {name: tuple(found[name]) for name in sorted(found)}

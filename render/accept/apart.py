"""Check 5: no outline crosses itself, none lies on or in another, ribs and margins are kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
import shapely

from openwork.render.accept.reading import Reading
from openwork.shape.contour import polygon

if TYPE_CHECKING:
    from openwork.ring import Design

SLACK = 1e-3  # mm
FINE = 2e-4  # mm between arcs and the chords that are measured


def check_apart(reading: Reading, design: Design) -> Iterator[str]:
    """Yield what touches, crosses, or lies in the wrong place."""
    parts = np.array([polygon(one, (), FINE) for one in reading.contours])
    for part in parts[~shapely.is_valid(parts)]:
        yield f"an outline crosses itself: {shapely.is_valid_reason(part)}"
    if not shapely.is_valid(parts).all() or len(reading.outline) != 2:
        return
    outer, holes = parts[0], parts[1:]
    if not shapely.contains_xy(parts[1], 0, 0):
        yield "the inner edge does not run round the axis"
    outside = int(np.count_nonzero(~shapely.contains_properly(outer, holes)))
    if outside:
        yield f"{outside} holes are not inside the outline"
    slack = SLACK + 2 * reading.chord
    yield from _near(holes, 1 + len(reading.bolts), design, slack)
    margin = _margin(design)
    openings = holes[1 + len(reading.bolts) :]
    rim = outer.exterior
    shapely.prepare(rim)
    away = shapely.distance(rim, openings)
    if len(away) and away.min() < margin - slack:
        yield f"an opening is {away.min():.3f} mm from the outline, least {margin:g}"


def _near(holes: shapely.Geometry, first: int, design: Design, slack: float) -> Iterator[str]:
    """Yield the pairs of holes that are nearer than they may be; openings count from *first*."""
    rib, margin = design.spec.web.rib, _margin(design)
    tree = shapely.STRtree(holes)
    pairs = tree.query(holes, predicate="dwithin", distance=max(rib, margin) - slack).T
    for a, b in pairs[pairs[:, 0] < pairs[:, 1]]:
        away = shapely.distance(holes[a], holes[b])
        least = 0.0 if b < first else margin if a < first else rib
        if away == 0:
            yield f"two holes lie on each other at {_place(holes[b])}"
        elif away < least - slack:
            yield f"{away:.3f} mm between two holes at {_place(holes[b])}, least {least:g}"


def _margin(design: Design) -> float:
    """Return the least metal between an opening and any other edge, mm."""
    web, mount = design.spec.web, design.spec.mount
    return min(web.rim, web.hem, mount.pad - mount.widest_hole / 2)


def _place(hole: shapely.Polygon) -> str:
    return f"({hole.centroid.x:.1f}, {hole.centroid.y:.1f})"

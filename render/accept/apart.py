"""Check 5: no outline crosses itself, none lies on or in another; ribs, rim, hem, pads are kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
import shapely

from openwork.measure.margins import SLACK, margins, too_narrow
from openwork.render.accept.reading import Reading
from openwork.shape.contour import polygon

if TYPE_CHECKING:
    from openwork.ring import Design

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
    yield from _near(holes, 1 + len(reading.bolts), design.spec.web.rib, slack)
    found = margins(*reading.outline, reading.bolts, reading.openings)
    yield from too_narrow(found, design.spec.web, design.spec.mount, slack)


def _near(holes: shapely.Geometry, first: int, rib: float, slack: float) -> Iterator[str]:
    """Yield the holes on each other, and openings, from *first* on, less than *rib* apart."""
    tree, most = shapely.STRtree(holes), max(rib - slack, 0.0)
    pairs = tree.query(holes, predicate="dwithin", distance=most).T
    for a, b in pairs[pairs[:, 0] < pairs[:, 1]]:
        away = shapely.distance(holes[a], holes[b])
        if away == 0:
            yield f"two holes lie on each other at {_place(holes[b])}"
        elif a >= first and away < most:
            yield f"{away:.3f} mm between two openings at {_place(holes[b])}, least {rib:g}"


def _place(hole: shapely.Polygon) -> str:
    return f"({hole.centroid.x:.1f}, {hole.centroid.y:.1f})"

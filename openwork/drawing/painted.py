"""What closed polylines and strokes paint: fill rules, widths, one over the other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from openwork.shape.contour import Complex, after, as_points

MOST_CROSSINGS = 20_000  # pairs of chords whose boxes meet: noding them stays within a second
CAPS = {"butt": "flat", "round": "round", "square": "square"}
JOINS = {"miter": "mitre", "round": "round", "bevel": "bevel"}


def filled(rings: Sequence[Complex], *, odd: bool) -> shapely.Geometry:
    """Return the region that closed polylines enclose, even-odd or by winding number.

    Raises ValueError where they cross too often.

    >>> square = np.array([0, 2, 2 + 2j, 2j])
    >>> inner = np.array([0.5, 1.5, 1.5 + 1j, 0.5 + 1j])
    >>> filled([square, inner], odd=True).area, filled([square, inner], odd=False).area
    (3.0, 4.0)
    """
    rings = [one for one in rings if len(one) > 2]
    lines = [shapely.LinearRing(as_points(one)) for one in rings]
    if len(lines) == 1 and lines[0].is_simple:
        return shapely.Polygon(lines[0])
    _refuse_tangles(rings)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all(lines))))
    if not len(faces):
        return shapely.Polygon()
    winding = _winding(rings, shapely.point_on_surface(faces))
    kept = faces[winding % 2 != 0] if odd else faces[winding != 0]
    return shapely.union_all(kept) if len(kept) else shapely.Polygon()


def stroked(line: Complex, width: float, cap: str, join: str, limit: float) -> shapely.Geometry:
    """Return the region that a stroke of *width* along an open *line* covers."""
    return _buffered(shapely.LineString(as_points(line)), width, cap, join, limit)


def stroked_round(ring: Complex, width: float, join: str, limit: float) -> shapely.Geometry:
    """Return the region that a stroke of *width* round a closed *ring* covers."""
    return _buffered(shapely.LinearRing(as_points(ring)), width, "butt", join, limit)


def _buffered(
    line: shapely.Geometry, width: float, cap: str, join: str, limit: float
) -> shapely.Geometry:
    return shapely.buffer(
        line, width / 2, quad_segs=24, cap_style=CAPS.get(cap, "flat"),
        join_style=JOINS.get(join, "mitre"), mitre_limit=limit,
    )  # fmt: skip


def _refuse_tangles(rings: Sequence[Complex]) -> None:
    z, end = np.concatenate(rings), np.concatenate([after(one) for one in rings])
    boxes = shapely.box(
        np.minimum(z.real, end.real), np.minimum(z.imag, end.imag),
        np.maximum(z.real, end.real), np.maximum(z.imag, end.imag),
    )  # fmt: skip
    tree, found = shapely.STRtree(boxes), 0
    for some in np.array_split(boxes, max(1, len(boxes) // 200)):
        found += tree.query(some).shape[1]
        if found > MOST_CROSSINGS + 4 * len(boxes):
            raise ValueError("its outlines cross each other too often; simplify them")


def _winding(rings: Sequence[Complex], places: shapely.Geometry) -> np.ndarray:
    """Return the winding numbers of *rings* about the points *places*."""
    z = shapely.get_x(places) + 1j * shapely.get_y(places)
    total = np.zeros(len(z))
    for ring in rings:
        a = ring[:, None] - z
        turned = np.angle(np.concatenate([a[1:], a[:1]]) / a).sum(axis=0)
        total += np.round(turned / (2 * np.pi))
    return total

"""Texts cut through: strokes as slots of a cutter's width, what they shut in held by ties.

A slot is the line of a stroke grown by half its width, so that its ends and bends are the cutter's
own; a tie is a gap in the line, above and below each island, that leaves a rib of metal.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely

from openwork.errors import RuleError
from openwork.lettering.engraving import edge_circles
from openwork.lettering.row import Put, Row
from openwork.lettering.signs import stencil
from openwork.shape.contour import Contour, as_complex, as_points, reverse
from openwork.shape.stroke import Stroke, placed, stroke_points
from openwork.shape.tracing.known_circles import Circle
from openwork.shape.tracing.trace import traced

CHORD = 2e-5  # mm between arcs of a stroke and the chords that stand for them
ROUND = 32  # chords of a quarter of a slot's round end
LEAST = 0.3  # of a stroke's length: with less left, a sign is not read
FAR = 100.0  # mm over and under any sign
SPARE = 0.002  # mm that a tie is wider than it must
TIES = 6  # rounds of ties after which a sign is given up


def cut(name: str, signs: Sequence[str], row: Row, turn: float, rib: float) -> tuple[Contour, ...]:
    """Return the openings (ccw) of *signs* along *row*, islands held by ties of *rib* mm.

    Raises RuleError where a sign is too small for its line and its ties.
    """
    found: list[Contour] = []
    for one, put in row.put(signs, turn):
        found_slots = slots(one.text, row.scale, row.mark.line, rib)
        if not found_slots:
            least = np.ceil(row.mark.height * 1.3)
            raise RuleError(
                f"mark.{name}: height {row.mark.height:g}: a sign of it leaves no room for ties of "
                f"web.rib {rib:g} beside a line of {row.mark.line:g} mm; height = {least:g}, a "
                "smaller web.rib or a smaller cutter works"
            )
        found += [_placed(slot, put, row.scale) for slot in found_slots]
    return tuple(found)


def _placed(slot: Contour, put: Put, scale: float) -> Contour:
    z = as_complex(slot.points)
    if put.mirror:
        flipped = Contour(as_points(-z.conjugate() * put.by / scale + put.to), -slot.bulges)
        return reverse(flipped)
    return Contour(as_points(z * put.by / scale + put.to), slot.bulges)


@lru_cache(maxsize=256)
def slots(text: str, scale: float, line: float, rib: float) -> tuple[Contour, ...]:
    """Return the slots of a sign in mm about its own foot; none where it has no room for ties."""
    strokes = stencil(text)
    scaled = [placed(one, scale, 0) for one, _ in strokes]
    drawn = np.array([shapely.LineString(stroke_points(one, CHORD)) for one in scaled])
    lines = shapely.union_all(
        [
            one if away is None else one.difference(drawn[away].buffer(line + rib + SPARE))
            for one, (_, away) in zip(drawn, strokes, strict=True)
        ]
    )
    for _ in range(TIES):
        islands = _islands(lines, line)
        if not islands:
            break
        ties = [_ties(island, lines, line + rib + SPARE) for island in islands]
        lines = _parted(shapely.difference(lines, shapely.union_all(ties)), line, rib)
    if _islands(lines, line) or not all(
        _stays(one, lines) for one, (_, away) in zip(scaled, strokes, strict=True) if away is None
    ):
        return ()
    parts = list(shapely.get_parts(shapely.buffer(lines, line / 2, quad_segs=ROUND)))
    if _nearest(parts) < rib:
        return ()
    circles = [one for stroke in scaled for one in _circles(stroke, lines, line / 2)]
    return tuple(traced(np.asarray(part.exterior.coords)[:-1], circles=circles) for part in parts)


def _ties(island: shapely.Polygon, lines: shapely.Geometry, width: float) -> shapely.Geometry:
    """Return the boxes over and under an *island* that cut the nearest of *lines* there."""
    point = (
        island.representative_point() if not island.contains(island.centroid) else island.centroid
    )
    found = []
    for way in (-1, 1):
        ray = shapely.LineString([(point.x, point.y), (point.x, point.y + way * FAR)])
        met = [at.y for at in shapely.get_parts(shapely.intersection(ray, lines))
               if at.geom_type == "Point"]  # fmt: skip
        if met:
            nearest = min(met, key=lambda y: abs(y - point.y))
            found.append(_box(point.x, nearest, width))
    return shapely.union_all(found)


def _box(x: float, y: float, width: float) -> shapely.Geometry:
    half = width / 2
    return shapely.box(x - half, y - half, x + half, y + half)


def _islands(lines: shapely.Geometry, line: float) -> list[shapely.Polygon]:
    region = shapely.buffer(lines, line / 2, quad_segs=ROUND)
    return [shapely.Polygon(ring) for part in shapely.get_parts(region) for ring in part.interiors]


def _parted(lines: shapely.Geometry, line: float, rib: float) -> shapely.Geometry:
    """Return *lines*, the shorter of two slots that are nearer than *rib* taken back from it."""
    slots = shapely.get_parts(shapely.buffer(lines, line / 2, quad_segs=ROUND))
    every = shapely.get_parts(lines)
    kept: list[shapely.Geometry] = []
    for slot in sorted(slots, key=lambda one: -one.area):
        own = shapely.union_all(every[shapely.intersects(slot, every)])
        near = shapely.buffer(shapely.union_all(kept), line + rib + SPARE, quad_segs=ROUND)
        kept.append(shapely.difference(own, near))
    return shapely.union_all(kept)


def _stays(stroke: Stroke, lines: shapely.Geometry) -> bool:
    """Tell whether enough of *stroke* is left in *lines* to read it."""
    whole = shapely.LineString(stroke_points(stroke, CHORD))
    left = shapely.intersection(lines, shapely.buffer(whole, CHORD))
    return bool(left.length >= LEAST * whole.length)


def _nearest(parts: Sequence[shapely.Polygon]) -> float:
    """Return the least distance between *parts*, infinite for one."""
    apart = [
        float(shapely.distance(one, other))
        for k, one in enumerate(parts)
        for other in parts[k + 1 :]
    ]
    return min(apart, default=float("inf"))


def _circles(stroke: Stroke, lines: shapely.Geometry, half: float) -> list[Circle]:
    """Return the circles on which the edges of slots lie: of ends, and arcs moved aside."""
    ends = [part.coords[k] for part in shapely.get_parts(lines) for k in (0, -1)]
    return [*((x, y, half) for x, y in ends), *edge_circles(stroke, half)]

"""Whether engraved lines keep clear of edges, of what is bored, and of each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations

import numpy as np
import shapely

from openwork.lettering.engraving import Engraving
from openwork.lettering.room import CLEAR, Ground
from openwork.part.hole import Hole
from openwork.shape.contour import Contour, polygon
from openwork.shape.gauging.samples import polygons
from openwork.shape.stroke import stroke_points

CHORD = 0.01  # mm between arcs and the chords that distances are measured on
SLACK = 0.02  # mm of a distance measured on chords


def clear_faults(engravings: Sequence[Engraving], ground: Ground) -> list[str]:
    """Return where *engravings* come too near to an edge, what is bored, or each other."""
    if not engravings:
        return []
    found: dict[str, None] = {}
    openings = shapely.STRtree(polygons(ground.openings, CHORD))
    lines = [_lines(one) for one in engravings]
    for one, line in zip(engravings, lines, strict=True):
        for what, near in _distances(one, line, openings, ground):
            if near - one.line / 2 < CLEAR - SLACK:
                found[_told(one.name, what, near - one.line / 2)] = None
    for (one, line), (other, beside) in combinations(zip(engravings, lines, strict=True), 2):
        near = float(shapely.distance(line, beside)) - (one.line + other.line) / 2
        if one.face == other.face and near < CLEAR - SLACK:
            found[_told(one.name, f"mark.{other.name}", near)] = None
    return list(found)


def _told(name: str, what: str, near: float) -> str:
    place = "meets" if near <= 0 else f"stands {near:.2f} mm from"
    return (
        f"mark.{name}: {place} {what}, at least {CLEAR:g} mm must stay; a smaller height, another "
        "angle, or a [panel] at its angle works"
    )


def _lines(one: Engraving) -> shapely.MultiLineString:
    return shapely.MultiLineString([stroke_points(stroke, CHORD) for stroke in one.strokes])


def _distances(
    one: Engraving, line: shapely.Geometry, openings: shapely.STRtree, ground: Ground
) -> Iterator[tuple[str, float]]:
    """Yield what an engraving must keep clear of on its face, and how far its *line* is from it."""
    ring, edges = ground.ring, ground.edges
    full = ring.zones[0].outer - (edges.step if len(ring.zones) == 1 else 0)
    yield "the tooth band", full - float(np.hypot(*shapely.get_coordinates(line).T).max())
    yield "the inner edge", float(shapely.distance(_bore(ring.edge), line)) - edges.bore
    for hole, point in zip(ring.mount.bolt_holes, ring.mount.bolt_points, strict=True):
        away = float(shapely.distance(shapely.Point(point), line))
        yield "a bolt hole", away - _rim(hole, one.face) / 2 - edges.bolts
    reach = one.line / 2 + CLEAR + ground.bevel
    near = openings.query(line, predicate="dwithin", distance=reach)
    if len(near):
        away = float(shapely.distance(openings.geometries[near], line).min())
        yield "an opening", away - ground.bevel


@lru_cache(maxsize=16)
def _bore(edge: Contour) -> shapely.Polygon:
    return polygon(edge, (), CHORD)


def _rim(hole: Hole, face: str) -> float:
    """Return the diameter, mm, of what is bored for a bolt in a *face*."""
    if hole.countersink is not None and hole.countersink.face == face:
        return hole.countersink.diameter
    return hole.rim(face) or hole.hole

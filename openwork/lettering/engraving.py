"""A text set along an arc: the lines that a tool follows, and the metal that they take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

import numpy as np
import shapely

from openwork.lettering.row import Row
from openwork.lettering.table import Face
from openwork.shape.contour import Contour, as_complex
from openwork.shape.stroke import Stroke, placed, stroke_length, stroke_points
from openwork.shape.tracing.trace import traced

Circle: TypeAlias = tuple[float, float, float]  # x, y and radius, mm

CHORD = 2e-4  # mm between arcs of a stroke and the chords that stand for them
ROUND = 32  # chords of a quarter of a line's round end


@dataclass(frozen=True, slots=True)
class Engraving:
    """A mark as engraved, once: its centre lines, width and depth of the line, mm.

    ``text`` is what it says, ``height`` that of its capitals, ``area`` (mm2) the metal under the
    line; seen from the front, so that one in
    the back is mirrored.
    """

    name: str
    text: str
    strokes: tuple[Stroke, ...]
    height: float
    line: float
    depth: float
    face: Face
    area: float

    @property
    def region(self) -> shapely.Geometry:
        """The metal under the line, as polygons."""
        return _region(self.strokes, self.line)

    @property
    def volume(self) -> float:
        """Metal that the line takes, mm3."""
        return self.area * self.depth

    @property
    def length(self) -> float:
        """Length of the lines, mm."""
        return sum(map(stroke_length, self.strokes))

    @property
    def pockets(self) -> tuple[tuple[Contour, tuple[Contour, ...]], ...]:
        """What the line takes as exact contours (ccw): outlines, each with its islands."""
        return _pockets(self.strokes, self.line)


def engraving(name: str, signs: Sequence[str], row: Row, turn: float) -> Engraving:
    """Return *signs* engraved along *row*, turned by *turn* radians.

    Every sign is placed whole, its middle on the arc, so that lines stay lines and arcs arcs.
    """
    mark, strokes, area = row.mark, [], 0.0
    for one, put in row.put(signs, turn):
        strokes += [placed(line, put.by, put.to, mirror=put.mirror) for line in one.strokes]
        area += _area(one.strokes, row.scale, mark.line)
    return Engraving(
        name=name,
        text="".join(signs),
        strokes=tuple(strokes),
        height=mark.height,
        line=mark.line,
        depth=mark.depth,
        face=mark.face,
        area=area,
    )


def engraved(engravings: Sequence[Engraving]) -> dict[str, tuple[Stroke, ...]]:
    """Return the centre lines of *engravings* by face: "engrave" and "engrave back"."""
    found = {"engrave": "front", "engrave back": "back"}
    lines = {
        name: tuple(line for one in engravings if one.face == face for line in one.strokes)
        for name, face in found.items()
    }
    return {name: strokes for name, strokes in lines.items() if strokes}


@lru_cache(maxsize=512)  # a sign is as large wherever it stands
def _area(strokes: tuple[Stroke, ...], scale: float, line: float) -> float:
    return float(_region(tuple(placed(one, scale, 0) for one in strokes), line).area)


@lru_cache(maxsize=64)
def _region(strokes: tuple[Stroke, ...], line: float) -> shapely.Geometry:
    lines = np.array([shapely.LineString(stroke_points(one, CHORD)) for one in strokes])
    return shapely.union_all(shapely.buffer(lines, line / 2, quad_segs=ROUND))


@lru_cache(maxsize=64)
def _pockets(
    strokes: tuple[Stroke, ...], line: float
) -> tuple[tuple[Contour, tuple[Contour, ...]], ...]:
    circles = [one for stroke in strokes for one in edge_circles(stroke, line / 2)]
    parts = shapely.get_parts(_region(strokes, line))
    return tuple(
        (
            _traced(one.exterior, circles, line),
            tuple(_traced(ring, circles, line) for ring in one.interiors),
        )
        for one in parts
    )


def _traced(ring: shapely.LinearRing, circles: list[Circle], line: float) -> Contour:
    return traced(
        np.asarray(ring.coords)[:-1], circles=circles, tolerance=line / 200, least=line / 40
    )


def edge_circles(stroke: Stroke, half: float) -> list[Circle]:
    """Return the circles of ends and of arcs moved aside, on which the edges of a line lie."""
    z = as_complex(stroke.points)
    found = [(point.real, point.imag, half) for point in z]
    ring = Contour(stroke.points, np.append(stroke.bulges, 0.0))
    for (x, y), radius, bulge in zip(ring.centres, ring.radii, ring.bulges, strict=True):
        if bulge:
            found += [(x, y, radius + half)]
            found += [(x, y, radius - half)] if radius > half else []
    return found

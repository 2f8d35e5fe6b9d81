"""The chamfer round teeth with turned sides: strips ruled between their wall and their sides.

The outline and its parallel on the sides are divided where either crosses the circle at which the
sides begin, so that each strip is ruled between two smooth curves, and shares them with its
neighbours.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from openwork.part.broken import divisions
from openwork.render.solid.band import Cell, Cliff, Height, Turned, cells, cliffs
from openwork.shape.contour import Contour, as_points
from openwork.shape.cut import circle_edge, split
from openwork.shape.edge import Edge, at, edge, edges, moved

if TYPE_CHECKING:
    from openwork.part.blank import Blank
    from openwork.part.sides import Profile


@dataclass(frozen=True, slots=True)
class Strip:
    """A chamfer from a piece of the wall up to one of the face; both run with metal to the left."""

    foot: Edge
    low: Height
    brow: Edge
    high: Height
    front: bool


@dataclass(frozen=True, slots=True)
class Broken:
    """The map of the band inside its chamfers, the cliffs below them, and the chamfers."""

    cells: tuple[Cell, ...]
    cliffs: tuple[Cliff, ...]
    strips: tuple[Strip, ...]


def broken(ring: Blank, sides: Profile, width: float) -> Broken:
    """Return the band of equal teeth with *sides*, chamfered by *width*, mm."""
    wall = edges(ring.outline)
    face = [inner for one in wall if (inner := moved(one, -width)) is not None]
    every = [divisions(one, width, sides.start) for one in wall]
    within = replace(ring, outline=_divided(face, every, sides.start))
    below = replace(
        ring,
        outline=_divided(wall, every, sides.start),
        tooth_width=ring.tooth_width - 2 * width,
    )
    return Broken(
        cells(within),
        tuple(cliffs(below, cells(below))),
        tuple(_strips(ring, sides, width, [*zip(wall, face, every, strict=True)])),
    )


def _divided(lines: Sequence[Edge], every: Sequence[list[float]], start: float) -> Contour:
    """Return *lines* with corners at *every* part of them but their own crossings of *start*."""
    pieces = []
    for one, parts in zip(lines, every, strict=True):
        own = split(one, circle_edge(0j, start))[1:-1]
        kept = [part for part in parts if part not in own]
        pieces += [
            (at(one, low), math.tan(one.sweep * (high - low) / 4)) for low, high in pairwise(kept)
        ]
    points = np.array([point for point, _ in pieces])
    return Contour(as_points(points), np.array([bulge for _, bulge in pieces]))


def _strips(
    ring: Blank,
    sides: Profile,
    width: float,
    lines: Sequence[tuple[Edge, Edge, list[float]]],
) -> Iterator[Strip]:
    half = ring.tooth_width / 2
    for wall, face, parts in lines:
        for low, high in pairwise(parts):
            foot, brow = _part(wall, low, high), _part(face, low, high)
            for front, way in ((False, -1), (True, 1)):
                level = ring.offset + way * half
                yield Strip(
                    foot,
                    _height(foot, level - way * width, front, sides),
                    brow,
                    _height(brow, level, front, sides),
                    front,
                )


def _height(one: Edge, level: float, front: bool, sides: Profile) -> Height:
    return Turned(level, front, sides) if abs(at(one, 0.5)) > sides.start else level


def _part(one: Edge, low: float, high: float) -> Edge:
    return edge(at(one, low), at(one, high), math.tan(one.sweep * (high - low) / 4))

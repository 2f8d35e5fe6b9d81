"""Parallel outlines whose moved pieces vanish, cross or grow together.

The outline is made of the parts of the moved pieces, and of the arcs about corners, that lie
nowhere nearer than the distance to any piece; cut at every crossing, they are chained again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from openwork.errors import RuleError
from openwork.shape.arc import Piece, turn
from openwork.shape.contour import area
from openwork.shape.edge import Edge, at, between, crossings, edge, moved, piece, place
from openwork.shape.edge import distance as apart
from openwork.shape.slivers import contour_of

NEAR = 1e-7  # mm a part of the outline may lie nearer than the distance, by rounding
SPECK = 2e-5  # mm; shorter parts are left out
GAP = 1e-4  # mm two ends of parts may lie apart that are one point


def untangled(lines: Sequence[Edge], distance: float) -> list[Piece]:
    """Return the outer outline *distance* (mm) right of *lines*; left, the only one, if negative.

    Raises RuleError where there is none, or the outline falls apart.
    """
    whole = _candidates(lines, distance)
    parts = [part for one in whole for part in _parts(one, whole)]
    kept = [
        part
        for part in parts
        if min(apart(one, at(part, 0.5)) for one in lines) > abs(distance) - NEAR
    ]
    loops = _chained(_without_spurs(kept))
    sizes = [area(contour_of([piece(one) for one in loop])) for loop in loops]
    grown = [(size, loop) for size, loop in zip(sizes, loops, strict=True) if size > 0]
    if not grown and distance > 0:
        raise RuleError(f"an outline that crosses itself cannot be moved by {distance:g} mm")
    if not grown:
        raise RuleError(
            f"nothing of the outline is left {-distance:g} mm inside; "
            "a smaller distance leaves some"
        )
    if distance < 0 and len(grown) > 1:
        raise RuleError(f"the outline falls into {len(grown)} parts {-distance:g} mm inside")
    largest = max(grown, key=lambda pair: pair[0])[1]
    return [piece(one) for one in largest]


def _candidates(lines: Sequence[Edge], distance: float) -> list[Edge]:
    """Return the moved pieces and the arcs about the corners that open."""
    found = []
    for k, one in enumerate(lines):
        bend = turn(lines[k - 1].arriving, one.leaving)
        if bend * distance > 1e-12:
            arm = -1j * distance
            start, end = one.start + arm * lines[k - 1].arriving, one.start + arm * one.leaving
            found.append(edge(start, end, math.tan(bend / 4)))
        shifted = moved(one, distance)
        if shifted is not None:
            found.append(shifted)
    return found


def _parts(one: Edge, others: Sequence[Edge]) -> list[Edge]:
    """Return *one* cut where any of the others crosses it."""
    cuts = [0.0, 1.0]
    for other in others:
        for point in crossings(one, other) if other is not one else ():
            if -1e-9 < place(other, point) < 1 + 1e-9 and 0 < (part := place(one, point)) < 1:
                cuts.append(part)
    places = [one.start, *(at(one, part) for part in sorted(cuts)[1:-1]), one.end]
    long = [pair for pair in pairwise(places) if abs(pair[1] - pair[0]) > SPECK]
    return [part for part in (between(one, *pair) for pair in long) if part is not None]


def _without_spurs(parts: Sequence[Edge]) -> list[Edge]:
    """Return *parts* less those that lead nowhere or come from nowhere, over and over."""
    starts = np.array([one.start for one in parts])
    ends = np.array([one.end for one in parts])
    joined = np.abs(ends[:, None] - starts) <= GAP
    alive = np.ones(len(parts), dtype=bool)
    while True:
        links = joined & alive & alive[:, None]
        whole = links.any(axis=0) & links.any(axis=1)
        if (whole == alive).all():
            return [one for one, kept in zip(parts, alive, strict=True) if kept]
        alive = whole


def _chained(parts: Sequence[Edge]) -> list[list[Edge]]:
    """Return the closed loops that *parts* make; loose ends are dropped."""
    loops = []
    rest = list(parts)
    while rest:
        loop = [rest.pop()]
        while len(loop) == 1 or abs(loop[-1].end - loop[0].start) > GAP:
            end = loop[-1].end
            gaps = [abs(one.start - end) for one in rest]
            if not gaps or min(gaps) > GAP:
                break
            loop.append(rest.pop(gaps.index(min(gaps))))
        else:
            loops.append(loop)
    return loops

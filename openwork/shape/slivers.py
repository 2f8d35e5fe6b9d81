"""Pieces too short to cut, merged with their neighbours."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from openwork.shape.arc import Piece
from openwork.shape.bulge import centre_of, radius_of
from openwork.shape.contour import Contour, as_points
from openwork.shape.edge import crossings, edge


def contour_of(pieces: Sequence[Piece]) -> Contour:
    """Return the closed contour of *pieces*, each ending where the next one starts."""
    points, bulges = zip(*pieces, strict=True)
    z = np.array(points)
    return Contour(as_points(z), np.array(bulges))


def without_slivers(pieces: Sequence[Piece], least: float) -> list[Piece]:
    """Return *pieces* with those whose chords are shorter than *least* (mm) left out.

    Where the neighbours meet near by, they are drawn out to meet; else both are led to the middle
    of what is left out, an arc along its circle if it is the only one.
    """
    rest = list(pieces)
    while len(rest) > 2:
        points = [point for point, _ in rest]
        lengths = [abs(q - p) for p, q in zip(points, points[1:] + points[:1], strict=True)]
        k = min(range(len(rest)), key=lengths.__getitem__)
        if lengths[k] >= least:
            break
        rest = _without(rest, k, least)
    return rest


def _without(pieces: list[Piece], k: int, least: float) -> list[Piece]:
    """Return *pieces* with piece *k* shrunk to a point."""
    turned = pieces[k:] + pieces[:k]
    (start, _), (end, after), (last, before) = turned[0], turned[1], turned[-1]
    beyond = turned[2][0] if len(turned) > 2 else start
    place = (start + end) / 2
    met = crossings(edge(last, start, before), edge(end, beyond, after)) if last != beyond else ()
    nearest = min(met, key=lambda point: abs(point - place), default=math.inf)
    if abs(nearest - place) <= least:
        place = nearest
    elif (before == 0) != (after == 0):
        fixed, moving, bulge = (beyond, end, after) if before == 0 else (last, start, before)
        centre = centre_of(moving, fixed, bulge if before == 0 else -bulge)
        outward = (place - centre) / abs(place - centre)
        place = centre + outward * abs(moving - centre)
    after = _led(end, beyond, after, place, beyond)
    before = _led(last, start, before, last, place)
    rest = [(place, after), *turned[2:-1], (last, before)]
    return rest[-k:] + rest[:-k] if k else rest


def _led(start: complex, end: complex, bulge: float, new_start: complex, new_end: complex) -> float:
    """Return the bulge that keeps an arc's radius when its ends move a little."""
    if bulge == 0:
        return 0.0
    radius = radius_of(abs(end - start), bulge)
    half = abs(new_end - new_start) / 2
    sine = min(half / radius, 1.0)
    angle = math.asin(sine)
    if abs(bulge) > 1:
        angle = math.pi - angle
    return math.copysign(math.tan(angle / 2), bulge)

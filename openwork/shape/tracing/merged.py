"""Neighbouring pieces that are one line or one arc made one."""

from __future__ import annotations

import math
from collections.abc import Sequence

from openwork.shape.arc import LARGEST, Piece, lean, off, piece
from openwork.shape.edge import at, edge

ONE = 0.05  # tolerances two pieces may lie off the one that takes their place


def merged(pieces: Sequence[Piece], tolerance: float) -> list[Piece]:
    """Return the closed ring of *pieces*, those that follow one line or circle made one.

    Nothing moves by more than ONE times *tolerance* (mm) at a time; the pair nearest to one piece
    goes first, so the result does not depend on where the ring starts.

    >>> merged([(0j, 0.0), (1 + 0j, 0.0), (2 + 0j, 0.0), (2 + 2j, 0.0)], 0.001)
    [(0j, 0.0), ((2+0j), 0.0), ((2+2j), 0.0)]
    """
    rest = list(pieces)
    strains = [_strain(rest, k) for k in range(len(rest))]
    while len(rest) > 2 and min(strains) <= ONE * tolerance:
        k = min(range(len(rest)), key=strains.__getitem__)
        rest[k - 1] = piece(rest[k - 1][0], _lean(rest, k)[1])
        del rest[k], strains[k]
        for near in (k - 2, k - 1, k % len(rest)):
            strains[near] = _strain(rest, near)
    return rest


def _strain(pieces: Sequence[Piece], k: int) -> float:
    """Return how far piece *k* and the one before lie off the one through their far ends, mm."""
    (_, before), (_, after) = pieces[k - 1], pieces[k]
    if (before == 0) != (after == 0) or before * after < 0:
        return math.inf
    points, angle = _lean(pieces, k)
    if abs(angle) > LARGEST:
        return math.inf
    return off(points[1:-1], points[0], points[-1], angle)


def _lean(pieces: Sequence[Piece], k: int) -> tuple[list[complex], float]:
    """Return points of piece *k* and the one before, and the lean of the arc nearest to them."""
    (start, before), (joint, after) = pieces[k - 1], pieces[k]
    end = pieces[(k + 1) % len(pieces)][0]
    first, second = edge(start, joint, before), edge(joint, end, after)
    points = [start, at(first, 0.5), joint, at(second, 0.5), end]
    return points, lean(points, 0, 4) if before else 0.0

"""Arcs for the smooth stretches of a polyline.

Arcs of even length along a curve whose curvature changes evenly, by k' per mm, meet in tangents
and stay within k' L^3 / 125 of it; so joints that share the slack come near to that, and the
leans chosen together take up the rest.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from openwork.shape.arc import Piece, piece
from openwork.shape.tracing.joints import balanced, walked
from openwork.shape.tracing.joints_moved import settled
from openwork.shape.tracing.run import Stretch, follows, own_leans
from openwork.shape.tracing.tangents import kinks, shared

SMOOTH = math.radians(0.8)  # most a joint may turn
SHARES = (1.0, 0.6, 0.35, 0.2, 0.1)  # of the tolerance, tried one after the other
FLAT = 0.025  # tolerances an arc may rise over a line and be called a line


def fitted(line: Stretch, tolerance: float, least: float) -> list[Piece]:
    """Return few arcs and lines that follow *line*, tangent where it is possible.

    Where it is not, the joints turn as little as was found; no piece is shorter than *least*
    unless the stretch is.
    """
    best, kink = None, math.inf
    for here, joints in _proposals(line, tolerance):
        own = own_leans(here, joints)
        even = shared(here, joints, own, tolerance)
        halfway = [(a + b) / 2 for a, b in zip(even, own, strict=True)]
        for angles in (even, halfway, own):
            worst = max(map(abs, kinks(here, joints, angles)), default=0.0)
            if worst < kink and _keeps(here, joints, angles, tolerance, least):
                best, kink = _pieces(here, joints, angles, tolerance), worst
        if kink <= SMOOTH:
            break
    if best is None:
        joints = walked(line, tolerance)
        return _pieces(line, joints, own_leans(line, joints), tolerance)
    return best


def _proposals(line: Stretch, tolerance: float) -> Iterator[tuple[Stretch, list[int]]]:
    """Yield joints as vertex numbers, ever more of them; in a copy where vertices are added."""
    if not line.ring:
        yield line, [0, len(line.path) - 1]
    tried = 0
    for share in SHARES:
        here, joints = balanced(line, share * tolerance)
        if len(joints) > tried:
            tried = len(joints)
            yield here, joints
            yield here, settled(here, joints, tolerance)
        if 2 * tried > len(line.path):
            break


def _keeps(
    line: Stretch, joints: list[int], angles: list[float], tolerance: float, least: float
) -> bool:
    short = len(angles) > 1 and any(
        abs(line.path[last] - line.path[first]) < least for first, last in pairwise(joints)
    )
    return not short and all(
        follows(line, first, last, angle, tolerance)
        for (first, last), angle in zip(pairwise(joints), angles, strict=True)
    )


def _pieces(line: Stretch, joints: list[int], angles: list[float], tolerance: float) -> list[Piece]:
    pieces = []
    for (first, last), angle in zip(pairwise(joints), angles, strict=True):
        rise = abs(line.path[last] - line.path[first]) * abs(angle) / 4
        pieces.append(piece(line.path[first], 0.0 if rise < FLAT * tolerance else angle))
    return pieces

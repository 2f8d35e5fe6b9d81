"""Joints moved from vertex to vertex until the arcs between them fit no better.

Where a curve is made of arcs itself, that finds the places where they meet.
"""

from __future__ import annotations

import math
from functools import cache

from openwork.shape.arc import lean, off, turn
from openwork.shape.tracing.run import Stretch

PARTS = 8  # steps to an arc that joints are moved by at first; then half as far, down to a vertex
TURN = math.radians(0.4)  # kink that counts as much as one tolerance off the curve


def settled(line: Stretch, joints: list[int], tolerance: float) -> list[int]:
    """Return *joints* (vertex numbers), all but the ends moved to where both neighbours fit best.

    The strain of a joint is the squared distances of the two arcs beside it, each fitted by
    itself, and the squared kinks that these leave at it and next to it.
    """
    path, joints = line.path, list(joints)
    last = len(joints) - 1

    @cache
    def fit(first: int, end: int) -> tuple[float, float]:
        angle = lean(path, first, end)
        return angle, off(path[first + 1 : end], path[first], path[end], angle) / tolerance

    @cache
    def kink(a: int, b: int, c: int) -> float:
        bend = turn(path[b] - path[a], path[c] - path[b])
        return (bend - fit(a, b)[0] - fit(b, c)[0]) / TURN

    def strain(k: int) -> float:
        around = [joints[n] for n in range(max(k - 2, 0), min(k + 2, last) + 1)]
        turned = sum(
            kink(*three) ** 2 for three in zip(around, around[1:], around[2:], strict=False)
        )
        left, right = fit(joints[k - 1], joints[k])[1], fit(joints[k], joints[k + 1])[1]
        return turned + left * left + right * right

    step = max(1, len(path) // (PARTS * last))
    while step:
        moved = True
        while moved:
            moved = False
            for k in range(1, last):
                here, best = joints[k], strain(k)
                for place in (here - step, here + step):
                    if joints[k - 1] < place < joints[k + 1]:
                        kept, joints[k] = joints[k], place
                        if (trial := strain(k)) < best:
                            best, moved = trial, True
                        else:
                            joints[k] = kept
        step //= 2
    return joints

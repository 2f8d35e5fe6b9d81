"""The leans of arcs between given joints, chosen together: tangent first, near second."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from openwork.shape.arc import turn
from openwork.shape.tracing.run import Stretch

AIM = math.radians(0.1)  # turn of a joint that weighs as much as one tolerance off the curve


def kinks(line: Stretch, joints: Sequence[int], angles: Sequence[float]) -> list[float]:
    """Return the turns left at the joints, the one of a ring or the two ends given last."""
    points = [line.path[k] for k in joints]
    chords = [b - a for a, b in pairwise(points)]
    bends = list(map(turn, chords, chords[1:]))
    left = [bend - a - b for bend, (a, b) in zip(bends, pairwise(angles), strict=True)]
    if line.ring:
        left.append(turn(chords[-1], chords[0]) - angles[-1] - angles[0])
    if line.before:
        left.append(turn(line.before, chords[0]) - angles[0])
    if line.after:
        left.append(turn(chords[-1], line.after) - angles[-1])
    return left


def shared(
    line: Stretch, joints: Sequence[int], own: Sequence[float], tolerance: float
) -> list[float]:
    """Return the leans of least squared kinks and, less weighty, distances from the *own* ones.

    A lean that is off by d moves the middle of its arc by a quarter of d times the chord.
    """
    bends = kinks(line, joints, [0.0] * len(own))
    count = len(own)
    diagonal, right = [], []
    for (start, end), angle in zip(pairwise(joints), own, strict=True):
        weight = (abs(line.path[end] - line.path[start]) / (4 * tolerance) * AIM) ** 2
        diagonal.append(weight)
        right.append(weight * angle)
    ends: list[tuple[int, ...]] = [(k, k + 1) for k in range(count - 1)]
    ends += [(count - 1, 0)] if line.ring else []
    ends += [(0,)] if line.before else []
    ends += [(count - 1,)] if line.after else []
    for pair, bend in zip(ends, bends, strict=True):
        for k in pair:
            diagonal[k] += 1.0
            right[k] += bend
    if not line.ring or count < 3:
        return _solved(diagonal, right)
    # Sherman and Morrison: the corners of the cyclic matrix are one more product.
    gauge = -diagonal[0]
    diagonal[0] -= gauge
    diagonal[-1] -= 1 / gauge
    plain = _solved(diagonal, right)
    extra = _solved(diagonal, [gauge, *([0.0] * (count - 2)), 1.0])
    share = (plain[0] + plain[-1] / gauge) / (1 + extra[0] + extra[-1] / gauge)
    return [a - share * b for a, b in zip(plain, extra, strict=True)]


def _solved(diagonal: Sequence[float], right: Sequence[float]) -> list[float]:
    """Solve a symmetric tridiagonal system whose side diagonals are ones (Thomas)."""
    pivots, values = [diagonal[0]], [right[0]]
    for a, b in zip(diagonal[1:], right[1:], strict=True):
        values.append(b - values[-1] / pivots[-1])
        pivots.append(a - 1 / pivots[-1])
    solved = [values[-1] / pivots[-1]]
    for value, pivot in zip(values[-2::-1], pivots[-2::-1], strict=True):
        solved.append((value - solved[-1]) / pivot)
    return solved[::-1]

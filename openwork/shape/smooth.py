"""Arcs for the smooth stretches of a polyline.

How many arcs a stretch needs is found by the greedy walk from either end; between where the one
and the other walk would put a joint, it is put so that all pieces share the slack. The leans of
the arcs are then chosen together, for tangent joints first and nearness second. (Arcs of even
length along a curve whose curvature changes evenly meet in tangents, at a distance from it of
at most k' L^3 / 125, where k' is the change of curvature and L the length.)
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from openwork.shape.arcfit import LARGEST, Piece, lean, near, piece, turn
from openwork.shape.corners import BETWEEN

SMOOTH = math.radians(0.8)  # most a joint may turn
AIM = math.radians(0.1)  # turn of a joint that weighs as much as one tolerance off the curve
SHARES = (1.0, 0.7, 0.45, 0.28, 0.17, 0.1, 0.05)  # of the tolerance, tried one after the other
FLAT = 0.025  # tolerances an arc may rise over a line and be called a line


@dataclass(frozen=True, slots=True)
class Stretch:
    """Vertices of a smooth stretch, and the unit directions before and after it; 0 where free.

    In a ``ring`` the last vertex is the first one again, and the last piece meets the first.
    """

    path: list[complex]
    middles: list[complex]
    along: list[float]
    before: complex
    after: complex
    ring: bool


def stretch(
    path: list[complex], before: complex = 0j, after: complex = 0j, *, ring: bool = False
) -> Stretch:
    """Return *path* measured."""
    along = [0.0]
    for start, end in zip(path, path[1:], strict=False):
        along.append(along[-1] + abs(end - start))
    middles = [(start + end) / 2 for start, end in zip(path, path[1:], strict=False)]
    return Stretch(path, middles, along, before, after, ring)


def fitted(line: Stretch, tolerance: float, least: float) -> list[Piece]:
    """Return the fewest arcs and lines that follow *line*, tangent where it is possible.

    No piece is shorter than *least* where the whole is longer.
    """
    best: tuple[float, list[Piece]] | None = None
    tried = 0
    for candidate, joints in _proposals(line, tolerance):
        if len(joints) <= tried:
            continue
        tried = len(joints)
        angles = _leans(candidate, joints, tolerance)
        if not _follows(candidate, joints, angles, tolerance, least):
            continue
        kink = max(map(abs, _kinks(candidate, joints, angles)), default=0.0)
        if best is None or kink < best[0]:
            best = kink, _pieces(candidate, joints, angles, tolerance)
        if kink <= SMOOTH:
            break
    if best is None:
        joints = _walk(line, tolerance)
        return _pieces(line, joints, _own_leans(line, joints), tolerance)
    return best[1]


def _proposals(line: Stretch, tolerance: float) -> Iterator[tuple[Stretch, list[int]]]:
    """Yield joints as vertex numbers, ever more of them; in a copy where they need new vertices."""
    last = len(line.path) - 1
    if not line.ring and _passes(line, 0, last, tolerance):
        yield line, [0, last]
    for share in SHARES:
        here, first = _cut(line, share * tolerance) if line.ring else (line, 0)
        yield _balanced(here, first, share * tolerance)
    yield line, list(range(last + 1))


def _cut(line: Stretch, tolerance: float) -> tuple[Stretch, int]:
    """Return the ring begun where an arc about its outermost vertex begins, and that arc's end."""
    total = line.along[-1]
    heavy = sum(
        m * abs(q - p) for m, p, q in zip(line.middles, line.path, line.path[1:], strict=False)
    )
    centre = heavy / total
    count = len(line.path) - 1
    top = max(range(count), key=lambda k: abs(line.path[k] - centre))
    here = stretch(line.path[top:count] + line.path[: top + 1], ring=True)
    ahead = _reach(lambda k: _passes(here, 0, k, tolerance), 1, count)
    behind = _reach(lambda k: _passes(here, count - k, count, tolerance), 1, count)
    low = _vertex(here, (total + here.along[count - behind]) / 2)
    high = _vertex(here, here.along[ahead] / 2)
    if low == count or high == 0:
        return here, 0
    begun = here.path[low:count] + here.path[: low + 1]
    return stretch(begun, ring=True), count - low + high


def _vertex(line: Stretch, length: float) -> int:
    return min(range(len(line.along)), key=lambda k: abs(line.along[k] - length))


def _reach(passes: Callable[[int], bool], low: int, stop: int) -> int:
    """Return about the greatest number up to *stop* that passes: gallop, then bisect."""
    step, high = 1, stop + 1
    while low < stop:
        trial = min(low + step, stop)
        if not passes(trial):
            high = trial
            break
        low, step = trial, 2 * step
    while high - low > 1:
        trial = (low + high) // 2
        if passes(trial):
            low = trial
        else:
            high = trial
    return low


def _passes(line: Stretch, first: int, last: int, tolerance: float) -> bool:
    if last - first == 1:
        return True
    angle = lean(line.path, first, last)
    return abs(angle) <= LARGEST and _is_near(line, first, last, angle, tolerance)


def _is_near(line: Stretch, first: int, last: int, angle: float, tolerance: float) -> bool:
    start, end = line.path[first], line.path[last]
    return near(line.path[first + 1 : last], start, end, angle, tolerance) and near(
        line.middles[first:last], start, end, angle, BETWEEN * tolerance
    )


def _walk(line: Stretch, tolerance: float, first: int = 0) -> list[int]:
    """Return the joints of the longest arcs, one after the other from vertex *first*."""
    joints, last = [first], len(line.path) - 1
    while joints[-1] < last:
        here = joints[-1]
        far = _reach(lambda k, h=here: _passes(line, h, h + k, tolerance), 1, last - here)
        joints.append(here + far)
    return joints


def _walk_back(line: Stretch, tolerance: float, first: int = 0) -> list[int]:
    joints = [len(line.path) - 1]
    while joints[-1] > first:
        here = joints[-1]
        far = _reach(lambda k, h=here: _passes(line, h - k, h, tolerance), 1, here - first)
        joints.append(here - far)
    return joints[::-1]


def _balanced(line: Stretch, first: int, tolerance: float) -> tuple[Stretch, list[int]]:
    """Return joints between those of the two walks, all pieces sharing the slack."""
    late, early = _walk(line, tolerance, first), _walk_back(line, tolerance, first)
    begin = [0] if first else []
    if len(late) != len(early):
        return line, begin + min(late, early, key=len)
    count = len(late) - 1
    path = list(line.path)
    joints: list[int] = begin
    for k, (far, close) in enumerate(zip(late, early, strict=True)):
        length = line.along[far] + (line.along[close] - line.along[far]) * k / count
        joints.append(_place(line, length, path))
    return (
        line
        if len(path) == len(line.path)
        else stretch(path, line.before, line.after, ring=line.ring)
    ), joints


def _place(line: Stretch, length: float, path: list[complex]) -> int:
    """Return the number in *path* of the vertex nearest to *length* along the line.

    Nearer the middle of a chord a vertex is put there, lifted to the arc about the chord.
    """
    added = len(path) - len(line.path)
    k = next(
        k for k in range(1, len(line.along)) if length <= line.along[k] or k == len(line.along) - 1
    )
    part = (length - line.along[k - 1]) / (line.along[k] - line.along[k - 1])
    if part < 0.25 or part > 0.75:
        return added + k - (part < 0.5)
    chord = line.path[k] - line.path[k - 1]
    turns = [0.0, 0.0]
    if k >= 2:
        turns[0] = turn(line.path[k - 1] - line.path[k - 2], chord)
    if k + 1 < len(line.path):
        turns[1] = turn(chord, line.path[k + 1] - line.path[k])
    path.insert(added + k, line.middles[k - 1] - 1j * chord * sum(turns) / 16)
    return added + k


def _own_leans(line: Stretch, joints: list[int]) -> list[float]:
    return [lean(line.path, a, b) for a, b in zip(joints, joints[1:], strict=False)]


def _kinks(line: Stretch, joints: list[int], angles: list[float]) -> list[float]:
    """Return the turns at all joints whose both sides are given, first and last included."""
    points = [line.path[k] for k in joints]
    chords = [b - a for a, b in zip(points, points[1:], strict=False)]
    kinks = [
        turn(chords[k], chords[k + 1]) - angles[k] - angles[k + 1] for k in range(len(angles) - 1)
    ]
    if line.ring:
        kinks.append(turn(chords[-1], chords[0]) - angles[-1] - angles[0])
    if line.before:
        kinks.append(turn(line.before, chords[0]) - angles[0])
    if line.after:
        kinks.append(turn(chords[-1], line.after) - angles[-1])
    return kinks


def _leans(line: Stretch, joints: list[int], tolerance: float) -> list[float]:
    """Return the leans that make the joints tangent and stay near, by least squares."""
    own = _own_leans(line, joints)
    count = len(own)
    zero = _kinks(line, joints, [0.0] * count)
    if count == 1 and not line.ring and max(map(abs, _kinks(line, joints, own)), default=0) < AIM:
        return own
    rows = np.zeros((len(zero), count))
    inner = np.arange(count - 1)
    rows[inner, inner] = rows[inner, inner + 1] = 1.0
    ends = [(0, count - 1)] if line.ring else []
    ends += [(0, 0)] if line.before else []
    ends += [(count - 1, count - 1)] if line.after else []
    for row, (one, other) in enumerate(ends, start=count - 1):
        rows[row, one] = rows[row, other] = 1.0
    points = np.array([line.path[k] for k in joints])
    weight = (np.abs(np.diff(points)) / (4 * tolerance) * AIM) ** 2
    matrix = rows.T @ rows
    matrix[np.diag_indices(count)] += weight
    solved: list[float] = np.linalg.solve(matrix, rows.T @ np.array(zero) + weight * own).tolist()
    return solved


def _follows(
    line: Stretch, joints: list[int], angles: list[float], tolerance: float, least: float
) -> bool:
    if len(angles) > 1 and any(
        abs(line.path[b] - line.path[a]) < least for a, b in zip(joints, joints[1:], strict=False)
    ):
        return False
    return all(
        abs(angle) <= LARGEST and _is_near(line, a, b, angle, tolerance)
        for a, b, angle in zip(joints, joints[1:], angles, strict=False)
    )


def _pieces(line: Stretch, joints: list[int], angles: list[float], tolerance: float) -> list[Piece]:
    pieces = []
    for a, b, angle in zip(joints, joints[1:], angles, strict=False):
        rise = abs(line.path[b] - line.path[a]) * abs(angle) / 4
        pieces.append(piece(line.path[a], 0.0 if rise < FLAT * tolerance else angle))
    return pieces

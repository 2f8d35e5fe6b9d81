"""Where the arcs that follow a stretch should meet.

How many arcs it takes is found by walking greedily from either end. Between where the one and the
other walk would put a joint, it is put so that all pieces share the slack.
"""

from __future__ import annotations

from bisect import bisect_left

from openwork.shape.arc import turn
from openwork.shape.tracing.run import Stretch, passes, stretch

NEARER = 0.25  # of a chord: a joint that falls nearer its middle is put there


def balanced(line: Stretch, tolerance: float) -> tuple[Stretch, list[int]]:
    """Return joints of the fewest arcs, as vertex numbers, in a copy with vertices added."""
    begin: list[int] = []
    first = 0
    if line.ring:
        line, first = _cut(line, tolerance)
        begin = [0] if first else []
    late, early = walked(line, tolerance, first), _walked_back(line, tolerance, first)
    if len(late) != len(early):
        return line, begin + min(late, early, key=len)
    path, joints = list(line.path), begin
    for k, (far, close) in enumerate(zip(late, early, strict=True)):
        slack = line.along[close] - line.along[far]
        joints.append(_place(line, line.along[far] + slack * k / (len(late) - 1), path))
    if len(path) > len(line.path):
        line = stretch(path, line.before, line.after, ring=line.ring)
    return line, joints


def _cut(line: Stretch, tolerance: float) -> tuple[Stretch, int]:
    """Return a ring begun where an arc about its outermost vertex begins, and that arc's end."""
    count = len(line.path) - 1
    chords = zip(line.middles, line.along, line.along[1:], strict=False)
    centre = sum(middle * (b - a) for middle, a, b in chords) / line.along[-1]
    top = max(range(count), key=lambda k: abs(line.path[k] - centre))
    here = stretch(line.path[top:count] + line.path[: top + 1], ring=True)
    ahead = _reach(here, 0, 1, count, tolerance)
    behind = _reach(here, count, -1, count, tolerance)
    low = _nearest(here, (here.along[-1] + here.along[count - behind]) / 2)
    high = _nearest(here, here.along[ahead] / 2)
    if low == count or high == 0:
        return here, 0
    return stretch(here.path[low:count] + here.path[: low + 1], ring=True), count - low + high


def _nearest(line: Stretch, length: float) -> int:
    return min(range(len(line.along)), key=lambda k: abs(line.along[k] - length))


def walked(line: Stretch, tolerance: float, first: int = 0) -> list[int]:
    """Return the joints of the longest arcs, one after the other from vertex *first*."""
    joints, last = [first], len(line.path) - 1
    while joints[-1] < last:
        here = joints[-1]
        joints.append(here + _reach(line, here, 1, last - here, tolerance))
    return joints


def _walked_back(line: Stretch, tolerance: float, first: int) -> list[int]:
    joints = [len(line.path) - 1]
    while joints[-1] > first:
        here = joints[-1]
        joints.append(here - _reach(line, here, -1, here - first, tolerance))
    return joints[::-1]


def _reach(line: Stretch, here: int, way: int, most: int, tolerance: float) -> int:
    """Return over how many chords, *most* at most, one arc follows: gallop, then bisect."""
    low, step, high = 1, 1, most + 1
    while low < most:
        trial = min(low + step, most)
        if not _passes(line, here, way * trial, tolerance):
            high = trial
            break
        low, step = trial, 2 * step
    while high - low > 1:
        trial = (low + high) // 2
        if _passes(line, here, way * trial, tolerance):
            low = trial
        else:
            high = trial
    return low


def _passes(line: Stretch, here: int, chords: int, tolerance: float) -> bool:
    return passes(line, min(here, here + chords), max(here, here + chords), tolerance)


def _place(line: Stretch, length: float, path: list[complex]) -> int:
    """Return the number in *path* of the vertex nearest to *length* along the line.

    Near the middle of a chord a vertex is added there, lifted to the curve the chord stands for.
    """
    added = len(path) - len(line.path)
    k = min(max(bisect_left(line.along, length), 1), len(line.along) - 1)
    part = (length - line.along[k - 1]) / (line.along[k] - line.along[k - 1])
    if not NEARER < part < 1 - NEARER:
        return added + k - (part < 0.5)
    chord = line.path[k] - line.path[k - 1]
    before = line.path[k - 1] - line.path[k - 2] if k >= 2 else chord
    after = line.path[k + 1] - line.path[k] if k + 1 < len(line.path) else chord
    lift = (turn(before, chord) + turn(chord, after)) / 16
    path.insert(added + k, line.middles[k - 1] - 1j * chord * lift)
    return added + k

"""Smooth stretches of a polyline, and whether an arc follows a part of one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from openwork.shape.arc import LARGEST, lean, near
from openwork.shape.tracing.corners import BETWEEN


@dataclass(frozen=True, slots=True)
class Stretch:
    """Vertices of a smooth stretch, and the unit directions before and after it; 0 where free.

    In a ``ring`` the last vertex is the first one again, and the last piece meets the first.
    """

    path: list[complex]
    middles: list[complex]  # of the chords
    along: list[float]  # length up to each vertex
    before: complex
    after: complex
    ring: bool


def stretch(
    path: list[complex], before: complex = 0j, after: complex = 0j, *, ring: bool = False
) -> Stretch:
    """Return *path* measured."""
    along = [0.0]
    for start, end in pairwise(path):
        along.append(along[-1] + abs(end - start))
    middles = [(start + end) / 2 for start, end in pairwise(path)]
    return Stretch(path, middles, along, before, after, ring)


def own_leans(line: Stretch, joints: Iterable[int]) -> list[float]:
    """Return the leans of the arcs between *joints* (vertex numbers), each fitted by itself."""
    return [lean(line.path, first, last) for first, last in pairwise(joints)]


def passes(line: Stretch, first: int, last: int, tolerance: float) -> bool:
    """Tell whether one arc fitted to the vertices from *first* to *last* follows them."""
    if last - first == 1:
        return True
    return follows(line, first, last, lean(line.path, first, last), tolerance)


def follows(line: Stretch, first: int, last: int, angle: float, tolerance: float) -> bool:
    """Tell whether the arc of lean *angle* follows the vertices and chords between two of them."""
    start, end = line.path[first], line.path[last]
    return (
        abs(angle) <= LARGEST
        and near(line.path[first + 1 : last], start, end, angle, tolerance)
        and near(line.middles[first:last], start, end, angle, BETWEEN * tolerance)
    )

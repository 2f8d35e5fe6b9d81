"""Patches and cliffs as triangles: turned sides become strips between circles about the axis.

A piece of the plan is divided in one way wherever it occurs: first where it crosses the circles,
then evenly, so finely as its arc asks. So faces that meet there share their corners.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import manifold3d
import numpy as np
from numpy.typing import NDArray

from openwork.render.solid.band import Cliff, Height, Rise, Turned, height_at
from openwork.render.solid.broken import Strip
from openwork.render.solid.faces import Faces, Patch
from openwork.shape.contour import Contour
from openwork.shape.cut import circle_edge, cut, split
from openwork.shape.edge import Edge, at, edge, edges, place
from openwork.shape.snap import Snap

CENTRED = 1e-6  # mm from the axis within which an arc runs about it

Triangle = tuple[int, int, int]


class TurnedMesh:
    """Divides the patches and cliffs of *faces*; corners count from *first*."""

    def __init__(self, faces: Faces, chord: float, first: int) -> None:
        self.snap = Snap()
        self.first, self.chord = first, chord
        self.radii = _levels(faces.patches, chord)
        self.divided: dict[tuple[complex, complex, float], list[complex]] = {}
        self.columns: dict[int, set[int]] = {}
        self.plan = Snap()

    def corner(self, point: complex, height: Height) -> int:
        """Return the number of a corner."""
        place = (point.real, point.imag, height_at(height, point))
        return self.first + self.snap.number(place)

    def patch(
        self, patch: Patch, holes: Sequence[NDArray[np.int64]], corners: NDArray[np.float64]
    ) -> Iterator[NDArray[np.int64]]:
        """Yield the triangles (n, 3) of a patch; *holes* are numbers of *corners* there are."""
        for contour in self._strips(patch):
            outer = [
                self.corner(z, patch.height)
                for one in edges(contour)
                for z in self.points(one)[:-1]
            ]
            places = [self.snap.points[k - self.first][:2] for k in outer]
            rings = [np.array(places), *(corners[hole[::-1], :2] for hole in holes)]
            numbers = np.concatenate([np.array(outer), *(hole[::-1] for hole in holes)])
            found = numbers[manifold3d.triangulate(rings)]
            yield found if patch.front else found[:, ::-1]

    def cliff(self, cliff: Cliff) -> Iterator[NDArray[np.int64]]:
        """Yield the triangles (n, 3) of a cliff."""
        for rise in cliff.rises:
            points = self.points(edge(rise.start, rise.end, rise.bulge))
            for near, far in pairwise(self._column(rise, z) for z in points):
                yield np.array(list(_between(near, far)), dtype=np.int64).reshape(-1, 3)

    def strip(self, strip: Strip) -> NDArray[np.int64]:
        """Return the triangles (n, 3) of a chamfer."""
        ends = ((strip.foot, strip.low), (strip.brow, strip.high))
        near, far = ([self.corner(z, height) for z in self.points(one)] for one, height in ends)
        along, beyond = ([place(one, z) for z in self.points(one)] for one, _ in ends)
        found = np.array(list(_zipped(near, far, along, beyond)), dtype=np.int64)
        return found if strip.front else found[:, ::-1]

    def mark(self, cliff: Cliff) -> None:
        """Let every cliff that ends on an upright line know the corners on it."""
        for rise in cliff.rises:
            for z in (rise.start, rise.end):
                place = self.plan.number((z.real, z.imag))
                ends = {self.corner(z, height) for height in (rise.low, rise.high)}
                self.columns.setdefault(place, set()).update(ends)

    def points(self, one: Edge) -> list[complex]:
        """Return the points that divide a piece, the same whichever way it is run."""
        key = one.start, one.end, one.sweep
        if key not in self.divided:
            self.divided[key] = self._divide(one)
        return self.divided[key]

    def _divide(self, one: Edge) -> list[complex]:
        ends = [(round(z.real, 6), round(z.imag, 6)) for z in (one.start, one.end)]
        if ends[0] > ends[1]:
            bulge = -math.tan(one.sweep / 4)
            return self.points(edge(one.end, one.start, bulge))[::-1]
        concentric = one.sweep != 0 and abs(one.centre) < CENTRED
        reach = max(abs(at(one, part)) for part in (0.0, 0.5, 1.0)) + abs(one.end - one.start) / 4
        radii = [] if concentric else [radius for radius in self.radii if radius < reach]
        cuts = sorted(t for radius in radii for t in split(one, circle_edge(0j, radius))[1:-1])
        parts = []
        for low, high in pairwise([0.0, *cuts, 1.0]):
            count = _chords(one, (high - low) * abs(one.sweep), self.chord)
            parts += [low + (high - low) * k / count for k in range(count)]
        return [one.start, *(at(one, part) for part in parts[1:]), one.end]

    def _column(self, rise: Rise, z: complex) -> list[int]:
        """Return the corners of a cliff over one point, from its foot to its brow."""
        low, high = self.corner(z, rise.low), self.corner(z, rise.high)
        known = self.columns.get(self.plan.number((z.real, z.imag)), set())
        level = {k: self.snap.points[k - self.first][2] for k in {low, high, *known}}
        return sorted((k for k in level if level[low] <= level[k] <= level[high]), key=level.get)  # type: ignore[arg-type]

    def _strips(self, patch: Patch) -> Iterator[Contour]:
        """Yield what the circles make of a turned side."""
        rest: tuple[Contour, ...] = (patch.outer,)
        if isinstance(patch.height, Turned):
            for radius in self.radii:
                halves = [cut(one, 0j, radius) for one in rest]
                yield from (part for one in halves for part in one.inside)
                rest = tuple(part for one in halves for part in one.outside)
        yield from rest


def _levels(patches: Sequence[Patch], chord: float) -> list[float]:
    """Return the radii of the circles: a turned side is as near to its strips as to a chord."""
    turned = [one for one in patches if isinstance(one.height, Turned)]
    if not turned or not isinstance(turned[0].height, Turned):
        return []
    profile = turned[0].height.profile
    if math.isinf(profile.radius):
        return []
    tip = max(float(np.hypot(*one.outer.points.T).max()) for one in turned)
    count = math.ceil((tip - profile.start) / math.sqrt(8 * chord * profile.radius))
    return [profile.start + (tip - profile.start) * k / count for k in range(1, count)]


def _chords(one: Edge, sweep: float, chord: float) -> int:
    if one.sweep == 0:
        return 1
    step = 2 * math.acos(min(max(1 - chord / one.radius, 0.5), 1.0))
    return max(1, math.ceil(sweep / step - 1e-9))


def _zipped(
    near: list[int], far: list[int], along: list[float], beyond: list[float]
) -> Iterator[Triangle]:
    """Yield the triangles between two rows of corners, each so far *along* or *beyond*, 0 to 1."""
    a = b = 0
    while a + 1 < len(near) or b + 1 < len(far):
        if a + 1 < len(near) and (b + 1 == len(far) or along[a + 1] <= beyond[b + 1]):
            yield near[a], near[a + 1], far[b]
            a += 1
        else:
            yield near[a], far[b + 1], far[b]
            b += 1


def _between(near: list[int], far: list[int]) -> Iterator[Triangle]:
    """Yield the triangles between two columns of corners, as seen from the right of the way."""
    a = b = 0
    while a + 1 < len(near) or b + 1 < len(far):
        if b + 1 < len(far) and (a + 1 == len(near) or b <= a):
            yield near[a], far[b], far[b + 1]
            b += 1
        else:
            yield near[a], far[b], near[a + 1]
            a += 1

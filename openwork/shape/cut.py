"""Regions cut by a circle, and integrals over them of what depends on the radius alone."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np

from openwork.shape.contour import Contour, Floats, as_points
from openwork.shape.edge import Edge, at, crossings, edges, place

AT_END = 1e-9  # share of a piece within which a crossing is its end
NODES, WEIGHTS = np.polynomial.legendre.leggauss(16)  # exact to rounding for what is smooth

Part: TypeAlias = tuple[complex, complex, float]  # start, end and bulge


@dataclass(frozen=True, slots=True)
class Cut:
    """What of a region lies inside a circle and what outside, as contours (ccw)."""

    inside: tuple[Contour, ...]
    outside: tuple[Contour, ...]


def cut(
    contour: Contour,
    centre: complex,
    radius: float,
    *,
    only: Callable[[complex], bool] = lambda _: True,
) -> Cut:
    """Return the parts of the region in *contour* (ccw) that a circle cuts it into.

    Outside counts only what *only* holds of; the rest stays inside. The circle must cross the
    outline where it cuts, and not lie within it whole.

    >>> from openwork.shape.contour import area, polygon_contour
    >>> square = polygon_contour([(0, 0), (2, 0), (2, 2), (0, 2)])
    >>> found = cut(square, 0j, 1.0)
    >>> round(area(found.inside[0]) / math.pi, 9), len(found.outside)
    (0.25, 1)
    """
    parts = [
        (part, abs(middle - centre) < radius or not only(middle))
        for one in edges(contour)
        for part, middle in _parts(one, circle_edge(centre, radius))
    ]
    kinds = [inside for _, inside in parts]
    if len(set(kinds)) == 1:
        return Cut((contour,), ()) if kinds[0] else Cut((), (contour,))
    return Cut(
        tuple(_rings(parts, centre, inside=True)), tuple(_rings(parts, centre, inside=False))
    )


def circle_edge(centre: complex, radius: float) -> Edge:
    """Return half a circle, which stands for all of it where pieces are crossed."""
    start, end = centre + radius, centre - radius
    return Edge(start, end, math.pi, centre, radius, 1j, -1j)


def split(one: Edge, circle: Edge) -> list[float]:
    """Return where along *one*, 0 to 1, it crosses *circle*, its ends included."""
    places = (place(one, point) for point in crossings(one, circle))
    return [0.0, *sorted(t for t in places if AT_END < t < 1 - AT_END), 1.0]


def radial_integral(
    pieces: Sequence[Edge], moment: Callable[[Floats], Floats], knots: Sequence[float] = ()
) -> float:
    """Return the integral of t(r) over the sector that *pieces* bound, their ends at one radius.

    *moment* is the integral of t(s) s ds up to r: by Green's theorem the integral over an area is
    that of moment / r^2 (x dy - y dx) along its outline. Pieces are parted at the radii *knots*,
    where t may bend; mm to the power that t adds.

    >>> half = [Edge(1 + 0j, -1 + 0j, math.pi, 0j, 1.0, 1j, -1j)]
    >>> round(radial_integral(half, lambda r: r**3 / 3) / (math.pi / 3), 12)
    1.0
    """
    total = 0.0
    for one in pieces:
        ends = sorted({t for radius in knots for t in split(one, circle_edge(0j, radius))} | {0, 1})
        for low, high in pairwise(ends):
            t = low + (high - low) * (NODES + 1) / 2
            if one.sweep == 0:
                z, slope = one.start + (one.end - one.start) * t, one.end - one.start
            else:
                spoke = (one.start - one.centre) * np.exp(1j * one.sweep * t)
                z, slope = one.centre + spoke, 1j * one.sweep * spoke
            turned = (np.conj(z) * slope).imag / np.abs(z) ** 2
            total += float((moment(np.abs(z)) * turned * WEIGHTS).sum()) * (high - low) / 2
    return total


def _parts(one: Edge, circle: Edge) -> Iterator[tuple[Part, complex]]:
    """Yield the parts of *one* between its crossings with *circle*, each with its middle."""
    found = {place(one, point): point for point in crossings(one, circle)}
    cuts = split(one, circle)
    points = [one.start, *(found[t] for t in cuts[1:-1]), one.end]
    for k, (low, high) in enumerate(pairwise(cuts)):
        bulge = math.tan(one.sweep * (high - low) / 4)
        yield (points[k], points[k + 1], bulge), at(one, (low + high) / 2)


def _rings(
    parts: Sequence[tuple[Part, bool]], centre: complex, *, inside: bool
) -> Iterator[Contour]:
    """Yield the contours of one side: runs of its parts, joined along the circle."""
    runs = _runs(parts, inside)
    way = 1 if inside else -1  # a region runs ccw: along the disc's own edge, or against it
    left = set(range(len(runs)))
    while left:
        first = k = min(left)
        pieces: list[Part] = []
        while k in left:
            left.remove(k)
            pieces += runs[k]
            leaving = pieces[-1][1] - centre
            angles = [
                (way * cmath.phase((run[0][0] - centre) / leaving)) % math.tau for run in runs
            ]
            k = min(left | {first}, key=lambda n: angles[n])
            pieces.append((pieces[-1][1], runs[k][0][0], way * math.tan(angles[k] / 4)))
        points = np.array([start for start, _, _ in pieces])
        yield Contour(as_points(points), np.array([one[2] for one in pieces]))


def _runs(parts: Sequence[tuple[Part, bool]], inside: bool) -> list[list[Part]]:
    """Return the runs of parts on one side of the circle, round the outline."""
    first = next(k for k in range(len(parts)) if parts[k][1] != parts[k - 1][1])
    runs: list[list[Part]] = []
    before = not inside
    for k in range(len(parts)):
        part, kind = parts[(first + k) % len(parts)]
        if kind == inside:
            if before != inside:
                runs.append([])
            runs[-1].append(part)
        before = kind
    return runs

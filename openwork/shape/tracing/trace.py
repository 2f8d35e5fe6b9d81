"""Closed polylines back to the fewest lines and circular arcs.

Edges stay the lines they are, their corners where they are; runs of short chords that stand for
curves become arcs that meet in tangents; chords of circles that are known become those circles'
arcs. The result does not depend on where the polyline starts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from openwork.shape.arc import Piece, piece
from openwork.shape.contour import Contour, Points, circle
from openwork.shape.slivers import contour_of, without_slivers
from openwork.shape.tracing.corners import BETWEEN, Link, marked
from openwork.shape.tracing.known_circles import Circle, Known, even_arcs, on_circles
from openwork.shape.tracing.merged import merged
from openwork.shape.tracing.run import Stretch, stretch
from openwork.shape.tracing.smooth import fitted

TOLERANCE = 0.004  # mm
LEAST = 0.05  # mm, length of the shortest piece
SAME_VERTEX = 1e-6  # mm within which two vertices are one, or three on a line


def traced(
    ring: Points,
    *,
    circles: Sequence[Circle] = (),
    tolerance: float = TOLERANCE,
    least: float = LEAST,
) -> Contour:
    """Return the closed polyline *ring* (n, 2), first vertex not repeated, as lines and arcs.

    Either way round; the contour runs counter-clockwise. Vertices stay within *tolerance* (mm) of
    it, the middles of chords within 1.15 times that. Pieces shorter than *least* (mm) are merged
    with their neighbours. Three or more vertices on one of *circles* (x, y, radius) become its
    arc. Raises ValueError for fewer than three vertices.

    >>> traced(np.array([[0, 0], [0, 2], [1, 2], [2, 2], [2, 0]])).points.tolist()
    [[2.0, 2.0], [0.0, 2.0], [0.0, 0.0], [2.0, 0.0]]
    """
    vertices = _cleaned(ring)
    if len(vertices) < 3:
        raise ValueError(f"a closed polyline needs 3 vertices that differ, not {len(vertices)}")
    known = on_circles(vertices, [*circles, *even_arcs(vertices, tolerance)], tolerance)
    links = _links(known)
    corners, hard = marked(links, tolerance)
    if not any(corners) and not any(hard):
        whole = stretch([*vertices, vertices[0]], ring=True)
        fit = _as_circle(whole, tolerance)
        return fit or _whole(fitted(whole, tolerance, least), tolerance, least)
    pieces: list[Piece] = []
    for path, before, after, angle in _runs(known.vertices, links, corners, hard):
        if len(path) == 2 and not before and not after:
            pieces.append(piece(path[0], angle))
        else:
            pieces += fitted(stretch(path, before, after), tolerance, least)
    return _whole(pieces, tolerance, least)


def _whole(pieces: Sequence[Piece], tolerance: float, least: float) -> Contour:
    return contour_of(merged(without_slivers(pieces, least), tolerance))


def _cleaned(ring: Points) -> list[complex]:
    """Return the vertices ccw from the rightmost one, doubles and those on a line left out."""
    z = np.asarray(ring, dtype=float) @ np.array([1.0, 1.0j])
    if (z.conj() * np.roll(z, -1)).imag.sum() < 0:
        z = z[::-1]
    z = z[np.abs(z - np.roll(z, 1)) > SAME_VERTEX]
    if len(z) < 3:
        return []
    before, after = z - np.roll(z, 1), np.roll(z, -1) - np.roll(z, 1)
    rise = np.abs((before.conj() * after).imag) / np.maximum(np.abs(after), SAME_VERTEX)
    straight = (rise < SAME_VERTEX) & ((before.conj() * after).real > 0)
    z = z[~straight]
    start = np.lexsort((z.imag.round(9), z.real.round(9)))[-1:].sum()
    vertices: list[complex] = np.roll(z, -start).tolist()
    return vertices


def _links(known: Known) -> list[Link]:
    links = []
    vertices = known.vertices
    for start, end, angle in zip(vertices, vertices[1:] + vertices[:1], known.leans, strict=True):
        length = abs(end - start)
        along = (end - start) / length
        if math.isnan(angle):
            links.append(Link(along, along, length))
        else:
            out = complex(math.cos(angle), math.sin(angle))
            links.append(Link(along * out.conjugate(), along * out, length, angle, known=True))
    return links


def _runs(
    vertices: list[complex], links: list[Link], corners: list[bool], hard: list[bool]
) -> Iterator[tuple[list[complex], complex, complex, float]]:
    """Yield what lies between corners and ends of edges, from one of these once round.

    Vertices, the directions to keep to at either end (0 if none), and the lean of a known arc.
    """
    count = len(vertices)
    ends = [corners[k] or hard[k] or hard[k - 1] for k in range(count)]
    first = ends.index(True)
    halfway, along = -1, 0j
    if sum(ends) == 1:
        # A curve from a corner back to itself has no chord: it is halved, in a tangent.
        halfway = (first + count // 2) % count
        along = vertices[(halfway + 1) % count] - vertices[halfway - 1]
        along /= abs(along)
        ends[halfway] = True
    numbers = [k % count for k in range(first, first + count + 1)]
    stops = [k for k, number in enumerate(numbers) if ends[number]]
    for a, b in pairwise(stops):
        i, j = numbers[a], numbers[b]
        path = [vertices[number] for number in numbers[a : b + 1]]
        if hard[i]:
            yield path, 0j, 0j, links[i].angle
        else:
            before = links[i - 1].end if hard[i - 1] and not corners[i] else 0j
            after = links[j].start if hard[j] and not corners[j] else 0j
            if halfway >= 0:
                before, after = (along, 0j) if i == halfway else (0j, along)
            yield path, before, after, 0.0


def _as_circle(line: Stretch, tolerance: float) -> Contour | None:
    """Return the circle that *line* follows, if it does.

    Centre and radius by least squares of the circle's equation (Kasa, A circle fitting procedure
    and its error analysis, IEEE Trans. Instrum. Meas. 1976).
    """
    z = np.array(line.path[1:])
    middle = z.mean()
    x, y = (z - middle).real, (z - middle).imag
    matrix = np.column_stack([2 * x, 2 * y, np.ones(len(z))])
    (a, b, c), *_ = np.linalg.lstsq(matrix, x * x + y * y, rcond=None)
    centre, radius = middle + complex(a, b), math.sqrt(max(c + a * a + b * b, 0.0))
    off = np.abs(np.abs(z - centre) - radius).max()
    bow = np.abs(np.abs(np.array(line.middles) - centre) - radius).max()
    if off > tolerance or bow > BETWEEN * tolerance:
        return None
    return circle(radius, (centre.real, centre.imag))

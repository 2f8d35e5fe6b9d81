"""Closed polylines back to the fewest lines and circular arcs.

Edges stay the lines they are, their corners where they are; runs of short chords that stand for
curves become arcs that meet in tangents; chords of circles that are known become those circles'
arcs. The result does not depend on where the polyline starts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from openwork.shape.arcfit import Piece, near, piece, turn
from openwork.shape.contour import Contour, Points, circle
from openwork.shape.corners import BETWEEN, Link, marked
from openwork.shape.known import Circle, Known, on_circles
from openwork.shape.slivers import contour_of, without_slivers
from openwork.shape.smooth import fitted, stretch

TOLERANCE = 0.004  # mm
LEAST = 12.5  # tolerances: length of the shortest piece, 0.05 mm
SAME = 2.5e-4  # tolerances within which two vertices are one, or three on a line


def traced(
    ring: Points, *, circles: Sequence[Circle] = (), tolerance: float = TOLERANCE
) -> Contour:
    """Return the closed polyline *ring* (n, 2), first vertex not repeated, as lines and arcs.

    Either way round; the contour runs counter-clockwise. Vertices stay within *tolerance* (mm) of
    it, the middles of chords within 1.15 times that. Pieces shorter than 12.5 tolerances are
    merged with their neighbours. Three or more vertices on one of *circles* (x, y, radius) become
    its arc. Raises ValueError for fewer than three vertices.

    >>> traced(np.array([[0, 0], [0, 2], [1, 2], [2, 2], [2, 0]])).points.tolist()
    [[2.0, 2.0], [0.0, 2.0], [0.0, 0.0], [2.0, 0.0]]
    """
    vertices = _cleaned(ring, SAME * tolerance)
    if len(vertices) < 3:
        raise ValueError(f"a closed polyline needs 3 vertices that differ, not {len(vertices)}")
    known = on_circles(vertices, circles, tolerance)
    links = _links(known)
    corners, hard = marked(links, tolerance)
    if not any(corners) and not any(hard):
        return _smooth_ring(known.vertices, tolerance)
    pieces = _pieces(known.vertices, links, corners, hard, tolerance)
    return contour_of(without_slivers(pieces, LEAST * tolerance))


def _cleaned(ring: Points, same: float) -> list[complex]:
    """Return the vertices ccw from the rightmost one, doubles and those on a line left out."""
    z = np.asarray(ring, dtype=float) @ np.array([1.0, 1.0j])
    if (z.conj() * np.roll(z, -1)).imag.sum() < 0:
        z = z[::-1]
    z = z[np.abs(z - np.roll(z, 1)) > same]
    if len(z) < 3:
        return []
    before, after = z - np.roll(z, 1), np.roll(z, -1) - np.roll(z, 1)
    rise = np.abs((before.conj() * after).imag) / np.maximum(np.abs(after), same)
    straight = (rise < same) & ((before.conj() * after).real > 0)
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


def _pieces(
    vertices: list[complex],
    links: list[Link],
    corners: list[bool],
    hard: list[bool],
    tolerance: float,
) -> list[Piece]:
    """Return the pieces from a corner or an end of an edge once round."""
    count = len(vertices)
    ends = [corners[k] or hard[k] or hard[k - 1] for k in range(count)]
    first = ends.index(True)
    numbers = [k % count for k in range(first, first + count + 1)]
    stops = [k for k, number in enumerate(numbers) if ends[number]]
    pieces: list[Piece] = []
    for a, b in zip(stops, stops[1:], strict=False):
        i, j = numbers[a], numbers[b]
        if b - a == 1 and (hard[i] or (corners[i] and corners[j])):
            pieces.append(piece(vertices[i], links[i].angle))
            continue
        before = links[i - 1].end if hard[i - 1] and not corners[i] else 0j
        after = links[j].start if hard[j] and not corners[j] else 0j
        path = [vertices[number] for number in numbers[a : b + 1]]
        pieces += fitted(stretch(path, before, after), tolerance, LEAST * tolerance)
    return pieces


def _smooth_ring(vertices: list[complex], tolerance: float) -> Contour:
    """Return a closed curve without corners or edges: a circle, or arcs."""
    z = np.array(vertices)
    round_ = _circle_through(z)
    line = stretch([*vertices, vertices[0]], ring=True)
    if round_ is not None:
        centre, radius = round_
        if (
            np.abs(np.abs(z - centre) - radius).max() <= tolerance
            and np.abs(np.abs(np.array(line.middles) - centre) - radius).max()
            <= BETWEEN * tolerance
        ):
            return circle(radius, (centre.real, centre.imag))
    return contour_of(
        without_slivers(fitted(line, tolerance, LEAST * tolerance), LEAST * tolerance)
    )


def _circle_through(z):
    """Kasa."""
    middle = z.mean()
    x, y = (z - middle).real, (z - middle).imag
    matrix = np.column_stack([2 * x, 2 * y, np.ones(len(z))])
    solved, *_ = np.linalg.lstsq(matrix, x * x + y * y, rcond=None)
    a, b, c = solved.tolist()
    return middle + complex(a, b), math.sqrt(c + a * a + b * b)

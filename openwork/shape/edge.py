"""Single lines and arcs as complex numbers: moved sideways, crossed, measured to a point."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from openwork.shape.arc import Piece
from openwork.shape.bulge import centre_of, radius_of
from openwork.shape.contour import Contour


@dataclass(frozen=True, slots=True)
class Edge:
    """A line or, where ``sweep`` is not 0, an arc about ``centre``; unit directions at its ends."""

    start: complex
    end: complex
    sweep: float
    centre: complex
    radius: float
    leaving: complex
    arriving: complex


def edge(start: complex, end: complex, bulge: float) -> Edge:
    """Return the piece from *start* to *end*."""
    chord = end - start
    along = chord / abs(chord)
    if bulge == 0:
        return Edge(start, end, 0.0, 0j, math.inf, along, along)
    square = bulge * bulge
    lean = complex(1 - square, 2 * bulge) / (1 + square)
    sweep, radius = 4 * math.atan(bulge), radius_of(abs(chord), bulge)
    centre = centre_of(start, end, bulge)
    return Edge(start, end, sweep, centre, radius, along * lean.conjugate(), along * lean)


def edges(contour: Contour) -> list[Edge]:
    """Return the pieces of *contour*."""
    points = [complex(x, y) for x, y in contour.points.tolist()]
    bulges = contour.bulges.tolist()
    return [edge(*one) for one in zip(points, points[1:] + points[:1], bulges, strict=True)]


def piece(one: Edge) -> Piece:
    """Return start and bulge of *one*."""
    return one.start, math.tan(one.sweep / 4)


def moved(one: Edge, distance: float) -> Edge | None:
    """Return *one* moved to its right by *distance*; None where an arc shrinks to nothing."""
    start = one.start - 1j * distance * one.leaving
    end = one.end - 1j * distance * one.arriving
    if one.sweep == 0:
        return Edge(start, end, 0.0, 0j, math.inf, one.leaving, one.arriving)
    radius = one.radius + math.copysign(distance, distance * one.sweep)
    if radius <= 1e-9 * one.radius:
        return None
    return Edge(start, end, one.sweep, one.centre, radius, one.leaving, one.arriving)


def between(one: Edge, start: complex, end: complex) -> Edge | None:
    """Return the part of *one*, or of what it becomes when drawn out a little, between two points.

    None where they lie the other way round.
    """
    if one.sweep == 0:
        if ((end - start) * one.leaving.conjugate()).real <= 0:
            return None
        return Edge(start, end, 0.0, 0j, math.inf, one.leaving, one.arriving)
    first = cmath.phase((start - one.centre) / (one.start - one.centre))
    last = cmath.phase((end - one.centre) / (one.end - one.centre))
    sweep = one.sweep - first + last
    if sweep * one.sweep <= 0:
        return None
    turned = cmath.rect(1.0, first), cmath.rect(1.0, last)
    leaving, arriving = one.leaving * turned[0], one.arriving * turned[1]
    return Edge(start, end, sweep, one.centre, one.radius, leaving, arriving)


def crossings(one: Edge, other: Edge) -> Sequence[complex]:
    """Return the points that the whole lines or circles of two edges have in common."""
    if one.sweep == 0 and other.sweep == 0:
        cross = (one.leaving.conjugate() * other.leaving).imag
        if abs(cross) < 1e-12:
            return ()
        along = ((other.start - one.start).conjugate() * other.leaving).imag / cross
        return (one.start + along * one.leaving,)
    if one.sweep and other.sweep:
        apart = abs(other.centre - one.centre)
        if apart < 1e-12:
            return ()
        unit = (other.centre - one.centre) / apart
        foot = (apart * apart + one.radius**2 - other.radius**2) / (2 * apart)
        centre, radius = one.centre, one.radius
    else:
        line, arc = (one, other) if one.sweep == 0 else (other, one)
        centre, radius = arc.centre, arc.radius
        unit = -1j * line.leaving
        foot = ((line.start - centre) * unit.conjugate()).real
    square = radius * radius - foot * foot
    if square < 0:
        return ()
    across = math.sqrt(square)
    return centre + unit * complex(foot, across), centre + unit * complex(foot, -across)


def place(one: Edge, point: complex) -> float:
    """Return how far along *one* a point of its line or circle lies: 0 at its start, 1 at its end.

    Points of the circle off the arc lie below 0 or above 1, whichever is nearer.
    """
    if one.sweep == 0:
        return ((point - one.start) / (one.end - one.start)).real
    half = cmath.rect(1.0, one.sweep / 2)
    return 0.5 + cmath.phase((point - one.centre) / ((one.start - one.centre) * half)) / one.sweep


def at(one: Edge, part: float) -> complex:
    """Return the point *part* of the way along."""
    if one.sweep == 0:
        return one.start + part * (one.end - one.start)
    return one.centre + (one.start - one.centre) * cmath.rect(1.0, part * one.sweep)


def distance(one: Edge, point: complex) -> float:
    """Return the distance of *point* from *one*."""
    ends = min(abs(point - one.start), abs(point - one.end))
    if one.sweep == 0:
        return abs(point - at(one, part)) if 0 < (part := place(one, point)) < 1 else ends
    if point == one.centre:
        return one.radius
    return abs(abs(point - one.centre) - one.radius) if 0 < place(one, point) < 1 else ends

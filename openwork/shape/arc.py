"""One circular arc through the ends of a run of vertices.

An arc is told by its chord and *lean*, half the angle it turns through (counter-clockwise
positive): the tangent leans by it from the chord at either end. Points are complex numbers.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import TypeAlias

Piece: TypeAlias = tuple[complex, float]  # where a piece starts, and its bulge

STRAIGHT = 1e-7  # a lean less than this is a line's: its circle is too large to compute with
LARGEST = math.radians(170.0)  # lean of the most of a circle that one piece may be


def lean(path: Sequence[complex], first: int, last: int) -> float:
    """Return the lean of the arc from vertex *first* to *last* that is nearest to those between.

    In the frame of the chord (-h, 0) to (h, 0) the circles through its ends are
    y = g (x^2 + y^2 - h^2), so least squares give g in closed form, for lines (g = 0) too.

    >>> half_circle = [1 + 0j, 1j, -1 + 0j]
    >>> round(lean(half_circle, 0, 2) / math.pi, 12)
    0.5
    """
    if last - first < 2:
        return 0.0
    start, end = path[first], path[last]
    middle, chord = (start + end) / 2, abs(end - start)
    if chord == 0:
        return math.pi
    back = (end - start).conjugate() / chord
    square = chord * chord / 4
    over = under = side = 0.0
    for point in path[first + 1 : last]:
        there = (point - middle) * back
        x, y = there.real, there.imag
        power = x * x + y * y - square
        over += y * power
        under += power * power
        side += y
    if under == 0:
        return -math.copysign(math.pi / 2, side)
    angle = math.atan(over / under * chord)
    if angle * side > 0:
        return angle - math.copysign(math.pi, angle)
    return angle


def near(
    points: Sequence[complex], start: complex, end: complex, angle: float, tolerance: float
) -> bool:
    """Tell whether all *points* lie within *tolerance* of the arc of lean *angle*."""
    if abs(angle) < STRAIGHT:
        return off(points, start, end, angle) <= tolerance
    half = (end - start) / 2
    centre = start + half * complex(1.0, 1 / math.tan(angle))
    radius = abs(half / math.sin(angle))
    low, high = radius - tolerance, radius + tolerance
    return all(low <= abs(point - centre) <= high for point in points)


def off(points: Sequence[complex], start: complex, end: complex, angle: float) -> float:
    """Return the greatest distance of *points* from the circle of the arc of lean *angle*.

    Infinite where the arc has no chord.
    """
    if start == end:
        return math.inf
    half = (end - start) / 2
    if abs(angle) < STRAIGHT:
        back = half.conjugate() / abs(half)
        return max((abs(((point - start) * back).imag) for point in points), default=0.0)
    centre = start + half * complex(1.0, 1 / math.tan(angle))
    radius = abs(half / math.sin(angle))
    return max((abs(abs(point - centre) - radius) for point in points), default=0.0)


def turn(arriving: complex, leaving: complex) -> float:
    """Return the angle from one direction to the other, in (-pi, pi]."""
    return cmath.phase(leaving * arriving.conjugate())


def piece(start: complex, angle: float) -> Piece:
    """Return the piece that leaves *start* and turns through twice *angle*: point and bulge."""
    return start, math.tan(angle / 2)

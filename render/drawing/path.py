"""Contours as SVG path data; here, and nowhere else, y changes its sign.

SVG's y points down. Mirroring turns a counter-clockwise arc into one of negative angle, so the
sweep flag is set where the bulge is negative.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from openwork.shape.arc import Piece
from openwork.shape.bulge import radius_of
from openwork.shape.contour import Contour, Points
from openwork.shape.stroke import Stroke

PLACES = 6  # decimals of a mm: an arc's sagitta is much more sensitive than its radius
NEAR_HALF = 0.2  # |cos(sweep / 2)| below which a rounded radius would move the arc


def number(value: float, places: int = PLACES) -> str:
    """Return *value* rounded, without trailing zeros and never minus zero.

    >>> number(1.50), number(-0.0000001), number(100.0)
    ('1.5', '0', '100')
    """
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def exact_path(contour: Contour, middle: float) -> str:
    """Return absolute path data in mm, the origin moved to (*middle*, *middle*) of the page.

    >>> from openwork.shape.contour import polygon_contour
    >>> exact_path(polygon_contour([(0, 0), (2, 0), (2, 1)]), 10)
    'M10,10L12,10L12,9Z'
    """
    points = np.round(contour.points * [1, -1] + middle, PLACES)
    ends = np.roll(points, -1, axis=0)
    corners = [f"{number(x)},{number(y)}" for x, y in points]
    parts = [f"M{corners[0]}"]
    for k, (bulge, radius) in enumerate(zip(contour.bulges, contour.radii, strict=True)):
        end = corners[(k + 1) % len(corners)]
        if bulge == 0:
            if k + 1 < len(corners):
                parts.append(f"L{end}")
            continue
        r = _radius(bulge, radius, math.dist(points[k], ends[k]))
        parts.append(f"A{r},{r} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} {end}")
    return "".join(parts) + "Z"


def _radius(bulge: float, radius: float, chord: float, places: int = PLACES) -> str:
    """Return the radius as text; near a half circle the one that keeps the bulge exactly."""
    square = bulge * bulge
    if abs(1 - square) / (1 + square) > NEAR_HALF:
        return number(radius, places)
    return number(radius_of(chord, bulge), places + 4)


def compact_path(contours: Iterable[Contour], unit: float) -> str:
    """Return relative path data in whole multiples of *unit* (mm), the origin where it was.

    Corners are rounded to the grid before they are subtracted, so that nothing drifts.

    >>> from openwork.shape.contour import circle
    >>> compact_path([circle(2.0)], 0.01)
    'M200 0a200 200 0 0 0-400 0a200 200 0 0 0 400 0z'
    """
    return "".join(_compact(contour, unit) for contour in contours)


def exact_stroke(stroke: Stroke, middle: float) -> str:
    """Return absolute path data of an open line in mm, as ``exact_path`` does.

    >>> exact_stroke(Stroke([(0, 0), (2, 0), (2, 1)], [0, 0]), 10)
    'M10,10L12,10L12,9'
    """
    return exact_path(_shut(stroke), middle).removesuffix("Z")


def compact_strokes(strokes: Iterable[Stroke], unit: float) -> str:
    """Return relative path data of open lines in whole multiples of *unit* (mm).

    >>> compact_strokes([Stroke([(0, 0), (2, 0), (2, 1)], [0, 0])], 0.01)
    'M0 0l200 0l0-100'
    """
    return "".join(_compact(_shut(one), unit, closed=False) for one in strokes)


def _shut(stroke: Stroke) -> Contour:
    return Contour(stroke.points, np.append(stroke.bulges, 0.0))


def _compact(contour: Contour, unit: float, *, closed: bool = True) -> str:
    points = _on_grid(contour.points, unit)
    steps = np.roll(points, -1, axis=0) - points
    parts = [f"M{points[0, 0]}{_joined(points[0, 1])}"]
    pieces = zip(steps.tolist(), contour.bulges.tolist(), contour.radii.tolist(), strict=True)
    for (dx, dy), bulge, radius in list(pieces)[: len(points) if closed else -1]:
        if dx == 0 and dy == 0:
            continue
        if bulge == 0:
            parts.append(f"l{dx}{_joined(dy)}")
            continue
        r = _radius(bulge, radius / unit, math.hypot(dx, dy), 0)
        flags = f"{int(abs(bulge) > 1)} {int(bulge < 0)}"
        parts.append(f"a{r} {r} 0 {flags}{_joined(dx)}{_joined(dy)}")
    return "".join(parts) + ("z" if closed else "")


def compact_pieces(pieces: Sequence[Piece], unit: float) -> str:
    """Return relative path data of one closed outline of few pieces, as ``compact_path`` does.

    >>> compact_pieces([(0j, 0.0), (0.02 + 0j, 0.0), (0.02 + 0.01j, 0.0)], 0.01)
    'M0 0l2 0l0-1z'
    """
    corners = [(round(point.real / unit), round(-point.imag / unit)) for point, _ in pieces]
    parts = [f"M{corners[0][0]}{_joined(corners[0][1])}"]
    for k, (_, bulge) in enumerate(pieces):
        (x, y), (to_x, to_y) = corners[k], corners[(k + 1) % len(corners)]
        dx, dy = to_x - x, to_y - y
        if bulge == 0:
            if k + 1 < len(pieces) and (dx or dy):
                parts.append(f"l{dx}{_joined(dy)}")
            continue
        if dx == 0 and dy == 0:
            continue
        r = round(radius_of(math.hypot(dx, dy), bulge))
        parts.append(f"a{r} {r} 0 0 {int(bulge < 0)}{_joined(dx)}{_joined(dy)}")
    return "".join(parts) + "z"


def _on_grid(points: Points, unit: float) -> NDArray[np.int64]:
    return np.rint(points * [1, -1] / unit).astype(np.int64)


def _joined(value: int) -> str:
    """Return the number with the space it needs only where it has no sign."""
    return f"{value}" if value < 0 else f" {value}"

"""Parallel outlines: every line moved, every arc given another radius, corners rounded or cut."""

from __future__ import annotations

import math

import shapely

from openwork.shape.arc import Piece, turn
from openwork.shape.contour import Contour, sampled
from openwork.shape.edge import Edge, between, crossings, edges, moved, piece, place
from openwork.shape.parallel.untangle import untangled
from openwork.shape.slivers import contour_of, without_slivers

TANGENT = math.radians(1.0)  # a joint that turns less stays one point
SHORTEST = 0.05  # mm; an arc round a corner that would be shorter gets a larger radius


def dilated(contour: Contour, distance: float) -> Contour:
    """Return the outline *distance* (mm) outside *contour* (ccw), exact; inside where negative.

    Corners that open become arcs about the corner, corners that close are cut where the moved
    pieces meet. What is left between is dropped: pieces that vanish, and islands that an outline
    growing together shuts in. Raises RuleError where nothing is left, or an outline moved inwards
    falls apart.

    >>> from openwork.shape.contour import area, polygon_contour
    >>> square = polygon_contour([(0, 0), (4, 0), (4, 4), (0, 4)])
    >>> round(area(dilated(square, 1.0)) - (16 + 4 * 4 + math.pi), 9)
    0.0
    """
    if distance == 0:
        return contour
    pieces = _joined(edges(contour), distance)
    if pieces is not None:
        result = contour_of(without_slivers(pieces, SHORTEST))
        if _is_convex(contour, distance) or _is_simple(result):
            return result
    whole = untangled(edges(contour), distance)
    return contour_of(without_slivers(whole, SHORTEST))


def _is_convex(contour: Contour, distance: float) -> bool:
    """Tell whether nothing of the contour moves towards another part of it."""
    lines = edges(contour)
    return all(one.sweep * distance >= 0 for one in lines) and all(
        turn(lines[k - 1].arriving, one.leaving) * distance >= -1e-9 for k, one in enumerate(lines)
    )


def _is_simple(contour: Contour) -> bool:
    ring = shapely.Polygon(sampled(contour, 0.01))
    return bool(shapely.is_valid(ring)) and ring.exterior.is_ccw


def _joined(lines: list[Edge], distance: float) -> list[Piece] | None:
    """Return the moved pieces, each joined to the next; None where one of them would vanish."""
    count = len(lines)
    shifted = [moved(one, distance) for one in lines]
    starts: list[complex] = [0j] * count
    ends: list[complex] = [0j] * count
    rounded: list[bool] = [False] * count
    for k, one in enumerate(shifted):
        last = shifted[k - 1]
        if one is None or last is None:
            return None
        joint = _joint(lines[k], last, one, distance)
        if joint is None:
            return None
        ends[k - 1], starts[k] = joint
        rounded[k] = joint[0] != joint[1]
    pieces: list[Piece] = []
    for k, one in enumerate(shifted):
        part = between(one, starts[k], ends[k]) if one else None
        if part is None:
            return None
        if rounded[k]:
            last = shifted[k - 1]
            assert last is not None
            bend = turn(_heading(last, ends[k - 1], last.end, last.arriving), part.leaving)
            pieces.append((ends[k - 1], math.tan(bend / 4)))
        pieces.append(piece(part))
    return pieces


def _heading(one: Edge, point: complex, end: complex, arriving: complex) -> complex:
    """Return the direction of *one* at a *point* near its end."""
    if one.sweep == 0:
        return arriving
    turned = (point - one.centre) / (end - one.centre)
    return arriving * turned / abs(turned)


def _joint(old: Edge, last: Edge, one: Edge, distance: float) -> tuple[complex, complex] | None:
    """Return where the *last* moved piece ends and *one* starts; they differ for an arc."""
    bend = turn(last.arriving, one.leaving)
    if bend * distance > 0 and abs(bend * distance) >= SHORTEST:
        return last.end, one.start
    across = last.arriving + one.leaving
    across /= abs(across)
    apex = old.start - 1j * across * distance / math.cos(bend / 2)
    if abs(bend) < TANGENT:
        return apex, apex
    if bend * distance > 0:
        back = 0.6 * SHORTEST
        return _back(last, apex, -back, last.arriving), _back(one, apex, back, one.leaving)
    met = [
        point
        for point in crossings(last, one)
        if 0 < place(last, point) < 1 and 0 < place(one, point) < 1
    ]
    return (met[0], met[0]) if len(met) == 1 else None


def _back(one: Edge, apex: complex, by: float, along: complex) -> complex:
    """Return the point of *one* that lies *by* along it from the *apex* near its end."""
    point = apex + by * along
    if one.sweep == 0:
        return point
    arm = point - one.centre
    return one.centre + arm / abs(arm) * one.radius

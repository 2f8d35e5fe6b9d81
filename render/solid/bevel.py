"""Bevels of 45 degrees round an opening: its outline as it widens towards the face.

Every line moves into a plane, every arc into a cone, neighbours stay joined where the moved pieces
meet. An arc of metal that has shrunk to a point, or a line that has been eaten up, ends there; the
bevel goes on without it from that height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from openwork.errors import RuleError
from openwork.shape.arc import turn
from openwork.shape.contour import Contour, Points, reverse
from openwork.shape.edge import Edge, between, crossings, edges, moved, piece
from openwork.shape.slivers import contour_of

TANGENT = 1e-4  # rad; the moved ends of a joint that turns less are one point to 1e-8 mm
ENDED = 1e-3  # mm; pieces shorter than this when another ends, end with it
BETWEEN = (0.25, 0.5, 0.75)  # parts of the way at which a ridge is located


@dataclass(frozen=True, slots=True)
class Step:
    """A part of a bevel, from the outline before to this wider one.

    ``kept`` has, for each piece of ``contour``, its number in the outline before. ``ridges`` has,
    for each corner of the outline before, points (3, 2) that the joint passes on its way, where
    neighbours meet at an angle; else it moves straight.
    """

    contour: Contour
    distance: float
    kept: tuple[int, ...]
    ridges: tuple[Points | None, ...]


def bevel(contour: Contour, width: float, *, key: str = "web.bevel") -> tuple[Step, ...]:
    """Return the steps in which *contour* (ccw) widens by *width*, mm; most often it is one.

    ``distance`` of a step counts from the contour. Raises RuleError, naming *key*, where nothing
    can be made.
    """
    steps: list[Step] = []
    lines, done = edges(contour), 0.0
    while done < width:
        reach, kept = _reach(lines, width - done)
        grown = _grown([lines[k] for k in kept], reach) if len(kept) > 1 else None
        if grown is None or (reach < width - done and len(kept) == len(lines)):
            raise RuleError(f"{key} {width:g}: too wide for the bends of an outline")
        ridges = tuple(_ridge(lines[k - 1], one, reach) for k, one in enumerate(lines))
        done = width if reach == width - done else done + reach
        steps.append(Step(contour_of([piece(one) for one in grown]), done, kept, ridges))
        lines = grown
    return tuple(steps)


def narrowing(contour: Contour, width: float, *, key: str) -> tuple[Step, ...]:
    """Return the steps in which *contour* (ccw), with metal inside, narrows by *width*, mm.

    As many pieces come out as go in; raises RuleError, naming *key*, where one would end.
    """
    found = []
    for step in bevel(reverse(contour), width, key=key):
        if step.kept != tuple(range(len(contour))):
            raise RuleError(f"{key} {width:g}: wider than the smallest arc of the outline is round")
        # What runs backwards starts with its last piece: joints follow the points.
        found.append(
            Step(reverse(step.contour), step.distance, step.kept, tuple(reversed(step.ridges)))
        )
    return tuple(found)


def _reach(lines: Sequence[Edge], most: float) -> tuple[float, tuple[int, ...]]:
    """Return how far, up to *most*, the pieces move before one of them ends, and which go on."""
    if _grown(lines, most) is not None:
        return most, tuple(range(len(lines)))
    low, high = 0.0, most
    while high - low > 1e-9 * most:
        middle = (low + high) / 2
        low, high = (middle, high) if _grown(lines, middle) is not None else (low, middle)
    last = _grown(lines, low)
    assert last is not None
    kept = tuple(k for k, one in enumerate(last) if abs(one.end - one.start) > ENDED)
    return (most if most - low < ENDED else low), kept


def _grown(lines: Sequence[Edge], distance: float) -> list[Edge] | None:
    """Return the moved pieces, each from joint to joint; None where one of them has ended."""
    joints = [_joint(lines[k - 1], one, distance) for k, one in enumerate(lines)]
    found = []
    for k, one in enumerate(lines):
        start, end, shifted = joints[k], joints[(k + 1) % len(lines)], moved(one, distance)
        if shifted is None or start is None or end is None:
            return None
        part = between(shifted, start, end)
        if part is None:
            return None
        found.append(part)
    return found


def _joint(last: Edge, one: Edge, distance: float) -> complex | None:
    """Return where two neighbours meet when moved by *distance*."""
    across = last.arriving + one.leaving
    if abs(across) < TANGENT:
        return None  # they run back on each other: a fin of metal that has come to an edge
    across /= abs(across)
    start = (last.end + one.start) / 2
    apex = start - 1j * across * distance / (across.conjugate() * one.leaving).real
    if abs(turn(last.arriving, one.leaving)) < TANGENT:
        return apex
    pair = moved(last, distance), moved(one, distance)
    if pair[0] is None or pair[1] is None:
        return None
    return min(crossings(pair[0], pair[1]), key=lambda point: abs(point - apex), default=None)


def _ridge(last: Edge, one: Edge, distance: float) -> Points | None:
    bend = turn(last.arriving, one.leaving)
    if abs(bend) < TANGENT or last.sweep == one.sweep == 0:
        return None
    points = [_joint(last, one, part * distance) for part in BETWEEN]
    if any(point is None for point in points):
        return None
    return np.array([(point.real, point.imag) for point in points if point is not None])

"""Which vertices of a polyline are corners, and which of its chords are straight edges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from openwork.shape.arc import turn

SHARP = math.radians(3.0)  # least turn, beyond what its neighbours explain, of a corner
BETWEEN = 1.15  # tolerances an arc may rise over the middle of its chord


@dataclass(frozen=True, slots=True)
class Link:
    """What joins a vertex to the next: a chord, or (``known``) an arc of the given lean."""

    start: complex  # unit directions
    end: complex
    length: float
    angle: float = 0.0
    known: bool = False


def marked(links: Sequence[Link], tolerance: float) -> tuple[list[bool], list[bool]]:
    """Return which vertices are corners, and which links are pieces by themselves.

    A chord is an edge where an arc through it, turning as its ends do, would rise over it by more
    than the tolerance. A vertex is a corner between two such, or where it turns far more than the
    curves on either side of it explain.
    """
    count = len(links)
    turns = [turn(links[k - 1].end, links[k].start) for k in range(count)]
    rise = 8 * BETWEEN * tolerance
    hard = [
        link.known or link.length * min(abs(turns[k]), abs(turns[(k + 1) % count])) > rise
        for k, link in enumerate(links)
    ]
    corners = []
    for k, angle in enumerate(turns):
        if hard[k - 1] and hard[k]:
            corners.append(True)
            continue
        explained = _half(links, turns, hard, k, -1, rise) + _half(links, turns, hard, k, 0, rise)
        corners.append(abs(angle) - explained > max(SHARP, explained))
    return corners, hard


def _half(
    links: Sequence[Link], turns: list[float], hard: list[bool], k: int, side: int, rise: float
) -> float:
    """Return how much of the turn at *k* the curve before (-1) or after (0) it explains."""
    count = len(links)
    here = (k + side) % count
    other = (k + 1 if side == 0 else k - 1) % count
    if hard[here] or turns[other] * turns[k] <= 0:
        return 0.0
    beyond = other if side == 0 else (other - 1) % count
    length = links[here].length
    share = 1.0 if hard[beyond] else length / (length + links[beyond].length)
    return min(abs(turns[other]) * share, rise / 2 / length)

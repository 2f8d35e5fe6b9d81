"""Which contour of a solid is which: by where it lies, not by who made it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely

from openwork.shape.contour import Contour, area, centroid, sampled

if TYPE_CHECKING:
    from openwork.ring import Design

NEAR = 0.5  # mm from the axis of a bolt within which a hole is the bolt's

BESIDE = 0.05  # mm from an engraved line; openings lie farther from it
ROUGH = 1.0  # mm; chords that fine tell whether the axis lies inside


def outline_in(loops: Sequence[Contour]) -> tuple[Contour, ...]:
    """Return the largest of *loops*."""
    return (max(loops, key=area),) if loops else ()


def edge_in(loops: Sequence[Contour]) -> tuple[Contour, ...]:
    """Return the smallest of the *loops* that run round the axis."""
    return tuple(sorted(filter(_runs_round_axis, loops), key=area)[:1])


def bolts_in(loops: Sequence[Contour], design: Design) -> tuple[Contour, ...]:
    """Return those of *loops* that lie about the axes of the bolts."""
    return tuple(one for one in loops if not _runs_round_axis(one) and _is_bolt(one, design))


def least_bolts_in(loops: Sequence[Contour], design: Design) -> tuple[Contour, ...]:
    """Return the smallest of *loops*, of any height, about the axis of each bolt."""
    found = sorted(bolts_in(loops, design), key=area)
    points = design.spec.mount.bolt_points
    nearest = [int(np.hypot(*(points - centroid(one)).T).argmin()) for one in found]
    first = {k: one for k, one in zip(reversed(nearest), reversed(found), strict=True)}
    return tuple(first[k] for k in sorted(first))


def openings_in(loops: Sequence[Contour], design: Design) -> tuple[Contour, ...]:
    """Return those of *loops* that are none of the others, nor edges of engraved lines."""
    return tuple(
        one
        for one in loops
        if not _runs_round_axis(one) and not _is_bolt(one, design) and not _is_line(one, design)
    )


def _is_line(contour: Contour, design: Design) -> bool:
    point = shapely.Point(contour.points[0])
    return any(shapely.dwithin(one.region, point, BESIDE) for one in design.engravings)


def parted(
    every: Sequence[Contour], deeper: Sequence[Contour]
) -> tuple[tuple[Contour, ...], tuple[Contour, ...]]:
    """Return those of *every* contour that have one of *deeper* in their middle, and the others."""
    middles = np.array([centroid(one) for one in deeper]).reshape(-1, 2)
    met = [bool((np.hypot(*(middles - centroid(one)).T) < NEAR).any()) for one in every]
    return (
        tuple(one for one, here in zip(every, met, strict=True) if here),
        tuple(one for one, here in zip(every, met, strict=True) if not here),
    )


def _runs_round_axis(contour: Contour) -> bool:
    x, y = sampled(contour, ROUGH).T
    turns = np.angle(np.roll(x + 1j * y, -1) / (x + 1j * y))
    return bool(abs(turns.sum()) > np.pi)


def _is_bolt(contour: Contour, design: Design) -> bool:
    away = design.spec.mount.bolt_points - centroid(contour)
    return bool(np.hypot(*away.T).min() < NEAR)

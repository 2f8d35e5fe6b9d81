"""Runs of vertices that lie on circles known beforehand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from openwork.shape.arc import turn
from openwork.shape.contour import Floats, after
from openwork.shape.tracing.corners import BETWEEN

Circle: TypeAlias = tuple[float, float, float]  # x, y of the centre, radius
Flags: TypeAlias = NDArray[np.bool_]

EVEN = 1e-5  # share by which chords and turns of an evenly drawn arc may differ
ON = 1e-6  # mm a vertex may lie off a circle it is on
CUT = 1.01  # bows of the run's chords its end may lie off: where a chord was cut, not the arc


@dataclass(frozen=True, slots=True)
class Known:
    """Vertices that are left, and for the link that leaves each its lean; NaN for a chord."""

    vertices: list[complex]
    leans: list[float]


def on_circles(vertices: Sequence[complex], circles: Sequence[Circle], tolerance: float) -> Known:
    """Return *vertices* of a closed polyline, each run on one of *circles* as one link.

    The ends of a run are moved on to the circle, along the neighbouring chord where they can be.
    """
    count = len(vertices)
    rest, leans, inner = list(vertices), [math.nan] * count, [False] * count
    if circles:
        z = np.array(vertices)
        centres, radii = centres_and_radii(circles)
        off = np.abs(z[:, None] - centres) - radii
        on = np.abs(off) < ON
        on_next = after(on)
        bow = np.abs(after(z) - z)[:, None] ** 2 / (8 * radii)
        short = bow <= BETWEEN * tolerance
        drawn = np.where(on & on_next & short, bow, 0.0).max(axis=0)
        cut = (off > -CUT * drawn) & (off < 0) & ~on.any(axis=1, keepdims=True)
        here = on | cut
        links = here & after(here) & (on | on_next) & short
        free = np.ones(count, dtype=bool)  # links of no run yet: near tangent circles share some
        for column in np.flatnonzero(links.sum(axis=0) >= 2):
            centre, radius = complex(centres[column]), float(radii[column])
            for first, last in _runs((links[:, column] & free).tolist()):
                numbers = [k % count for k in range(first, last + 1)]
                free[numbers[:-1]] = False
                _move(rest, numbers[0], rest[numbers[0] - 1], centre, radius, tolerance)
                _move(rest, numbers[-1], rest[(last + 1) % count], centre, radius, tolerance)
                arms = [rest[k] - centre for k in numbers]
                leans[numbers[0]] = sum(map(turn, arms, arms[1:])) / 2
                for k in numbers[1:-1]:
                    inner[k] = True
    kept = [k for k in range(count) if not inner[k]]
    return Known([rest[k] for k in kept], [leans[k] for k in kept])


def centres_and_radii(circles: Sequence[Circle]) -> tuple[NDArray[np.complex128], Floats]:
    """Return the centres, as complex numbers, and the radii (k,) of *circles*."""
    x, y, radii = np.array(circles, dtype=float).reshape(-1, 3).T
    return x + 1j * y, radii


def even_arcs(vertices: Sequence[complex], tolerance: float) -> list[Circle]:
    """Return the circles on which three or more chords of one length follow each other evenly.

    So a program draws a round; a curve whose curvature changes has no three such chords.
    """
    z = np.array(vertices)
    chord = after(z) - z
    length = np.abs(chord)
    bend = np.angle(after(chord) / chord)
    even = (np.abs(length - after(length)) < EVEN * length) & (np.abs(bend) > EVEN)
    same = even & after(even) & (np.abs(bend - after(bend)) < EVEN * np.abs(bend))
    same &= length * np.abs(bend) < 8 * BETWEEN * tolerance
    circles: list[Circle] = []
    for k in np.flatnonzero(same & ~np.roll(same, 1)):
        radius = length[k] / 2 / math.sin(bend[k] / 2)
        centre = z[k] + chord[k] / 2 + 1j * chord[k] / length[k] * radius * math.cos(bend[k] / 2)
        circles.append((float(centre.real), float(centre.imag), abs(float(radius))))
    return circles


def _runs(links: list[bool]) -> Iterator[tuple[int, int]]:
    """Yield first and last vertices of runs of two or more links, the last counted on past 0.

    None where the whole polyline is one run: a circle needs no telling.
    """
    if all(links):
        return
    start, count = links.index(False), len(links)
    first = start
    for k in range(start, start + count + 1):
        if not links[k % count]:
            if k - first > 2:
                yield first + 1, k
            first = k


def _move(
    vertices: list[complex], k: int, beyond: complex, centre: complex, radius: float, most: float
) -> None:
    """Move vertex *k* on to the circle, along the line from *beyond* if that is no long way."""
    arm = vertices[k] - centre
    if abs(abs(arm) - radius) < ON:
        return
    along = vertices[k] - beyond
    along /= abs(along)
    foot = (arm * along.conjugate()).real
    square = foot * foot - abs(arm) ** 2 + radius * radius
    if square >= 0:
        step = -foot + math.copysign(math.sqrt(square), foot)
        if abs(step) <= most / 2:
            vertices[k] += step * along
            return
    vertices[k] = centre + arm / abs(arm) * radius

"""Facts measured on finished contours, by samples of them, whatever they were made from.

Widths of metal are taken across the Voronoi ridges between samples of its two sides, which
approach the medial axis (Brandt, Algazi, Continuous skeleton computation by Voronoi diagram,
CVGIP: Image Understanding 1992). A ridge counts where its two nearest points face each other; so
the knots where ribs meet, and open space, count for nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.shape.contour import Contour, Floats, Numbers, polygon
from openwork.shape.gauging.ridges import facing
from openwork.shape.gauging.samples import Pieces, lines, pieces_of, polygons

FINE = 1e-4  # mm between an arc and the chords it is measured by
COARSE = 0.02  # the same where it is only searched
DETOUR = 4.0  # widths along one boundary from side to side: less is the end of a point, not a neck
FOLD = math.radians(115.0)  # an outline that turns back less has no two facing sides
FIRST_REACH = 0.8  # mm within which neighbours are looked for first
KINK = math.radians(2.0)  # an inward joint that turns more has no radius
STOUT = 4.0  # least widths: metal wider than so many is a pad or open plate, not a rib


@dataclass(frozen=True, slots=True)
class Gap:
    """The least metal between two boundaries, mm, and the two points (x, y) it lies between."""

    width: float
    first: tuple[float, float]
    second: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Ribs:
    """Metal between openings: least and mean width of ribs, mm; standard deviation over mean."""

    least: float
    mean: float
    spread: float


NOTHING = Gap(math.inf, (math.nan, math.nan), (math.nan, math.nan))


def least_gap(some: Sequence[Contour], others: Sequence[Contour]) -> Gap:
    """Return the least distance from a contour of *some* to one of *others* that is not itself.

    Good to 0.0002 mm. The width is infinite where there is no pair.

    >>> from openwork.shape.contour import circle
    >>> round(least_gap([circle(1.0)], [circle(2.0, (5.0, 0.0))]).width, 3)
    2.0
    """
    same = np.array([[one is other for other in others] for one in some], dtype=bool)
    if same.all():
        return NOTHING
    mine, theirs = pieces_of(some), pieces_of(others)
    a, b = _near_pairs(mine, theirs, same)
    first, second = (
        lines(pieces, numbers, FINE)[back]
        for pieces, (numbers, back) in (
            (mine, np.unique(a, return_inverse=True)),
            (theirs, np.unique(b, return_inverse=True)),
        )
    )
    apart = shapely.distance(first, second)
    least = int(np.argmin(apart))
    line = shapely.shortest_line(first[least], second[least])
    (x, y), (u, v) = shapely.get_coordinates(line).tolist()
    return Gap(float(apart[least]), (x, y), (u, v))


def reach(
    contours: Sequence[Contour], centre: tuple[float, float] = (0.0, 0.0)
) -> tuple[float, float]:
    """Return the least and the greatest distance of the outlines from the point *centre*, mm.

    Of an arc, the nearest and the farthest point are its ends, or lie on the line through *centre*
    and the middle of its circle.

    >>> from openwork.shape.contour import circle
    >>> reach([circle(2.0, (5.0, 0.0)), circle(1.0, (0.0, 7.0))])
    (3.0, 8.0)
    """
    pieces = pieces_of(contours)
    start, line = pieces.start - complex(*centre), pieces.sweep == 0
    part = np.clip(-(start[line] / pieces.chord[line]).real, 0.0, 1.0)
    feet = start[line] + part * pieces.chord[line]
    middle = pieces.centre[~line] - complex(*centre)
    across = pieces.radius[~line] * np.exp(1j * np.angle(middle))
    extremes = np.array([middle - across, middle + across])
    # A point of the circle is on the arc where it lies on the outer side of the chord.
    side = (pieces.chord[~line].conj() * (extremes - start[~line])).imag
    found = np.abs([*start, *feet, *extremes[side * pieces.sweep[~line] < 0]])
    return float(found.min()), float(found.max())


def _near_pairs(mine: Pieces, theirs: Pieces, same: NDArray[np.bool_]) -> tuple[Numbers, Numbers]:
    """Return pairs of pieces, among them the nearest of all that belong to different contours."""
    first = lines(mine, np.arange(len(mine.start)), COARSE)
    second = lines(theirs, np.arange(len(theirs.start)), COARSE)
    tree = shapely.STRtree(second)
    reach = FIRST_REACH
    while True:
        a, b = tree.query(first, predicate="dwithin", distance=reach)
        different = ~same[mine.owner[a], theirs.owner[b]]
        if different.any():
            break
        reach *= 1.5
    a, b = a[different], b[different]
    apart = shapely.distance(first[a], second[b])
    near = apart <= apart.min() + 4 * COARSE
    if apart.min() + 4 * COARSE > reach:
        a, b = tree.query(first, predicate="dwithin", distance=reach + 4 * COARSE)
        near = ~same[mine.owner[a], theirs.owner[b]]
    return a[near], b[near]


def rib_widths(openings: Sequence[Contour], fold: int = 1, *, spacing: float = 0.6) -> Ribs:
    """Return the widths of the ribs between *openings*, weighted by the length of the ribs.

    A rib is metal between two openings that is at most four times as wide as the least: across a
    pad, or where openings far apart face each other, there is none.

    The first ``len(openings) // fold`` are one symmetry sector, the others its rotations; only
    the sector is measured, against all. Samples lie at most *spacing* (mm) apart; the least
    width is good to 0.0002 mm all the same. NaN where there is no rib.

    >>> from openwork.shape.contour import circle
    >>> round(rib_widths([circle(2.0), circle(2.0, (5.0, 0.0))]).least, 3)
    1.0
    """
    if not openings:
        return Ribs(math.nan, math.nan, math.nan)
    count = len(openings) // fold
    least = least_gap(openings[:count], openings)
    if math.isinf(least.width):
        return Ribs(math.nan, math.nan, math.nan)
    near = _neighbourhood(openings, count, STOUT * least.width + spacing)
    found = facing([openings[k] for k in near], spacing)
    mine = np.array(near) < count
    weight = np.where(
        (found.first == found.second) | (found.width > STOUT * least.width),
        0.0,
        (mine[found.first] * 0.5 + mine[found.second] * 0.5) * found.length,
    )
    if weight.sum() == 0:
        return Ribs(least.width, math.nan, math.nan)
    mean = float(np.average(found.width, weights=weight))
    variance = float(np.average((found.width - mean) ** 2, weights=weight))
    return Ribs(least.width, mean, math.sqrt(variance) / mean)


def _neighbourhood(openings: Sequence[Contour], count: int, reach: float) -> list[int]:
    """Return the numbers of the first *count* openings and of those within *reach*, in order."""
    low = np.array([one.points.min(axis=0) for one in openings])
    high = np.array([one.points.max(axis=0) for one in openings])
    # An arc may bulge beyond its ends, by no more than its sagitta.
    bow = np.array([_bow(one) for one in openings])[:, None]
    boxes = shapely.box(*(low - bow).T, *(high + bow).T)
    found = shapely.STRtree(boxes).query(boxes[:count], predicate="dwithin", distance=reach)[1]
    return sorted({*range(count), *found.tolist()})


def _bow(contour: Contour) -> float:
    """Return the greatest rise of a piece over its chord, mm."""
    return float((np.hypot(*contour.chords.T) * np.abs(contour.bulges)).max()) / 2


def least_neck(openings: Sequence[Contour], *, spacing: float = 0.3) -> Gap:
    """Return the least metal between two parts of one and the same opening.

    Infinite where no outline turns back on itself. The ends of points of metal do not count: the
    way round along the boundary is at least four times the width.
    """
    hollow = [one for one in openings if _bend(one) < -FOLD]
    if not hollow:
        return NOTHING
    found = facing(hollow, spacing)
    necks = (found.first == found.second) & (found.around > DETOUR * found.width)
    for k, one in enumerate(hollow):
        mine = np.flatnonzero(necks & (found.first == k))
        middle = found.middle[mine]
        necks[mine] = ~shapely.contains_xy(polygon(one), middle.real, middle.imag)
    if not necks.any():
        return NOTHING
    k = int(np.argmin(np.where(necks, found.width, np.inf)))
    a, b = complex(found.here[k]), complex(found.there[k])
    return Gap(float(found.width[k]), (a.real, a.imag), (b.real, b.imag))


def _bend(contour: Contour) -> float:
    """Return the most negative angle that any stretch of the outline turns through."""
    turns = np.column_stack([contour.turns, contour.sweeps]).ravel()
    worst = here = 0.0
    for angle in [*turns.tolist(), *turns.tolist()]:
        here = min(here, 0.0) + angle
        worst = min(worst, here)
    return worst


def least_inside_radius(openings: Sequence[Contour]) -> float:
    """Return the least radius of arcs that curve inwards; 0 where two pieces meet in a corner."""
    least = math.inf
    for one in openings:
        if (one.turns > KINK).any():
            return 0.0
        least = min(least, float(one.radii[one.bulges > 0].min(initial=math.inf)))
    return least


def unreached(openings: Sequence[Contour], radius: float) -> Floats:
    """Return the area (n,) of each opening where a round cutter of *radius* (mm) cannot go, mm2.

    By opening the sampled polygon with a disc; a trace of some 1e-4 mm along the outline remains.
    """
    shapes = np.array([polygon(one, sagitta=FINE) for one in openings], dtype=object)
    cores = shapely.buffer(shapes, -radius, quad_segs=64)
    return np.asarray(
        shapely.area(shapes) - shapely.area(shapely.buffer(cores, radius, quad_segs=64))
    )


def pieces(outer: Contour, holes: Sequence[Contour]) -> int:
    """Return the number of pieces of metal inside *outer* that *holes* leave.

    >>> from openwork.shape.contour import circle, polygon_contour
    >>> slot = polygon_contour([(-9, -1), (9, -1), (9, 1), (-9, 1)])
    >>> pieces(circle(5.0), [slot]), pieces(circle(5.0), [circle(4.0)])
    (2, 1)
    """
    plate, cut = polygon(outer), polygons(holes)
    first, second = shapely.STRtree(cut).query(cut, predicate="intersects")
    apart = not (first != second).any()
    shapely.prepare(plate)
    if apart and shapely.contains_properly(plate, cut).all():
        return 1
    return len(shapely.get_parts(shapely.difference(plate, shapely.union_all(cut))))

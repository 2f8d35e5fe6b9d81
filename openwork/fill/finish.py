"""The one place that turns what a pattern proposes into openings that keep every rule.

For each opening it finds the *core*: where the centre of the cutter may go. A core is the proposed
shape shrunk by half a rib and the cutter's radius, cut to the region shrunk by the cutter's
radius; growing it back by that radius gives lines and arcs the cutter can follow, with the ribs
and margins kept exactly. Everything is done on one symmetry class and repeated by rotation.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.errors import RuleError
from openwork.fill.classes import copies
from openwork.fill.contours import field_polygons
from openwork.fill.pattern import Cells, Field, Filling, Net, Shapes
from openwork.fill.site import CHORD, Site
from openwork.shape.contour import Contour, Floats, Points, polygon, rotated
from openwork.shape.parallel.offset import dilated
from openwork.shape.tracing.trace import traced

MOST = 1500  # cells of a whole ring: beyond this no cutter is fine enough
FRAGMENT = 0.45  # of its uncut area: a smaller remainder of a cell is filled with metal
NARROWEST = 1.15  # cutter diameters across the widest place: less is a slot no cutter turns in
TRACE = 1e-3  # mm between a core and its lines and arcs; as much is added to either side of a rib
FINEST = 0.001  # mm of a piece of a core: shorter ones of the outline go when it is moved
POINT = 0.2  # ribs: radius of a point of metal that sticks out into an opening
SHARP = np.radians(3.0)  # a vertex that turns less is a sample of a curve
QUADRANT = 32  # chords per quarter circle of working buffers
OUTSIDE = 1 / np.cos(np.pi / (4 * QUADRANT))  # stretches a buffer until its chords clear the arc
TOUCH = 5e-4  # mm a pocket seems nearer to another or to the rim than it is: chords stand for arcs
SAME_CORNER = 1e-7  # mm between two corners of a cell that are one
SPECK = 0.1  # of its area: a core that is less may be one that GEOS put in the wrong place
MISPLACED = 1e-4  # mm a core may be too near the border: GEOS's mitres miss by some 1e-6

Shapely = NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class Finished:
    """The openings of one sector, and how many fragments were filled and slivers dropped in it."""

    openings: tuple[Contour, ...]
    filled: int
    dropped: int


def finished(filling: Filling, site: Site) -> Finished:
    """Return the openings of one symmetry sector that *filling* makes on *site*.

    Raises RuleError where nothing is left, or an opening would run right round the ring.
    """
    exact: list[Contour] = []
    match filling:
        case Cells():
            whole = _eroded(_polygons(filling.polygons), site.rib / 2 + site.corner + TRACE)
        case Net():
            whole = _faces(filling, site)
        case Shapes():
            exact, rest = _undisturbed(filling.contours, site)
            whole = _shape_cores([polygon(contour) for contour in rest], site, exact)
        case Field():
            whole = _shape_cores(field_polygons(filling, site), site, exact)
    cores = _largest(shapely.intersection(whole, site.room(site.corner)))
    _refuse_round_the_centre(cores)
    present = ~shapely.is_empty(cores)
    remainder = _opened_area(cores, site.corner) / np.maximum(
        _opened_area(whole, site.corner), 1e-12
    )
    complete = remainder >= FRAGMENT
    wide = ~shapely.is_empty(shapely.buffer(cores, -(NARROWEST - 1) * site.corner))
    keep = present & complete & wide
    if (count := (int(keep.sum()) + len(exact)) * site.fold) > MOST:
        raise RuleError(f"{count} openings: at most {MOST} are drawn; fewer columns or rows do")
    openings = _openings(cores[keep], site)
    if not exact and not openings:
        raise RuleError(_nothing_left(site))
    return Finished(
        openings=tuple(exact + openings),
        filled=int((~complete & ~shapely.is_empty(whole)).sum()),
        dropped=int((complete & ~keep).sum() + shapely.is_empty(whole).sum()),
    )


def repeated(openings: Sequence[Contour], site: Site) -> tuple[Contour, ...]:
    """Return the openings of the whole ring, sector by sector."""
    turns = [k * site.sector + site.turn for k in range(site.fold)]
    return tuple(rotated(one, turn) if turn else one for turn in turns for one in openings)


def _nothing_left(site: Site) -> str:
    return (
        f"no opening is left: every cell is narrower than web.rib {site.rib:g} plus "
        f"{NARROWEST:g} cutter diameters (web.corner {site.corner:g}) on a web "
        f"{site.outer - site.inner:.1f} mm wide; fewer columns or rows, a thinner rib or a "
        "smaller cutter makes room"
    )


def _polygons(rings: Sequence[Points]) -> Shapely:
    counts = [len(ring) for ring in rings]
    if not counts:
        return np.empty(0, dtype=object)
    lines = shapely.linearrings(
        np.concatenate(rings), indices=np.repeat(range(len(counts)), counts)
    )
    whole = shapely.remove_repeated_points(shapely.polygons(lines), SAME_CORNER)
    return np.asarray(whole, dtype=object)


def _eroded(shapes: Shapely, by: float) -> Shapely:
    """Return *shapes* shrunk by *by* with mitred corners; empty where next to nothing is left.

    GEOS may leave nothing where little should be left, but seldom in two steps. It may put a speck
    in the wrong place when less than nothing should be left, it cannot shrink a cell that crosses
    itself, and one that is not convex may fall in two that would lie nearer than a rib: only the
    largest part stays, and in doubt only where it really is *by* away from the border.
    """
    cores = _shrunk(shapes, by)
    empty = shapely.is_empty(cores)
    cores[empty] = _shrunk(_shrunk(shapes[empty], by / 2), by / 2)
    cores = _largest(cores)
    small = shapely.area(cores) < SPECK * shapely.area(shapes)
    doubtful = np.flatnonzero(small | ~shapely.is_valid(shapes))
    apart = shapely.distance(cores[doubtful], shapely.boundary(shapes[doubtful]))
    cores[doubtful[~(apart >= by - MISPLACED)]] = shapely.Polygon()
    return cores


def _shrunk(shapes: Shapely, by: float) -> Shapely:
    return np.asarray(shapely.buffer(shapes, -by, join_style="mitre", mitre_limit=10))


def _largest(shapes: Shapely) -> Shapely:
    """Return the largest polygon of each geometry, islands in it filled."""
    parts, index = shapely.get_parts(shapes, return_index=True)
    order = np.lexsort((shapely.area(parts), index))
    last = order[np.flatnonzero(np.diff(index[order], append=-1))]
    result = np.full(len(shapes), shapely.Polygon(), dtype=object)
    result[index[last]] = shapely.polygons(shapely.get_exterior_ring(parts[last]))
    return result


def _opened_area(cores: Shapely, radius: float) -> Floats:
    """Return the area of each core grown by *radius*: Steiner's formula for convex shapes."""
    grown = shapely.area(cores) + shapely.length(cores) * radius + np.pi * radius**2
    areas: Floats = np.where(shapely.is_empty(cores), 0.0, grown)
    return areas


def _faces(net: Net, site: Site) -> Shapely:
    """Return one core per class of faces between the ribs of *net*, pads not yet cut out."""
    widths = np.array(net.widths or [1.0] * len(net.curves)) * site.rib / 2 + site.corner + TRACE
    lines = [
        shapely.LineString(rotated_points(curve, k * site.sector))
        for k in range(site.fold)
        for curve in net.curves
    ]
    ribs = shapely.buffer(
        lines, np.tile(widths * OUTSIDE, site.fold), cap_style="flat", quad_segs=QUADRANT
    )
    faces = shapely.get_parts(
        shapely.difference(site.annulus(site.corner), shapely.union_all(ribs))
    )
    return one_per_class(faces, site)


def rotated_points(points: Points, angle: float) -> Points:
    """Return *points* (n, 2) turned by *angle* radians about the origin."""
    c, s = np.cos(angle), np.sin(angle)
    turned: Points = points @ np.array([[c, s], [-s, c]])
    return turned


def one_per_class(faces: Shapely, site: Site) -> Shapely:
    """Return the faces whose centroids lie in one sector, cut at the widest gap between them.

    Raises RuleError where a face runs round the centre.
    """
    solid = shapely.polygons(shapely.get_exterior_ring(faces))
    _refuse_round_the_centre(solid)
    centre = shapely.centroid(solid)
    angle = np.arctan2(shapely.get_y(centre), shapely.get_x(centre))
    within = np.sort(angle % site.sector)
    gaps = np.diff(within, append=within[:1] + site.sector)
    start = within[np.argmax(gaps)] + gaps.max() / 2
    return np.asarray(solid[(angle - start) % (2 * np.pi) < site.sector], dtype=object)


def _refuse_round_the_centre(solid: Shapely) -> None:
    if shapely.contains_xy(solid, 0.0, 0.0).any():
        raise RuleError(
            "an opening would run right round the ring and cut it in two; "
            "more ribs across the web hold it together"
        )


def _undisturbed(contours: Sequence[Contour], site: Site) -> tuple[list[Contour], list[Contour]]:
    """Split *contours* into those that may be cut as they are, and the rest."""
    if not contours:
        return [], []
    shapes = np.array([polygon(contour, sagitta=CHORD) for contour in contours], dtype=object)
    sharp = np.array([_sharpest(contour) < site.corner - 1e-9 for contour in contours])
    alone = (
        ~crowded(shapes, site, site.rib - TOUCH)
        & ~sharp
        & shapely.covers(site.room(-TOUCH), shapes)
    )
    return (
        [one for one, kept in zip(contours, alone, strict=True) if kept],
        [one for one, kept in zip(contours, alone, strict=True) if not kept],
    )


def crowded(shapes: Shapely, site: Site, distance: float) -> NDArray[np.bool_]:
    """Tell of each shape of a sector whether it is within *distance* (mm) of another or a copy."""
    near = np.zeros(len(shapes), dtype=bool)
    first, second = shapely.STRtree(_around(shapes, site)).query(
        shapes, predicate="dwithin", distance=distance
    )
    near[first[first != second]] = True
    return near


def _around(shapes: Shapely, site: Site) -> Shapely:
    """Return the polygons *shapes* (n,) and then their copies in the neighbouring sectors."""
    turns = sorted({k % site.fold for k in (0, 1, -1)})
    return np.concatenate([_turned(shapes, k * site.sector) for k in turns])


def _turned(shapes: Shapely, angle: float) -> Shapely:
    return np.asarray(
        shapely.transform(shapes, lambda points: rotated_points(points, angle)), dtype=object
    )


def _sharpest(contour: Contour) -> float:
    """Return the least inside radius, mm; 0 at a corner without one."""
    inside = contour.bulges > 0
    if (contour.turns > 1e-3).any():
        return 0.0
    return float(contour.radii[inside].min(initial=np.inf))


def _shape_cores(
    shapes: Sequence[shapely.Polygon], site: Site, exact: Sequence[Contour]
) -> Shapely:
    """Return the cores of pockets that may lie too near each other or the *exact* ones.

    Where two pockets are nearer than a rib, the rib runs along the line midway between them.
    """
    pockets = np.array([*shapes], dtype=object)
    if not len(pockets):
        return pockets
    cores = _eroded(pockets, site.corner)
    everything = np.concatenate([pockets, np.array([polygon(one) for one in exact], dtype=object)])
    if not crowded(everything, site, site.rib - TOUCH).any():
        return cores
    middle = shapely.line_merge(_midlines(everything, site))
    width = site.rib / 2 + site.corner + TRACE
    ribs = shapely.buffer(middle, width * OUTSIDE, quad_segs=QUADRANT)
    return _largest(shapely.difference(cores, ribs))


def _midlines(pockets: Shapely, site: Site) -> shapely.MultiLineString:
    """Return the lines midway between pockets less than a rib apart: Voronoi ridges of samples."""
    from scipy.spatial import Voronoi  # noqa: PLC0415 (slow to import, and seldom needed)

    around = _around(pockets, site)
    rings = shapely.segmentize(shapely.get_exterior_ring(around), site.rib / 4)
    points, owner = shapely.get_coordinates(rings, return_index=True)
    diagram = Voronoi(points)
    a, b = diagram.ridge_points.T
    near = np.hypot(*(points[a] - points[b]).T) < 1.1 * site.rib
    ends = np.array(diagram.ridge_vertices)
    keep = near & (owner[a] != owner[b]) & (ends >= 0).all(axis=1)
    return shapely.MultiLineString(list(diagram.vertices[ends[keep]]))


def _arcs_of(contours: Sequence[Contour]) -> list[tuple[float, float, float]]:
    """Return (x, y, radius) of every circle that *contours* run along."""
    found = {
        (round(x, 9), round(y, 9), round(r, 9))
        for one in contours
        for (x, y), r in zip(one.centres.tolist(), one.radii.tolist(), strict=True)
        if np.isfinite(x)
    }
    return sorted(found)


def _openings(cores: Shapely, site: Site) -> list[Contour]:
    """Return the openings that grow from *cores*, each kind of them traced once."""
    circles = _arcs_of(site.walls(site.corner))
    rings = [shapely.get_coordinates(core.exterior)[:-1] for core in cores]
    made: dict[int, Contour] = {}
    openings = []
    for number, copy in enumerate(copies(rings, circles)):
        if copy.of == number:
            core = traced(rings[number], circles=circles, tolerance=TRACE, least=FINEST)
            made[number] = _grown(core, site)
        openings.append(copy.made(made[copy.of]))
    return openings


def _grown(core: Contour, site: Site) -> Contour:
    """Return the opening that a cutter makes whose centre goes round *core*.

    A point of metal that sticks out into it is rounded: grown by so much more and shrunk again,
    the outline is the same elsewhere. The rib behind a point is thicker there by more than it
    loses.
    """
    if not (core.turns < -SHARP).any():
        return dilated(core, site.corner)
    point = POINT * site.rib
    return dilated(dilated(core, site.corner + point), -point)

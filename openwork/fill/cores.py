"""Where the centre of the cutter may go in each of the five kinds of filling.

A *core* is a proposed shape shrunk by half a rib and the cutter's radius. Of pockets that may be
cut as they are no core is made.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from openwork.fill.contours import field_polygons
from openwork.fill.drawn import pockets
from openwork.fill.fillings import Cells, Drawn, Field, Filling, Net, Shapes
from openwork.fill.nearness import around, crowded, one_per_class, rotated_points
from openwork.fill.shrunk import Shapely, eroded, largest
from openwork.fill.site import CHORD, Site
from openwork.fill.taper import narrowed, tapered
from openwork.fill.widths import Carried, widths_of
from openwork.shape.contour import Contour, Points, polygon

TRACE = 1e-3  # mm between a core and its lines and arcs; as much is added to either side of a rib
SOFT = 3e-3  # mm in place of TRACE for drawings, whose trimmed borders have shallow corners
QUADRANT = 32  # chords per quarter circle of working buffers
OUTSIDE = 1 / np.cos(np.pi / (4 * QUADRANT))  # stretches a buffer until its chords clear the arc
TOUCH = 5e-4  # mm a pocket seems nearer to another or to the rim than it is: chords stand for arcs
SAME_CORNER = 1e-7  # mm between two corners of a cell that are one


def cores(
    filling: Filling, site: Site, carried: Carried | None = None
) -> tuple[list[Contour], Shapely]:
    """Return the pockets of *filling* to be cut as they are, and the cores of all the rest.

    Cores are not yet cut to the region. Ribs thicken by what they have *carried*, if that is
    given, else by their place. Raises RuleError where one would run round the ring.
    """
    exact: list[Contour] = []
    widths = widths_of(site, carried)
    match filling:
        case Cells():
            even = eroded(_polygons(filling.polygons), site.rib / 2 + site.corner + TRACE)
            whole = tapered(even, site, widths)
        case Net():
            whole = tapered(_faces(filling, site), site, widths)
        case Shapes():
            exact, rest = _undisturbed(narrowed(filling.contours, widths), site)
            whole = _shape_cores([polygon(contour) for contour in rest], site, exact)
        case Field():
            whole = _shape_cores(field_polygons(filling, site), site, exact)
            whole = tapered(whole, site, widths)
        case Drawn():
            whole = tapered(eroded(pockets(filling, site), site.corner + SOFT), site, widths)
    return exact, whole


def tolerance(filling: Filling) -> float:
    """Return how far, mm, lines and arcs may leave the cores of *filling*."""
    return SOFT if isinstance(filling, Drawn) else TRACE


def _polygons(rings: Sequence[Points]) -> Shapely:
    counts = [len(ring) for ring in rings]
    if not counts:
        return np.empty(0, dtype=object)
    lines = shapely.linearrings(
        np.concatenate(rings), indices=np.repeat(range(len(counts)), counts)
    )
    whole = shapely.remove_repeated_points(shapely.polygons(lines), SAME_CORNER)
    return np.asarray(whole, dtype=object)


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
    cores = eroded(pockets, site.corner)
    everything = np.concatenate([pockets, np.array([polygon(one) for one in exact], dtype=object)])
    if not crowded(everything, site, site.rib - TOUCH).any():
        return cores
    middle = shapely.line_merge(_midlines(everything, site))
    width = site.rib / 2 + site.corner + TRACE
    ribs = shapely.buffer(middle, width * OUTSIDE, quad_segs=QUADRANT)
    return largest(shapely.difference(cores, ribs))


def _midlines(pockets: Shapely, site: Site) -> shapely.MultiLineString:
    """Return the lines midway between pockets less than a rib apart: Voronoi ridges of samples."""
    from scipy.spatial import Voronoi  # noqa: PLC0415 (slow to import, and seldom needed)

    everywhere = around(pockets, site)
    rings = shapely.segmentize(shapely.get_exterior_ring(everywhere), site.rib / 4)
    points, owner = shapely.get_coordinates(rings, return_index=True)
    diagram = Voronoi(points)
    a, b = diagram.ridge_points.T
    near = np.hypot(*(points[a] - points[b]).T) < 1.1 * site.rib
    ends = np.array(diagram.ridge_vertices)
    keep = near & (owner[a] != owner[b]) & (ends >= 0).all(axis=1)
    return shapely.MultiLineString(list(diagram.vertices[ends[keep]]))

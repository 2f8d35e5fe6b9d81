"""Regions of a drawing made into pockets: islands tied, parts and neighbours a rib apart."""

from __future__ import annotations

import math

import numpy as np
import shapely

from openwork.fill.fillings import Drawn
from openwork.fill.nearness import around
from openwork.fill.shrunk import Shapely
from openwork.fill.site import Site
from openwork.shape.contour import as_complex

STEPS = 3  # in which neighbours are trimmed: of two twins neither then loses more than the other
APART = 5e-3  # mm added to a rib between trimmed shapes, for what tracing takes
EVEN_OUT = 2e-3  # mm within which vertices of trimmed shapes are left out
GROWN = 1.02  # cutter radii by which the core of a part grows into the part again
QUADRANT = 24  # chords per quarter circle of a buffer
LEAST = 0.05  # mm2; a smaller part is none


def regions(drawn: Drawn) -> Shapely:
    """Return the polygons of *drawn*, islands in them."""
    whole = [shapely.Polygon(outer, islands) for outer, *islands in drawn.regions]
    return np.array([_sound(one) for one in whole], dtype=object)


def _sound(one: shapely.Polygon) -> shapely.Polygon:
    """Return *one*; where it crosses itself, its largest part."""
    if one.is_valid:
        return one
    return max(shapely.get_parts(shapely.make_valid(one)), key=lambda part: part.area)


def pockets(drawn: Drawn, site: Site, steps: int = STEPS) -> Shapely:
    """Return the pockets of a sector that *drawn* leaves: no islands, a rib apart, mm."""
    room = site.annulus()
    found = []
    for region in regions(drawn):
        for tied in _tied(shapely.intersection(region, room), site.rib, drawn.ties):
            found += _reached(tied, site)
    shapes = np.array(found, dtype=object)
    if not len(shapes):
        return shapes
    gap = _least_gap(shapes, site)
    if gap >= site.rib:
        return shapes
    if drawn.even:
        by = (site.rib + APART - gap) / 2
        return np.asarray(shapely.buffer(shapes, -by, join_style="mitre"), dtype=object)
    return _trimmed(shapes, site, np.linspace(gap, site.rib, steps + 1)[1:])


def _tied(region: shapely.Geometry, width: float, ties: int) -> list[shapely.Polygon]:
    """Return what *region* becomes when strips of *width* along the radius hold its islands."""
    parts = [one for one in shapely.get_parts(region) if one.geom_type == "Polygon"]
    if not ties:
        return [shapely.Polygon(one.exterior) for one in parts]
    held = []
    for one in parts:
        strips = [_strip(one, ring, k / ties, width) for ring in one.interiors for k in range(ties)]
        left = one.difference(shapely.union_all(strips)) if strips else one
        held += [shapely.Polygon(p.exterior) for p in shapely.get_parts(left) if p.area > LEAST]
    return held


def _strip(
    region: shapely.Polygon, island: shapely.LinearRing, turn: float, width: float
) -> shapely.Geometry:
    """Return the strip from an *island* outwards, *turn* turns from the radius, across *region*."""
    centre = shapely.Polygon(island).representative_point()
    middle = shapely.Polygon(island).centroid
    z = (
        complex(centre.x, centre.y)
        if not shapely.Polygon(island).contains(middle)
        else complex(middle.x, middle.y)
    )
    x0, y0, x1, y1 = region.bounds
    along = z / abs(z) * np.exp(2j * math.pi * turn)
    far = z + along * 2 * math.hypot(x1 - x0, y1 - y0)
    ray = shapely.LineString([(z.real, z.imag), (far.real, far.imag)])
    inside = [one for one in shapely.get_parts(ray.intersection(region)) if one.length > 1e-6]
    if not inside:
        return shapely.Polygon()
    start, end = as_complex(
        shapely.get_coordinates(min(inside, key=lambda one: one.distance(centre)))[[0, -1]]
    )
    reach = along * width  # past both ends, to meet slanting edges
    line = [(p.real, p.imag) for p in (start - reach, end + reach)]
    return shapely.LineString(line).buffer(width / 2, cap_style="flat")


def _reached(shape: shapely.Polygon, site: Site) -> list[shapely.Polygon]:
    """Return the parts of *shape* that the cutter reaches, one pocket each, a rib apart."""
    cores = shapely.get_parts(shape.buffer(-site.corner, join_style="mitre"))
    cores = sorted((one for one in cores if one.area > LEAST / 5), key=lambda one: -one.area)
    if len(cores) < 2:
        return [shape] if cores else []
    parts: list[shapely.Polygon] = []
    for core in cores:
        part = core.buffer(GROWN * site.corner, quad_segs=QUADRANT).intersection(shape)
        for other in parts:
            if part.distance(other) < site.rib + APART:
                part = part.difference(other.buffer(site.rib + APART, quad_segs=QUADRANT))
        part = max(shapely.get_parts(part), key=lambda one: one.area, default=shapely.Polygon())
        if part.area > LEAST:
            parts.append(shapely.Polygon(part.exterior))
    return parts


def _least_gap(shapes: Shapely, site: Site) -> float:
    """Return the least distance between *shapes* and copies of them, at most a rib."""
    every = around(shapes, site)
    a, b = shapely.STRtree(every).query(shapes, predicate="dwithin", distance=site.rib)
    a, b = a[a != b], b[a != b]
    return float(shapely.distance(shapes[a], every[b]).min(initial=site.rib))


def _trimmed(shapes: Shapely, site: Site, ribs: np.ndarray) -> Shapely:
    """Return *shapes*, each cut back where another is nearer than each of *ribs* in turn."""
    every = around(shapes, site)
    a, b = shapely.STRtree(every).query(shapes, predicate="dwithin", distance=site.rib + APART)
    a, b = a[a != b], b[a != b]
    near = np.unique(b)
    for rib in ribs:
        every = around(shapes, site)
        reach = np.empty(len(every), dtype=object)
        reach[near] = shapely.buffer(every[near], rib + APART, quad_segs=QUADRANT)
        cut = shapes.copy()
        for k in np.unique(a):
            cut[k] = shapes[k].difference(shapely.union_all(reach[b[a == k]]))
        shapes = np.asarray(shapely.simplify(cut, EVEN_OUT / 10), dtype=object)
    return shapes

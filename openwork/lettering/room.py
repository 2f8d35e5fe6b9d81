"""Where a mark may stand: the bands of full thickness, and what a line must keep clear of."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import shapely

from openwork.fill.site import Site
from openwork.lettering.engraving import Engraving
from openwork.lettering.table import Mark
from openwork.part.blank import Blank
from openwork.part.edges import Edges
from openwork.part.hole import Hole
from openwork.shape.contour import Contour, circle, polygon

CLEAR = 0.3  # mm of flat metal, at least, beside a line; common practice, no source
MOST_SPAN = math.radians(340.0)  # of a text round the ring
THICKEST = 0.2  # of a capital's height, width of a line
DEEPEST = 0.25  # of the plate, depth of a line
CHORD = 0.005  # mm between arcs and the chords that distances are measured on
SLACK = 0.01  # mm of a distance measured on chords


@dataclass(frozen=True, slots=True)
class Band:
    """Flat metal between two radii, mm."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Radius half way."""
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What marks stand on: a ring, its web, its openings and the edges broken round them."""

    ring: Blank
    site: Site
    openings: Sequence[Contour]
    edges: Edges
    bevel: float


def room_at(mark: Mark, ground: Ground) -> Band:
    """Return the band on which *mark* stands, before it is known what else lies there."""
    ring, site = ground.ring, ground.site
    bands = {
        "panel": Band(site.inner, site.outer),
        "rim": Band(site.outer + ground.bevel, ring.zones[0].outer - ground.edges.step),
        "hem": Band(ring.mount.bore_diameter / 2 + ground.edges.bore, site.inner - ground.bevel),
    }
    if isinstance(mark.at, float):
        up = mark.height if mark.reads == "outward" else -mark.height
        return Band(*sorted((mark.at, mark.at + up)))
    return bands[mark.at]


def base_radius(mark: Mark, band: Band) -> float:
    """Return the radius, mm, of the base line of *mark*, its capitals in the middle of *band*."""
    half = mark.height / 2
    return band.middle + (-half if mark.reads == "outward" else half)


def size_faults(name: str, mark: Mark, span: float, ring: Blank, band: Band) -> Iterator[str]:
    """Yield what is impossible about the size of *mark*, whose text covers *span* radians."""
    if mark.depth > DEEPEST * ring.plate + 1e-9:
        yield (
            f"mark.{name}.depth {mark.depth:g} mm: at most a quarter of the plate of "
            f"{ring.plate:g} mm; {math.floor(DEEPEST * ring.plate * 100) / 100:g} works"
        )
    if mark.line > THICKEST * mark.height + 1e-9:
        yield (
            f"mark.{name}.line {mark.line:g} mm: at most a fifth of the height of "
            f"{mark.height:g} mm; {math.floor(THICKEST * mark.height * 100) / 100:g} works"
        )
    if span > MOST_SPAN:
        fits = math.floor(mark.height * MOST_SPAN / span * 10) / 10
        yield (
            f"mark.{name}: the text covers {math.degrees(span):.0f} degrees, at most 340; "
            + (f"height = {fits:g} works" if fits >= 2 else "a shorter text works")
        )
    need, width = mark.height + mark.line + 2 * CLEAR, band.high - band.low
    if not isinstance(mark.at, float) and need > width + 1e-9:
        yield f"mark.{name}: {_too_high(mark, need, width)}"


def _too_high(mark: Mark, need: float, width: float) -> str:
    fits = math.floor((width - mark.line - 2 * CLEAR) * 10 + 1e-6) / 10
    works = [f"height = {fits:g}"] if fits >= 2 else []
    if mark.at == "panel":
        works += ["a wider web"] if not works else []
    else:
        works += [f"web.{mark.at} wider by {need - width:.1f}, or a [panel]"]
    where = "web" if mark.at == "panel" else f"flat of the {mark.at}"
    return (
        f"the {where} is {max(width, 0):.2f} mm wide, text of {mark.height:g} mm with its line "
        f"needs {need:.2f}; {' or '.join(works)} works"
    )


def clear_faults(engravings: Sequence[Engraving], ground: Ground) -> list[str]:
    """Return where *engravings* come too near to an edge, what is bored, or each other."""
    found: dict[str, None] = {}
    for one in engravings:
        region = one.region
        for what, metal in _obstacles(one, ground).items():
            near = float(shapely.distance(region, metal))
            if near < CLEAR - SLACK:
                found[_told(one.name, what, near)] = None
    for one, other in combinations(engravings, 2):
        if one.face == other.face:
            near = float(shapely.distance(one.region, other.region))
            if near < CLEAR - SLACK:
                found[_told(one.name, f"mark.{other.name}", near)] = None
    return list(found)


def _told(name: str, what: str, near: float) -> str:
    place = "meets" if near <= 0 else f"stands {near:.2f} mm from"
    return (
        f"mark.{name}: {place} {what}, at least {CLEAR:g} mm must stay; a smaller height, another "
        "angle, or a [panel] at its angle works"
    )


def _obstacles(one: Engraving, ground: Ground) -> Mapping[str, shapely.Geometry]:
    """Return what an engraving must keep clear of, on its face."""
    ring, edges = ground.ring, ground.edges
    full = ring.zones[0].outer - (edges.step if len(ring.zones) == 1 else 0)
    holes = [
        circle(_rim(hole, one.face) / 2 + edges.bolts, point)
        for hole, point in zip(ring.mount.bolt_holes, ring.mount.bolt_points, strict=True)
    ]
    bore = polygon(ring.edge, (), CHORD)
    found = {
        "the inner edge": shapely.buffer(bore, edges.bore) if edges.bore else bore,
        "the tooth band": polygon(circle(full), (), CHORD).exterior,
        "a bolt hole": shapely.union_all([polygon(hole, (), CHORD) for hole in holes]),
    }
    if near := _nearby(one.region, ground.openings, ground.bevel):
        found["an opening"] = near
    return found


def _rim(hole: Hole, face: str) -> float:
    """Return the diameter, mm, of what is bored for a bolt in a *face*."""
    if hole.countersink is not None and hole.countersink.face == face:
        return hole.countersink.diameter
    return hole.rim(face) or hole.hole


def _nearby(
    region: shapely.Geometry, openings: Sequence[Contour], bevel: float
) -> shapely.Geometry | None:
    """Return the openings, with their bevels, whose boxes meet that of *region*."""
    reach = CLEAR + bevel
    left, low, right, high = region.bounds
    shapes = []
    for one in openings:
        x, y = one.points.T
        # An arc may stand out of the box of its ends by at most its chord's half.
        more = reach + float(abs(one.bulges).max() * abs(one.chords).max())
        if (
            x.max() + more >= left
            and x.min() - more <= right
            and y.max() + more >= low
            and y.min() - more <= high
        ):
            shapes.append(polygon(one, (), CHORD))
    if not shapes:
        return None
    whole = shapely.union_all(shapes)
    return shapely.buffer(whole, bevel) if bevel else whole

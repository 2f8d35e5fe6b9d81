"""Where the heights of a solid are probed, and what should be there, reckoned from the spec.

A probe is a point of the plan. Its heights follow from the thickness at its radius, and from its
distance to the rims and outlines that are sunk or chamfered, never from the faces of the solid.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import shapely

from openwork.part.alternate import base_radius
from openwork.shape.contour import polygon

if TYPE_CHECKING:
    from openwork.part.blank import Blank
    from openwork.ring import Design

ASIDE = 0.02  # mm beside a step or a rim
INSIDE = 0.15  # mm inside a step, more than a mesh may be off
TURNS = 360  # directions in which a solid place is looked for


@dataclass(frozen=True, slots=True)
class Probe:
    """A point of the plan, what is there in words, and the heights of its metal, mm."""

    point: complex
    name: str
    low: float
    high: float


def probes(design: Design) -> tuple[Probe, ...]:
    """Return the probes of *design*, always in one order."""
    whole = (_band, _zones, _teeth, _bolts, _bore, _pockets, _engraved)
    return tuple(probe for some in whole for probe in some(design))


def _band(design: Design) -> Iterator[Probe]:
    """Yield a probe between shroud and tooth roots, chamfer and lands away from it."""
    ring = design.blank
    back, front = ring.band
    radius = (ring.shroud + ring.diameters.root / 2) / 2
    yield Probe(cmath.rect(radius, 0.3), "tooth band", back, front)
    if (width := design.spec.edges.teeth) > 0:
        gap = complex(ring.diameters.root / 2 - width / 2)
        yield Probe(gap, "chamfer of the teeth", back + width / 2, front - width / 2)


def _zones(design: Design) -> Iterator[Probe]:
    """Yield a probe in each zone inside the shroud, and one on its chamfer."""
    ring, step = design.blank, design.spec.edges.step
    for zone in ring.zones:
        point = _solid(design, zone.outer - step - INSIDE)
        if point is not None:
            yield Probe(point, "inside the shroud", zone.back, zone.front)
    if step:
        zone, (proud_front, proud_back) = ring.zones[-1], ring.steps
        low = zone.back + (step / 2 if proud_back > 0 else 0.0)
        high = zone.front - (step / 2 if proud_front > 0 else 0.0)
        point = cmath.rect(zone.outer - step / 2, 0.2)
        yield Probe(point, "chamfer of the plate at the tooth band", low, high)


def _solid(design: Design, radius: float) -> complex | None:
    """Return a point at *radius* off every opening and its bevel, None where there is none."""
    holes = shapely.union_all([polygon(one, (), ASIDE) for one in design.openings])
    points = [cmath.rect(radius, k * math.tau / TURNS) for k in range(TURNS)]
    away = shapely.distance(holes, shapely.points([(z.real, z.imag) for z in points]))
    best = int(away.argmax())
    return points[best] if away[best] > design.spec.web.widest_bevel + ASIDE else None


def _teeth(design: Design) -> Iterator[Probe]:
    """Yield probes up the middle of a wide and a narrow tooth, from root to tip."""
    ring, tip, chamfer = design.blank, design.blank.tip_diameter / 2, design.spec.edges.teeth
    low, high = base_radius(ring.diameters) + ASIDE, tip - ASIDE - chamfer / 2
    for tooth, part in product((0, 1), (0.0, 0.35, 0.7, 1.0)):
        radius = low + (high - low) * part
        wide = ring.alternating is not None and tooth == 0
        half = (ring.wide_width if wide else ring.tooth_width) / 2
        if part == 1.0 and chamfer:
            # Half way up or so: ruled from the wall at the tip to the side a width further in.
            foot, brow = (_recess(ring, one) for one in (tip, tip - chamfer))
            share = (tip - radius) / chamfer
            half -= (1 - share) * (foot + chamfer) + share * brow
        else:
            half -= _recess(ring, radius)
        point = cmath.rect(radius, (2 * tooth + 1) * math.pi / ring.teeth)
        name = f"{'wide ' if wide else ''}tooth at radius {radius:.2f}"
        yield Probe(point, name, ring.offset - half, ring.offset + half)


def _recess(ring: Blank, radius: float) -> float:
    """Return how far a side stands back at *radius*, mm."""
    if ring.sides is None:
        return 0.0
    beyond = max(radius - ring.sides.start, 0.0)
    if math.isinf(ring.sides.radius):
        return ring.sides.slope * beyond
    return ring.sides.radius - math.sqrt(ring.sides.radius**2 - beyond**2)


def _bolts(design: Design) -> Iterator[Probe]:
    """Yield probes beside each hole: in what is sunk from either face, and on its chamfers."""
    ring, chamfer = design.blank, design.spec.edges.bolts
    half = ring.plate / 2
    points = [complex(*point) for point in ring.mount.bolt_points.tolist()]
    for k, (hole, centre) in enumerate(zip(ring.mount.bolt_holes, points, strict=True), start=1):
        across = 1j * centre / abs(centre)
        for kind, sunk in (("counterbore", hole.counterbore), ("countersink", hole.countersink)):
            if sunk is None:
                continue
            radius = (hole.hole + sunk.diameter) / 4
            low, high = _heights(design, k - 1, radius)
            yield Probe(centre + across * radius, f"{kind} {sunk.face} of bolt {k}", low, high)
        if chamfer:
            radius = max((hole.rim(face) or 0.0) / 2 for face in ("front", "back")) + chamfer / 2
            low, high = _heights(design, k - 1, radius)
            yield Probe(centre + across * radius, f"chamfer of bolt {k}", low, high)
    # The widest of the edges that lie at the pad.
    broken = max(design.spec.edges.bore, design.spec.web.widest_bevel)
    pad = ring.mount.pad - broken - 2 * ASIDE
    yield Probe(points[0] + 1j * points[0] / abs(points[0]) * pad, "pad of bolt 1", -half, half)


def _heights(design: Design, number: int, radius: float) -> tuple[float, float]:
    """Return back and front of a pad *radius* mm from the axis of a bolt."""
    hole, chamfer = design.blank.mount.bolt_holes[number], design.spec.edges.bolts
    taken = {}
    for face in ("back", "front"):
        deep = 0.0
        if (rim := hole.rim(face)) is not None:
            deep = max(0.0, rim / 2 + chamfer - radius) if chamfer else 0.0
        sink, bore = hole.countersink, hole.counterbore
        if sink is not None and sink.face == face:
            slope = math.tan(math.radians(sink.angle / 2))
            deep = max(0.0, (sink.diameter / 2 - radius) / slope)
        if bore is not None and bore.face == face and radius < bore.diameter / 2:
            deep = bore.depth
        taken[face] = deep
    half = design.blank.plate / 2
    return taken["back"] - half, half - taken["front"]


def _bore(design: Design) -> Iterator[Probe]:
    """Yield a probe on the chamfer of the inner edge, under the first pad."""
    ring, width = design.blank, design.spec.edges.bore
    if not width:
        return
    points = ring.edge.points @ (1, 1j)
    bolts = ring.mount.bolt_points @ (1, 1j)
    nearest = min(range(len(points)), key=lambda k: abs(bolts - points[k]).min())
    outward = _outward(design, nearest)
    half = ring.plate / 2 - width / 2
    yield Probe(points[nearest] + outward * width / 2, "chamfer of the inner edge", -half, half)


def _pockets(design: Design) -> Iterator[Probe]:
    """Yield a probe in each pocket."""
    half, pocket = design.blank.plate / 2, design.spec.pocket
    back = {"both": -pocket.floor / 2, "front": -half, "back": half - pocket.floor}[pocket.face]
    for k, one in enumerate(design.pockets, start=1):
        place = polygon(one, (), ASIDE).point_on_surface()
        yield Probe(complex(place.x, place.y), f"pocket {k}", back, back + pocket.floor)


def _engraved(design: Design) -> Iterator[Probe]:
    """Yield a probe in the first line of each mark that has a depth."""
    half = design.blank.plate / 2
    for one in design.engravings:
        if one.depth:
            first, second = one.strokes[0].points[:2] @ (1, 1j)
            line = first if one.strokes[0].bulges[0] else (first + second) / 2
            low = -half + (one.depth if one.face == "back" else 0.0)
            high = half - (one.depth if one.face == "front" else 0.0)
            yield Probe(complex(line), f"line of mark.{one.name}", low, high)


def _outward(design: Design, corner: int) -> complex:
    """Return the way out of the bore at a corner of its edge, where its pieces are tangent."""
    edge = design.blank.edge
    chord = complex(*edge.chords[corner])
    heading = chord / abs(chord) * cmath.exp(-0.5j * float(edge.sweeps[corner]))
    return -1j * heading

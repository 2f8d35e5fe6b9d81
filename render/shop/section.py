"""A radial section through the first bolt and a tooth, as radius against height."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

if TYPE_CHECKING:
    from openwork.ring import Design

STEP = 1e-4  # mm on either side of a radius where a height jumps
STATIONS = 16  # along a turned side

Outline: TypeAlias = list[tuple[float, float]]


def section(design: Design, *, wide: bool = True) -> tuple[Outline, ...]:
    """Return the closed outlines (radius, height; mm) of the metal cut by a half-plane.

    It passes the first bolt and the middle of a tooth, a wide one where teeth alternate and *wide*
    is asked for. The web is shown whole.
    """
    ring, mount = design.blank, design.spec.mount
    bolt, radius = mount.circle / 2, mount.bolt_holes[0].hole / 2
    inner = min(bolt - mount.pad, mount.bore_diameter / 2)
    tip = ring.tip_diameter / 2
    return tuple(
        _closed(design, start, end, wide)
        for start, end in ((inner, bolt - radius), (bolt + radius, tip))
        if end - start > STEP
    )


def _closed(design: Design, start: float, end: float, wide: bool) -> Outline:
    """Return the outline from radius *start* to *end*: along the back, and home by the front."""
    radii = [one for one in _stations(design) if start < one < end]
    ends = [(radius, *heights(design, radius, wide=wide)) for radius in [start, *radii, end]]
    return [*((r, low) for r, low, _ in ends), *((r, high) for r, _, high in reversed(ends))]


def heights(design: Design, radius: float, *, wide: bool = True) -> tuple[float, float]:
    """Return the heights of back and front at a *radius*, mm, through the first bolt's pad."""
    ring, edges = design.blank, design.spec.edges
    zone = next((one for one in ring.zones if radius < one.outer), None)
    if zone is None:
        half = (ring.wide_width if wide and _on_tooth(design, radius) else ring.tooth_width) / 2
        half -= _stood_back(design, radius)
        return ring.offset - half, ring.offset + half
    low, high = zone.back, zone.front
    inner = min(design.spec.mount.circle / 2 - design.spec.mount.pad, ring.mount.bore_diameter / 2)
    bevel = max(edges.bore - (radius - inner), 0.0)
    if zone == ring.zones[-1] and (step := edges.step - (ring.shroud - radius)) > 0:
        bevel = max(bevel, step)
    away = abs(radius - design.spec.mount.circle / 2)
    return low + max(bevel, _sunk(design, away, "back")), high - max(
        bevel, _sunk(design, away, "front")
    )


def _stood_back(design: Design, radius: float) -> float:
    """Return how far a side stands back at a *radius*, its chamfer at the tip counted, mm."""
    ring, chamfer = design.blank, design.spec.edges.teeth
    tip = ring.tip_diameter / 2
    place = np.array([radius, tip, tip - chamfer])
    here, foot, brow = np.zeros(3) if ring.sides is None else ring.sides.recess(place)
    share = (tip - radius) / chamfer if chamfer else 1.0
    return float(here if share >= 1 else (1 - share) * (foot + chamfer) + share * brow)


def _sunk(design: Design, away: float, face: str) -> float:
    """Return how deep a recess of the first bolt is *away* mm from its axis."""
    hole = design.spec.mount.bolt_holes[0]
    bore, sink = hole.counterbore, hole.countersink
    deep, rim = 0.0, hole.rim(face)
    if rim is not None and away > rim / 2:
        deep = max(design.spec.edges.bolts - (away - rim / 2), 0.0)
    if bore is not None and bore.face == face and away < bore.diameter / 2:
        deep = bore.depth
    if sink is not None and sink.face == face and sink.diameter > hole.hole:
        share = (sink.diameter / 2 - away) / (sink.diameter / 2 - hole.hole / 2)
        deep = max(deep, hole.sink_depth * min(share, 1.0))
    return deep


def _on_tooth(design: Design, radius: float) -> bool:
    return radius > design.blank.diameters.root / 2 + 0.5


def _stations(design: Design) -> list[float]:
    """Return the radii at which the outline bends or jumps, from the axis outwards."""
    return sorted({found for radius in _knots(design) for found in (radius - STEP, radius + STEP)})


def _knots(design: Design) -> Iterator[float]:
    ring, edges = design.blank, design.spec.edges
    mount = design.spec.mount
    hole = mount.bolt_holes[0]
    for one in ring.zones:
        yield one.outer
    yield ring.shroud - edges.step
    yield min(mount.circle / 2 - mount.pad, mount.bore_diameter / 2) + edges.bore
    yield ring.diameters.root / 2 + 0.5
    yield ring.tip_diameter / 2 - edges.teeth
    rims = [rim for face in ("front", "back") if (rim := hole.rim(face)) is not None]
    widths = [one.diameter for one in (hole.counterbore, hole.countersink) if one is not None]
    for wide in (*widths, *(rim + 2 * edges.bolts for rim in rims)):
        yield from (mount.circle / 2 + way * wide / 2 for way in (-1, 1))
    if ring.sides is not None:
        yield from np.linspace(ring.sides.start, ring.tip_diameter / 2, STATIONS).tolist()

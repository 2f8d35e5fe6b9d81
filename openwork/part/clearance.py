"""What stands beside a ring, as radius against height: crank arm, chain stay, the room they leave.

Heights count from the plate's mid-plane, towards the front. An arm may lie on the plate, where it
is bolted; of chain and stay everything keeps its distance.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, Annotated, TypeAlias

import numpy as np
import shapely
import shapely.affinity
import shapely.ops
from pydantic import Field, field_validator

from openwork.tables.table import Table

if TYPE_CHECKING:
    from openwork.part.blank import Blank

TOUCH = 1e-6  # mm that two faces on each other may lie in each other by rounding

Line: TypeAlias = tuple[tuple[float, float], ...]


class Clearance(Table):
    """The outlines of what stands beside the ring, [[radius, height], ...] in mm."""

    arm: Annotated[Line, Field(strict=False)] = Field(
        (), description="of the crank arm's face: [[radius, height], ...], mm from the mid-plane"
    )
    stay: Annotated[Line, Field(strict=False)] = Field(
        (), description="of the chain stay: [[radius, height], ...], mm from the mid-plane"
    )
    bolts: float = Field(0.0, ge=0, le=20, description="how far bolts stand out of a face, mm")
    gap: float = Field(1.0, ge=0, le=20, description="least room to chain and stay, mm")

    @field_validator("arm", "stay")
    @classmethod
    def _a_line(cls, line: Line) -> Line:
        if len(line) == 1 or any(b[0] < a[0] for a, b in pairwise(line)):
            raise ValueError("must be two points or more, radii rising")
        return line


def clearance_faults(ring: Blank, given: Clearance) -> list[str]:
    """Return what of *given* meets plate, teeth, bolts or chain of *ring*, with what works."""
    return [
        text
        for name, line, bare in (("arm", given.arm, 0.0), ("stay", given.stay, given.gap))
        if line
        for what, shape in _shapes(ring, given.bolts if name == "stay" else 0.0)
        for text in _met(name, line, what, shape, given.gap if what == "the chain" else bare)
    ]


def chain_box(ring: Blank) -> shapely.Polygon:
    """Return the section of the chain on the ring: its plates' depth, its width over the pins."""
    pitch, deep = ring.diameters.pitch / 2, ring.chain.plate_depth / 2
    half = ring.chain.over_pins / 2
    return shapely.box(pitch - deep, ring.offset - half, pitch + deep, ring.offset + half)


def _shapes(ring: Blank, bolts: float) -> Iterator[tuple[str, shapely.Geometry]]:
    """Yield the sections that must stay free, by name: radius against height."""
    inner = min(ring.mount.circle / 2 - ring.mount.pad, ring.mount.bore_diameter / 2)
    plate, *run_out = ring.zones
    half = ring.wide_width / 2
    band = shapely.box(ring.shroud, ring.offset - half, ring.tip_diameter / 2, ring.offset + half)
    dish = [shapely.box(plate.outer, one.back, one.outer, one.front) for one in run_out]
    yield "the plate", shapely.box(inner, plate.back, plate.outer, plate.front)
    yield "the tooth band", shapely.union_all([*dish, band])
    yield "the chain", chain_box(ring)
    if bolts:
        low, high = ring.zones[0].back - bolts, ring.zones[0].front + bolts
        middle, head = ring.mount.circle / 2, ring.mount.widest / 2
        yield "the bolts", shapely.box(middle - head, low, middle + head, high)


def _met(name: str, line: Line, what: str, shape: shapely.Geometry, room: float) -> Iterator[str]:
    """Yield what is wrong where a *line* comes nearer to a *shape* than *room*, mm."""
    drawn = shapely.LineString(line)
    inside = drawn.intersection(shape.buffer(-TOUCH)).length > 0
    away = 0.0 if inside else float(shapely.distance(drawn, shape))
    if not inside and away >= room - TOUCH:
        return
    behind = float(np.mean([height for _, height in line])) < 0  # of the plate, not of the shape
    move = _move(drawn, shape, room, -1 if behind else 1)
    away_from, towards = ("back", "forward") if behind else ("forward", "back")
    near = shapely.ops.nearest_points(drawn, shape)[0]
    met = f"runs into {what}" if inside else f"is {away:.2f} mm, less than {room:g}, from {what}"
    fixed = what in ("the plate", "the bolts")
    shifted = "" if fixed else f", or ring.offset as much {towards}"
    yield (
        f"clearance.{name}: {met} at radius {near.x:.1f} mm; the line {move:.2f} mm further "
        f"{away_from} works{shifted}"
    )


def _move(drawn: shapely.LineString, shape: shapely.Geometry, room: float, way: int) -> float:
    """Return how far, mm, the line must move that way to keep its *room*, to 0.01 mm."""
    low, high = 0.0, 100.0
    while high - low > 1e-3:
        middle = (low + high) / 2
        moved = shapely.affinity.translate(drawn, 0.0, way * middle)
        free = shapely.distance(moved, shape) >= room - TOUCH
        free = free and moved.intersection(shape.buffer(-TOUCH)).length == 0
        low, high = (low, middle) if free else (middle, high)
    return math.ceil(high * 100) / 100

"""The edges of a ring broken by chamfers of 45 degrees, both faces: what a hand feels first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from pydantic import Field

from openwork.part.broken import broken
from openwork.shape.contour import length
from openwork.tables.table import Table

if TYPE_CHECKING:
    from openwork.part.blank import Blank

ROUND = 2.0  # mm; the arcs of a tooth outline that are tighter round its tip
LAND = 0.05  # mm of flat metal, at least, that two chamfers leave between them


class Edges(Table):
    """Chamfers of 45 degrees on both faces, mm; 0 for none."""

    bore: float = Field(0.0, ge=0, le=6, description="of the inner edge, mm; 0 for none")
    step: float = Field(
        0.0, ge=0, le=5, description="of the plate's edge at the tooth band, mm; 0 for none"
    )
    teeth: float = Field(0.0, ge=0, le=1, description="round equal teeth, mm; 0 for none")
    bolts: float = Field(0.0, ge=0, le=2, description="of the bolt holes, mm; 0 for none")


def edge_faults(ring: Blank, edges: Edges, *, hem: float, rim: float, bevel: float) -> list[str]:
    """Return what is impossible about *edges* beside a web of that *hem*, *rim* and *bevel*, mm."""
    return [
        f"edges.{key} {given:g} mm: {why}; {max(math.floor((most - LAND) * 100 + 1e-6) / 100, 0):g}"
        " works"
        for key, given, limits in _limits(ring, edges, hem=hem, rim=rim, bevel=bevel)
        for most, why in [min(limits)]
        if given > max(most - LAND, 0) + 1e-6
    ]


def _limits(
    ring: Blank, edges: Edges, *, hem: float, rim: float, bevel: float
) -> Iterator[tuple[str, float, list[tuple[float, str]]]]:
    """Yield each chamfer with the widest it may be, mm, and what it would meet there."""
    mount, half = ring.mount, ring.plate / 2
    pad = mount.pad - mount.widest / 2
    proud = [one for one in ring.steps if one > 0]
    inner = ring.diameters.root / 2 - rim + bevel
    yield (
        "bore",
        edges.bore,
        [
            (half, f"meets itself inside a plate of {ring.plate:g} mm"),
            (hem - bevel, f"meets the bevels across a hem of {hem:g} mm"),
            (pad - edges.bolts, f"meets what is bored for a bolt in a pad of {mount.pad:g} mm"),
        ],
    )
    yield (
        "step",
        edges.step,
        [
            (min(proud, default=0.0), f"the plate stands {min(proud, default=0):.3f} mm proud"),
            (ring.shroud - inner, f"meets the bevels across a rim of {rim:g} mm"),
            (
                ring.shroud - mount.circle / 2 - mount.widest / 2 - edges.bolts,
                "meets what is bored for a bolt",
            ),
        ],
    )
    yield "teeth", edges.teeth, [_tooth_limit(ring)]
    left = ring.plate - max(one.sunk_depth for one in mount.bolt_holes)
    yield (
        "bolts",
        edges.bolts,
        [
            (left / 2, f"meets itself in holes {left:g} mm deep"),
            (pad - bevel, f"meets the bevels in a pad of {mount.pad:g} mm"),
        ],
    )


def _tooth_limit(ring: Blank) -> tuple[float, str]:
    """Return the widest chamfer that teeth bear: none beside lands, whose walls it would meet."""
    if ring.alternating is not None:
        return 0.0, (
            "is for equal teeth; beside wide ones it would meet their walls, and a shop brushes or "
            "tumbles those edges"
        )
    rounds = ring.outline.radii[(ring.outline.bulges > 0) & (ring.outline.radii < ROUND)]
    tip = np.array(ring.tip_diameter / 2)
    stood_back = 0.0 if ring.sides is None else float(ring.sides.recess(tip))
    thick = ring.tooth_width - 2 * stood_back
    return min(
        (float(rounds.min()), "is wider than the corners of the tips are round"),
        (thick / 2, f"meets itself at the tip of teeth {thick:.2f} mm thick there"),
    )


def chamfered(ring: Blank, edges: Edges) -> float:
    """Return the volume, mm3, that *edges* take off *ring*, exact by Steiner's formula.

    A hole that widens by b takes L b^2 / 2 + pi b^3 / 3 on a face, metal that narrows
    L b^2 / 2 - pi b^3 / 3. Of turned teeth it is integrated.
    """
    rims = [one.rim(face) for one in ring.mount.bolt_holes for face in ("front", "back")]
    return (
        2 * _widened(length(ring.edge), edges.bore)
        + sum(_widened(math.pi * rim, edges.bolts) for rim in rims if rim is not None)
        + sum(_narrowed(math.tau * ring.shroud, edges.step) for one in ring.steps if one > 0)
        + _off_teeth(ring, edges.teeth)
    )


def _off_teeth(ring: Blank, width: float) -> float:
    if not width:
        return 0.0
    if ring.sides is None:
        return 2 * _narrowed(length(ring.outline), width)
    return broken(ring, ring.sides, width)


def _widened(outline: float, width: float) -> float:
    return outline * width**2 / 2 + math.pi * width**3 / 3


def _narrowed(outline: float, width: float) -> float:
    return outline * width**2 / 2 - math.pi * width**3 / 3

"""A quarter of every outline about the common bolt circle, at one scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from openwork.render.drawing.path import number
from openwork.render.drawing.pen import Pen
from openwork.render.paper.page import SMALL
from openwork.shape.contour import sampled

if TYPE_CHECKING:
    from openwork.ring import Design
    from openwork.shape.contour import Contour, Points

Place: TypeAlias = tuple[float, float]

LINE = 0.1
COMMON = 0.25  # what all sizes share is drawn firmer
SAGITTA = 0.02  # mm of the ring
BELOW = 3.2  # mm under the axis for the tooth counts


def overlay(pen: Pen, at: Place, side: float, rings: Sequence[Design]) -> float:
    """Draw the quarter in a square of *side* and return the scale's reduction, 1 : n."""
    x, y = at
    far = max(ring.blank.tip_diameter for ring in rings) / 2
    unit = (side - BELOW - 1) / far
    origin = (x + 1, y + side - BELOW)
    for ring in rings:
        _quarter(pen, origin, unit, ring.blank.outline, LINE)
    base = rings[0].blank
    _quarter(pen, origin, unit, base.edge, COMMON)
    for bolt in base.bolts:
        _quarter(pen, origin, unit, bolt, COMMON)
    _circle(pen, origin, unit, base.mount.circle / 2)
    pen.line(origin, (origin[0] + far * unit + 0.5, origin[1]), 0.06)
    pen.line(origin, (origin[0], origin[1] - far * unit - 0.5), 0.06)
    _counts(pen, origin, unit, rings)
    return 1 / unit


def _counts(pen: Pen, origin: Place, unit: float, rings: Sequence[Design]) -> None:
    """Write the tooth counts under the axis where their root circles meet it, if there is room."""
    last = -math.inf
    for ring in rings:
        place = origin[0] + ring.blank.diameters.root / 2 * unit
        if place - last >= 1.8 * SMALL:
            pen.text((place, origin[1] + 1.3 * SMALL), str(ring.blank.teeth), SMALL, middle=True)
            last = place


def _circle(pen: Pen, origin: Place, unit: float, radius: float) -> None:
    angles = np.linspace(0, math.pi / 2, 60)
    points = radius * np.column_stack([np.cos(angles), np.sin(angles)])
    _path(
        pen, [points], origin, unit, {"stroke_width": number(0.12), "stroke_dasharray": "1.2 0.8"}
    )


def _quarter(pen: Pen, origin: Place, unit: float, contour: Contour, width: float) -> None:
    """Draw what of *contour* lies to the right of and above the centre."""
    points = sampled(contour, SAGITTA)
    inside = (points >= -1e-6).all(axis=1)
    if not inside.any():
        return
    start = 0 if inside.all() else int(np.flatnonzero(~inside)[0])
    turned, kept = np.roll(points, -start, axis=0), np.roll(inside, -start)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], kept, [False]]).astype(int)))
    runs = [turned[a:b] for a, b in edges.reshape(-1, 2)]
    if inside.all():
        runs = [np.vstack([points, points[:1]])]
    _path(pen, runs, origin, unit, {"stroke_width": number(width)})


def _path(
    pen: Pen,
    runs: Sequence[Points],
    origin: Place,
    unit: float,
    style: dict[str, Any],
) -> None:
    data = []
    for run in runs:
        page = run * [unit, -unit] + origin
        data.append("M" + "L".join(f"{number(a, 2)},{number(b, 2)}" for a, b in page))
    pen.group.add(pen.drawing.path("".join(data), fill="none", stroke="#000", **style))

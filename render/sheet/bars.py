"""The small bars of a cell: how its figures stand against the greatest on the sheets."""

from __future__ import annotations

from collections.abc import Mapping

from openwork.explore.variants.variants import Entry, Made
from openwork.render.drawing.pen import Pen
from openwork.render.paper.layout import Arranged, Place
from openwork.render.paper.page import THIN

WIDE = 1.0  # mm
APART = 0.8
TALL = 6.0  # of the greatest

Shares = tuple[float, ...]


def bars(entries: Arranged[Entry]) -> Mapping[Place, Shares]:
    """Return mass, solid share and, if known, stiffness of each ring over the greatest of all."""
    rings = {place: _heights(entry) for place, entry in entries if isinstance(entry, Made)}
    greatest = [max(column) for column in zip(*rings.values(), strict=True)]
    return {
        place: tuple(one / most for one, most in zip(values, greatest, strict=True) if most)
        for place, values in rings.items()
    }


def _heights(entry: Made) -> Shares:
    stiff = 0.0 if entry.strength is None else entry.strength.plane.stiffness_vs_plate
    return entry.figures.mass, entry.figures.solid_share, stiff


def draw_bars(pen: Pen, corner: tuple[float, float], shares: Shares) -> None:
    """Draw the bars of one ring, if any, so that they fill the upper right *corner* of its cell."""
    if not shares:
        return
    right, top = corner
    wide = len(shares) * (WIDE + APART) - APART
    for number, share in enumerate(shares):
        x = right - wide + number * (WIDE + APART)
        pen.block((x, top + TALL * (1 - share)), (WIDE, TALL * share), "#000")
    pen.line((right - wide, top + TALL), (right, top + TALL), THIN)

"""The lower part of a family's sheet: outlines, charts and figures of consistency, side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openwork.explore.family.size import MadeSize
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import wrapped
from openwork.render.family.chart import Series, charts
from openwork.render.family.overlay import overlay
from openwork.render.paper.frame import FOOT, MARGIN, Frame
from openwork.render.paper.page import HEAD, SMALL

if TYPE_CHECKING:
    from openwork.explore.family.family import Family

LOWER = 58.0  # mm, its height
CHARTS = 108.0  # mm, width of the charts
APART = 8.0  # mm between the three
INSET = 2.0  # mm under the line that parts it from the rings


def compared(pen: Pen, frame: Frame, family: Family) -> None:
    """Draw outlines, charts and consistency below the rings."""
    top = frame.bottom - FOOT - LOWER + INSET
    pen.line((MARGIN, top - INSET), (frame.right, top - INSET), 0.12)
    deep = LOWER - 2 * INSET
    made = [one.design for one in family.made]
    if made:
        group = pen.inside("outlines")
        overlay(group, (MARGIN, top), deep, made)
    left, width = MARGIN + deep + APART, CHARTS
    teeth = [one.teeth for one in family.sizes]
    charts(pen.inside("charts"), (left, top), (width, deep), teeth, _series(family))
    right = left + width + APART
    _consistency(pen.inside("consistency"), (right, top), frame.right - right, family)


def _series(family: Family) -> list[Series]:
    sizes = family.sizes
    wanted = [sum(one.wanted) / 2 if isinstance(one.wanted, tuple) else one.wanted for one in sizes]
    figures = [one.figures if isinstance(one, MadeSize) else None for one in sizes]
    ribs = [None if one is None else one.rib["least"] for one in figures]
    series = [
        Series(
            title="mass, g",
            wanted=wanted,
            values=[None if one is None else one.mass for one in figures],
        ),
        Series(title="least rib, mm", values=ribs),
    ]
    return series if family.made else series[:1]


def _consistency(pen: Pen, at: tuple[float, float], wide: float, family: Family) -> None:
    """Set the spread of every figure in a table, and which size stands out, under it."""
    (x, y), found = at, family.consistency
    columns = [x + wide * share for share in (0.52, 0.68, 0.84, 1.0)]
    base = y + HEAD
    pen.text((x, base), "over the family", HEAD, bold=True)
    if not found.spreads:
        pen.text((x, base + 1.5 * SMALL), found.line, SMALL)
        return
    for place, name in zip(columns, ("least", "mean", "most", "spread"), strict=True):
        pen.text((place, base), name, SMALL, end=True)
    for one in found.spreads:
        base += 1.35 * SMALL
        unit = f", {one.trait.unit}" if one.trait.unit not in ("", "1") else ""
        pen.text((x, base), f"{one.trait.words}{unit}", SMALL)
        for place, value in zip(columns, (one.least, one.mean, one.most), strict=False):
            pen.text((place, base), f"{round(value, 2) + 0.0:.2f}", SMALL, end=True)
        spread = f"{100 * one.spread:.0f} %" if one.trait.relative else f"{one.spread:.2f}"
        pen.text((columns[-1], base), spread, SMALL, end=True)
    pen.line((x, base + 1.2), (x + wide, base + 1.2), 0.12)
    for line in wrapped(found.line, wide, SMALL):
        base += 1.5 * SMALL
        pen.text((x, base), line, SMALL)

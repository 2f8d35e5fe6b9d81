"""The exact outline of a ring for the shop.

The outline is what a cutter follows: mm throughout, one user unit is one mm, absolute arcs, no
transforms, no style sheets, nothing derived from a stroke.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from svgwrite.base import BaseElement

from openwork.lettering.engraving import engraved
from openwork.part.marks import band_circles, recesses
from openwork.render.drawing.canvas import canvas, describe, written
from openwork.render.drawing.path import exact_path, exact_stroke, number
from openwork.render.drawing.recipe import design_recipe
from openwork.shape.contour import Contour, is_circle
from openwork.tables.caution import CAUTION
from openwork.tables.plain import in_mm

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.ring import Design

HAIRLINE = 0.1  # mm
ALWAYS = {"teeth", "edge", "bolts", "openings"}
CLEAR = 1.0  # mm, least distance of the ring from the border of its drawing


def ring_svg(design: Design, figures: Figures) -> str:
    """Return the outline drawing of *design*, mm, with its figures in words and its recipe.

    Groups: ``teeth`` the outer outline, ``edge`` the inner edge, ``bolts`` and ``openings``;
    ``pockets`` openings that keep a floor, ``pockets-back`` those cut from the back alone;
    ``band`` the circle where the plate steps down to the teeth, ``counterbore`` and ``countersink``
    the rims of recesses in the front, which is seen, with ``-back`` of those behind; ``engrave``
    the open centre lines of the marks.
    """
    blank = design.blank
    middle = half_width(design)
    drawing = canvas(2 * middle, 2 * middle, title=design.spec.title, recipe=design_recipe(design))
    describe(drawing, _summary(design, figures))
    pen = {"fill": "none", "stroke": "#000", "stroke_width": HAIRLINE, "fill_rule": "evenodd"}
    drawing.update(pen)
    parts = {
        "teeth": (blank.outline,),
        "edge": (blank.edge,),
        "bolts": blank.bolts,
        "openings": design.through,
        "pockets-back" if design.spec.pocket.face == "back" else "pockets": design.pockets,
        "band": band_circles(blank),
        **{name.replace(" ", "-"): rims for name, rims in recesses(blank).items()},
    }
    for name, contours in parts.items():
        if name not in ALWAYS and not contours:
            continue
        group = drawing.add(drawing.g(id=name))
        for contour in contours:
            group.add(_outline(drawing, contour, middle))
    for name, strokes in engraved(design.engravings).items():
        group = drawing.add(drawing.g(id=name.replace(" ", "-")))
        for stroke in strokes:
            group.add(drawing.path(exact_stroke(stroke, middle)))
    return written(drawing)


def engraved_lines(drawing: Any, design: Design, middle: float) -> Any:
    """Return the marks of the front as lines of their width, on paper."""
    group = drawing.g(fill="none", stroke="#000", stroke_linecap="round", stroke_linejoin="round")
    for one in design.engravings:
        if one.face == "front":
            data = "".join(exact_stroke(line, middle) for line in one.strokes)
            group.add(drawing.path(data, stroke_width=one.line))
    return group


def half_width(design: Design) -> int:
    """Return half the width of the drawing, mm: whole, so that the centre has round numbers."""
    return math.ceil(design.blank.tip_diameter / 2 + CLEAR)


def _outline(drawing: Any, contour: Contour, middle: float) -> BaseElement:
    if is_circle(contour):
        x, y = contour.centres[0] * [1, -1] + middle
        return drawing.circle((number(x), number(y)), number(contour.radii[0]))
    return drawing.path(exact_path(contour, middle))


def _summary(design: Design, figures: Figures) -> str:
    count, words = figures.pockets, design.spec.pocket.words(design.blank.plate)
    pockets = f"{count} pockets: {words}. " if count else ""
    return (
        f"{pockets}Nominal contours in mm, seen from the front, no cutter or kerf compensation. "
        f"Mass {figures.mass:.1f} g, "
        f"solid share of the web {100 * figures.solid_share:.0f} %, "
        f"least rib {in_mm(figures.rib['least'])}, "
        f"least inside radius {in_mm(figures.corner_least)}. {CAUTION}"
    )

"""A picture of the ring for the eye: a warm grey face, the tooth band a tone darker.

The metal is one even-odd path, so that a renderer cannot leave seams in it. The tone of plate and
tooth band is one radial gradient with a step at the shroud, where the thickness changes. The bevel
of each opening is the strip between the opening and its parallel, lit from the upper left. The
background stays transparent.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from openwork.shape.contour import Contour
from openwork.shape.offset import dilated

from ._path import compact_path, number
from .svg import canvas, design_recipe, half_width, written

if TYPE_CHECKING:
    from openwork.design import Design

UNIT = 0.01  # mm, grid of the picture's points: a tenth of its finest line
EDGE = 0.18  # mm, line round the metal
STEP = 0.25  # mm, over which the tone changes at the shroud
PLATE = ("#c6c0b7", "#bab3a9")  # from the bore to the shroud
BAND = ("#a29a8f", "#978f84")  # from the shroud to the tips
LINE = "#6a645b"
SHADE, LIGHT = "#7f776c", "#f1ede6"  # bevel turned from the light, and towards it


def contours(design: Design) -> tuple[Contour, ...]:
    """Return every contour that bounds the metal: outline, inner edge, bolt holes, openings."""
    blank = design.blank
    return (blank.outline, blank.edge, *blank.bolts, *design.openings)


def face(design: Design, unit: float = UNIT) -> str:
    """Return the metal as path data for even-odd filling, about the origin, in *unit* mm."""
    return compact_path(contours(design), unit)


def preview_svg(design: Design) -> str:
    """Return the filled picture of *design*, drawn at its size in mm."""
    middle = half_width(design)
    drawing = canvas(2 * middle, 2 * middle, title=design.spec.title, recipe=design_recipe(design))
    drawing.defs.add(_metal(drawing, design))
    drawing.defs.add(_bevel(drawing))
    ring = drawing.add(drawing.g(fill_rule="evenodd"))
    ring["transform"] = f"translate({middle} {middle}) scale({number(UNIT)})"
    ring.add(drawing.g(fill="url(#metal)")).add(drawing.path(face(design), id="face"))
    if design.spec.web.bevel > 0:
        strips = ring.add(drawing.g(id="bevels", fill="url(#bevel)"))
        for opening in design.openings:
            strip = (dilated(opening, design.spec.web.bevel), opening)
            strips.add(drawing.path(compact_path(strip, UNIT)))
    line = {"stroke": LINE, "stroke_width": number(EDGE / UNIT), "stroke_linejoin": "round"}
    ring.add(drawing.use("#face", fill="none", **line))
    return written(drawing)


def _metal(drawing: Any, design: Design) -> Any:
    """Return the tones of the face along the radius, with the step at the shroud."""
    radius = design.blank.tip_diameter / 2
    size = {"center": (0, 0), "r": number(radius / UNIT), "gradientUnits": "userSpaceOnUse"}
    gradient = drawing.radialGradient(id="metal", **size)
    start = design.blank.mount.bore_diameter / 2
    shroud = design.blank.shroud
    tones = ((start, PLATE[0]), (shroud - STEP, PLATE[1]), (shroud, BAND[0]), (radius, BAND[1]))
    for at, colour in tones:
        gradient.add_stop_color(number(at / radius, 4), colour)
    return gradient


def _bevel(drawing: Any) -> Any:
    """Return the tones of a bevel, across the box round its opening."""
    gradient = drawing.linearGradient((0, 0), (1, 1), id="bevel")
    gradient.add_stop_color(0.15, SHADE)
    gradient.add_stop_color(0.85, LIGHT)
    return gradient

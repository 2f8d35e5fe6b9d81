"""A picture of the ring for the eye, in the colour of its finish; the ground is transparent."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ._part import UNIT, contours, face, part
from ._path import number
from .svg import canvas, design_recipe, half_width, written

if TYPE_CHECKING:
    from openwork.design import Design

__all__ = ["contours", "face", "preview_svg"]

ROOM = 4  # mm round the ring for its shadow


def preview_svg(design: Design, *, name: str = "") -> str:
    """Return the filled picture of *design*, drawn at its size in mm; *name* ends each id in it."""
    middle = half_width(design) + (ROOM if design.spec.look.shadow else 0)
    drawing = canvas(2 * middle, 2 * middle, title=design.spec.title, recipe=design_recipe(design))
    ring = drawing.add(part(drawing, design, name=name))
    ring["transform"] = f"translate({middle} {middle}) scale({number(UNIT)})"
    return written(drawing)

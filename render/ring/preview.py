"""A picture of the ring for the eye, in the colour of its finish; the ground is transparent."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from openwork.render.drawing.canvas import canvas, written
from openwork.render.drawing.path import number
from openwork.render.drawing.recipe import design_recipe
from openwork.render.ring.outline import half_width
from openwork.render.ring.part import UNIT, face, part

if TYPE_CHECKING:
    from openwork.ring import Design

__all__ = ["face", "preview_svg"]

ROOM = 4  # mm round the ring for its shadow


def preview_svg(design: Design, *, name: str = "", turn: float = 0.0) -> str:
    """Return the filled picture of *design*, drawn at its size in mm; *name* ends each id in it.

    The ring is shown turned by *turn* radians, the light stays.
    """
    middle = half_width(design) + (ROOM if design.spec.look.shadow else 0)
    drawing = canvas(2 * middle, 2 * middle, title=design.spec.title, recipe=design_recipe(design))
    ring = drawing.add(part(drawing, design, name=name, turn=turn))
    turned = f" rotate({number(-math.degrees(turn), 6)})" if turn else ""
    ring["transform"] = f"translate({middle} {middle}){turned} scale({number(UNIT)})"
    return written(drawing)

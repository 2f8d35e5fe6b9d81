"""What panels cost: the metal of the openings that are left out for them."""

from __future__ import annotations

import math

from openwork.ring import Design
from openwork.shape.contour import area, length


def panel_mass(design: Design) -> float:
    """Return the mass, g, that the openings left out for panels would have taken, bevels too.

    Of those that would have kept a floor its rounding is left out.
    """
    if not design.panelled:
        return 0.0
    plate, faces = design.blank.plate, len(design.spec.pocket.faces)
    floors = design.panelled_floors or (0.0,) * len(design.panelled)
    widths = design.bevels(design.panelled)
    volume = 0.0
    for one, floor, bevel in zip(design.panelled, floors, widths, strict=True):
        strip = length(one) * bevel**2 / 2 + math.pi * bevel**3 / 3  # Steiner's formula
        volume += area(one) * (plate - floor) + (faces if floor else 2) * strip
    return volume * design.blank.material.density

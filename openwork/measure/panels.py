"""What panels cost: the metal of the openings that are left out for them."""

from __future__ import annotations

import math

from openwork.ring import Design
from openwork.shape.contour import area, length


def panel_mass(design: Design) -> float:
    """Return the mass, g, that the openings left out for panels would have taken, bevels too."""
    if not design.panelled:
        return 0.0
    widths = design.bevels(design.panelled)
    volume = sum(
        area(one) * design.blank.plate + length(one) * bevel**2 + 2 * math.pi * bevel**3 / 3
        for one, bevel in zip(design.panelled, widths, strict=True)
    )
    return volume * design.blank.material.density

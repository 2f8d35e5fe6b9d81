"""What panels cost: the metal of the openings that are left out for them."""

from __future__ import annotations

import math

from openwork.ring import Design
from openwork.shape.contour import area, length


def panel_mass(design: Design) -> float:
    """Return the mass, g, that the openings left out for panels would have taken, bevels too."""
    plate, bevel = design.blank.plate, design.spec.web.bevel
    volume = sum(
        area(one) * plate + length(one) * bevel**2 + 2 * math.pi * bevel**3 / 3
        for one in design.panelled
    )
    return volume * design.blank.material.density

"""What lies below the face that is seen: counterbores and pockets, their floors and shades.

A floor is a tone of its own; of the wall that stands towards the light only its shade shows: what
of the outline is left when it is moved away from the light.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from openwork.render.ring.tones import LIGHT
from openwork.shape.contour import Contour, Points, circle, polygon, polygon_contour

if TYPE_CHECKING:
    from openwork.ring import Design

SHADE = 0.6  # most share of a counterbore's floor that lies in the shade of its wall
SLOPE = 0.55  # mm of shade for each mm of depth
FINE = 0.02  # mm between the shade of a pocket and the chords that bound it
SPECK = 0.01  # mm2; less shade is not drawn


def counterbores(design: Design, light: complex = LIGHT) -> tuple[list[Contour], list[Contour]]:
    """Return wall and bolt hole of each counterbore seen, and the shade of each wall."""
    mount = design.blank.mount
    floors, shades = [], []
    for hole, bolt, (x, y) in zip(
        mount.bolt_holes, design.blank.bolts, mount.bolt_points, strict=True
    ):
        bore = hole.counterbore
        if bore is None or bore.face == "back":
            continue
        outer = bore.diameter / 2
        reach = min(bore.depth, SHADE * (outer - hole.hole / 2))
        wall = circle(outer, (x, y))
        floors += [wall, bolt]
        shades.append(_lune(wall, outer, np.array([-light.real, -light.imag]) * reach))
    return floors, shades


def pockets(design: Design, light: complex = LIGHT) -> tuple[tuple[Contour, ...], list[Contour]]:
    """Return the pockets that are seen from the front, and the shades of their walls."""
    pocket = design.spec.pocket
    if "front" not in pocket.faces or not design.pockets:
        return (), []
    shift = -SLOPE * pocket.depth(design.blank.plate) * light
    holes = np.array([polygon(one, (), FINE) for one in design.pockets], dtype=object)
    moved = shapely.transform(holes, lambda points: points + np.array([shift.real, shift.imag]))
    parts = shapely.get_parts(shapely.difference(holes, moved))
    shades = shapely.simplify(parts[shapely.area(parts) > SPECK], FINE)
    return design.pockets, [polygon_contour(shapely.get_coordinates(one)[:-1]) for one in shades]


def _lune(wall: Contour, radius: float, shift: Points) -> Contour:
    """Return what of the disc in *wall* lies outside the same disc moved by *shift*."""
    step = float(np.hypot(*shift))
    along = shift / step
    half = np.arccos(step / 2 / radius)
    middle = wall.points.mean(axis=0) + shift / 2
    across = np.array([-along[1], along[0]]) * radius * np.sin(half)
    bulges = np.tan([(np.pi - half) / 2, -half / 2])
    return Contour(np.array([middle + across, middle - across]), bulges)

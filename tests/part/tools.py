"""Measures of an outline that know nothing of how it was drawn."""

import numpy as np
import shapely

from openwork.shape.contour import Contour, Floats, as_complex


def lengths(contour: Contour) -> Floats:
    """Return the lengths (n,) of the pieces, mm."""
    chord = np.hypot(*contour.chords.T)
    straight = contour.bulges == 0
    result: Floats = np.where(
        straight, chord, np.where(straight, 0, contour.radii) * abs(contour.sweeps)
    )
    return result


def kinks(contour: Contour) -> Floats:
    """Return the angles (n,) by which the outline breaks at the ends of its pieces, degrees."""
    heading = np.angle(as_complex(contour.chords))
    ends, starts = heading + contour.sweeps / 2, heading - contour.sweeps / 2
    turned = np.roll(starts, -1) - ends
    result: Floats = np.abs(np.degrees((turned + np.pi) % (2 * np.pi) - np.pi))
    return result


def relieved(face: shapely.Geometry, tip: float, *, pitch: float = 12.7, rings: int = 50) -> float:
    """Return what sides after ISO 606 take off the teeth of a *face*, mm3, by narrow annuli.

    Side radius the pitch, relief 0.06 of it at the *tip* radius (clause 5.6, from memory).
    """
    relief = 0.06 * pitch
    start = tip - np.sqrt(2 * pitch * relief - relief**2)
    radii = np.linspace(start, tip + 1e-3, rings + 1)
    inside = [
        face.intersection(shapely.Point(0, 0).buffer(one, quad_segs=256)).area for one in radii
    ]
    middle = (radii[1:] + radii[:-1]) / 2 - start
    recess = pitch - np.sqrt(pitch**2 - middle**2)
    return float(2 * (np.diff(inside) * recess).sum())

"""Measures of an outline that know nothing of how it was drawn."""

import numpy as np

from openwork.shape.contour import Contour, Floats


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
    heading = np.angle(contour.chords @ np.array([1, 1j]))
    ends, starts = heading + contour.sweeps / 2, heading - contour.sweeps / 2
    turned = np.roll(starts, -1) - ends
    result: Floats = np.abs(np.degrees((turned + np.pi) % (2 * np.pi) - np.pi))
    return result

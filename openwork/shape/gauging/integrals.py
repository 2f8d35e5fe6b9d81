"""Area, length and first moment of many contours at once, exact over their lines and arcs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from openwork.shape.contour import Complex, Contour, Floats
from openwork.shape.gauging.samples import Pieces, pieces_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Integrals:
    """Of contours (n,): signed areas, mm2; lengths of outline, mm; first moments of area, mm3.

    The moments are complex, x + iy, and about the origin.
    """

    areas: Floats
    lengths: Floats
    moments: Complex

    @property
    def centroids(self) -> Complex:
        """Centroids (n,) of the enclosed areas, mm."""
        return self.moments / self.areas


def integrals(contours: Sequence[Contour]) -> Integrals:
    """Return the integrals of *contours*, as ``area``, ``length`` and ``moment`` of each give.

    >>> from openwork.shape.contour import circle
    >>> found = integrals([circle(1.0), circle(2.0, (3.0, 4.0))])
    >>> (found.areas / np.pi).round(9).tolist(), (found.lengths / np.pi).round(9).tolist()
    ([1.0, 4.0], [2.0, 4.0])
    >>> found.centroids.round(9).tolist()
    [0j, (3+4j)]
    """
    if not contours:
        return Integrals(areas=np.zeros(0), lengths=np.zeros(0), moments=np.zeros(0, complex))
    pieces = pieces_of(contours)

    def total(values: Floats) -> Floats:
        return np.bincount(pieces.owner, weights=values, minlength=len(contours)).astype(float)

    start, end = pieces.start, pieces.start + pieces.chord
    cross = (start.conj() * end).imag
    areas, moments = _segments(pieces)
    moments = moments + (start + end) * cross / 6
    return Integrals(
        areas=total(cross / 2 + areas),
        lengths=total(pieces.length),
        moments=total(moments.real) + 1j * total(moments.imag),
    )


def _segments(pieces: Pieces) -> tuple[Floats, Complex]:
    """Return area and first moment of what lies between each arc and its chord; 0 for lines.

    From the middle of a circle, the centroid of a segment lies behind its chord; formulas:
    integrals of the circle.
    """
    arcs = pieces.sweep != 0
    radius = np.where(arcs, pieces.radius, 0.0)
    centre = np.where(arcs, pieces.centre, 0.0)
    areas = radius**2 / 2 * (pieces.sweep - np.sin(pieces.sweep))
    first = 2 / 3 * radius**3 * np.abs(np.sin(pieces.sweep / 2)) ** 3
    return areas, centre * areas - 1j * pieces.chord / np.abs(pieces.chord) * first

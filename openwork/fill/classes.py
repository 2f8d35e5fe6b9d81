"""Which of many outlines are one and the same, turned about the ring's axis or mirrored.

What is true of one of them is then done once and copied, and looks alike wherever it stands.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from openwork.shape.contour import Contour, Points, mirrored, rotated
from openwork.shape.known import ON, Circle

SAME = 3e-4  # mm vertices of copies may lie apart: where a chord was cut in place of its arc

Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class Copy:
    """The outline of number ``of``, mirrored in the x axis or not, then turned by ``angle``."""

    of: int
    angle: float = 0.0
    mirror: bool = False

    def made(self, contour: Contour) -> Contour:
        """Return what *contour*, made of the outline copied, is here."""
        image = mirrored(contour) if self.mirror else contour
        return rotated(image, self.angle) if self.angle else image


@dataclass(frozen=True, slots=True)
class _Outline:
    """The vertices that tell an outline, ccw; area and length, mm, of the whole."""

    number: int
    vertices: Complex
    area: float
    length: float


def copies(rings: Sequence[Points], circles: Sequence[Circle] = ()) -> list[Copy]:
    """Return for each closed polyline (n, 2) the first that it is a copy of, at times itself.

    Where vertices lie on *circles* does not count: chords stand for them, from anywhere on.

    >>> square = np.array([[4.0, 0], [5, 0], [5, 1], [4, 1]])
    >>> [one.of for one in copies([square, square @ [[0, 1], [-1, 0]], square * [1, -1]])]
    [0, 0, 0]
    """
    first: dict[int, list[_Outline]] = defaultdict(list)
    found = []
    for number, ring in enumerate(rings):
        outline = _outline(number, ring, circles)
        group = first[len(outline.vertices)]
        same = (_copy(known, outline) for known in group)
        copy = next((one for one in same if one), None)
        if copy is None:
            group.append(outline)
            copy = Copy(number)
        found.append(copy)
    return found


def _outline(number: int, ring: Points, circles: Sequence[Circle]) -> _Outline:
    z = ring @ np.array([1.0, 1.0j])
    chords = np.roll(z, -1) - z
    area = float((z.conj() * chords).imag.sum() / 2)
    if area < 0:
        z = z[::-1]
    if circles:
        x, y, radius = np.array(circles).T
        off = np.abs(np.abs(z[:, None] - (x + 1j * y)) - radius).min(axis=1)
        # A round that lies on the circles altogether is told by its vertices all the same.
        z = z[off > ON] if (off > ON).any() else z
    return _Outline(number, z, abs(area), float(np.abs(chords).sum()))


def _copy(known: _Outline, here: _Outline) -> Copy | None:
    """Return how the outline *here* comes from *known*, if it does."""
    reach = np.abs(known.vertices).mean() - np.abs(here.vertices).mean()
    if abs(reach) > SAME or abs(known.area - here.area) > SAME * here.length:
        return None
    place = here.vertices.mean()
    for image, mirror in ((known.vertices, False), (known.vertices.conj()[::-1], True)):
        if min(abs(place), abs(image.mean())) < SAME:
            continue
        angle = float(np.angle(place / image.mean()))
        turned = image * np.exp(1j * angle)
        start = int(np.argmin(np.abs(turned - here.vertices[0])))
        if np.abs(np.roll(turned, -start) - here.vertices).max() < SAME:
            return Copy(known.number, angle, mirror)
    return None

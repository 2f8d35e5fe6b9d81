"""Which of many outlines are one and the same, turned about the ring's axis or mirrored.

What is true of one of them is then done once and copied, and looks alike wherever it stands.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from openwork.shape.contour import Contour, Floats, Points, mirrored, rotated
from openwork.shape.tracing.known_circles import ON, Circle, centres_and_radii

SAME_COPY = 3e-4  # mm vertices of copies may lie apart: where a chord was cut in place of its arc

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
    """The vertices that tell an outline, ccw, and those on circles; its area and length, mm."""

    number: int
    vertices: Complex
    bound: Complex
    area: float
    length: float


def copies(rings: Sequence[Points], circles: Sequence[Circle] = ()) -> list[Copy]:
    """Return for each closed polyline (n, 2) the first that it is a copy of, at times itself.

    Where on *circles* vertices lie does not count: chords stand for these, from anywhere on. But a
    copy's lie on circles too.

    >>> square = np.array([[4.0, 0], [5, 0], [5, 1], [4, 1]])
    >>> [one.of for one in copies([square, square @ [[0, 1], [-1, 0]], square * [1, -1]])]
    [0, 0, 0]
    """
    centres, radii = centres_and_radii(circles)
    first: dict[int, list[_Outline]] = defaultdict(list)
    found = []
    for number, ring in enumerate(rings):
        outline = _outline(number, ring, centres, radii)
        group = first[len(outline.vertices)]
        same = (_copy(known, outline, centres, radii) for known in group)
        copy = next((one for one in same if one), None)
        if copy is None:
            group.append(outline)
            copy = Copy(number)
        found.append(copy)
    return found


def _outline(number: int, ring: Points, circles: Complex, radii: Floats) -> _Outline:
    z = ring @ np.array([1.0, 1.0j])
    chords = np.roll(z, -1) - z
    area = float((z.conj() * chords).imag.sum() / 2)
    if area < 0:
        z = z[::-1]
    free = _off(z, circles, radii) > ON
    # A round that lies on the circles altogether is told by its vertices all the same.
    told = z[free] if free.any() else z
    return _Outline(number, told, z[~free], abs(area), float(np.abs(chords).sum()))


def _off(z: Complex, circles: Complex, radii: Floats) -> Floats:
    """Return how far off the nearest circle the points *z* (n,) lie; infinite without circles."""
    nearest: Floats = np.abs(np.abs(z[:, None] - circles) - radii).min(axis=1, initial=np.inf)
    return nearest


def _copy(known: _Outline, here: _Outline, circles: Complex, radii: Floats) -> Copy | None:
    """Return how the outline *here* comes from *known*, if it does."""
    reach = np.abs(known.vertices).mean() - np.abs(here.vertices).mean()
    if abs(reach) > SAME_COPY or abs(known.area - here.area) > SAME_COPY * here.length:
        return None
    place = here.vertices.mean()
    for vertices, bound, mirror in (
        (known.vertices, known.bound, False),
        (known.vertices.conj()[::-1], known.bound.conj(), True),
    ):
        if min(abs(place), abs(vertices.mean())) < SAME_COPY:
            continue
        angle = float(np.angle(place / vertices.mean()))
        turned = vertices * np.exp(1j * angle)
        start = int(np.argmin(np.abs(turned - here.vertices[0])))
        if np.abs(np.roll(turned, -start) - here.vertices).max() > SAME_COPY:
            continue
        if _off(bound * np.exp(1j * angle), circles, radii).max(initial=0.0) < SAME_COPY:
            return Copy(known.number, angle, mirror)
    return None

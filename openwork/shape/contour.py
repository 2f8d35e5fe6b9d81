"""Closed contours of straight lines and circular arcs, and the exact integrals over them.

A contour is a ring of points; the piece that leaves a point carries a bulge, the tangent of a
quarter of its sweep: 0 for a line, positive counter-clockwise, 1 for a half circle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias, TypeVar

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from openwork.shape.bulge import centre_of, radius_of, sweep_of

Floats: TypeAlias = NDArray[np.float64]
Points: TypeAlias = NDArray[np.float64]
Complex: TypeAlias = NDArray[np.complex128]  # points of the plane as x + iy
Numbers: TypeAlias = NDArray[np.intp]

Array = TypeVar("Array", bound=NDArray[Any])

SAGITTA = 1e-3  # mm between an arc and the chords that stand in for it, where nothing else is said


def after(ring: Array) -> Array:
    """Return *ring* with each entry replaced by the next one round; numpy's roll is slower."""
    return np.concatenate((ring[1:], ring[:1]))  # type: ignore[return-value]


def as_complex(points: Points) -> Complex:
    """Return *points* (..., 2) as x + iy (...)."""
    return np.asarray(points[..., 0] + 1j * points[..., 1])


def as_points(z: Complex) -> Points:
    """Return the complex numbers *z* (n,) as points (n, 2)."""
    return np.column_stack([z.real, z.imag])


class Path:
    """Points joined by lines and arcs, whose arrays never change; equal where their numbers are."""

    __slots__ = ()
    points: Points
    bulges: Floats

    def _keep(self, spare: int, name: str) -> None:
        """Settle the arrays; raises ValueError unless there are *spare* more points than bulges."""
        points = np.array(self.points, dtype=float).reshape(-1, 2)
        bulges = np.array(self.bulges, dtype=float).reshape(-1)
        if len(points) != len(bulges) + spare or len(points) < 2:
            raise ValueError(f"{len(points)} points and {len(bulges)} bulges make no {name}")
        points.flags.writeable = bulges.flags.writeable = False
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "bulges", bulges)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, type(self)):
            return NotImplemented
        return np.array_equal(self.points, other.points) and np.array_equal(
            self.bulges, other.bulges
        )

    def __hash__(self) -> int:
        return hash((self.points.tobytes(), self.bulges.tobytes()))


@dataclass(frozen=True, slots=True, eq=False)
class Contour(Path):
    """A closed contour: ``points`` (n, 2) in mm, ``bulges`` (n,) of the pieces that leave them."""

    points: Points
    bulges: Floats

    def __post_init__(self) -> None:
        self._keep(0, "contour")

    def __len__(self) -> int:
        return len(self.points)

    @property
    def sweeps(self) -> Floats:
        """Angles (n,) the pieces turn through, radians, counter-clockwise positive."""
        sweeps: Floats = sweep_of(self.bulges)
        return sweeps

    @property
    def turns(self) -> Floats:
        """Angles (n,) by which the outline turns at its points, in [-pi, pi)."""
        heading = np.angle(as_complex(self.chords))
        half = self.sweeps / 2
        turn = heading - half - np.roll(heading + half, 1)
        return np.asarray((turn + np.pi) % (2 * np.pi) - np.pi)

    @property
    def chords(self) -> Points:
        """Vectors (n, 2) from the start of each piece to its end."""
        return after(self.points) - self.points

    @property
    def radii(self) -> Floats:
        """Radii (n,) of the pieces, mm; infinite for lines."""
        b, chord = self.bulges, np.hypot(*self.chords.T)
        radii: Floats = np.where(b == 0, np.inf, radius_of(chord, np.where(b == 0, 1, b)))
        return radii

    @property
    def centres(self) -> Points:
        """Centres (n, 2) of the arcs; NaN for lines."""
        line, z = self.bulges == 0, as_complex(self.points)
        centres = centre_of(z, after(z), np.where(line, 1, self.bulges))
        return as_points(np.where(line, complex(np.nan, np.nan), centres))


def circle(radius: float, centre: ArrayLike = (0.0, 0.0)) -> Contour:
    """Return a full circle as two half circles, counter-clockwise.

    >>> round(area(circle(2.0)), 6)
    12.566371
    """
    x, y = np.asarray(centre, dtype=float)
    return Contour(np.array([[x + radius, y], [x - radius, y]]), np.ones(2))


def polygon_contour(points: ArrayLike) -> Contour:
    """Return the contour with straight pieces through *points* (n, 2), first not repeated."""
    corners = np.asarray(points, dtype=float)
    return Contour(corners, np.zeros(len(corners)))


def is_circle(contour: Contour) -> bool:
    """Tell whether every piece lies on one and the same circle."""
    if np.any(contour.bulges == 0):
        return False
    radii, centres = contour.radii, contour.centres
    return bool(np.ptp(radii) < 1e-9 * radii[0] and np.ptp(centres, axis=0).max() < 1e-9 * radii[0])


def _segments(contour: Contour) -> tuple[Floats, Floats, Floats]:
    """Return signed area, polar moment about the arc's centre, and first moment, per segment.

    A segment lies between an arc and its chord; the first moment is taken along the chord's
    right-hand normal from the centre (sign of the bulge). Formulas: integrals of the circle.
    """
    arcs = contour.bulges != 0
    sweep = contour.sweeps[arcs]
    r = contour.radii[arcs]
    area_ = r**2 / 2 * (sweep - np.sin(sweep))
    polar = r**4 * (sweep / 4 - np.sin(sweep) * (2 + np.cos(sweep)) / 12)
    first = 2 / 3 * r**3 * np.sin(sweep / 2) ** 3
    return area_, polar, first


def area(contour: Contour) -> float:
    """Return the signed area, mm2; positive when the contour runs counter-clockwise.

    >>> area(polygon_contour([(0, 0), (2, 0), (2, 1), (0, 1)]))
    2.0
    """
    x, y = contour.points.T
    straight = np.dot(x, after(y)) - np.dot(y, after(x))
    return float(straight / 2 + _segments(contour)[0].sum())


def length(contour: Contour) -> float:
    """Return the length of the outline, mm."""
    chord = np.hypot(*contour.chords.T)
    with np.errstate(invalid="ignore"):
        arc = contour.radii * np.abs(contour.sweeps)
    return float(np.where(contour.bulges == 0, chord, arc).sum())


def moment(contour: Contour) -> Points:
    """Return the first moments (2,) of the enclosed area about the origin, mm3."""
    p, q = contour.points, after(contour.points)
    cross = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]
    total = ((p + q) * cross[:, None]).sum(axis=0) / 6
    arcs = contour.bulges != 0
    area_, _, first = _segments(contour)
    chord = contour.chords[arcs]
    outward = chord @ np.array([[0.0, -1.0], [1.0, 0.0]]) / np.hypot(*chord.T)[:, None]
    centres = contour.centres[arcs]
    result: Points = total + (centres * area_[:, None] + outward * np.abs(first)[:, None]).sum(0)
    return result


def centroid(contour: Contour) -> Points:
    """Return the centroid (2,) of the enclosed area, mm.

    >>> centroid(circle(2.0, (3, 4))).round(9).tolist()
    [3.0, 4.0]
    """
    return moment(contour) / area(contour)


def inertia(contour: Contour) -> float:
    """Return the polar second moment of the area about the origin, mm4, signed as the area.

    >>> round(inertia(circle(2.0)) / (np.pi * 2**4 / 2), 12)
    1.0
    """
    p, q = contour.points, after(contour.points)
    cross = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]
    square = (p * p + p * q + q * q).sum(axis=1)
    total = (cross * square).sum() / 12
    arcs = contour.bulges != 0
    area_, polar, first = _segments(contour)
    chord = contour.chords[arcs]
    outward = chord @ np.array([[0.0, -1.0], [1.0, 0.0]]) / np.hypot(*chord.T)[:, None]
    centres = contour.centres[arcs]
    shift = area_ * (centres**2).sum(axis=1)
    cross_term = 2 * (centres * outward).sum(axis=1) * np.abs(first)
    return float(total + (polar + shift + cross_term).sum())


def sampled(contour: Contour, sagitta: float = SAGITTA) -> Points:
    """Return points (k, 2) on the contour, chords at most *sagitta* (mm) from their arcs."""
    z = as_complex(contour.points)
    r = contour.radii
    with np.errstate(divide="ignore", invalid="ignore"):
        # Even a circle smaller than the sagitta keeps enough points to be a ring.
        step = np.minimum(2 * np.arccos(np.clip(1 - sagitta / r, -1, 1)), 2 * np.pi / 3)
        count = np.ceil(np.abs(contour.sweeps) / step - 1e-9)
    count = np.where(contour.bulges == 0, 1, np.maximum(count, 1)).astype(int)
    piece = np.repeat(np.arange(len(z)), count)
    part = (np.arange(len(piece)) - np.repeat(np.cumsum(count) - count, count)) / count[piece]
    centre = np.where(contour.bulges == 0, 0, as_complex(contour.centres))
    turned = centre[piece] + (z - centre)[piece] * np.exp(1j * contour.sweeps[piece] * part)
    points = np.where(part == 0, z[piece], turned)
    return as_points(points)


def polygon(
    outer: Contour, holes: Sequence[Contour] = (), sagitta: float = SAGITTA
) -> shapely.Polygon:
    """Return the shapely polygon of *outer* less *holes*, arcs as chords within *sagitta* (mm)."""
    return shapely.Polygon(sampled(outer, sagitta), [sampled(hole, sagitta) for hole in holes])


def rotated(contour: Contour, angle: float) -> Contour:
    """Return the contour turned by *angle* (radians) about the origin."""
    c, s = np.cos(angle), np.sin(angle)
    return Contour(contour.points @ np.array([[c, s], [-s, c]]), contour.bulges)


def mirrored(contour: Contour) -> Contour:
    """Return the mirror image in the x axis, running the same way round as before."""
    flipped = Contour(contour.points * [1, -1], -contour.bulges)
    return reverse(flipped)


def reverse(contour: Contour) -> Contour:
    """Return the same contour run the other way."""
    return Contour(contour.points[::-1], -np.roll(contour.bulges[::-1], -1))


def scaled(contour: Contour, factor: float) -> Contour:
    """Return the contour with every length multiplied by *factor*."""
    return Contour(contour.points * factor, contour.bulges)

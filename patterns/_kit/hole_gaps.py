"""What a round hole may touch: the walls of the region, mirror lines, and holes already there.

Points are complex numbers. A *gap* is how far a point is from an obstacle.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points, as_complex, as_points

Complex = NDArray[np.complex128]

ROUNDS = 12  # of Newton's method at most
SETTLED = 1e-12  # of the gap


@dataclass(frozen=True, slots=True)
class Obstacles:
    """Circles to keep out of (``signs`` 1) or inside (-1).

    A fillet is seen only from within ``reach`` of the direction ``facing``, radians.
    """

    centres: Complex
    radii: Floats
    signs: Floats
    facing: Complex
    reach: Floats

    @classmethod
    def circles(cls, centres: Complex, radii: Floats, sign: float = 1.0) -> Obstacles:
        """Return whole circles."""
        whole = np.ones(len(centres))
        return cls(centres, radii, sign * whole, whole.astype(complex), 4.0 * whole)

    def __add__(self, other: Obstacles) -> Obstacles:
        pairs = ((getattr(self, name), getattr(other, name)) for name in self.__slots__)
        return Obstacles(*(np.concatenate(pair) for pair in pairs))

    def gaps(self, points: Complex) -> Floats:
        """Return the gap (n, m) between each point and each obstacle; infinite out of reach."""
        arms = points[:, None] - self.centres
        gaps = self.signs * (np.abs(arms) - self.radii)
        fillets = self.reach < np.pi
        seen = np.abs(np.angle(arms * self.facing.conj())) <= self.reach
        return np.where(~fillets | seen & (gaps >= 0), gaps, np.inf)

    def slopes(self, point: complex) -> Complex:
        """Return the direction (m,) in which the gap to each obstacle grows."""
        arms = point - self.centres
        return np.asarray(self.signs * arms / np.maximum(np.abs(arms), 1e-12))


def walls(site: Site) -> Obstacles:
    """Return rim, hem, pads and fillets of *site*."""
    bolts = as_complex(site.bolt_points)
    result = Obstacles.circles(np.zeros(1, dtype=complex), np.array([site.outer]), -1.0)
    result += Obstacles.circles(np.zeros(1, dtype=complex), np.array([site.inner]))
    result += Obstacles.circles(bolts, np.full(len(bolts), site.pad))
    for wall in site.walls()[1:]:
        hollow = wall.bulges < 0
        centres = as_complex(wall.centres[hollow])
        facing = as_complex((wall.points + wall.chords / 2)[hollow]) - centres
        result += Obstacles(
            centres, wall.radii[hollow], -np.ones(len(centres)),
            facing / np.abs(facing), np.abs(wall.sweeps[hollow]) / 2,
        )  # fmt: skip
    return result


@dataclass(frozen=True, slots=True)
class Mirrors:
    """The two mirror lines that bound half a symmetry sector of the bolts, by angle; or none."""

    site: Site
    angles: tuple[float, ...]

    @classmethod
    def of(cls, site: Site) -> Mirrors:
        """Return the mirror lines of *site*."""
        bolts = np.array(site.bolts)
        for middle in (bolts[:, None] + bolts).ravel() / 2:
            turned = np.exp(1j * (2 * middle - bolts))
            if np.abs(turned[:, None] - np.exp(1j * bolts)).min(axis=1).max() < 1e-9:
                first = float(middle % (site.sector / 2))
                return cls(site, (first, first + site.sector / 2))
        return cls(site, ())

    def image(self, point: complex) -> complex:
        """Return the mirror image of *point* in the first line."""
        return complex(np.exp(2j * self.angles[0]) * np.conj(point))

    def both(self, points: Points) -> Points:
        """Return the *points* (k, 2) of one half, those on a line put there, and their images."""
        if not self.angles:
            return points
        z = as_complex(points)
        twin = np.ones(len(z), dtype=bool)
        for angle in self.angles:
            turned = z * np.exp(-1j * angle)
            on_line = np.abs(turned.imag) < self.site.rib / 2
            z = np.where(on_line, turned.real * np.exp(1j * angle), z)
            twin &= ~on_line
        z = np.append(z, np.exp(2j * self.angles[0]) * z[twin].conj())
        return as_points(z)

    def gaps(self, points: Complex) -> Floats:
        """Return how large (n, lines) a hole may be not to meet its own mirror images."""
        arms = points[:, None] * np.exp(-1j * np.array(self.angles))
        return np.asarray(np.abs(arms.imag) - self.site.rib / 2)

    def slopes(self, point: complex) -> Complex:
        """Return the direction (lines,) in which the gap to each line grows."""
        along = np.exp(1j * np.array(self.angles))
        return np.asarray(1j * along * np.sign((point * along.conj()).imag))


def settled(
    point: complex, line: int, obstacles: Obstacles, mirrors: Mirrors, most: float
) -> tuple[complex, float]:
    """Return centre and radius, *most* at most, of the hole near *point* that touches all round.

    It touches three obstacles, one less if it is the largest allowed, and one less on a mirror
    *line* (-1 for none), which it does not leave: Newton's method on gaps that equal the radius.
    """
    moves = (
        np.array([1, 1j]) if line < 0 else np.exp(1j * np.array(mirrors.angles[line : line + 1]))
    )
    own = np.arange(len(mirrors.angles)) != line

    def contacts(at: complex) -> tuple[Floats, Complex]:
        gaps = np.append(obstacles.gaps(np.array([at]))[0], mirrors.gaps(np.array([at]))[0][own])
        slopes = np.append(obstacles.slopes(at), mirrors.slopes(at)[own])
        one_side = (slopes * moves[0].conj()).imag > -1e-9 if line >= 0 else np.isfinite(gaps)
        return gaps[one_side], slopes[one_side]

    start = min(float(contacts(point)[0].min()), most)
    best = point, start
    for capped in (True,) if start == most else (False, True):
        at = _touching(point, contacts, moves, most if capped else 0.0)
        free = float(contacts(at)[0].min())
        if free > best[1] - 1e-9 * most:
            best = at, min(free, most)
        if free < most:
            break
    return best


def _touching(
    point: complex, contacts: Callable[[complex], tuple[Floats, Complex]], moves: Complex,
    radius: float,
) -> complex:  # fmt: skip
    """Return where the nearest gaps are equal, or are the *radius* if one is given."""
    at = point
    for _ in range(ROUNDS):
        gaps, slopes = contacts(at)
        nearest = np.argsort(gaps)[: len(moves) + (radius == 0)]
        rows = np.outer(slopes[nearest], moves.conj()).real
        if radius == 0:
            rows = np.column_stack([rows, -np.ones(len(nearest))])
        step = np.linalg.lstsq(rows, radius - gaps[nearest], rcond=None)[0]
        change = complex(step[: len(moves)] @ moves)
        at += change
        if abs(change) < SETTLED * gaps[nearest[0]]:
            break
    return at

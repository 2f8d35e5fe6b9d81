"""A lattice drawn roughly, to be judged before it is drawn well.

What the cutter makes of a tile is judged by shrinking it. A point of the shrunk tile is clear of a
pad when it is farther from the bolt than the pad's radius; the farthest point of a polygon is one
of its corners.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Generic, TypeAlias, TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.finish import FRAGMENT, NARROWEST
from openwork.fill.lattice import COMFORT, ROUGH, Lattice, Tile, polygons, repeated
from openwork.fill.polar import mapped
from openwork.fill.shrunk import Shapely
from openwork.fill.site import Site
from openwork.shape.contour import Floats, as_complex

Complex: TypeAlias = NDArray[np.complex128]
Integers: TypeAlias = NDArray[np.int64]

L = TypeVar("L", bound=Lattice)
PHASES = ("cell", "node")
PLACES = 6  # of a tile: nearer than that two phases are alike, and the first is taken
SPARE = 0.05  # cutter diameters by which a tile must be wider than the finisher asks


@dataclass(frozen=True)
class Draft(Generic[L]):
    """The first period of a ``lattice`` on a ``site``."""

    lattice: L
    site: Site

    @cached_property
    def _drawn(self) -> list[Tile]:
        return self.lattice.tiles(self.site, ROUGH * self.site.corner)

    @cached_property
    def tiles(self) -> Shapely:
        """The tiles (n,) as polygons."""
        u, x = np.concatenate(self._drawn).T
        which = np.repeat(np.arange(len(self._drawn)), [len(one) for one in self._drawn])
        lines = shapely.linearrings(mapped(u, x * self._column), indices=which)
        return np.asarray(shapely.polygons(lines), dtype=object)

    @property
    def _column(self) -> float:
        return 2 * math.pi / self.lattice.columns

    def _shrunk(self, tiles: Shapely, cutters: float) -> Shapely:
        """Return *tiles* less half a rib and so many radii of the *cutters*."""
        by = self.site.rib / 2 + cutters * self.site.corner
        return np.asarray(shapely.buffer(tiles, -by, join_style="mitre"), dtype=object)

    @cached_property
    def _easy(self) -> Shapely:
        return self._shrunk(self.tiles, COMFORT)

    @cached_property
    def cramped(self) -> float:
        """The share of the tiles, pads aside, too narrow to look like openings."""
        return float(shapely.is_empty(self._easy).mean())

    @cached_property
    def lost(self) -> float:
        """The share of the tiles, pads aside, too narrow for the cutter."""
        cramped = self.tiles[shapely.is_empty(self._easy)]
        lost = shapely.is_empty(self._shrunk(cramped, NARROWEST + SPARE))
        return float(lost.sum() / len(self.tiles))

    @cached_property
    def _cores(self) -> Shapely:
        return self._shrunk(self.tiles, 1.0)

    @cached_property
    def spoilt(self) -> Mapping[str, float]:
        """How many tiles a pad spoils, by the phase: 1 for one that is filled or left as a slot.

        Of one whose rest is worth cutting, and wide enough to look like an opening, the share that
        the pad takes.
        """
        if self.site.even:
            bolts, phase = self._bolts()
            bad = _spoilt(self.tiles, self._easy, self._cores, bolts, self.site)
            sums = np.bincount(phase, bad, len(PHASES))
            return dict(zip(PHASES, (round(float(one), PLACES) for one in sums), strict=True))
        return {phase: self._spoilt_round_the_ring(phase) for phase in PHASES}

    def _bolts(self) -> tuple[Complex, Integers]:
        """Return where, seen from the tiles, a bolt near them may stand, and in which phase."""
        site, period = self.site, self.lattice.period
        reach = math.asin(min(1.0, (site.pad + site.corner) / site.circle)) / self._column
        low = min(float(one[:, 1].min()) for one in self._drawn) - reach
        high = max(float(one[:, 1].max()) for one in self._drawn) + reach
        halves = np.arange(math.ceil(low / period * 2), math.floor(high / period * 2) + 1)
        own = PHASES.index(self.lattice.phase)
        bolts = site.circle * np.exp(0.5j * period * self._column * halves)
        return np.asarray(bolts, dtype=complex), np.asarray((halves + own) % 2)

    def _spoilt_round_the_ring(self, phase: str) -> float:
        """Return how many tiles a pad spoils in one phase between uneven bolts."""
        site, lattice = self.site, replace(self.lattice, phase=phase)
        drawn = lattice.tiles(site, ROUGH * site.corner)
        tiles = polygons(repeated(drawn, lattice, site).polygons, ROUGH * site.corner)
        easy, cores = (self._shrunk(tiles, cutters) for cutters in (COMFORT, 1.0))
        bad = _spoilt(tiles, easy, cores, as_complex(site.bolt_points), site)
        return round(float(bad.sum()) * site.fold / len(site.bolts), PLACES)


def _spoilt(tiles: Shapely, easy: Shapely, cores: Shapely, bolts: Complex, site: Site) -> Floats:
    """Return how many of the *tiles* (n,), each with what is left of it, *bolts* (m,) spoil."""
    reach = site.pad + site.corner
    near = shapely.dwithin(tiles, shapely.points(bolts.real, bolts.imag)[:, None], reach)
    areas = shapely.area(cores)
    left = 1 - _covered(cores, bolts, reach) / np.maximum(areas, 1e-9)
    works = _reaching(easy, bolts, reach + (COMFORT - 1) * site.corner) & (left > FRAGMENT)
    bad = np.where(works, 1 - left, np.minimum(1, 10 * left))
    return np.asarray((bad * (near & (areas > 0))).sum(axis=1))


def _covered(shapes: Shapely, centres: Complex, radius: float) -> Floats:
    """Return how much (m, n) of each of the *shapes* (n,) discs round *centres* (m,) cover."""
    parts, owner = shapely.get_parts(shapes, return_index=True)
    points, part = shapely.get_coordinates(shapely.get_exterior_ring(parts), return_index=True)
    side = part[1:] == part[:-1]
    arms = as_complex(points) - centres[:, None]
    area = disc_share(arms[:, :-1][:, side], arms[:, 1:][:, side], radius)
    return np.asarray(np.abs(area @ (owner[part[1:][side], None] == np.arange(len(shapes)))))


def disc_share(start: Complex, end: Complex, radius: float) -> Floats:
    """Return how much of the triangles 0, *start*, *end* lies within *radius* of 0; ccw positive.

    A line through the disc cuts off a triangle between two sectors.

    >>> square = np.array([1 + 1j, -1 + 1j, -1 - 1j, 1 - 1j])
    >>> [round(float(disc_share(square, square * 1j, r).sum()), 6) for r in (1, 2)]
    [3.141593, 4.0]
    """
    way = end - start
    along, square = (start.conj() * way).real, np.maximum(np.abs(way) ** 2, 1e-18)
    depth = np.sqrt(np.maximum(along**2 - square * (np.abs(start) ** 2 - radius**2), 0.0))
    first, last = (np.clip((sign * depth - along) / square, 0, 1) for sign in (-1, 1))
    a, b = start + first * way, start + last * way
    sectors = np.angle(a / start) + np.angle(end / b)
    return np.asarray((radius**2 * sectors + (a.conj() * b).imag) / 2)


def _reaching(shapes: Shapely, centres: Complex, radius: float) -> NDArray[np.bool_]:
    """Tell (m, n) which of the *shapes* (n,) go further than *radius* from *centres* (m,)."""
    points, owner = shapely.get_coordinates(shapes, return_index=True)
    far = np.abs(as_complex(points) - centres[:, None]) >= radius
    return np.asarray(far @ (owner[:, None] == np.arange(len(shapes))))

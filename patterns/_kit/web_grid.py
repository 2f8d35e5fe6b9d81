"""A web on a log-polar grid of square elements: one symmetry sector, or half of one.

With u = ln r an element of a ring has the same stiffness at every radius, so that all share one
matrix. Two modes that bend inside the element are added and condensed (R. L. Taylor, P. J.
Beresford and E. L. Wilson, A non-conforming element for stress analysis, Int. J. Numer. Meth.
Engng 10, 1976, 1211), without which thin ribs are too stiff.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.fill.site import Site
from openwork.patterns._kit.hole_gaps import Mirrors
from openwork.shape.contour import Complex, Floats, Numbers, as_complex, as_points

POISSON = 0.33  # of aluminium; any metal gives nearly the same ribs
SAMPLES = (np.arange(4) + 0.5) / 4 - 0.5  # of an element, to find how much of it may be opened
HELD = 0.7  # of a pad's radius: what lies under a bolt's head


@dataclass(frozen=True)
class WebGrid:
    """``rows`` by ``columns`` elements from u = ``low`` and the angle ``start``.

    Where ``mirrored`` they fill half a sector between two mirror lines, else a whole one. Arrays
    of elements and of nodes run row by row outwards and column by column round the ring.
    """

    site: Site
    low: float
    start: float
    rows: int
    columns: int
    height: float
    width: float
    mirrored: bool

    @classmethod
    def of(cls, site: Site, size: float, *, mirrored: bool) -> WebGrid:
        """Return the grid of *site* with elements of about *size* mm in its middle.

        Where the bolts leave no mirror line it is of a whole sector all the same.
        """
        lines = Mirrors.of(site).angles if mirrored else ()
        span = site.sector / 2 if lines else site.sector
        columns = max(8, round(span * site.middle / size))
        low, high = math.log(min(site.bore, site.circle - HELD * site.pad)), math.log(site.root)
        rows = max(8, round((high - low) * columns / span))
        start = lines[0] if lines else 0.0
        height, width = (high - low) / rows, span / columns
        return cls(site, low, start, rows, columns, height, width, bool(lines))

    @property
    def span(self) -> float:
        """The angle the grid fills, radians."""
        return self.width * self.columns

    @cached_property
    def centres(self) -> Complex:
        """The middles (rows, columns) of the elements."""
        return self._points(0.0, 0.0)

    def _points(self, up: float, along: float) -> Complex:
        u = self.low + self.height * (np.arange(self.rows) + 0.5 + up)
        v = self.start + self.width * (np.arange(self.columns) + 0.5 + along)
        return np.asarray(np.exp(np.add.outer(u, 1j * v)))

    @cached_property
    def areas(self) -> Floats:
        """The areas (rows, columns) of the elements, mm2."""
        edges = np.exp(2 * (self.low + self.height * np.arange(self.rows + 1)))
        return np.asarray(np.outer(np.diff(edges) / 2, np.full(self.columns, self.width)))

    @cached_property
    def open(self) -> Floats:
        """The share (rows, columns) of each element that may be opened."""
        room = self.site.room()
        places = [self._points(up, along) for up in SAMPLES for along in SAMPLES]
        return np.asarray(
            np.mean([shapely.contains_xy(room, z.real, z.imag) for z in places], axis=0)
        )

    @cached_property
    def metal(self) -> NDArray[np.bool_]:
        """Which elements (rows, columns) are metal as long as nothing is opened."""
        bolts = as_complex(self.site.bolt_points)
        tabs = np.abs(self.centres[..., None] - bolts).min(axis=-1) < self.site.pad
        return np.asarray((np.abs(self.centres) > self.site.bore) | tabs)

    @cached_property
    def held(self) -> NDArray[np.bool_]:
        """Which nodes (rows + 1, columns + 1) lie under the head of a bolt; one at least."""
        u = self.low + self.height * np.arange(self.rows + 1)
        v = self.start + self.width * np.arange(self.columns + 1)
        bolts = as_complex(self.site.bolt_points)
        away = np.abs(np.exp(np.add.outer(u, 1j * v))[..., None] - bolts).min(axis=-1)
        return np.asarray(away < max(HELD * self.site.pad, away.min() * 1.01))

    @property
    def nodes(self) -> Numbers:
        """The nodes (elements, 4) of the elements, counter-clockwise."""
        row, column = np.divmod(np.arange(self.rows * self.columns), self.columns)
        inner = row * (self.columns + 1) + column
        outer = inner + self.columns + 1
        return np.column_stack([inner, outer, outer + 1, inner + 1])

    def element(self) -> Floats:
        """Return the stiffness (8, 8) of an element of modulus and thickness 1."""
        ends = np.array([-1, 1]) / np.sqrt(3)
        elastic = np.array([[1, POISSON, 0], [POISSON, 1, 0], [0, 0, (1 - POISSON) / 2]])
        elastic *= self.height * self.width / 4 / (1 - POISSON**2)
        whole = np.zeros((12, 12))
        for strain in (self._strain(a, b) for a in ends for b in ends):
            whole += strain.T @ elastic @ strain
        outer, mixed, inner = whole[:8, :8], whole[8:, :8], whole[8:, 8:]
        return np.asarray(outer - mixed.T @ np.linalg.solve(inner, mixed))

    def _strain(self, a: float, b: float) -> Floats:
        """Return strains times the radius (3, 12) of eight moves and four modes, at a, b."""
        n = np.array([(1 - a) * (1 - b), (1 + a) * (1 - b), (1 + a) * (1 + b), (1 - a) * (1 + b)])
        du = np.array([b - 1, 1 - b, 1 + b, -1 - b]) / 2 / self.height
        dv = np.array([a - 1, -1 - a, 1 + a, 1 - a]) / 2 / self.width
        strain = np.zeros((3, 12))
        strain[0, :8:2], strain[1, :8:2], strain[2, :8:2] = du, n / 4, dv
        strain[1, 1:8:2], strain[2, 1:8:2] = dv, du - n / 4
        up, along = -4 * a / self.height, -4 * b / self.width
        strain[0, 8], strain[2, 9], strain[2, 10], strain[1, 11] = up, up, along, along
        return strain

    def copies(self, inside: NDArray[np.bool_]) -> tuple[Complex, Numbers]:
        """Return the elements *inside* and their neighbours across the seams, and whose they are.

        These are the middles (3 k,), and the numbers of the elements among those *inside*.
        """
        z = self.centres[inside]
        if self.mirrored:
            lines = (self.start, self.start + self.span)
            beside = [np.exp(2j * line) * z.conj() for line in lines]
        else:
            beside = [z * np.exp(1j * turn * self.span) for turn in (1, -1)]
        return np.concatenate([z, *beside]), np.tile(np.arange(len(z)), 3)

    def near(self, inside: NDArray[np.bool_], reach: float) -> tuple[Numbers, Numbers, Floats]:
        """Return which elements *inside* have which others within *reach* mm, and the distance."""
        from scipy.spatial import cKDTree  # noqa: PLC0415 (slow to import)

        everything, owner = self.copies(inside)
        own = cKDTree(as_points(self.centres[inside]))
        found = own.sparse_distance_matrix(
            cKDTree(as_points(everything)), reach, output_type="coo_matrix"
        )
        return found.row, owner[found.col], found.data

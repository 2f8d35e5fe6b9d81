"""A plait of rounded strands, with some crossings along its middle opened into links.

Strands run to and fro between the rims as in a flat plait. Where a crossing is opened its two
strands turn away from each other and the openings on both sides of it become one, as breaks do in
knotwork: M. Kaplan and E. Cohen, Computer generated Celtic design, Eurographics Symposium on
Rendering 2003. Here the strands lie in one plane.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Self, TypeAlias

import numpy as np

from openwork.fill.biarc import SAGITTA, biarcs, without_repeats
from openwork.fill.fillings import Cells
from openwork.fill.fit import chosen, multiples, options
from openwork.fill.lattice import Lattice, Tile, cells_with_wide_rims, tile
from openwork.fill.parameters import param
from openwork.fill.polar import extent, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import Floats

Halves: TypeAlias = Floats  # (k, 4, 2): of strands, in rows and half columns

APART = 0.42  # of half a column: how far aside of an opened crossing its strands turn
PULL = 1.2  # length of a strand's tangent where it turns, against where it crosses
BACK = np.array([[1], [1], [-1], [-1]])  # turns the directions of a strand run the other way
SLOPE = 1.1  # height of a row over half a column's width
MOST = 20  # links round the ring
ROW = 7.0  # mm of web that a strand needs


@pattern
@dataclass(frozen=True, kw_only=True)
class Plait(Lattice):
    """Plaited strands that turn at the rims and open into links."""

    turns: int = param(
        3,
        low=1,
        high=4,
        help="crossings from link to link; 1 for a plait without links",
        suited=True,
    )
    knots: int = param(
        10, low=3, high=MOST, per_bolt=True, help="links round the ring", suited=True
    )
    strands: int = param(3, low=2, high=4, help="strands across the web", suited=True)
    phase: str = param(
        "cell",
        choices=("cell", "node"),
        help="a link, or the middle between two, on the bolt",
        suited=True,
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the links that suit *site*."""
        low, high = extent(site)
        size = 8.0 + 0.35 * (site.outer - site.inner)
        most = min(4, max(2, round((site.outer - site.inner) / ROW)))

        def cost(one: Self) -> float:
            width = 2 * np.pi / one.columns
            stretch = np.log((high - low) / one.strands / (SLOPE * width / 2))
            wide = np.log(site.middle * width / size)
            return float(stretch**2 + wide**2 + unevenness(site, one.columns) ** 2)

        candidates = [
            cls(**{**given, "turns": turns, "knots": knots, "strands": strands})
            for turns in options("turns", given, (3, 2))
            for knots in options("knots", given, multiples(3, site, turns * size, MOST))
            for strands in options("strands", given, range(2, most + 1))
        ]
        return chosen(((cost(one), one) for one in candidates), site, given)

    @property
    def columns(self) -> int:
        """Crossings on a circle, opened ones counted."""
        return self.knots * self.turns

    @property
    def period(self) -> int:
        """Columns from link to link."""
        return self.turns

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the openings from one link to the next."""
        low, high = extent(site)
        half = np.pi / self.columns
        scale = np.array([(high - low) / self.strands, 1j * half])
        faces = _faces(self.turns, self.strands)
        given = (np.concatenate(faces) @ scale).T + low * np.array([[1], [1], [0], [0]])
        curves = biarcs(*given, sagitta=sagitta)
        paths = np.split(curves, np.cumsum([len(face) for face in faces])[:-1])
        start = self.turns * (self.phase == "node") / 2
        return [
            tile(np.column_stack([w.real, w.imag / half / 2 + start]), site, self.columns)
            for w in (without_repeats(path.ravel()) for path in paths)
        ]

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the openings of one sector."""
        del rng
        return cells_with_wide_rims(self, site)


@lru_cache(maxsize=64)
def _faces(turns: int, strands: int) -> list[Halves]:
    """Return the halves of strands (k, 4, 2) round every opening from one link to the next.

    Of each its start, its end and its directions there, in rows and half columns; up the right
    side of the opening and down the left one.
    """
    weave = _Weave(turns, strands)
    found = []
    for rows, column in weave.openings():
        right, left = [], []
        for row in rows:
            if row > 0:
                right.append(weave.strand(row - 1, column, 1))
                left.append(weave.strand(row - 1, column, -1))
            if row < strands:
                right.append(weave.strand(row, column + 1, -1))
                left.append(weave.strand(row, column - 1, 1))
        backwards = [one[::-1, [1, 0, 3, 2]] * BACK for one in reversed(left)]
        found.append(np.concatenate([*right, *backwards]))
    return found


@dataclass(frozen=True)
class _Weave:
    """Strands between crossings, in rows and half columns; those of a crossing sum to odd."""

    turns: int
    strands: int

    def opened(self, row: int, column: int) -> bool:
        """Tell whether the crossing is a link: in the middle row, one in every period."""
        linked = self.turns > 1 and row == self.strands // 2
        return linked and column % (2 * self.turns) == 0

    def openings(self) -> Iterator[tuple[list[int], int]]:
        """Yield the rows of lattice cells that are one opening, and their column."""
        for column in range(2 * self.turns):
            for row in range((column + self.strands // 2 + 1) % 2, self.strands + 1, 2):
                if not self.opened(row - 1, column):
                    yield [row, row + 2] if self.opened(row + 1, column) else [row], column

    def strand(self, row: int, column: int, way: int) -> Halves:
        """Return the halves (2, 4, 2) of the strand from a crossing to one in the next row.

        A cubic: across at a crossing, along the rim where it turns back, and outwards aside of a
        crossing that is opened.
        """
        ends, tangents = [], []
        for k in (0, 1):
            i, j = row + k, column + k * way
            aside = (1 - 2 * k) * way * APART if self.opened(i, j) else 0.0
            ends.append(np.array([i, j + aside]))
            turned = [0.0, PULL * way] if i in (0, self.strands) else [1.0, way]
            tangents.append(np.array([PULL, 0.0] if aside else turned))
        (a, b), (leaving, arriving) = ends, tangents
        middle = (a + b) / 2 + (leaving - arriving) / 8
        along = 1.5 * (b - a) - (leaving + arriving) / 4
        return np.array([[a, middle, leaving, along], [middle, b, along, arriving]])

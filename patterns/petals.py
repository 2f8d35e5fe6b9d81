"""Petals, drops, leaves and slots: long openings side by side, with smaller ones in their gaps.

One template serves all: the width of a petal, as a share of the column, is a superellipse
(G. Lame, 1818) of the share of the web it has crossed, so that neighbours share even ribs along
their bellies. What is left between the ends of two petals is opened too, where the cutter fits.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import SAGITTA, Complex, biarcs, without_repeats
from openwork.fill.draft import Draft
from openwork.fill.fit import bounds, chosen, multiples, options
from openwork.fill.lattice import Lattice, Tile, rim_side, roomy
from openwork.fill.parameters import param
from openwork.fill.polar import extent, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import Floats, as_complex, as_points

# Where a petal is widest, as a share of the web, and the exponents of its inner and outer ends.
TEMPLATES = {
    "petal": (0.70, 1.6, 2.0),
    "drop": (0.80, 1.0, 2.0),
    "leaf": (0.50, 1.5, 1.5),
    "slot": (0.50, 4.0, 4.0),
}
PIECES = 4  # pairs of arcs from an end of a petal to its belly
KEPT = 1 - 2e-4  # of a column for a petal: pairs of arcs bulge over it by less
NEXT = 1e-3  # to a place beside another, for the direction there
CLOSED = 0.08  # of a row of gaps the cutter does not fit in, against squared logarithms of widths


@pattern
@dataclass(frozen=True, kw_only=True)
class Petals(Lattice):
    """Long openings side by side: petals, drops, leaves or slots."""

    shape: str = param("petal", choices=tuple(TEMPLATES), help="outline of a petal")
    sweep: float = param(0.0, low=-60, high=60, help="angle of the petals from the radius, degrees")
    gaps: str = param("open", choices=("open", "solid"), help="the gaps between the petals' ends")
    columns: int = param(
        20, low=3, high=72, per_bolt=True, help="petals round the ring", suited=True
    )
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius", suited=True
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return petals about half as wide as the web, with as few closed gaps as may be."""
        size = (5.0 + 0.5 * (site.outer - site.inner)) / np.cos(np.radians(given["sweep"]))

        def closed(draft: Draft[Self]) -> float:
            return CLOSED * (3 - len(draft.tiles)) * (draft.lattice.gaps == "open")

        low, high = bounds(cls, "columns")
        candidates = []
        for columns in options("columns", given, multiples(low, site, size, high)):
            width = np.log(2 * np.pi * site.middle / columns / size)
            cost = float(width**2 + unevenness(site, columns) ** 2)
            candidates.append((cost, cls(**{**given, "columns": columns})))
        return chosen(candidates, site, given, closed)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the petal of one column, and the gaps beside it that let the cutter in."""
        width = 2 * np.pi / self.columns
        (left, beside), (right, beneath) = self._sides(site, sagitta)
        beyond, below = beneath + 1j * width, right + 1j * width
        ends = np.array([beyond[-1], beside[-1]])
        first, last = as_points(ends)
        rim = as_complex(rim_side(first, last, 1.0, outer=True))
        outlines = [
            np.concatenate([right, beneath, beside[::-1], left[::-1]]),
            np.concatenate([below, left[::-1]]),
            np.concatenate([beside, rim[:0:-1], beyond[::-1]]),
        ]
        paths = map(without_repeats, outlines)
        petal, *gaps = [np.column_stack([w.real, w.imag / width]) for w in paths]
        if self.gaps == "solid":
            return [petal]
        wide = roomy(gaps, site, self.columns)
        return [petal, *(gap for gap, fits in zip(gaps, wide, strict=True) if fits)]

    def _sides(self, site: Site, sagitta: float) -> Complex:
        """Return the left and the right side of the petal (2, 2, n), up to its belly and beyond."""
        low, high = extent(site)
        lean, centre = np.tan(np.radians(self.sweep)), (low + high) / 2
        belly = TEMPLATES[self.shape][0]
        sign = np.array([[1], [-1]])

        def frame(place: Floats) -> Complex:
            """Return points (2, k) of both sides; places go from 0 by 1 at the belly to 2."""
            inner = belly * (1 - np.cos(np.pi / 2 * np.minimum(place, 1)))
            share = inner + (1 - belly) * np.sin(np.pi / 2 * np.maximum(place - 1, 0))
            u = low + (high - low) * share
            x = (self.phase == "node") / 2 + sign * KEPT * self._width(share) / 2
            return np.asarray(u + 1j * (lean * (u - centre) + 2 * np.pi / self.columns * x))

        at = np.linspace(0, 2, 2 * PIECES + 1)
        points, after, before = frame(at), frame(at[:-1] + NEXT), frame(at[1:] - NEXT)
        starts, ends = points[:, :-1], points[:, 1:]
        given = (starts, ends, after - starts, ends - before)
        drawn = biarcs(*(one.ravel() for one in given), sagitta=sagitta)
        return drawn.reshape(2, 2, -1)

    def _width(self, share: Floats) -> Floats:
        """Return the width of a petal, in columns, by the *share* of the web crossed."""
        belly, inner, outer = TEMPLATES[self.shape]
        below = (1 - np.clip(1 - share / belly, 0, 1) ** inner) ** (1 / inner)
        above = (1 - np.clip((share - belly) / (1 - belly), 0, 1) ** outer) ** (1 / outer)
        return np.asarray(np.where(share < belly, below, above))

"""Cells on the spirals of a seed head, as many heads turned into each other as the bolts ask for.

Seeds follow one another by a fixed angle while equal areas of ring pass between them (H. Vogel,
A better way to construct the sunflower head, Mathematical Biosciences 44, 1979). With n seeds at
each step and the angle divided by n the head is n-jugate and closes with n bolts (R. V. Jean,
Phyllotaxis, 1994). The cells are the seeds' Voronoi cells, with round corners; a seed at a rim
leaves its place to its neighbours, and those beside it move to the middle of their cells.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np

from openwork.fill.fillings import Cells
from openwork.fill.lattice import comfortable
from openwork.fill.parameters import param
from openwork.fill.polar import mapped
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.voronoi import relaxed, rounded, voronoi_cells
from openwork.shape.contour import Floats, Points

DIVERGENCE = {"fibonacci": 137.50776405, "lucas": 99.50155958, "third": 77.95524407}  # degrees
CLEAR = 0.22  # of a cell: the neighbours of a seed this near a rim take its place
EDGE = 0.6  # of a cell: a seed this near is moved to the middle of its cell
NARROW = 2.5  # cells: in a narrower web all seeds are moved, twice as often
STEPS = 8


def _cells(site: Site) -> int:
    size = max(7.0 + 0.08 * (site.outer - site.inner), comfortable(site))
    each = np.pi * (site.outer**2 - site.inner**2) / size**2 / site.fold
    return site.fold * min(max(3, round(each)), 160 // site.fold)


@pattern
@dataclass(frozen=True, kw_only=True)
class Phyllotaxis:
    """Cells on the two sets of spirals of a seed head."""

    cells: int = param(
        80, low=12, high=160, per_bolt=True, help="seeds in the web", suited=True
    )  # fmt: skip
    growth: float = param(
        1.0, low=0, high=1, help="power of the radius that the size of the cells follows"
    )
    roundness: float = param(
        0.85, low=0, high=0.95, help="corner radius, of the radius of a cell's inscribed circle"
    )
    angle: str = param(
        "fibonacci", choices=tuple(DIVERGENCE), help="series of the counts of spirals"
    )
    hand: str = param("left", choices=("left", "right"), help="which way the seeds turn")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return as many seeds as suit the web."""
        return cls(**{"cells": _cells(site), **given})

    def seeds(self, site: Site) -> Points:
        """Return the seeds (k, 2) of one head, innermost first, before the edges are evened."""
        count = self.cells // site.fold
        radius = self._radius(site, (np.arange(count) + 0.5) / count)
        turn = math.radians(DIVERGENCE[self.angle]) / site.fold
        if self.hand == "right":
            turn = -turn
        return mapped(np.log(radius), turn * np.arange(count))

    def _radius(self, site: Site, share: Floats) -> Floats:
        """Return the radius within which the *share* of the seeds lie.

        As many seeds to the area as the size of the cells asks for: r to the power -2 growth.
        """
        power = 2 - 2 * self.growth
        if power < 1e-9:
            return np.asarray(site.inner * (site.outer / site.inner) ** share)
        low, high = site.inner**power, site.outer**power
        return np.asarray((low + share * (high - low)) ** (1 / power))

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the cells of the seeds of one head that lie clear of the rims and the pads."""
        del rng
        seeds = self.seeds(site)
        radius = np.hypot(*seeds.T)
        pads = np.hypot(*(seeds[:, None] - site.bolt_points).transpose(2, 0, 1)).min(axis=1)
        rims = np.minimum(radius - site.inner, site.outer - radius)
        area = np.pi * (site.outer**2 - site.inner**2) / self.cells
        size = np.sqrt(area) * (radius / site.middle) ** self.growth
        clear = CLEAR * np.minimum(size, site.outer - site.inner)
        kept = (rims > clear) & (pads > site.pad)
        narrow = site.outer - site.inner < NARROW * np.sqrt(area)
        edge = (np.minimum(rims, pads - site.pad) < EDGE * size) | narrow
        steps = 2 * STEPS if narrow else STEPS
        even = relaxed(seeds[kept], site, steps, growth=self.growth, moving=edge[kept])
        return rounded(voronoi_cells(even, site), self.roundness, site)

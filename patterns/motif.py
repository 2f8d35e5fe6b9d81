"""A maker's own drawing, one cell of it, laid round the ring in columns and rows.

The drawing is its normal form: a page and regions of lines and arcs, as ``openwork.drawing`` makes
it of a file. The map that lets it grow with the radius is the complex exponential, which keeps
every angle: shapes stay what they are while they grow outwards.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Self

import numpy as np
import shapely

from openwork.drawing.outlines import UNIT, Outlines, outlines_fault, parsed
from openwork.errors import RuleError
from openwork.fill.drawn import pockets, regions
from openwork.fill.fillings import Drawn
from openwork.fill.finish import surely_open
from openwork.fill.fit import multiples, options
from openwork.fill.parameters import param, text_param
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.laid import Grid, laid, stretch
from openwork.shape.contour import Floats, Points, sampled

WAVE = (
    "1000 833.33;M950 66.66B-0.07601 869.63 88.61B-0.09003 774.08 153.72B-0.07829 713"
    ".56 234.72B-0.07915 685.31 317.44B-0.06677 683.08 380.96B-0.04817 693.48 433.59B"
    "-0.06597 715.79 483.47B-0.08024 747.37 520.06B-0.11114 793.74 543.97B-0.11566 84"
    "9.06 544.71B-0.07019 891.51 528.94B-0.05502 933.33 500B0.07568 921.03 583.47B0.1"
    "3869 843.08 703.72B0.18106 660.98 772.84B0.17187 500 716.66B0.03886 436.99 642.4"
    "1B0.02786 382.31 557.16B0.01702 334.05 464.6B0.00616 291 371.77B-0.00505 251.34 "
    "285.75B-0.01587 215.94 216.71B-0.02642 182.13 162.59B-0.04125 146.51 119.73B-0.0"
    "5561 109.9 89.91B-0.10152 50 66.66L950 66.66Z"
)  # a breaking wave
SIZE = 16.0  # mm, of a cell that looks like one
STRETCHED, UNSIZED = 4.0, 0.3  # cost of a squared logarithm of proportion, and of size
ENOUGH = 0.6  # share of a drawing that a cutter must keep
TRIES = 8  # choices of columns and rows that are looked at, or more while a cutter keeps nothing
ROUGH = 0.6  # mm of a laid line where it is only judged
SAGITTA = 0.02  # of a thousandth of the page


@pattern
@dataclass(frozen=True, kw_only=True)
class Motif:
    """Your own drawing, laid round the ring."""

    outlines: str = text_param(
        WAVE, fault=outlines_fault, help="the drawing itself, as lines and arcs"
    )
    drawn: str = param("openings", choices=("openings", "metal"), help="what its dark areas become")
    lay: str = param(
        "grown", choices=("grown", "bent", "stamped"),
        help="grown with the radius, bent round at its height, or stamped whole and unbent",
    )  # fmt: skip
    columns: int = param(
        20, low=3, high=60, per_bolt=True, help="cells round the ring", suited=True
    )
    rows: int = param(1, low=1, high=4, help="cells across the web", suited=True)
    mirror: str = param(
        "none", choices=("none", "columns", "rows", "both"), help="every second one is mirrored"
    )
    stagger: float = param(0.0, low=0, high=0.5, help="shift of every second row, in columns")
    phase: str = param("cell", choices=("cell", "node"), help="what stands on the bolt's radius")
    thicken: str = param(
        "near", choices=("near", "even"),
        help="thin metal is thickened where it is thin, or all alike",
    )  # fmt: skip
    ties: int = param(2, low=0, high=4, help="ties of a rib to all that an outline shuts in")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the columns and rows that stretch little and keep most of the drawing."""
        found = [
            cls(**{**given, "columns": columns, "rows": rows})
            for columns in options("columns", given, multiples(3, site, SIZE / 2, 60))
            for rows in options("rows", given, range(1, 5))
        ]
        even = [one for one in found if not one._odd(site)] or found
        ranked = sorted(even, key=lambda one: one._cost(site))
        best, most = ranked[0], 0.0
        for tried, one in enumerate(ranked, start=1):
            kept = one.kept(site)
            if kept > most:
                best, most = one, kept
            if most >= ENOUGH or (most and tried >= TRIES):
                break
        return best

    def __call__(self, site: Site, rng: np.random.Generator) -> Drawn:
        """Return the regions of one sector."""
        del rng
        if self._odd(site):
            raise RuleError(
                f"pattern.mirror = {self.mirror!r}: pattern.columns = {self.columns} gives each "
                f"of {site.fold} sectors an odd number; {self.columns + site.fold} works"
            )
        return Drawn(list(self._laid(site)), ties=self.ties, even=self.thicken == "even")

    def kept(self, site: Site) -> float:
        """Return about which share of the drawing a cutter keeps, one cell alone looked at."""
        alone = dataclasses.replace(site, fold=self.columns, bolts=(0.0,))
        cell = Drawn(list(self._laid(alone, ROUGH)), ties=self.ties, even=self.thicken == "even")
        opened = surely_open(pockets(cell, alone, steps=1), site)
        asked = shapely.area(regions(cell)).sum()
        return float(opened / asked) if asked else 0.0

    def _cost(self, site: Site) -> float:
        grid = self._grid()
        wide = 2 * math.pi * site.middle / self.columns
        high = (site.outer - site.inner) / self.rows
        size = math.log(math.sqrt(wide * high) / (SIZE * math.sqrt(grid.ratio)))
        return STRETCHED * stretch(grid, site) ** 2 + UNSIZED * size**2

    def _odd(self, site: Site) -> bool:
        return self.mirror in ("columns", "both") and self.columns // site.fold % 2 == 1

    def _grid(self) -> Grid:
        return Grid(
            lay=self.lay, columns=self.columns, rows=self.rows,
            ratio=parsed(self.outlines).height / UNIT, mirror=self.mirror,
            stagger=self.stagger, phase=self.phase,
        )  # fmt: skip

    def _laid(self, site: Site, chord: float | None = None) -> Iterator[list[Points]]:
        """Yield the regions of a sector, outline and islands, mm."""
        found = _regions(parsed(self.outlines), metal=self.drawn == "metal")
        counts = np.cumsum([0, *map(len, found)])
        rings = [ring for region in found for ring in region]
        more = {} if chord is None else {"chord": chord}
        for cell in laid(rings, self._grid(), site, **more):
            yield from (cell[a:b] for a, b in pairwise(counts))


def _regions(drawing: Outlines, *, metal: bool) -> list[list[Floats]]:
    """Return the regions to open, each its rings of points as shares of the page's width."""
    if not metal:
        return [[sampled(ring, SAGITTA) / UNIT for ring in one] for one in drawing.regions]
    page = shapely.box(0, 0, UNIT, drawing.height)
    ground = shapely.get_parts(page.difference(drawing.dark))
    rings = [[one.exterior, *one.interiors] for one in ground]
    return [[shapely.get_coordinates(ring)[:-1] / UNIT for ring in one] for one in rings]

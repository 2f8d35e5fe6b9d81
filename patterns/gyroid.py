"""A slice through the gyroid, the surface without straight lines that halves space.

The nodal form sin x cos y + sin y cos z + sin z cos x = 0 (A. H. Schoen, Infinite periodic minimal
surfaces without self-intersections, NASA TN D-5541, 1970; H. G. von Schnering and R. Nesper, Nodal
surfaces of Fourier series, Z. Phys. B 83, 1991) is cut at a height z, with x across the web and y
round it in the log-polar frame. Up to z = pi / 4 each x has two y: ribs that wave from hem to rim,
and at pi / 4 touch their neighbours in turn.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns._biarc import SAGITTA, Complex, biarcs, without_repeats
from openwork.patterns._fit import Fit
from openwork.patterns._lattice import COMFORT, ROUGH, Tile, cells, tile
from openwork.shape.contour import Floats

PIECES = 3  # pairs of arcs along half a wave
NEXT = 1e-5  # to a point beside another, for the direction there
fit = Fit(family="gyroid", size=9.0, share=0.35, ratio=0.5)


@pattern
@dataclass(frozen=True, kw_only=True)
class Gyroid:
    """Waving openings: a slice through the gyroid."""

    height: float = param(
        1.0, low=0, high=1, help="of the slice; 0 makes long waves, 1 lets neighbours touch"
    )
    columns: int = param(
        20, low=3, high=36, per_bolt=True, help="waves round the ring", choose=fit.columns
    )
    rows: int = param(4, low=1, high=5, help="half waves across the web", choose=fit.rows)
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", choose=fit.phase
    )

    def ribs(self, x: Floats) -> Floats:
        """Return the two y (2, n) of the slice at *x*; they are less than 2 pi apart."""
        z = np.pi / 4 * self.height
        turn = np.arctan2(np.sin(x), np.cos(z))
        reach = -np.sin(z) * np.cos(x) / np.hypot(np.sin(x), np.cos(z))
        first = np.arcsin(np.clip(reach, -1, 1))
        return np.array([first, np.pi - first]) - turn

    def tiles(self, site: Site) -> list[Tile]:
        """Return the openings of one column, cut at necks the cutter does not pass with ease."""
        return self._tiles(site, SAGITTA)

    def rough_tiles(self, site: Site) -> list[Tile]:
        """Return the openings roughly drawn."""
        return self._tiles(site, ROUGH * site.corner)

    def _tiles(self, site: Site, sagitta: float) -> list[Tile]:
        width = 2 * np.pi / self.columns
        shift = (self.phase == "cell") / 2
        neck = np.ptp(self.ribs(np.array([np.pi]))) / self.columns * site.inner
        passes = neck > site.rib + 2 * COMFORT * site.corner
        tiles = []
        for side, other in ((0, 1), (1, 0)):
            cuts = [] if passes else [cut for cut in range(1 - side, self.rows, 2) if cut]
            for start, stop in pairwise([0, *cuts, self.rows]):
                there = self._rib(side, start, stop, site, sagitta)
                back = self._rib(other, start, stop, site, sagitta)[::-1] + 1j * side * width
                path = without_repeats(np.concatenate([there, back]))
                corners = np.column_stack([path.real, path.imag / width + shift])
                tiles.append(tile(corners, site, self.columns))
        return tiles

    def _rib(self, side: int, start: int, stop: int, site: Site, sagitta: float) -> Complex:
        """Return one rib between two multiples of pi in x, in the frame u + i v."""
        low, high = extent(site)

        def frame(x: Floats) -> Complex:
            u = low + (high - low) * x / np.pi / self.rows
            return np.asarray(u + 1j * self.ribs(x)[side] / self.columns)

        x = np.pi * np.linspace(start, stop, PIECES * (stop - start) + 1)
        starts, ends = frame(x[:-1]), frame(x[1:])
        leaving, arriving = frame(x[:-1] + NEXT) - starts, ends - frame(x[1:] - NEXT)
        return biarcs(starts, ends, leaving, arriving, sagitta=sagitta).ravel()

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the openings of one sector."""
        del rng
        return cells(self, site)

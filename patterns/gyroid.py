"""A slice through the gyroid, the surface without straight lines that halves space.

The nodal form sin x cos y + sin y cos z + sin z cos x = 0 (A. H. Schoen, Infinite periodic minimal
surfaces without self-intersections, NASA TN D-5541, 1970; H. G. von Schnering and R. Nesper, Nodal
surfaces of Fourier series, Z. Phys. B 83, 1991) is cut at a height z, with x across the web and y
round it in the log-polar frame. Up to z = pi / 4 each x has two y: ribs that wave from hem to rim,
and at pi / 4 touch their neighbours in turn.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import SAGITTA, Complex, biarcs, without_repeats
from openwork.fill.fit import Fit
from openwork.fill.lattice import COMFORT, Lattice, Tile, tile
from openwork.fill.parameters import param
from openwork.fill.polar import extent
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import Floats

PIECES = 3  # pairs of arcs along half a wave
NEXT = 1e-5  # to a point beside another, for the direction there
fit = Fit(size=9.0, share=0.35, ratio=0.5)


@pattern
@dataclass(frozen=True, kw_only=True)
class Gyroid(Lattice):
    """Waving openings: a slice through the gyroid."""

    height: float = param(
        1.0, low=0, high=1, help="of the slice; 0 makes long waves, 1 lets neighbours touch"
    )
    columns: int = param(
        20, low=3, high=36, per_bolt=True, help="waves round the ring", suited=True
    )
    rows: int = param(4, low=1, high=5, help="half waves across the web", suited=True)
    phase: str = param(
        "node", choices=("node", "cell"), help="what stands on the bolt's radius", suited=True
    )

    def ribs(self, x: Floats) -> Floats:
        """Return the two y (2, n) of the slice at *x*; they are less than 2 pi apart."""
        z = np.pi / 4 * self.height
        turn = np.arctan2(np.sin(x), np.cos(z))
        reach = -np.sin(z) * np.cos(x) / np.hypot(np.sin(x), np.cos(z))
        first = np.arcsin(np.clip(reach, -1, 1))
        return np.array([first, np.pi - first]) - turn

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the waves that suit *site*."""
        return fit.best(cls, site, given)

    def tiles(self, site: Site, sagitta: float = SAGITTA) -> list[Tile]:
        """Return the openings of one column, cut at necks the cutter does not pass with ease."""
        width = 2 * np.pi / self.columns
        shift = (self.phase == "cell") / 2
        neck = np.ptp(self.ribs(np.array([np.pi]))) / self.columns * site.inner
        passes = neck > site.rib + 2 * COMFORT * site.corner
        spans = []
        for side in (0, 1):
            cuts = [] if passes else [cut for cut in range(1 - side, self.rows, 2) if cut]
            spans += [(side, *span) for span in pairwise([0, *cuts, self.rows])]
        tiles = []
        for (side, _, _), ribs in zip(spans, self._drawn(spans, site, sagitta), strict=True):
            back = ribs[1 - side].ravel()[::-1] + 1j * side * width
            path = without_repeats(np.concatenate([ribs[side].ravel(), back]))
            corners = np.column_stack([path.real, path.imag / width + shift])
            tiles.append(tile(corners, site, self.columns))
        return tiles

    def _drawn(
        self, spans: list[tuple[int, int, int]], site: Site, sagitta: float
    ) -> list[Complex]:
        """Return both ribs (2, k, n), in the frame u + i v, of every span of multiples of pi."""
        low, high = extent(site)

        def frame(x: Floats) -> Complex:
            u = low + (high - low) * x / np.pi / self.rows
            return np.asarray(u + 1j * self.ribs(x) / self.columns)

        places = [np.pi * np.linspace(a, b, PIECES * (b - a) + 1) for _, a, b in spans]
        x = np.concatenate([one[:-1] for one in places])
        y = np.concatenate([one[1:] for one in places])
        points = np.moveaxis(frame(np.array([x, y, x + NEXT, y - NEXT])), 0, 1)
        starts, ends, after, before = points.reshape(4, -1)
        curves = biarcs(starts, ends, after - starts, ends - before, sagitta=sagitta)
        curves = curves.reshape(2, len(x), -1)
        return np.split(curves, np.cumsum([len(one) - 1 for one in places])[:-1], axis=1)

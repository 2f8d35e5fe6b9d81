"""A regular lattice pushed out of true by Perlin noise, the same way in every sector.

In the log-polar frame every corner moves along the lines of equal gradient noise (K. Perlin,
Improving noise, ACM Trans. Graphics 21, 2002) that repeats with the sector and fades out at rims
and pads: the more, the steeper the noise, as a fluid would without being squeezed (R. Bridson,
J. Hourihan, M. Nordenstam, Curl-noise for procedural fluid flow, same journal 26, 2007). Sides
become pairs of arcs. Needs the package ``noise``.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Self, TypeAlias

import numpy as np
from scipy.interpolate import RectBivariateSpline

from openwork.errors import RuleError
from openwork.fill.biarc import Complex, biarcs, without_repeats
from openwork.fill.fillings import Cells
from openwork.fill.parameters import completed, param
from openwork.fill.polar import extent
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import Points, as_complex, as_points

Push: TypeAlias = Callable[[Complex], Complex]

MOST = 40  # columns that all lattices allow
STEEPEST = 0.04  # of the slope of the noise: with much more cells might fold over
GRID = 12  # points along a wave, and across the web
LONG = 0.1  # ribs: a shorter side stays straight
WRAP = 12  # points past the sector: what a spline's end does fades by 0.27 from one to the next
ALONG = 0.02  # of a wave, for the direction of a side
FADE = 3.5  # pad radii from a bolt where the noise has its full effect


# Patterns that are pushed, and the share of their own columns that leaves room for it.
LATTICES = {"honeycomb": 0.7, "bricks": 1.0, "isogrid": 0.9, "michell": 0.9}


def _columns(site: Site, lattice: str) -> int:
    own: int = vars(completed(lattice, {}, site))["columns"]
    share = round(LATTICES[lattice] * own / site.fold)
    return site.fold * min(MOST // site.fold, max(math.ceil(6 / site.fold), share))


def _waves(site: Site) -> int:
    """Return waves about twice as long as the web is wide."""
    return max(2, round(site.sector * site.middle / (12 + 1.6 * (site.outer - site.inner))))


@pattern
@dataclass(frozen=True, kw_only=True)
class Noise:
    """A regular lattice pushed out of true by noise."""

    lattice: str = param("honeycomb", choices=tuple(LATTICES), help="the pattern that is pushed")
    columns: int = param(
        40, low=6, high=MOST, per_bolt=True, help="columns of the lattice", suited=True
    )
    waves: int = param(3, low=2, high=12, help="waves of noise in one sector", suited=True)
    amount: float = param(
        0.8, was="strength", low=0, high=1, help="how far corners move; 1 almost folds cells"
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return fewer columns than the lattice has alone, and waves as long as the web asks."""
        columns = _columns(site, given["lattice"])
        return cls(**{"columns": columns, "waves": _waves(site), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the cells of one sector; raises RuleError without the package ``noise``."""
        plain = completed(self.lattice, {"columns": self.columns}, site)(site, rng)
        assert isinstance(plain, Cells)
        push = self._push(site, rng)
        step = ALONG * site.sector / self.waves
        return Cells([_pushed(ring, push, step, site) for ring in plain.polygons])

    def _push(self, site: Site, rng: np.random.Generator) -> Push:
        """Return the function that moves points w = u + i v along the lines of equal noise."""
        try:
            from noise import pnoise2  # noqa: PLC0415 (an extra, wanted here alone)
        except ImportError:
            raise RuleError(
                "pattern.name 'noise': needs the package noise; pip install 'openwork[noise]'"
            ) from None
        base = int(rng.integers(0, 256))
        low, high = extent(site)
        wave = site.sector / self.waves
        u = np.linspace(low, high, GRID)
        v = site.sector * np.arange(-WRAP, GRID * self.waves + WRAP + 1) / (GRID * self.waves)
        bolts = as_complex(site.bolt_points)
        from_bolt = np.abs(np.exp(np.add.outer(u, 1j * v))[..., None] - bolts).min(axis=-1)
        share = (u - low) / (high - low)
        fade = np.clip((from_bolt / site.pad - 1) / (FADE - 1), 0, 1) ** 2
        fade *= (4 * share * (1 - share))[:, None] ** 2
        places = np.meshgrid((u - low) / wave, v % site.sector / wave, indexing="ij")
        heights = [
            pnoise2(x, y, 1, repeaty=self.waves, base=base)
            for x, y in zip(*(place.ravel().tolist() for place in places), strict=True)
        ]
        field = RectBivariateSpline(u, v, fade * np.reshape(heights, fade.shape))
        reach = self.amount * STEEPEST * wave**2

        def push(w: Complex) -> Complex:
            x, y = np.clip(w.real, low, high), w.imag % site.sector
            along, across = (field(x, y, dx=k, dy=1 - k, grid=False) for k in (0, 1))
            return np.asarray(w + reach * (along - 1j * across))

        return push


def _pushed(ring: Points, push: Push, step: float, site: Site) -> Points:
    """Return a cell with its corners pushed, and its long sides as pairs of arcs."""
    z = as_complex(ring)
    following = np.roll(z, -1)
    corners = np.log(z)
    ends = corners + np.log(following / z)
    out, back = ((following - z) / one for one in (z, following))
    out, back = (step * one / np.abs(one) for one in (out, back))
    beside = [corners, ends, corners + out, corners - out, ends + back, ends - back]
    starts, stops, after, before, beyond, short = np.split(push(np.concatenate(beside)), 6)
    paths = biarcs(starts, stops, after - before, beyond - short)
    long = np.abs(following - z) > LONG * site.rib
    path = np.concatenate([one if bent else one[:1] for one, bent in zip(paths, long, strict=True)])
    z = np.exp(without_repeats(path))
    return as_points(z)

"""Ribs from hem to rim: radial, swept to one side, or curved into a hook.

A rib follows v(s) = sweep s + hook s (s - 1) with s the share of the web's log-width it has
crossed. One opening lies between two ribs; every rib has the same width along its length.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import BEYOND, column_angle, extent, mapped, phase_shift, unevenness
from openwork.fill.site import Site

WANTED = 20  # ribs round the ring, about
BOW = 1e-3  # mm a rib may rise over the chords that stand for it


def _count(site: Site) -> int:
    counts = range(site.fold * math.ceil(3 / site.fold), 2 * WANTED, site.fold)
    return min(counts, key=lambda n: math.log(n / WANTED) ** 2 + unevenness(site, n) ** 2)


def _points(low: float, high: float, lean: float, bend: float) -> int:
    """Return how many points a rib needs for chords that bow by BOW at most.

    A chord bows by an eighth of the second derivative times its step squared.
    """
    if lean == 0 and bend == 0:
        return 2
    steepest = abs(lean) + abs(bend) * (1 + 2 * BEYOND)
    second = math.exp(high) * (2 * abs(bend) + steepest**2 + (high - low) ** 2)
    return math.ceil((1 + 2 * BEYOND) * math.sqrt(second / (8 * BOW))) + 1


@pattern
@dataclass(frozen=True, kw_only=True)
class Spokes:
    """Radial, swept or curved ribs from hem to rim."""

    count: int = param(
        20, low=3, high=60, per_bolt=True, help="ribs round the ring",
        choose=lambda site, _: _count(site),
    )  # fmt: skip
    sweep: float = param(0.0, low=-65, high=65, help="angle of the ribs from the radius, degrees")
    hook: float = param(0.0, low=-1, high=1, help="curvature of the ribs; 0 for none")
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the gaps between the ribs of one sector."""
        del rng
        low, high = extent(site)
        lean = np.tan(np.radians(self.sweep)) * (high - low)
        bend = self.hook * (high - low)
        share = np.linspace(-BEYOND, 1 + BEYOND, _points(low, high, lean, bend))
        v = lean * (share - 0.5) + bend * share * (share - 1)
        u = low + (high - low) * share
        first = phase_shift(self.phase, 1.0) - 0.5
        ribs = column_angle(site, self.count)(first + np.arange(self.count // site.fold + 1))
        return Cells(
            [
                np.concatenate(
                    [
                        mapped(u, start + v),
                        mapped(np.full(7, u[-1]), np.linspace(start, stop, 9)[1:-1] + v[-1]),
                        mapped(u, stop + v)[::-1],
                        mapped(np.full(7, u[0]), np.linspace(start, stop, 9)[-2:0:-1] + v[0]),
                    ]
                )
                for start, stop in pairwise(ribs)
            ]
        )

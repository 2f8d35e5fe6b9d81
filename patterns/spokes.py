"""Ribs from hem to rim: radial, swept to one side, or curved into a hook.

A rib follows v(s) = sweep s + hook s (s - 1) with s the share of the web's log-width it has
crossed. One opening lies between two ribs; every rib has the same width along its length.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Self

import numpy as np

from openwork.fill.fillings import Cells
from openwork.fill.lattice import rim_side
from openwork.fill.parameters import param
from openwork.fill.polar import column_angle, extent, mapped, phase_shift, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.shape.contour import Floats, Points

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
    second = math.exp(high) * (2 * abs(bend) + (abs(lean) + abs(bend)) ** 2 + (high - low) ** 2)
    return math.ceil(math.sqrt(second / (8 * BOW))) + 1


@pattern
@dataclass(frozen=True, kw_only=True)
class Spokes:
    """Radial, swept or curved ribs from hem to rim."""

    count: int = param(
        20, low=3, high=60, per_bolt=True, help="ribs round the ring", suited=True
    )  # fmt: skip
    sweep: float = param(0.0, low=-65, high=65, help="angle of the ribs from the radius, degrees")
    hook: float = param(0.0, low=-1, high=1, help="curvature of the ribs; 0 for none")
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return about as many ribs as are wanted."""
        return cls(**{"count": _count(site), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the gaps between the ribs of one sector."""
        del rng
        low, high = extent(site)
        lean = np.tan(np.radians(self.sweep)) * (high - low)
        bend = self.hook * (high - low)
        share = np.linspace(0, 1, _points(low, high, lean, bend))
        rib = np.column_stack(
            [low + (high - low) * share, lean * (share - 0.5) + bend * share * (share - 1)]
        )
        first = phase_shift(self.phase, 1.0) - 0.5
        starts = column_angle(site, self.count)(first + np.arange(self.count // site.fold + 1))
        ribs = [rib + np.array([0.0, start]) for start in starts]
        return Cells([_gap(one, other) for one, other in pairwise(ribs)])


def _gap(rib: Floats, after: Floats) -> Points:
    """Return the outline between a *rib* and the one *after* it, both (n, 2): u and v."""
    rim = rim_side(rib[-1], after[-1], 1.0, outer=True)
    hem = rim_side(after[0], rib[0], 1.0, outer=False)
    return mapped(*np.concatenate([rib[:-1], rim, after[:0:-1], hem]).T)

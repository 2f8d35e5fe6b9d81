"""Ribs from hem to rim: radial, swept to one side, or curved into a hook.

A rib follows v(s) = sweep s + hook s (s - 1) with s the share of the web's log-width it has
crossed. One opening lies between two ribs; every rib has the same width along its length.
"""

from dataclasses import dataclass

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import BEYOND, extent, mapped, phase_shift
from openwork.fill.site import Site


@pattern
@dataclass(frozen=True, kw_only=True)
class Spokes:
    """Radial, swept or curved ribs from hem to rim."""

    count: int = param(
        20, low=3, high=120, per_bolt=True, help="ribs round the ring",
        choose=lambda site, _: site.fold * max(1, round(20 / site.fold)),
    )  # fmt: skip
    sweep: float = param(0.0, low=-65, high=65, help="angle of the ribs from the radius, degrees")
    hook: float = param(0.0, low=-1, high=1, help="curvature of the ribs; 0 for none")
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the gaps between the ribs of one sector."""
        del rng
        low, high = extent(site)
        straight = self.sweep == 0 and self.hook == 0
        share = np.linspace(-BEYOND, 1 + BEYOND, 2 if straight else 33)
        lean = np.tan(np.radians(self.sweep)) * (high - low)
        v = lean * (share - 0.5) + self.hook * (high - low) * share * (share - 1)
        u = low + (high - low) * share
        step = 2 * np.pi / self.count
        starts = (
            phase_shift(self.phase, step) - step / 2 + step * np.arange(self.count // site.fold)
        )
        across = step * np.linspace(0, 1, 9)
        return Cells(
            [
                np.concatenate(
                    [
                        mapped(u, start + v),
                        mapped(np.full(7, u[-1]), start + v[-1] + across[1:-1]),
                        mapped(u, start + step + v)[::-1],
                        mapped(np.full(7, u[0]), start + v[0] + across[1:-1])[::-1],
                    ]
                )
                for start in starts
            ]
        )

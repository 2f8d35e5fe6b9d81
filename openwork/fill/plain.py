"""The un-opened ring, what every look is compared with: a kind of its own beside the patterns."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from openwork.fill.fillings import Solid
from openwork.fill.site import Site


@dataclass(frozen=True, kw_only=True)
class Plain:
    """No openings: the blank as it is."""

    def __call__(self, site: Site, rng: np.random.Generator) -> Solid:
        """Return that all stays solid."""
        del site, rng
        return Solid()

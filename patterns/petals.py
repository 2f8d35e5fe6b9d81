"""Petals, drops, leaves and slots: long openings side by side, with smaller ones in their gaps.

One template serves all: the width of a petal, as a share of the column, is a superellipse
(G. Lame, 1818) of the share of the web it has crossed, so that neighbours share even ribs along
their bellies. What is left between the ends of two petals is opened too, where the cutter fits.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from openwork.fill.pattern import Cells, param, pattern
from openwork.fill.polar import extent, unevenness
from openwork.fill.site import Site
from openwork.shape.contour import Floats

from ._fit import chosen, multiples, options
from ._lattice import Tile, cells, rim_side, roomy

# Where a petal is widest, as a share of the web, and the exponents of its inner and outer ends.
TEMPLATES = {
    "petal": (0.70, 1.6, 2.0),
    "drop": (0.80, 1.0, 2.0),
    "leaf": (0.50, 1.5, 1.5),
    "slot": (0.50, 4.0, 4.0),
}
POINTS = 97  # along one side of a petal: chords within 0.003 mm
CLOSED = 0.08  # of a row of gaps the cutter does not fit in, against squared logarithms of widths


@pattern
@dataclass(frozen=True, kw_only=True)
class Petals:
    """Long openings side by side: petals, drops, leaves or slots."""

    shape: str = param("petal", choices=tuple(TEMPLATES), help="outline of a petal")
    sweep: float = param(0.0, low=-60, high=60, help="angle of the petals from the radius, degrees")
    gaps: str = param("open", choices=("open", "solid"), help="the gaps between the petals' ends")
    columns: int = param(
        20, low=3, high=72, per_bolt=True, help="petals round the ring",
        choose=lambda site, given: _fitted(site, given).columns,
    )  # fmt: skip
    phase: str = param(
        "cell", choices=("cell", "node"), help="what stands on the bolt's radius",
        choose=lambda site, given: _fitted(site, given).phase,
    )  # fmt: skip

    def tiles(self, site: Site) -> list[Tile]:
        """Return the petal of one column, and the gaps beside it that let the cutter in."""
        low, high = extent(site)
        share = (1 - np.cos(np.linspace(0, np.pi, POINTS))) / 2
        u = low + (high - low) * share
        width = 2 * np.pi / self.columns
        lean = np.tan(np.radians(self.sweep)) * (u - (low + high) / 2) / width
        middle = lean + (self.phase == "node") / 2
        half = self._width(share) / 2
        left, right = np.column_stack([u, middle + half]), np.column_stack([u, middle - half])
        beyond = np.column_stack([u, middle + 1 - half])
        belly = int(np.argmax(half))
        inner = np.concatenate([beyond[: belly + 1], left[:belly][::-1]])
        rim = rim_side(beyond[-1], left[-1], width, outer=True)
        outer = np.concatenate([left[belly:-1], rim[::-1], beyond[belly + 1 : -1][::-1]])
        both = [inner, outer] if self.gaps == "open" else []
        gaps = [gap for gap in both if roomy([gap], site, self.columns)[0]]
        return [np.concatenate([right, left[-2:0:-1]]), *gaps]

    def _width(self, share: Floats) -> Floats:
        """Return the width of a petal, in columns, by the *share* of the web crossed."""
        belly, inner, outer = TEMPLATES[self.shape]
        below = (1 - np.clip(1 - share / belly, 0, 1) ** inner) ** (1 / inner)
        above = (1 - np.clip((share - belly) / (1 - belly), 0, 1) ** outer) ** (1 / outer)
        return np.asarray(np.where(share < belly, below, above))

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the petals and gaps of one sector."""
        del rng
        return cells(self, site)


def _fitted(site: Site, given: Mapping[str, Any]) -> Petals:
    """Return petals about half as wide as the web, with as few closed gaps as may be."""
    size = (5.0 + 0.5 * (site.outer - site.inner)) / np.cos(np.radians(given["sweep"]))

    def cost(one: Petals) -> float:
        width = np.log(2 * np.pi * site.middle / one.columns / size)
        closed = (3 - len(one.tiles(site))) * (one.gaps == "open")
        return float(width**2 + unevenness(site, one.columns) ** 2 + CLOSED * closed)

    columns = Petals.__dataclass_fields__["columns"]
    counts = options("columns", given, multiples(columns.metadata["low"], site, size))
    one: Petals = chosen((Petals(**{**given, "columns": n}) for n in counts), site, given, cost)
    return one

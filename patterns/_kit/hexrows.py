"""How staggered rows of hexagons or round holes choose their numbers to suit a site."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from openwork.fill.finish import NARROWEST
from openwork.fill.fit import multiples, options
from openwork.fill.lattice import comfortable
from openwork.fill.polar import extent, row_levels, unevenness
from openwork.fill.site import Site

PITCH = math.sqrt(3) / 2  # from row to row, in columns
FEWEST = 6  # columns
GROWTH = 0.06  # of the web's width, added to the size of cells


@dataclass(frozen=True, kw_only=True)
class HexRows:
    """Cells of about ``size`` mm, at most so many ``rows`` and ``columns``."""

    size: float
    most_rows: int
    most_columns: int

    def suited(self, site: Site, given: Mapping[str, Any]) -> dict[str, int]:
        """Return the columns and rows for cells of about the size, those *given* kept.

        Weighs the stretch of the rows, the size of the cells at the middle radius, and how uneven
        the columns are between uneven bolts. At the hem the cutter must work with ease.
        """
        low, high = extent(site)
        wanted = self.size + GROWTH * (site.outer - site.inner)
        growth = float(given.get("growth", 1.0))
        size = max(wanted, comfortable(site) * site.middle / site.inner)

        def rows(columns: int) -> int:
            return int(given["rows"]) if "rows" in given else self._rows(site, columns, growth)

        def cost(columns: int) -> float:
            width = 2 * math.pi / columns
            height = (high - low) / rows(columns)
            stretch = math.log(height / (PITCH * width))
            actual = site.middle * math.sqrt(width * height / PITCH)
            return stretch**2 + math.log(actual / size) ** 2 + unevenness(site, columns) ** 2

        counts = options("columns", given, multiples(FEWEST, site, size, self.most_columns))
        columns = min(counts, key=cost)
        return {"columns": columns, "rows": rows(columns)}

    def _rows(self, site: Site, columns: int, growth: float) -> int:
        """Return as many rows as come nearest to regular hexagons.

        No more than leave room for the cutter in cells as high as that, the lowest of rows that
        grow with the radius by that power.
        """
        low, high = extent(site)
        exact: float = (high - low) / (PITCH * 2 * math.pi / columns)
        least = PITCH * (site.rib + 2 * NARROWEST * site.corner)
        most: int = min(self.most_rows, max(1, int((high - low) * site.middle / least)))
        while growth != 1 and most > 1:
            edges = np.exp(row_levels(site, growth)(np.linspace(0, 1, most + 1)))
            if np.diff(edges).min() >= least:
                break
            most -= 1
        below = min(most, max(1, math.floor(exact)))
        counts = (below, min(most, below + 1))
        return min(counts, key=lambda rows: abs(math.log(exact / rows)))


def tangent_share(low: float, high: float, rows: int, step: float) -> float:
    """Return the radius of the largest holes in staggered *rows*, as a share of their distance.

    Holes touch the circles of radius *low* and *high* and, *step* (radians) apart in a row, their
    neighbours; from row to row they grow by one factor (A. F. Beardon, T. Dubejko, K. Stephenson,
    Spiral hexagonal circle packings in the plane, Geometriae Dedicata 49, 1994).

    >>> round(tangent_share(1.0, 2.0, 1, 3.0), 9)
    0.333333333
    """
    from scipy.optimize import brentq  # noqa: PLC0415 (slow to import, and seldom needed)

    most: float = min(math.sin(step / 2), (high - low) / (high + low))
    if rows == 1:
        return most

    def spare(share: float) -> float:
        """Return how far neighbours one row on, or two, stand apart, less the holes."""
        factor = (high * (1 - share) / (low * (1 + share))) ** (1 / (rows - 1))
        apart = math.sqrt(1 + factor**2 - 2 * factor * math.cos(step / 2))
        staggered: float = apart - share * (1 + factor)
        in_line: float = factor**2 - 1 - share * (1 + factor**2)
        return staggered if rows == 2 else min(staggered, in_line)

    return most if spare(most) >= 0 else float(brentq(spare, 0.0, most))

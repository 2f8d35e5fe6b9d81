"""How a lattice of columns and rows chooses its numbers to suit a site."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import shapely

from openwork.fill.finish import FRAGMENT, NARROWEST
from openwork.fill.pattern import PATTERNS
from openwork.fill.polar import extent, unevenness
from openwork.fill.site import Site
from openwork.patterns._lattice import COMFORT, ROUGH, polygons, repeated, roomy, rough_tiles

MOST = 30  # candidates looked at: the proportions of others are no longer those of the family
TRIED = 3  # of them whose meeting with the pads is looked at
PAD_COST = 0.05  # of one tile spoilt at every pad, against squared logarithms of proportions
LATER = 0.05  # cost of every angle passed over
CRAMPED = 1.5  # cost of tiles all too narrow to look like openings
LOST = 4.0  # cost of tiles all too narrow for the cutter
SPARE = 0.05  # cutter diameters by which a tile must be wider than the finisher asks


@dataclass(frozen=True, kw_only=True)
class Fit:
    """How a family called ``family`` chooses its columns, rows, phase and angle for a site.

    Columns are about ``size`` plus ``share`` of the web's width wide (mm, at the middle radius),
    rows ``ratio`` times as high as columns are wide; ``angles`` are tried in turn.
    """

    family: str
    size: float
    share: float
    ratio: float
    angles: tuple[float, ...] = ()

    def columns(self, site: Site, given: Mapping[str, Any]) -> int:
        """Return the columns that suit *site* best beside what is *given*."""
        return int(self._best(site, given).columns)

    def rows(self, site: Site, given: Mapping[str, Any]) -> int:
        """Return the rows that suit *site* best beside what is *given*."""
        return int(self._best(site, given).rows)

    def phase(self, site: Site, given: Mapping[str, Any]) -> str:
        """Return the phase that suits *site* best beside what is *given*."""
        return str(self._best(site, given).phase)

    def angle(self, site: Site, given: Mapping[str, Any]) -> float:
        """Return the angle that suits *site* best beside what is *given*."""
        return float(self._best(site, given).angle)

    def _best(self, site: Site, given: Mapping[str, Any]) -> Any:
        low, high = extent(site)
        size = self.size + self.share * (site.outer - site.inner)

        def cost(one: Any) -> float:
            width = 2 * math.pi / one.columns
            stretch = math.log((high - low) / one.rows / (self.ratio * width))
            wide = math.log(site.middle * width / size)
            later = self.angles.index(one.angle) if "angle" not in given and self.angles else 0
            return stretch**2 + wide**2 + unevenness(site, one.columns) ** 2 + LATER * later

        return chosen(self._candidates(site, given, size), site, given, cost)

    def _candidates(self, site: Site, given: Mapping[str, Any], size: float) -> Iterator[Any]:
        low, high = extent(site)
        family = PATTERNS[self.family]
        fields = {field.name: field for field in dataclasses.fields(family)}
        least, most = (fields["columns"].metadata[end] for end in ("low", "high"))
        highest = int(fields["rows"].metadata["high"])
        tilted = [{"angle": one} for one in options("angle", given, self.angles)] or [{}]
        for columns in options("columns", given, multiples(least, site, size, most)):
            wanted = math.ceil((high - low) * columns / (2 * math.pi * self.ratio))
            for rows in options("rows", given, range(1, min(wanted, highest) + 1)):
                for angle in tilted:
                    yield family(**{**given, **angle, "columns": columns, "rows": rows})


def multiples(least: float, site: Site, size: float, most: float = math.inf) -> Sequence[int]:
    """Return the counts to try round the ring for what is about *size* mm wide.

    Multiples of the symmetry order from *least* to *most*, up to twice as many as fit.
    """
    first = math.ceil(least / site.fold) * site.fold
    last = max(first, min(most, round(4 * math.pi * site.middle / size)))
    return range(first, int(last) + 1, site.fold)


def options(name: str, given: Mapping[str, Any], otherwise: Iterable[Any]) -> Iterable[Any]:
    """Return the value *given* for a parameter alone, or what may be tried *otherwise*."""
    return [given[name]] if name in given else otherwise


def chosen(
    candidates: Iterable[Any], site: Site, given: Mapping[str, Any], cost: Callable[[Any], float]
) -> Any:
    """Return the cheapest candidate, tiles that are cramped or lost and pads counted.

    The phase is chosen too, unless *given*.
    """
    costs = sorted(((cost(one), one) for one in candidates), key=lambda pair: pair[0])[:MOST]
    best: list[tuple[float, Any]] = []
    for price, one in costs:
        if len(best) == TRIED and price >= best[-1][0]:
            break
        lost = 1 - roominess(one, site, NARROWEST + SPARE)
        cramped = 1 - roominess(one, site, COMFORT)
        best.append((price + CRAMPED * cramped + LOST * lost, one))
        best = sorted(best, key=lambda pair: pair[0])[:TRIED]
    phases = options("phase", given, ("cell", "node"))
    turned = [(price, dataclasses.replace(one, phase=p)) for price, one in best for p in phases]
    return min(turned, key=lambda pair: pair[0] + PAD_COST * spoilt(pair[1], site))[1]


@lru_cache(maxsize=1024)
def roominess(lattice: Any, site: Site, least: float) -> float:
    """Return the share of the tiles, pads aside, *least* cutter diameters wide at the widest."""
    wide = roomy(rough_tiles(lattice, site), site, lattice.columns, least)
    return float(np.mean(wide)) if len(wide) else 0.0


@lru_cache(maxsize=1024)
def spoilt(lattice: Any, site: Site) -> float:
    """Return how many tiles a pad spoils: 1 for one that is filled or left as a slot."""
    reach = site.pad + site.corner
    pads = shapely.union_all(shapely.buffer(shapely.points(site.bolt_points), reach, quad_segs=6))
    drawn = repeated(rough_tiles(lattice, site), lattice, site)
    tiles = polygons(drawn.polygons, ROUGH * site.corner)
    near = tiles[shapely.intersects(tiles, pads)]
    cores = shapely.buffer(near, -site.rib / 2 - site.corner, join_style="mitre")
    left = shapely.difference(cores, pads)
    share = shapely.area(left) / np.maximum(shapely.area(cores), 1e-9)
    easy = ~shapely.is_empty(shapely.buffer(left, (1 - COMFORT) * site.corner))
    bad = np.where(easy & (share > FRAGMENT), 1 - share, np.minimum(1, 10 * share))
    return float(bad.sum() / len(site.bolts) * site.fold)

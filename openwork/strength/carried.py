"""What the ribs of a pattern carry when all are even: by that they may be widened."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import floor, log

import numpy as np
import shapely

from openwork.fill.finish import Finished, finished, repeated
from openwork.fill.registry import Pattern
from openwork.fill.site import Site
from openwork.part.blank import Blank
from openwork.shape.contour import Complex, Floats, mirrored, polygon
from openwork.strength.flow import Flow, flow
from openwork.strength.model import ring_model

LADDER = 1.3  # from rib to rib for which the ring is calculated; between them the two are mixed
ALIKE = 0.005  # of the openings' area: what a mirrored look may miss of its image


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A ring before its ribs are widened: blank, pattern, seed of chance, rollers, bolt heads."""

    blank: Blank
    pattern: Pattern
    seed: int
    worn: bool
    head: float

    def openings(self, site: Site) -> Finished:
        """Return the openings of one sector with even ribs on *site*."""
        return finished(self.pattern(site, np.random.default_rng(self.seed)), site)


@dataclass(frozen=True, slots=True)
class Mixed:
    """The flows at two ribs, the second for a *share*."""

    first: Flow
    second: Flow
    share: float

    def __call__(self, z: Complex) -> Floats:
        """Return the flow at the points *z* (n,), mm."""
        mixed: Floats = (1 - self.share) * self.first(z) + self.share * self.second(z)
        return mixed


def carried(case: Case, site: Site) -> Mixed:
    """Return what the ribs of *case* on *site* carry, steadily in the rib.

    Raises RuleError where such a ring with even ribs cannot be made or meshed.
    """
    place = log(site.rib, LADDER)
    low = floor(place)
    first, second = (_flow(case, _even(site, low + k)) for k in (0, 1))
    return Mixed(first, second, place - low)


def _even(site: Site, step: int) -> Site:
    return replace(site, rib=round(LADDER**step, 6), taper=0.0)


@lru_cache(maxsize=64)  # a search turns the rib, and comes by the same few again and again
def _flow(case: Case, site: Site) -> Flow:
    sector = case.openings(site).openings
    model = ring_model(case.blank, repeated(sector, site), head=case.head)
    straight = repeated(sector, replace(site, turn=0.0))
    whole = shapely.union_all([polygon(one) for one in straight])
    image = shapely.union_all([polygon(mirrored(one)) for one in straight])
    alike = whole.symmetric_difference(image).area < ALIKE * whole.area
    return flow(model, site, mirrored=bool(alike), worn=case.worn)

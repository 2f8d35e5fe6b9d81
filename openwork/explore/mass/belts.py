"""Rim and hem grown together, the ribs between them narrowed as their cells are."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from openwork.explore.mass.search import PLACES, Made, Trials
from openwork.ring import Design

MOST = 0.2  # of the web's width that either belt may take: beyond it the look is a belt with slots


@dataclass(slots=True, kw_only=True)
class Belts(Trials):
    """Trials of the width, mm, that rim and hem have more than in ``spec``.

    The ribs follow their cells from ``spec``'s, down to ``least``; ``width`` is the web's.
    """

    least: float
    width: float

    def changes(self, value: float) -> Mapping[str, float]:
        """Return rim, hem and rib for belts wider by *value*."""
        web = self.spec.web
        rib = max(self.least, web.rib * (1 - 2 * value / self.width))
        wider = {"web.rim": web.rim + value, "web.hem": web.hem + value, "web.rib": rib}
        return {key: round(one, PLACES) for key, one in wider.items()}

    def slope(self, value: float) -> float:
        """Return about how fast the mass grows: half of what the belts take was open."""
        ring = self.rings[value]
        edges = 2 * math.pi * (ring.site.inner + ring.site.outer)
        return edges / 2 * ring.blank.plate * ring.blank.material.density


def belts(ring: Design, least: float, keep: int, made: Made | None = None) -> Belts:
    """Return trials of wider belts from *ring*, its pattern settled; *least* and *keep* as above.

    No ring among them has fewer openings than *keep*; those already *made* are not made again.
    """
    width = ring.site.outer - ring.site.inner
    limits = (0.0, round(MOST * width, PLACES))
    known: Made = {} if made is None else made
    found = Belts(ring.spec, "web.rim", limits, keep, known, least=least, width=width)
    found.take(0.0, ring)
    return found

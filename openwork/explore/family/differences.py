"""Where a size of a family departs from the ring that sets the look, in words."""

from __future__ import annotations

import math

import numpy as np

from openwork.fill.polar import MOST_STRETCH
from openwork.measure.cell import cell
from openwork.ring import Design
from openwork.shape.contour import Floats, centroid

AWAY = 0.2  # of the web's width: openings as far apart are not the same


def departures(look: Design, ring: Design) -> tuple[str, ...]:
    """Return in words where *ring* departs from *look*."""
    base, found = look.spec.ring.teeth, []
    counts = [len(one.openings) for one in (look, ring)]
    if counts[0] != counts[1]:
        found.append(f"{counts[1]} openings, {counts[0]} at {base} teeth")
    elif _elsewhere(look, ring):
        found.append(f"as many openings as at {base} teeth, but others")
    web, own = ring.spec.web, look.spec.web
    if look.spec.goal.held == "rib" and web.rib != own.rib:
        found.append(f"ribs of {web.rib:.2f} mm")
    if (web.rim, web.hem) != (own.rim, own.hem):
        found.append(f"rim {web.rim:.2f} and hem {web.hem:.2f} mm")
    taller = stretch(look, ring)
    if abs(taller) > MOST_STRETCH:
        way = "higher" if taller > 0 else "lower"
        share = 100 * math.expm1(abs(taller))
        found.append(f"cells {share:.0f} % {way} for their width than at {base} teeth")
    return tuple(found)


def _elsewhere(look: Design, ring: Design) -> bool:
    """Tell whether the same number of openings stand elsewhere across the web."""
    places = [_places(one) for one in (look, ring)]
    return bool(np.abs(places[0] - places[1]).max(initial=0) > AWAY)


def _places(ring: Design) -> Floats:
    """Return how far across the web the openings stand, 0 at the hem and 1 at the rim, sorted."""
    radii = np.array([math.hypot(*centroid(one)) for one in ring.sector])
    return np.sort((radii - ring.site.inner) / (ring.site.outer - ring.site.inner))


def stretch(look: Design, ring: Design) -> float:
    """Return the logarithm of how much higher for their width cells are than those of *look*."""
    return math.log(cell(ring).proportion / cell(look).proportion)

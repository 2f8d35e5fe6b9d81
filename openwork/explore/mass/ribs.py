"""The rib alone turned to a mass, at once: for who turns something else at the same time."""

from __future__ import annotations

from dataclasses import dataclass

from openwork.explore.mass.begun import RIB, key_range, settled
from openwork.explore.mass.search import TOLERANCE, Trials, nearest, stepped
from openwork.ring import Design


@dataclass(frozen=True, slots=True, kw_only=True)
class Ribbed:
    """The ring nearest a mass by its ribs; ``least`` and ``most`` (g) are the masses tried.

    ``reached`` tells whether it is on the mass, to 0.05 g.
    """

    design: Design
    reached: bool
    least: float
    most: float


def by_ribs(ring: Design, aim: float) -> Ribbed:
    """Return *ring* with the rib that brings it on the mass *aim*, g, or as near as was found.

    Its openings stay; the rib goes no lower than ``goal.least_rib``, or its own where that is left
    out. Only steps along the slope are tried, some three of them from a ring that is near.
    """
    spec, start = settled(ring), ring.spec.web.rib
    trials = Trials(spec, RIB, key_range(spec, RIB), keep=len(ring.openings))
    trials.take(start, ring)
    value = nearest(trials, aim, TOLERANCE)
    if value is None:
        value = stepped(trials, start, aim, TOLERANCE)
    reached = value is not None
    if value is None:
        value = min(trials.known(), key=lambda one: abs(one[1] - aim))[0]
    masses = [mass for _, mass in trials.known()]
    return Ribbed(design=trials.rings[value], reached=reached, least=min(masses), most=max(masses))

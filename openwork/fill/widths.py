"""How much more than half a rib stands beside an opening: by its place, or by what it carries."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

from openwork.fill.site import Site
from openwork.shape.contour import Complex, Floats

# Both take points (n,) as complex numbers.
Carried: TypeAlias = Callable[[Complex], Floats]  # stress, any unit
Widths: TypeAlias = Callable[[Complex], Floats]  # mm

THICKER = 1.0  # ribs: how much thicker a rib is at a bolt under a full taper
AT_RIM = 0.5  # of that: how much of it remains at the rim between the bolts
EVEN = 0.6  # of the mean stress over the web: a rib that carries no more is not thickened
POWER = 0.9  # of the stress, by which widths grow: 1 for ribs that are only pulled and pushed
THICKEST = 3.5  # ribs that a rib is widened to


def widths_of(site: Site, carried: Carried | None) -> Widths | None:
    """Return the widths of a full or partial taper on *site*; None where ribs are even."""
    if not site.taper:
        return None
    return _by_place(site) if carried is None else _by_force(site, carried)


def _by_place(site: Site) -> Widths:
    """Return widths that fall off from a bolt, and from the rim, over the width of the web."""
    width = site.outer - site.inner
    bolts = site.bolt_points @ np.array([1.0, 1.0j])

    def extra(z: Complex) -> Floats:
        away = np.maximum(np.abs(z[:, None] - bolts) - site.pad, 0.0) / width
        rim = np.clip((site.outer - np.abs(z)) / width, 0.0, 1.0)
        thin = np.prod(1 - np.exp(-4 * away**2), axis=1) * (1 - AT_RIM * (1 - rim) ** 2)
        by: Floats = site.taper * THICKER * site.rib / 2 * (1 - thin)
        return by

    return extra


def _by_force(site: Site, carried: Carried) -> Widths:
    """Return widths that grow with the stress *carried* beyond a share of its mean on the web."""
    even = EVEN * _mean(site, carried)

    def extra(z: Complex) -> Floats:
        grown = np.clip((carried(z) / even) ** POWER, 1.0, THICKEST)
        by: Floats = site.taper * site.rib / 2 * (grown - 1)
        return by

    return extra


def _mean(site: Site, carried: Carried) -> float:
    """Return the mean of the stress over the sector of the web."""
    radii = np.linspace(site.inner, site.outer, 12)
    angles = site.sector * (np.arange(48) + 0.5) / 48
    r, a = (one.ravel() for one in np.meshgrid(radii, angles))
    return float(carried(r * np.exp(1j * a)).mean())

"""The un-opened ring thinned to a mass, to compare an opened one with."""

from __future__ import annotations

import dataclasses
from functools import lru_cache

import numpy as np

from openwork.errors import RuleError
from openwork.strength.body import Body, Fineness, body
from openwork.strength.element import gauss_points
from openwork.strength.model import Model, runout, thickness
from openwork.strength.plane import mean_turn

MESH = Fineness(3.0, 2.5)
FULL = 4.0  # mm, plate of the blank that is meshed once for all thicknesses


@lru_cache(maxsize=16)
def _plain(solid: Model) -> Body:
    """Return an un-opened ring meshed; nothing in it asks for a finer mesh."""
    return body(solid, MESH)


def thinned(solid: Model, volume: float) -> Model:
    """Return *solid* with its plate thinned to *volume* (mm3), teeth as they are.

    Raises RuleError when the teeth alone are more than that.
    """
    blank = _plain(dataclasses.replace(solid, plate=FULL))
    share = np.interp(np.hypot(*gauss_points(blank.mesh).T).T, runout(solid), [1.0, 0.0])
    web = float((blank.slopes.areas * share).sum())
    teeth = float((blank.slopes.areas * (1 - share)).sum()) * solid.tooth_width
    if volume <= teeth:
        raise RuleError(
            f"strength: a plain plate of {volume:.0f} mm3 has no web left beside its teeth; more "
            f"than {teeth:.0f} mm3 works"
        )
    return dataclasses.replace(solid, plate=(volume - teeth) / web)


def plain_turn(solid: Model, volume: float, pressure: float, *, arm: float = 0.0) -> float:
    """Return the turn (rad) per newton of pull of *solid* thinned to *volume* (mm3)."""
    thin = thinned(solid, volume)
    blank = _plain(dataclasses.replace(solid, plate=FULL))
    points = gauss_points(blank.mesh)
    return mean_turn(
        dataclasses.replace(blank, thickness=thickness(thin, points)), pressure, arm=arm
    )

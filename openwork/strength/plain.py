"""The un-opened ring thinned to a mass, to compare an opened one with.

Where many rings of one outline are searched, it is calculated at plate thicknesses STEP apart and
read between them on logarithmic scales, where its stiffness is all but a straight line.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from openwork.errors import RuleError
from openwork.shape.contour import Floats
from openwork.strength.body import Body, Fineness, body, heights
from openwork.strength.dish import dish
from openwork.strength.element import gauss_points
from openwork.strength.model import SHARP, Model
from openwork.strength.plane import mean_turns
from openwork.strength.plate import across, bolt_gaps
from openwork.strength.support import Arms
from openwork.strength.thickness import beyond_plate, thickness

FULL = 4.0  # mm, plate of the blank that is meshed once for all thicknesses
MESH = Fineness(3.0, 2.5)  # nothing in a plain ring asks for a finer one
STEP = 1.25  # of one calculated thickness to the next


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """A plain plate of ``thickness`` (mm): its stiffness in plane alone and on arms, per pull.

    ``alone`` and ``on_arms`` are rad/N, ``at_bolt`` and ``between`` the side stiffness, N/mm.
    """

    thickness: float
    alone: float
    on_arms: float
    at_bolt: float
    between: float


@lru_cache(maxsize=16)
def _blank(solid: Model) -> Body:
    """Return an un-opened ring meshed."""
    return body(solid, MESH)


@lru_cache(maxsize=64)
def _calculated(solid: Model, plate: float, pressure: float, arms: Arms) -> Floats:
    """Return the logarithms of the four figures of *solid* with a *plate* as thick (mm)."""
    blank, thin = _blank(solid), dataclasses.replace(solid, plate=plate)
    depth = thickness(thin, gauss_points(blank.mesh), heights(blank.slopes))
    made = dataclasses.replace(blank, model=thin, thickness=depth)
    groups = bolt_gaps(made)
    soft = across(made, gaps=np.concatenate(groups)).compliance
    bolts, between = soft[: len(groups[0])], soft[len(groups[0]) :]
    alone, on_arms = mean_turns(made, pressure, arms)
    softer = dish(thin, pressure).softer
    turns = alone * softer, on_arms + alone * (softer - 1)
    return np.log([*turns, 1 / bolts.max(), 1 / between.max()])


def thinned(solid: Model, volume: float) -> float:
    """Return the plate thickness (mm) at which *solid* has *volume* (mm3), teeth as they are.

    Raises RuleError when the teeth alone are more than that.
    """
    blank = _blank(_bare(solid))
    beyond = beyond_plate(solid, gauss_points(blank.mesh))
    web = float((blank.slopes.areas * (1 - beyond)).sum())
    teeth = float((blank.slopes.areas * beyond * blank.thickness).sum())
    if volume <= teeth:
        raise RuleError(
            f"strength: a plain plate of {volume:.0f} mm3 has no web left beside its teeth; more "
            f"than {teeth:.0f} mm3 works"
        )
    return (volume - teeth) / web


def plain(
    solid: Model,
    volume: float,
    *,
    pressure: float,
    arms: Arms,
    shared: bool = False,
) -> Plain:
    """Return *solid* thinned to *volume* (mm3).

    The chain bears at the *pressure* angle (rad); *shared* reads between thicknesses that other
    rings use too.
    """
    plate, bare = thinned(solid, volume), _bare(solid)
    if shared:
        place = float(np.log(plate / FULL) / np.log(STEP))
        low = int(np.floor(place))
        ends = [_calculated(bare, FULL * STEP**k, pressure, arms) for k in (low, low + 1)]
        logs = ends[0] + (place - low) * (ends[1] - ends[0])
    else:
        logs = _calculated(bare, plate, pressure, arms)
    alone, on_arms, at_bolt, between = np.exp(logs).tolist()
    return Plain(thickness=plate, alone=alone, on_arms=on_arms, at_bolt=at_bolt, between=between)


def _bare(solid: Model) -> Model:
    """Return *solid* as a plate of no thickness in particular, without openings."""
    return dataclasses.replace(
        solid,
        openings=(),
        plate=FULL,
        bevel=0.0,
        chamfers=SHARP,
        counterbore=None,
        recesses=None,
    )

"""A ring under the chain: the pull that a load becomes, and the stress it makes in plane."""

from __future__ import annotations

import numpy as np

from openwork.strength.body import body
from openwork.strength.chainpull import lever, pressure_angle, torque
from openwork.strength.meshing.refine import around, hot_spots
from openwork.strength.model import Model
from openwork.strength.plane import Plane, in_plane
from openwork.strength.quality import GRADES, Quality
from openwork.tables.load import Load


def pull_of(model: Model, load: Load) -> tuple[float, float]:
    """Return the torque (N mm) of *load* and the chain pull (N) that balances it."""
    turning = torque(load.force, load.crank)
    return turning, turning / lever(model.teeth, model.pitch, pressure_of(model, load))


def pressure_of(model: Model, load: Load) -> float:
    """Return the pressure angle (rad) of the chain of *load* on *model*."""
    return pressure_angle(model.teeth, worn=load.chain == "worn-in")


def loaded(model: Model, load: Load, *, quality: Quality = "draw") -> Plane:
    """Return the ring under chain pull, refined round its hottest places where *quality* says so.

    Raises RuleError where the ring cannot be meshed.
    """
    grade, pressure = GRADES[quality], pressure_of(model, load)
    size = None
    if grade.scout is not None:
        first = in_plane(body(model, grade.scout), pressure, arm=load.arm)
        size = around(hot_spots(first.edges.points, np.abs(first.stress).max(axis=1)))
    return in_plane(body(model, grade.plane, size=size), pressure, arm=load.arm)

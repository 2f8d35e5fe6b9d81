"""The strength of a design, beside a plain plate and a net of spirals of the same mass."""

from __future__ import annotations

from openwork.errors import OpenworkError
from openwork.explore.mass.tune import tuned
from openwork.measure.figures import mass
from openwork.ring import Design
from openwork.spec.spec import changed
from openwork.strength.model import Model, ring_model
from openwork.strength.quality import Quality
from openwork.strength.report import strength
from openwork.strength.result import Strength

OVER = "over what the metal takes"
NARROWEST = 0.5  # mm
NET = {"name": "michell"}  # crossed spirals: the lightest net for pure torque


def strength_of(
    design: Design, *, quality: Quality = "draw", compare: bool = True, modes: bool = False
) -> Strength:
    """Return the strength of *design* under the load its spec asks for.

    *compare* reckons it against the net of crossed spirals too, where one of its mass can be
    made on its site; *modes* asks for frequency and buckling. Raises RuleError where the ring
    cannot be calculated.
    """
    model = ring_model(design.blank, design.openings)
    net = net_of(design) if compare else None
    return strength(model, design.spec.load, quality=quality, net=net, modes=modes)


def net_of(design: Design) -> Model | None:
    """Return the net of crossed spirals as heavy as *design* on its site; None without one."""
    try:
        # Only compared, never made: its ribs may be as narrow as the mass asks.
        spec = changed(design.spec, {"pattern": NET, "goal.least_rib": NARROWEST})
        found = tuned(spec, mass(design)).design
    except OpenworkError:
        return None
    return ring_model(found.blank, found.openings)


def over_the_metal(found: Strength) -> bool:
    """Tell whether the load is over what the metal takes, once or likely time and again."""
    tired = found.utilisation_fatigue
    used = [found.utilisation_static or 0, 0 if tired is None else tired.utilisation[1]]
    return max(used) > 1

"""The strength of a design, beside a plain plate and a net of spirals of the same mass."""

from __future__ import annotations

from openwork.errors import OpenworkError
from openwork.explore.mass.tune import tuned
from openwork.measure.figures import mass
from openwork.ring import Design
from openwork.spec.spec import changed
from openwork.strength.model import Model, Recesses, ring_model
from openwork.strength.quality import Quality
from openwork.strength.report import Hold, Reckoned, reckoned
from openwork.strength.result import Strength

OVER = "over what the metal takes"
NARROWEST = 0.5  # mm
NET = {"name": "michell"}  # crossed spirals: the lightest net for pure torque


def strength_of(design: Design, *, quality: Quality = "final", compare: bool = True) -> Strength:
    """Return the strength of *design* under the load its spec asks for.

    *compare* reckons it against the net of crossed spirals too, where one of its mass can be
    made on its site. Raises RuleError where the ring cannot be calculated.
    """
    return reckoned_of(design, quality=quality, compare=compare).strength


def reckoned_of(
    design: Design,
    *,
    quality: Quality = "final",
    compare: bool = True,
    modes: bool = False,
    loose: bool = False,
) -> Reckoned:
    """Return the same with the loaded ring; *modes* and *loose* as ``reckoned`` takes them."""
    spec = design.spec
    return reckoned(
        model_of(design),
        spec.load,
        Hold(spider=spec.spider, bolts=spec.bolts),
        quality=quality,
        net=net_of(design) if compare else None,
        modes=modes,
        loose=loose,
    )


def model_of(design: Design) -> Model:
    """Return *design* as the strength room sees it."""
    spec = design.spec
    return ring_model(
        design.blank,
        design.through,
        bevel=design.bevels(design.through),
        chamfers=spec.edges,
        head=spec.bolts.head,
        recesses=_recesses(design),
    )


def _recesses(design: Design) -> Recesses | None:
    pocket, plate = design.spec.pocket, design.blank.plate
    if not design.pockets:
        return None
    bevels = design.bevels(design.pockets)
    return Recesses(design.pockets, plate - pocket.floor, len(pocket.faces), bevels)


def net_of(design: Design) -> Model | None:
    """Return the net of crossed spirals as heavy as *design* on its site; None without one."""
    try:
        # Only compared, never made: its ribs may be as narrow as the mass asks.
        spec = changed(
            design.spec, {"pattern": NET, "goal.least_rib": NARROWEST, "pocket.which": "none"}
        )
        found = tuned(spec, mass(design)).design
    except OpenworkError:
        return None
    return model_of(found)


def over_the_metal(found: Strength) -> bool:
    """Tell whether the load is over what the metal takes, once or likely time and again."""
    stress = found.stress
    if stress is None:
        return False
    tired = [one for one in (stress.utilisation_rig, stress.utilisation_ride) if one is not None]
    return max([stress.utilisation_static, *(one.utilisation[1] for one in tired)]) > 1

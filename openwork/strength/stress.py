"""What a metal ring bears: its peak, the force at first yield, and two figures of fatigue."""

from __future__ import annotations

import numpy as np

from openwork.errors import RuleError
from openwork.part.alternate import base_radius
from openwork.strength.chainpull import pressure_angle, side_force, tooth_forces
from openwork.strength.endurance import RIGS, endured
from openwork.strength.fatigue import Fatigue, Worst, fatigue, governing, scaled, worst
from openwork.strength.loading import CHAINS, Case, Chain, Loaded
from openwork.strength.model import Model
from openwork.strength.plate import Plate
from openwork.strength.quality import Grade
from openwork.strength.result import Peak, Stress
from openwork.strength.tooth import root_coefficient, side_stress, wide_coefficient
from openwork.strength.yielding import FirstYield, Part, first_yield
from openwork.tables.load import Load

SPREAD = 3  # gaps that share a side load: the chain comes into plane over as many


def stress_figures(
    found: Loaded, plate: Plate, load: Load, grade: Grade
) -> tuple[Stress, tuple[str, ...]]:
    """Return the stresses of the ring *found* under *load*, and notes on what is not known."""
    model = found.alone.plane.body.model
    peak = max((peak_of(case) for case in found.cases), key=lambda one: one.value)
    side = _side(plate, found.under(load.wear)[0].pull, load)
    roots = tuple(_root(found, chain, alone=False) for chain in CHAINS)
    single = tuple(_root(found, chain, alone=True) for chain in CHAINS)
    first = [
        _yields(found, chain, root, side, load) for chain, root in zip(CHAINS, roots, strict=True)
    ]
    rig, ride, notes = _tired(found, load, grade)
    wide = _wide(found)
    return Stress(
        peak_stress=peak,
        peak_alone=peak_of(found.under(load.wear)[0]),
        side_stress=side,
        yield_new=first[0],
        yield_worn=first[1],
        utilisation_static=_once(model, peak.value, side, max(*roots, *(wide or ()))),
        utilisation_rig=rig,
        utilisation_ride=ride,
        tooth_root=(roots[0], roots[1]),
        tooth_root_wide=wide,
        tooth_alone=(single[0], single[1]),
        tooth_side=_tooth_side(model),
        tooth_side_wide=_wide_side(model),
    ), notes


def peak_of(case: Case) -> Peak:
    """Return the largest stress of a *case* on a free edge."""
    plane = case.plane
    station, position = np.unravel_index(np.abs(plane.stress).argmax(), plane.stress.shape)
    value = float(plane.stress[station, position]) * case.pull
    x, y = plane.edges.points[station]
    return Peak(
        value=abs(value),
        sign="tension" if value > 0 else "compression",
        place=(float(x), float(y)),
        position=float(np.degrees(plane.body.model.gaps[position])),
        chain=case.chain,
        support=case.support,
    )


def _side(plate: Plate, pull: float, load: Load) -> float:
    """Return the largest bending stress of the slanting chain, MPa."""
    aside = sum(np.roll(plate.stress, shift, axis=1) for shift in range(SPREAD)) / SPREAD
    return float(np.abs(aside).max()) * side_force(pull, offset=load.slant, span=load.span)


def _yields(found: Loaded, chain: Chain, root: float, side: float, load: Load) -> FirstYield | None:
    material = found.alone.plane.body.model.material
    if not material.yield_strength:
        return None
    web = max(peak_of(case).value for case in found.under(chain))
    stresses: dict[Part, float] = {"web": web, "tooth root": root, "side": side}
    return first_yield(load.force, stresses, material.yield_strength)


def _once(model: Model, web: float, side: float, root: float) -> float:
    """Return how much of the metal one full pull takes, stresses in MPa."""
    material = model.material
    used = max(web + side, root) / material.ultimate
    return max(used, max(web, root) / (material.yield_strength or material.ultimate))


def _tired(
    found: Loaded, load: Load, grade: Grade
) -> tuple[Fatigue | None, Fatigue | None, tuple[str, ...]]:
    """Return the fatigue on the rig and on the rider's own road, or a note why there is none."""
    material = found.alone.plane.body.model.material
    rig = RIGS[load.rig]
    unit, least = _cycle(found, load)
    doubt = (grade.stress[0] * least, grade.stress[1])
    uses = (
        (rig.force, rig.cycles, float(np.cos(rig.below))),
        (load.ride, load.life, 1.0),
    )
    try:
        both = [
            fatigue(
                scaled(unit, force * level / load.force),
                endured(material, cycles, load.surface, load.survival),
                ultimate=material.ultimate,
                force=force,
                cycles=cycles,
                survival=load.survival,
                doubt=doubt,
            )
            for force, cycles, level in uses
        ]
    except RuleError as lack:
        return None, None, (str(lack),)
    lacking = (
        f"ring.material {material.name}: no stress-life line is known; its long-life strength "
        "counts at every number of cycles"
    )
    return both[0], both[1], () if material.basquin else (lacking,)


def _cycle(found: Loaded, load: Load) -> tuple[Worst, float]:
    """Return the governing cycle of all cases at full force, and the mildest support's over it."""
    phase = None if load.lead == "worst" else float(np.radians(load.lead))
    turns = [_turn(case, phase) for case in found.cases]
    values = [float(governing(one.cycle)[0]) for one in turns]
    most = int(np.argmax(values))
    return turns[most], min(values) / values[most]


def _turn(case: Case, phase: float | None) -> Worst:
    plane = case.plane
    hot = np.abs(plane.stress).max(axis=1)
    # No place is worth more than its peak, and the hottest at least half of its own.
    near = np.flatnonzero(hot > (0.45 * hot.max() if phase is None else 0.0))
    gaps = plane.body.model.gaps
    unit = worst(plane.stress[near], plane.edges.points[near], gaps, phase=phase)
    return scaled(unit, case.pull)


def _root(found: Loaded, chain: Chain, *, alone: bool) -> float:
    """Return the tension at the first tooth's root, MPa; the whole pull on it if *alone*."""
    case = found.under(chain)[0]
    model = case.plane.body.model
    pressure = pressure_angle(model.teeth, worn=chain == "worn-in")
    coefficient = root_coefficient(
        model.outline, model.teeth, model.pitch, pressure, poisson=model.material.poisson
    )
    share = 1.0 if alone else float(np.hypot(*tooth_forces(model.teeth, pressure)[0]))
    return coefficient * share * case.pull / model.tooth_width


def _wide(found: Loaded) -> tuple[float, float] | None:
    """Return the tension at the root of a wide tooth, new and worn-in; None for teeth alike."""
    model = found.alone.plane.body.model
    blank = model.blank
    if blank is None or blank.alternating is None:
        return None
    values = []
    for chain in CHAINS:
        pressure = pressure_angle(model.teeth, worn=chain == "worn-in")
        coefficient = wide_coefficient(blank, pressure, poisson=model.material.poisson)
        share = float(np.hypot(*tooth_forces(model.teeth, pressure)[0]))
        values.append(coefficient * share * found.under(chain)[0].pull / model.tooth_width)
    return values[0], values[1]


def _tooth_side(model: Model) -> float | None:
    if not model.material.yield_strength:
        return None
    stress = side_stress(model.outline, model.teeth, model.tooth_width, model.shroud)
    return model.material.yield_strength / stress


def _wide_side(model: Model) -> float | None:
    """Return the same of a wide tooth, which is narrow below its land; None for teeth alike."""
    blank = model.blank
    if blank is None or blank.alternating is None or not model.material.yield_strength:
        return None
    land = base_radius(blank.diameters)
    below = side_stress(model.outline, model.teeth, blank.tooth_width, model.shroud, upto=land)
    above = side_stress(model.outline, model.teeth, blank.wide_width, land)
    return model.material.yield_strength / max(below, above)

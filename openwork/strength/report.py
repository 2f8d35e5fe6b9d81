"""Stiffness and strength of a ring under a load, from every part of this room.

A calculation is an estimate: linear, the spider rigid, nominal outlines, bevels, preload and the
offset of the tooth band left out. It ranks rings; tests such as ISO 4210's decide.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from openwork.errors import RuleError
from openwork.strength.body import body
from openwork.strength.chainpull import lever, pressure_angle, side_force, tooth_forces
from openwork.strength.fatigue import Fatigue, fatigue
from openwork.strength.loading import loaded, pressure_of, pull_of
from openwork.strength.meaning import CAUTIONS
from openwork.strength.model import Model
from openwork.strength.modes import buckling, frequencies
from openwork.strength.plain import plain_turn
from openwork.strength.plane import Plane, chain_loads, factored, mean_turn
from openwork.strength.plate import Plate, across, bolt_gaps
from openwork.strength.quality import GRADES, Quality
from openwork.strength.result import Peak, Strength
from openwork.strength.tooth import root_coefficient, side_stress, wear_reserve
from openwork.tables.load import Load

DEGREE = np.pi / 180
SPREAD = 3  # gaps that share a side load: the chain comes into plane over as many
SUPPORT = 1.14  # stress on a spider of 100 kN/mm per bolt over that on a rigid one


def mean_stiffness(model: Model, load: Load, *, quality: Quality = "draw") -> float:
    """Return the torsional stiffness, N m/deg, alone: one column of loads instead of all."""
    pressure = pressure_of(model, load)
    turn = mean_turn(body(model, GRADES[quality].plane), pressure, arm=load.arm)
    return lever(model.teeth, model.pitch, pressure) / turn * DEGREE / 1000


def strength(
    model: Model,
    load: Load,
    *,
    quality: Quality = "draw",
    net: Model | None = None,
    modes: bool = False,
) -> Strength:
    """Return the strength of *model* under *load*.

    *net* is the ring to compare with, of the same mass; *modes* asks for frequency and buckling.

    Raises SpecError for a load that is none, RuleError where the ring cannot be calculated.
    """
    turning, pull = pull_of(model, load)
    pressure, material = pressure_of(model, load), model.material
    plane = loaded(model, load, quality=quality)
    plate_body = body(model, GRADES[quality].plate)
    metal = material.metal
    gaps = None if metal else np.concatenate(bolt_gaps(plate_body))
    plate = across(plate_body, gaps=gaps)
    bolt, between = _lateral(plate, gaps)
    turn = float(plane.rotation.mean())
    solid = dataclasses.replace(model, openings=())
    stiff = turning / (pull * turn) * DEGREE / 1000
    notes: list[str] = []
    peak = side = static = None
    tired: Fatigue | None = None
    if metal:
        peak, side, static = _static(plane, plate, pull, load)
        tired, notes = _tired(
            plane, pull * load.repeated / load.force * np.sqrt(0.5), load, quality
        )
    else:
        notes.append(
            f"ring.material {material.name}: a plastic, whose strength depends on printing, heat "
            "and time; only stiffness is shown, a metal such as 7075-T6 works"
        )
    root = tuple(_root(model, pull, worn=worn, alone=False) for worn in (False, True))
    alone = tuple(_root(model, pull, worn=worn, alone=True) for worn in (False, True))
    return Strength(
        quality=quality,
        mesh=str(GRADES[quality]),
        load=load,
        torque=turning / 1000,
        pull=pull,
        stiffness=stiff,
        stiffness_least=turning / (pull * float(plane.rotation.max())) * DEGREE / 1000,
        stiffness_vs_plate=plain_turn(solid, plane.body.volume, pressure, arm=load.arm) / turn,
        stiffness_vs_net=None
        if net is None
        else stiff / mean_stiffness(net, load, quality=quality),
        ovalisation=float(plane.bulge.max()) * pull,
        lateral_bolt=bolt,
        lateral_between=between,
        peak_stress=peak,
        side_stress=side,
        utilisation_static=static,
        utilisation_fatigue=tired,
        tooth_root=(root[0], root[1]) if metal else None,
        tooth_alone=(alone[0], alone[1]) if metal else None,
        tooth_side=_tooth_side(model) if metal and material.yield_strength else None,
        tooth_pressure=float(np.hypot(*tooth_forces(model.teeth, pressure)[0]))
        * pull
        / (model.roller * model.tooth_width),
        wear_reserve=wear_reserve(model.outline, model.teeth, model.pitch, model.roller),
        frequency=float(frequencies(plate_body, plate.factor)[0]) if modes else None,
        buckling=_buckling(plate, pressure, pull) if modes else None,
        notes=(*notes, *CAUTIONS),
    )


def _lateral(plate: Plate, gaps: Any) -> tuple[float, float]:
    """Return the side stiffness, N/mm, at a bolt and between bolts, the least of each."""
    bolts, between = bolt_gaps(plate.body)
    if gaps is not None:
        bolts, between = np.arange(len(bolts)), np.arange(len(bolts), len(bolts) + len(between))
    soft = plate.compliance
    return float(1 / soft[bolts].max()), float(1 / soft[between].max())


def _static(plane: Plane, plate: Plate, pull: float, load: Load) -> tuple[Peak, float, float]:
    """Return the peak in plane, the bending of the slanting chain, and the utilisation."""
    material, gaps = plane.body.model.material, plane.body.model.gaps
    station, position = np.unravel_index(np.abs(plane.stress).argmax(), plane.stress.shape)
    value = float(np.abs(plane.stress[station, position])) * pull
    place = plane.edges.points[station]
    peak = Peak(
        value=value,
        place=(float(place[0]), float(place[1])),
        position=float(np.degrees(gaps[position])),
    )
    aside = sum(np.roll(plate.stress, shift, axis=1) for shift in range(SPREAD)) / SPREAD
    force = side_force(pull, offset=load.offset, span=load.span)
    side = float(np.abs(aside).max()) * force
    shares = [value / material.yield_strength] if material.yield_strength else []
    return peak, side, max(*shares, (value + side) / material.ultimate)


def _tired(
    plane: Plane, pull: float, load: Load, quality: Quality
) -> tuple[Fatigue | None, list[str]]:
    """Return the fatigue at *pull*, or a note why there is none."""
    less, more = GRADES[quality].bias
    model = plane.body.model
    phase = None if load.phase == "worst" else float(np.radians(load.phase))
    try:
        found = fatigue(
            plane.stress * pull,
            plane.edges.points,
            model.gaps,
            model.material,
            finish=load.finish,
            phase=phase,
            doubt=(less, more * SUPPORT),
        )
    except RuleError as lack:
        return None, [str(lack)]
    return found, []


def _root(model: Model, pull: float, *, worn: bool, alone: bool) -> float:
    """Return the tension at the first tooth's root, MPa; the whole pull on it if *alone*."""
    pressure = pressure_angle(model.teeth, worn=worn)
    coefficient = root_coefficient(
        model.outline, model.teeth, model.pitch, pressure, poisson=model.material.poisson
    )
    share = 1.0 if alone else float(np.hypot(*tooth_forces(model.teeth, pressure)[0]))
    return coefficient * share * pull / model.tooth_width


def _tooth_side(model: Model) -> float:
    stress = side_stress(model.outline, model.teeth, model.tooth_width, model.shroud)
    return model.material.yield_strength / stress


def _buckling(plate: Plate, pressure: float, pull: float) -> float:
    """Return the least factor on *pull* over positions at bolts and between them."""
    gaps = np.concatenate(bolt_gaps(plate.body))[[0, -1]]
    columns = factored(plate.body).solve(chain_loads(plate.body, pressure, first=gaps) * pull)
    return min(buckling(plate.body, plate.factor, column) for column in columns.T)

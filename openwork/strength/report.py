"""Stiffness and strength of a ring under a load, from every part of this room.

A calculation is an estimate: linear, nominal outlines, a spider of assumed stiffness, preload,
and fretting left out. It ranks rings; tests such as ISO 4210's decide.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from openwork.strength.body import Body, body
from openwork.strength.chainpull import tooth_forces
from openwork.strength.contact import Loose, pinned
from openwork.strength.dish import FLAT
from openwork.strength.loading import (
    SUPPORTS,
    Loaded,
    arms_of,
    lever_of,
    loaded,
    mean_stiffness,
    pressure_of,
    pull_of,
)
from openwork.strength.meaning import CAUTIONS
from openwork.strength.meshing.sides import Integers
from openwork.strength.model import Model
from openwork.strength.modes import buckling, frequencies
from openwork.strength.plain import Plain, plain
from openwork.strength.plane import chain_loads, factored
from openwork.strength.plate import Plate, across, bolt_gaps
from openwork.strength.quality import GRADES, Grade, Quality, off
from openwork.strength.result import Aside, Bolted, Stiffness, Strength
from openwork.strength.stress import stress_figures
from openwork.strength.tooth import wear_reserve
from openwork.tables.load import Load
from openwork.tables.support import Bolts, Spider

DEGREE = np.pi / 180


@dataclass(frozen=True, slots=True, eq=False)
class Reckoned:
    """The strength of a ring, and the loaded ring it was read from."""

    strength: Strength
    loaded: Loaded


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What the ring hangs on."""

    spider: Spider = field(default_factory=Spider)
    bolts: Bolts = field(default_factory=Bolts)


HOLD = Hold()


def strength(
    model: Model,
    load: Load,
    hold: Hold = HOLD,
    *,
    quality: Quality = "final",
    net: Model | None = None,
    modes: bool = False,
    loose: bool = False,
) -> Strength:
    """Return the figures of ``reckoned`` alone."""
    return reckoned(model, load, hold, quality=quality, net=net, modes=modes, loose=loose).strength


def reckoned(
    model: Model,
    load: Load,
    hold: Hold = HOLD,
    *,
    quality: Quality = "final",
    net: Model | None = None,
    modes: bool = False,
    loose: bool = False,
) -> Reckoned:
    """Return the strength of *model* under *load*, hung as *hold* says.

    *net* is the ring to compare with, of the same mass; *modes* asks for frequency and buckling,
    *loose* for bolts as loose pins. Raises RuleError where the ring cannot be calculated.
    """
    grade, (turning, pull) = GRADES[quality], pull_of(model, load)
    found = loaded(model, load, hold.spider, quality=quality)
    plate_body = _plate_body(found, grade)
    metal = model.material.metal
    gaps = None if metal else np.concatenate(bolt_gaps(plate_body))
    plate = across(plate_body, gaps=gaps)
    beside = _beside(found, load, hold.spider, quality)
    stress, notes = stress_figures(found, plate, load, grade) if metal else (None, _plastic(model))
    figures = Strength(
        quality=quality,
        mesh=str(grade),
        stiffness_band=grade.stiffness,
        stress_band=grade.stress,
        load=load,
        spider=hold.spider,
        bolts=hold.bolts,
        torque=turning / 1000,
        pull=pull,
        plane=_stiffness(found, load, beside, _net(net, load, hold.spider, quality)),
        aside=_aside(plate, gaps, beside),
        bolted=_bolted(found, load, hold.bolts),
        stress=stress,
        loose=_loose(found, load) if loose else None,
        tooth_pressure=_tooth_pressure(model, load),
        wear_reserve=wear_reserve(model.outline, model.teeth, model.pitch, model.roller),
        frequency=float(frequencies(plate_body, plate.factor)[0]) if modes else None,
        buckling=_buckling(plate, load) if modes else None,
        notes=(*notes, *_dished(found), *_coarse(grade, quality), *CAUTIONS),
    )
    return Reckoned(figures, found)


def _plate_body(found: Loaded, grade: Grade) -> Body:
    """Return the ring meshed to bend aside: the mesh in plane where that is as fine."""
    made = found.alone.plane.body
    return made if grade.plate == grade.plane else body(made.model, grade.plate)


def _beside(found: Loaded, load: Load, spider: Spider, quality: Quality) -> Plain:
    """Return the plain plate as heavy as the ring."""
    made = found.alone.plane.body
    return plain(
        made.model,
        made.volume,
        pressure=pressure_of(made.model, load),
        arms=arms_of(spider),
        shared=quality == "search",
    )


def _net(net: Model | None, load: Load, spider: Spider, quality: Quality) -> float | None:
    """Return the stiffness of the *net* on its spider, N m/deg."""
    if net is None:
        return None
    return mean_stiffness(net, load, spider, quality=quality)[1]


def _stiffness(found: Loaded, load: Load, beside: Plain, net: float | None) -> Stiffness:
    alone, hung = found.under(load.wear)
    arm = lever_of(alone.plane.body.model, load) * DEGREE / 1000
    turn, most = alone.plane.rotation.mean(), alone.plane.rotation.max()
    # A mesh too stiff says nothing of the arms: what it lacks is the same on them.
    on_arms = hung.plane.rotation.mean() + turn * (found.softer - 1)
    return Stiffness(
        stiffness=float(arm / (turn * found.softer)),
        stiffness_least=float(arm / (most * found.softer)),
        stiffness_on_spider=float(arm / on_arms),
        stiffness_vs_plate=float(beside.on_arms / on_arms),
        stiffness_vs_net=None if net is None else float(arm / on_arms / net),
        # The mesh lacks as much of this as of the turn.
        ovalisation=float(alone.plane.bulge.max()) * alone.pull * found.softer / found.dish.softer,
    )


def _aside(plate: Plate, gaps: Integers | None, beside: Plain) -> Aside:
    """Return the side stiffness at a bolt and between bolts, N/mm, the least of each."""
    bolts, between = bolt_gaps(plate.body)
    if gaps is not None:
        bolts, between = np.arange(len(bolts)), np.arange(len(bolts), len(bolts) + len(between))
    at_bolt, amid = (float(1 / plate.compliance[k].max()) for k in (bolts, between))
    return Aside(
        lateral_bolt=at_bolt,
        lateral_between=amid,
        lateral_bolt_vs_plate=at_bolt / beside.at_bolt,
        lateral_between_vs_plate=amid / beside.between,
        plain_plate=beside.thickness,
    )


def _bolted(found: Loaded, load: Load, bolts: Bolts) -> Bolted:
    alone, hung = (
        max(
            case.pull * float(np.hypot(case.plane.bolts[:, 0], case.plane.bolts[:, 1]).max())
            for case in found.cases
            if case.support == support
        )
        for support in SUPPORTS
    )
    return Bolted(bolt_force=hung, bolt_force_alone=alone, slip=load.force * bolts.slip / hung)


def _loose(found: Loaded, load: Load) -> Loose:
    case = found.under(load.wear)[0]
    plane = case.plane
    pins = pinned(found.ring, plane)
    station, _ = np.unravel_index(np.abs(pins.stress).argmax(), pins.stress.shape)
    x, y = plane.edges.points[station]
    # What the mesh lacks is the same as with the heads held.
    turn = pins.rotation.mean() + plane.rotation.mean() * (found.softer - 1)
    return Loose(
        stiffness=float(lever_of(plane.body.model, load) * DEGREE / 1000 / turn),
        peak=float(np.abs(pins.stress).max()) * case.pull * found.dish.hotter,
        place=(float(x), float(y)),
        hole_stress=float(pins.hole_stress.max()) * case.pull,
    )


def _coarse(grade: Grade, quality: Quality) -> tuple[str, ...]:
    """Return what is said of a mesh that only ranks."""
    if grade.scout is not None:
        return ()
    bands = f"stiffness {off(grade.stiffness)}, stress {off(grade.stress)}"
    return (f"Mesh of the {quality} grade, to rank by: {bands}; openwork draw --strength refines.",)


def _dished(found: Loaded) -> tuple[str, ...]:
    """Return what is said of a tooth band that does not lie in the middle of the plate."""
    if found.dish == FLAT:
        return ()
    blank = found.ring.body.model.blank
    return (
        f"ring.offset {blank.offset if blank else 0:g}: the chain bends the ring too, which makes "
        f"it {100 * (found.dish.softer - 1):.0f} % softer and its hottest edge "
        f"{found.dish.hotter:.2f} times as hot; counted in stiffness and edge stresses, not in "
        "the colours of the stress picture.",
    )


def _plastic(model: Model) -> tuple[str, ...]:
    return (
        f"ring.material {model.material.name}: a plastic, whose strength depends on printing, heat "
        "and time; only stiffness is shown, a metal such as 7075-T6 works",
    )


def _tooth_pressure(model: Model, load: Load) -> float:
    """Return the first tooth's force over roller diameter and tooth width, MPa."""
    _, pull = pull_of(model, load)
    first = tooth_forces(model.teeth, pressure_of(model, load))[0]
    return float(np.hypot(*first)) * pull / (model.roller * model.tooth_width)


def _buckling(plate: Plate, load: Load) -> float:
    """Return the least factor on the full force over positions at bolts and between them."""
    model, gaps = plate.body.model, np.concatenate(bolt_gaps(plate.body))[[0, -1]]
    loads = chain_loads(plate.body, pressure_of(model, load), first=gaps)
    columns = factored(plate.body).solve(loads * pull_of(model, load)[1])
    return min(buckling(plate.body, plate.factor, column) for column in columns.T)

"""A ring under the chain: the pull that a load becomes, and the stress it makes in plane."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from openwork.strength.body import Body, body
from openwork.strength.chainpull import lever, pressure_angle, torque
from openwork.strength.dish import FLAT, Dish, dish
from openwork.strength.meshing.refine import around, hot_spots
from openwork.strength.model import Model
from openwork.strength.plane import (
    Plane,
    Ring,
    in_plane,
    mean_turns,
    on_spider,
    ready,
    scouted,
)
from openwork.strength.quality import GRADES, Grade, Quality
from openwork.strength.support import Arms
from openwork.tables.load import Load
from openwork.tables.support import Spider

Chain: TypeAlias = Literal["new", "worn-in"]
Support: TypeAlias = Literal["alone", "on its spider"]
CHAINS: tuple[Chain, Chain] = ("new", "worn-in")
SUPPORTS: tuple[Support, Support] = ("alone", "on its spider")


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """A ring under one chain on one support; stresses of ``plane`` times ``pull`` are MPa."""

    chain: Chain
    support: Support
    pull: float
    plane: Plane


@dataclass(frozen=True, slots=True, eq=False)
class Loaded:
    """A ring under new and worn-in chain, alone and on its spider, for one load.

    ``softer`` is the rim's turn over that of the mesh, as extrapolated from two meshes and as a
    dish makes it; ``dish`` is what is told of that, and in the stresses.
    """

    ring: Ring
    alone: Case
    hung: Case
    worn_alone: Case
    worn_hung: Case
    softer: float = 1.0
    dish: Dish = FLAT

    @property
    def cases(self) -> tuple[Case, Case, Case, Case]:
        """All four."""
        return self.alone, self.hung, self.worn_alone, self.worn_hung

    def under(self, chain: Chain) -> tuple[Case, Case]:
        """Return the cases of *chain*: alone, and on the spider."""
        if chain == "new":
            return self.alone, self.hung
        return self.worn_alone, self.worn_hung


def pull_of(model: Model, load: Load, chain: Chain | None = None) -> tuple[float, float]:
    """Return the torque (N mm) of *load* and the pull (N) of its chain, or *chain*, against it."""
    turning = torque(load.force, load.crank)
    return turning, turning / lever_of(model, load, chain)


def lever_of(model: Model, load: Load, chain: Chain | None = None) -> float:
    """Return the torque per unit pull of the chain of *load*, or of *chain*, N mm/N."""
    return lever(model.teeth, model.pitch, pressure_of(model, load, chain))


def pressure_of(model: Model, load: Load, chain: Chain | None = None) -> float:
    """Return the pressure angle (rad) of the chain of *load*, or of *chain*, on *model*."""
    return pressure_angle(model.teeth, worn=(chain or load.wear) == "worn-in")


def arms_of(spider: Spider) -> Arms:
    """Return the stiffness of an arm of *spider* along the circle and along itself, N/mm."""
    return 1000 * spider.tangential, 1000 * spider.radial


def loaded(model: Model, load: Load, spider: Spider, *, quality: Quality = "final") -> Loaded:
    """Return *model* under *load*, alone and on *spider*, refined where *quality* says so.

    Raises RuleError where the ring cannot be meshed.
    """
    grade, pressure = GRADES[quality], pressure_of(model, load)
    mesh, coarse = _meshed(model, grade, pressure)
    made, dished = ready(mesh), dish(model, pressure)
    alone, hung, worn_alone, worn_hung = _cases(made, load, arms_of(spider), dished.hotter)
    cases = Loaded(made, alone, hung, worn_alone, worn_hung, dished.softer, dished)
    if coarse is None:
        return cases
    fine = float(cases.under(load.wear)[0].plane.rotation.mean())
    return dataclasses.replace(cases, softer=dished.softer * _softer(grade, coarse, fine))


def _meshed(model: Model, grade: Grade, pressure: float) -> tuple[Body, float | None]:
    """Return *model* meshed for *grade*, and the mean turn that its scout found."""
    if grade.scout is None:
        return body(model, grade.plane), None
    edges, hot, coarse = scouted(body(model, grade.scout), pressure)
    return body(model, grade.plane, size=around(hot_spots(edges.points, hot))), coarse


def _softer(grade: Grade, coarse: float, fine: float) -> float:
    """Return the extrapolated turn over that of the *fine* mesh, from the turns of both."""
    return 1 / (1 - grade.drawn * (fine / coarse - 1))


def _cases(made: Ring, load: Load, arms: Arms, hotter: float) -> Iterator[Case]:
    """Yield the cases in the order of ``Loaded``, stresses as a dish makes them *hotter*."""
    model = made.body.model
    for chain in CHAINS:
        _, pull = pull_of(model, load, chain)
        alone = in_plane(made, pressure_of(model, load, chain))
        hung = on_spider(made, alone, arms)
        for support, plane in zip(SUPPORTS, (alone, hung), strict=True):
            yield Case(
                chain, support, pull, dataclasses.replace(plane, stress=hotter * plane.stress)
            )


def mean_stiffness(
    model: Model, load: Load, spider: Spider, *, quality: Quality = "final"
) -> tuple[float, float]:
    """Return the torsional stiffness, N m/deg, alone and on *spider*.

    One column of loads instead of all; on the mesh of ``loaded``, and extrapolated as there.
    """
    pressure, grade, arms = pressure_of(model, load), GRADES[quality], arms_of(spider)
    made, coarse = _meshed(model, grade, pressure)
    alone, hung = mean_turns(made, pressure, arms)
    softer = dish(model, pressure).softer
    if coarse is not None:
        softer *= _softer(grade, coarse, alone)
    arm = lever_of(model, load) * np.pi / 180 / 1000
    return arm / (alone * softer), arm / (hung + alone * (softer - 1))

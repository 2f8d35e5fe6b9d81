"""The figures of strength: how stiff, where and how much stressed, with bias and caution.

A calculation is an estimate: linear, the spider rigid, nominal outlines, bevels, preload and the
offset of the tooth band left out. It ranks rings; tests such as ISO 4210's decide.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

import numpy as np

from openwork.errors import RuleError
from openwork.strength.body import Body, Fineness, body
from openwork.strength.chainpull import lever, pressure_angle, side_force, tooth_forces, torque
from openwork.strength.element import gauss_points
from openwork.strength.fatigue import Fatigue, fatigue
from openwork.strength.load import Load
from openwork.strength.model import Model, runout, thickness
from openwork.strength.modes import buckling, frequencies
from openwork.strength.plane import Plane, chain_loads, factored, in_plane, mean_turn
from openwork.strength.plate import Plate, across, bolt_gaps
from openwork.strength.refine import around, hot_spots
from openwork.strength.tooth import root_coefficient, side_stress, wear_reserve

Quality: TypeAlias = Literal["search", "draw", "final"]

DEGREE = np.pi / 180
PLAIN = Fineness(3.0, 2.5)
FULL = 4.0  # mm, plate of the blank that is meshed once for all thicknesses
SPREAD = 3  # gaps that share a side load: the chain comes into plane over as many
SUPPORT = 1.14  # stress on a spider of 100 kN/mm per bolt over that on a rigid one


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """Meshes in plane and across it, and the bias (least, greatest) their stress still has.

    A ``scout`` mesh finds the hot spots round which the mesh in plane is then refined.
    A bias is true value over shown value, measured on rings of sixteen families with ribs of
    2 and 3 mm against a mesh of 0.9 mm, 0.3 mm at the hot spots.
    """

    plane: Fineness
    plate: Fineness
    bias: tuple[float, float]
    scout: Fineness | None = None

    def __str__(self) -> str:
        inner, outer = self.plane, self.plate
        second = ", refined at 6 hot spots" if self.scout else ""
        return (
            f"plane {inner.step:g}/{inner.spacing:g} mm{second}; "
            f"plate {outer.step:g}/{outer.spacing:g} mm"
        )


GRADES: Mapping[Quality, Grade] = MappingProxyType(
    {
        "search": Grade(plane=Fineness(3.0, 2.5), plate=Fineness(3.0, 2.5), bias=(1.0, 1.45)),
        "draw": Grade(plane=Fineness(1.6, 1.3), plate=Fineness(3.0, 2.5), bias=(1.0, 1.25)),
        "final": Grade(
            plane=Fineness(1.3, 1.0),
            plate=Fineness(2.0, 1.6),
            scout=Fineness(2.0, 1.6),
            bias=(0.98, 1.05),
        ),
    }
)

CAUTIONS = (
    "Estimates only: linear, rigid spider, nominal outline. A physical test, such as those of "
    "ISO 4210-8, and a qualified engineer decide; local codes apply.",
    "Anodising lowers fatigue strength, hard anodising most; burrs and tool marks undo figures.",
    "Typical, not least material values; bolt contact, preload and fretting are left out.",
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """Unit, one line of meaning, the bias of a figure, and the mesh it comes from."""

    unit: str
    meaning: str
    bias: str
    mesh: str


_STIFF = "shown too high: search up to 17 %, draw up to 7 %, final up to 3 %"
_HOT = "shown too low: search up to 30 %, draw up to 18 %, final up to 4 %"
_SIDE = "shown up to 4 % too high"
_BENT = "the mesh shows up to 19 % too low, plate theory some 15 % too high"
MEANING: Mapping[str, Meaning] = MappingProxyType(
    {
        "stiffness": Meaning(
            "N m/deg", "torque over the mean turn of the rim, all positions", _STIFF, "plane"
        ),
        "stiffness_least": Meaning("N m/deg", "the same at the softest position", _STIFF, "plane"),
        "stiffness_vs_plate": Meaning(
            "1", "over the un-opened blank thinned to the same mass, same teeth", _STIFF, "plane"
        ),
        "stiffness_vs_net": Meaning(
            "1", "over the net of crossed spirals of the same mass on the same site",
            "within 2 %: both have the same bias", "plane",
        ),
        "ovalisation": Meaning(
            "mm", "spread of the roots' radial displacement at full force", _STIFF, "plane"
        ),
        "lateral_bolt": Meaning("N/mm", "side stiffness of a tooth at a bolt", _SIDE, "plate"),
        "lateral_between": Meaning(
            "N/mm", "side stiffness of a tooth between two bolts, least", _SIDE, "plate"
        ),
        "peak_stress": Meaning(
            "MPa", "largest stress on a free edge, any position, and its place (mm)", _HOT, "plane"
        ),
        "side_stress": Meaning(
            "MPa", "largest bending stress of a slanting chain, to be added", _BENT, "plate"
        ),
        "utilisation_static": Meaning(
            "1", "larger of peak over yield and peak with bending over ultimate", _HOT, "plane"
        ),
        "utilisation_fatigue": Meaning(
            "1", "equivalent reversed stress over fatigue strength: least, likely, greatest",
            "the band holds finish, mesh and support", "plane",
        ),
        "tooth_root": Meaning(
            "MPa", "tension at the root of the first tooth, load shared: new and worn-in chain",
            "within 15 %: where in the seat the roller presses", "tooth 0.25 mm",
        ),
        "tooth_alone": Meaning(
            "MPa", "the same with the whole chain pull on one tooth; an upper bound, not a limit",
            "within 15 %", "tooth 0.25 mm",
        ),
        "tooth_side": Meaning(
            "N", "side load at a tooth's tip to first yield", "shown 5-15 % too low", "beam"
        ),
        "tooth_pressure": Meaning(
            "MPa", "first tooth's force over roller diameter and tooth width", "exact", "none"
        ),
        "wear_reserve": Meaning(
            "%", "growth of the chain's pitch at which rollers ride over the teeth", "exact", "none"
        ),
        "frequency": Meaning("Hz", "lowest bending frequency, bolts held", "within 2 %", "plate"),
        "buckling": Meaning(
            "1", "factor on the full force at which the web buckles, worst of the bolts' gaps",
            "within 3 %", "plate",
        ),
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """The largest stress, MPa, its place, mm, and the gap the tight span leaves from, degrees."""

    value: float
    place: tuple[float, float]
    position: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """The figures MEANING explains; None where one does not apply or was not asked for."""

    quality: Quality
    mesh: str
    load: Load
    torque: float
    pull: float
    stiffness: float
    stiffness_least: float
    stiffness_vs_plate: float
    stiffness_vs_net: float | None
    ovalisation: float
    lateral_bolt: float
    lateral_between: float
    peak_stress: Peak | None
    side_stress: float | None
    utilisation_static: float | None
    utilisation_fatigue: Fatigue | None
    tooth_root: tuple[float, float] | None
    tooth_alone: tuple[float, float] | None
    tooth_side: float | None
    tooth_pressure: float
    wear_reserve: float
    frequency: float | None
    buckling: float | None
    notes: tuple[str, ...]

    def as_dict(self) -> dict[str, Any]:
        """Return the figures as plain values for JSON, to four digits."""
        plain = {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}
        plain["load"] = self.load.model_dump()
        for name in ("peak_stress", "utilisation_fatigue"):
            plain[name] = None if plain[name] is None else dataclasses.asdict(plain[name])
        return {name: _rounded(value) for name, value in plain.items()}


def _rounded(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_rounded(item) for item in value]
    if isinstance(value, float):
        return float(f"{value:.4g}") if np.isfinite(value) else None
    return value


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


@lru_cache(maxsize=16)
def _plain(solid: Model) -> Body:
    """Return an un-opened ring meshed; nothing in it asks for a finer mesh."""
    return body(solid, PLAIN)


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

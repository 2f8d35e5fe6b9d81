"""The figures of strength of one ring, as values; MEANING explains each."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any, Literal

from openwork.strength.contact import Loose
from openwork.strength.fatigue import Fatigue
from openwork.strength.loading import Chain, Support
from openwork.strength.quality import Band, Quality, off
from openwork.strength.yielding import FirstYield
from openwork.tables.load import Load
from openwork.tables.plain import plain
from openwork.tables.support import Bolts, Spider


@dataclass(frozen=True, slots=True, kw_only=True)
class Stiffness:
    """How the ring resists the chain in its plane; ``stiffness_vs_net`` None without a net."""

    stiffness: float
    stiffness_least: float
    stiffness_on_spider: float
    stiffness_vs_plate: float
    stiffness_vs_net: float | None
    ovalisation: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside:
    """How the ring resists a push across its plane, and the plain plate beside it."""

    lateral_bolt: float
    lateral_between: float
    lateral_bolt_vs_plate: float
    lateral_between_vs_plate: float
    plain_plate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolted:
    """What the bolts carry, on the spider and with the ring held fast; ``slip`` is of the first."""

    bolt_force: float
    bolt_force_alone: float
    slip: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """The largest stress, MPa, what it is, its place, mm, and the case it is of.

    ``position`` is the gap the tight span leaves from, degrees.
    """

    value: float
    sign: Literal["tension", "compression"]
    place: tuple[float, float]
    position: float
    chain: Chain
    support: Support


@dataclass(frozen=True, slots=True, kw_only=True)
class Stress:
    """What a metal bears; None where no strength of the kind is published for it.

    ``tooth_root_wide`` and ``tooth_side_wide`` are None where teeth do not alternate.
    """

    peak_stress: Peak
    peak_alone: Peak
    side_stress: float
    yield_new: FirstYield | None
    yield_worn: FirstYield | None
    utilisation_static: float
    utilisation_rig: Fatigue | None
    utilisation_ride: Fatigue | None
    tooth_root: tuple[float, float]
    tooth_root_wide: tuple[float, float] | None
    tooth_alone: tuple[float, float]
    tooth_side: float | None
    tooth_side_wide: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """Everything known of a ring under a load, hung on a spider by bolts.

    ``stiffness_band`` and ``stress_band`` are the true value over the one shown that the mesh
    leaves, least and greatest. ``stress`` is None for a plastic; ``loose``, ``frequency`` and
    ``buckling`` are None where they were not asked for.
    """

    quality: Quality
    mesh: str
    stiffness_band: Band
    stress_band: Band
    load: Load
    spider: Spider
    bolts: Bolts
    torque: float
    pull: float
    plane: Stiffness
    aside: Aside
    bolted: Bolted
    stress: Stress | None
    loose: Loose | None
    tooth_pressure: float
    wear_reserve: float
    frequency: float | None
    buckling: float | None
    notes: tuple[str, ...]

    @property
    def bands(self) -> str:
        """How far the figures may be off by their mesh, in words."""
        stiffness, stress = off(self.stiffness_band), off(self.stress_band)
        return f"Mesh of the {self.quality} grade: stiffness {stiffness}; stress {stress}."

    def as_dict(self) -> dict[str, Any]:
        """Return the figures as plain values for JSON, groups laid flat."""
        found: dict[str, Any] = {}
        for field in dataclasses.fields(self):
            value = getattr(self, field.name)
            if field.name in GROUPS:
                names = [one.name for one in dataclasses.fields(GROUPS[field.name])]
                found |= {name: _plain(getattr(value, name, None)) for name in names}
            else:
                found[field.name] = _plain(value)
        return found


GROUPS = {"plane": Stiffness, "aside": Aside, "bolted": Bolted, "stress": Stress}


def _plain(value: Any) -> Any:
    if isinstance(value, Load | Spider | Bolts):
        value = value.model_dump()
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        value = dataclasses.asdict(value)
    return plain(value)

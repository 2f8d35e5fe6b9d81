"""The figures of strength of one ring, as a value."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

from openwork.strength.fatigue import Fatigue
from openwork.strength.quality import Quality
from openwork.tables.load import Load
from openwork.tables.plain import plain


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
        """Return the figures as plain values for JSON."""
        found = {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}
        found["load"] = self.load.model_dump()
        for name in ("peak_stress", "utilisation_fatigue"):
            found[name] = None if found[name] is None else dataclasses.asdict(found[name])
        return {name: plain(value) for name, value in found.items()}

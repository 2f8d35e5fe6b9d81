"""Alloys and prototype plastics, with where each row was published."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Self, TypeAlias

from pydantic import Field, field_validator, model_validator

from openwork.tables.table import Table

Kind: TypeAlias = Literal["aluminium", "titanium", "steel", "plastic"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A material: ``density`` g/mm3; ``modulus`` and strengths MPa.

    ``fatigue`` is the fully reversed strength of smooth bars at ``fatigue_cycles``; ``basquin`` are
    the constants a (MPa) and b of a (2 N)^b before that, half of the bars failing. A strength of
    0.0 means that no value is published, not that there is none. Typical values; ``least`` are the
    ultimate and yield strength that a standard warrants for plate of 3 to 12 mm, where known.
    """

    name: str
    kind: Kind
    density: float
    modulus: float
    poisson: float
    ultimate: float
    yield_strength: float = 0.0
    fatigue: float = 0.0
    fatigue_cycles: float = 0.0
    basquin: tuple[float, float] | None = None
    least: tuple[float, float] | None = None
    source: str

    @property
    def metal(self) -> bool:
        """Whether it is a metal, whose strength a calculation can use."""
        return self.kind != "plastic"


class OwnMaterial(Table):
    """A material of one's own, by the values of its certificate."""

    name: str = Field("own", min_length=1, max_length=40, description="its name")
    kind: Kind = Field("aluminium", description="what it is: surface and cautions go by it")
    density: float = Field(ge=0.5, le=25, description="density, g/cm3")
    modulus: float = Field(ge=100, le=500_000, description="Young's modulus, MPa")
    poisson: float = Field(0.33, ge=0, le=0.49, description="Poisson's ratio")
    ultimate: float = Field(ge=1, le=5000, description="ultimate strength, MPa")
    yielding: float = Field(0.0, ge=0, le=5000, description="yield strength, MPa; 0 if not known")
    fatigue: float = Field(
        0.0, ge=0, le=2000, description="reversed fatigue strength of smooth bars, MPa; 0 if not"
    )
    cycles: float = Field(5e8, ge=1e3, le=1e10, description="cycles of the fatigue strength")

    @field_validator("name")
    @classmethod
    def _printable(cls, name: str) -> str:
        if not name.isprintable():
            raise ValueError("must be one line of printable characters")
        return name

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        for name, given in (("yielding", self.yielding), ("fatigue", self.fatigue)):
            if given > self.ultimate:
                raise ValueError(
                    f"{name}: {given:g} MPa is more than the ultimate strength of "
                    f"{self.ultimate:g} MPa; 0 works where it is not known"
                )
        return self

    @property
    def material(self) -> Material:
        """The material these values make."""
        return Material(
            name=self.name,
            kind=self.kind,
            density=self.density / 1000,
            modulus=self.modulus,
            poisson=self.poisson,
            ultimate=self.ultimate,
            yield_strength=self.yielding,
            fatigue=self.fatigue,
            fatigue_cycles=self.cycles if self.fatigue else 0.0,
            source="values of the spec",
        )


# Least values are those of plate: EN 485-2 for the aluminium alloys, EN 10083-2 for C45 normalised,
# AMS 5862 for 15-5PH; all of them from memory: read the standard before relying on them.
# The constants of Basquin are from memory, Dowling, Mechanical Behavior of Materials,
# for 6061-T6 and 2024-T3 textbook tables; read the book before a part is made by them.
MATERIALS: dict[str, Material] = {
    material.name: material
    for material in (
        Material(
            name="7075-T6",
            kind="aluminium",
            density=2.81e-3,
            modulus=71700.0,
            poisson=0.33,
            ultimate=572.0,
            yield_strength=503.0,
            fatigue=159.0,
            fatigue_cycles=5e8,
            basquin=(1466.0, -0.143),
            least=(540.0, 470.0),
            source="Aluminum Association, typical values",
        ),
        Material(
            name="7075-T651",
            kind="aluminium",
            density=2.81e-3,
            modulus=71700.0,
            poisson=0.33,
            ultimate=572.0,
            yield_strength=503.0,
            fatigue=159.0,
            fatigue_cycles=5e8,
            basquin=(1466.0, -0.143),
            least=(540.0, 470.0),
            source="Aluminum Association, typical values, as 7075-T6",
        ),
        Material(
            name="7075-T73",
            kind="aluminium",
            density=2.81e-3,
            modulus=71700.0,
            poisson=0.33,
            ultimate=503.0,
            yield_strength=434.0,
            fatigue=150.0,
            fatigue_cycles=5e8,
            least=(475.0, 385.0),
            source="Aluminum Association typical values, from memory",
        ),
        Material(
            name="6061-T6",
            kind="aluminium",
            density=2.70e-3,
            modulus=68900.0,
            poisson=0.33,
            ultimate=310.0,
            yield_strength=276.0,
            fatigue=96.5,
            fatigue_cycles=5e8,
            basquin=(705.0, -0.11),
            least=(290.0, 240.0),
            source="Aluminum Association, typical values",
        ),
        Material(
            name="6082-T6",
            kind="aluminium",
            density=2.70e-3,
            modulus=70000.0,
            poisson=0.33,
            ultimate=340.0,
            yield_strength=310.0,
            fatigue=95.0,
            fatigue_cycles=5e8,
            least=(310.0, 260.0),
            source="handbook values of the alloy, from memory; fatigue as 6061-T6's",
        ),
        Material(
            name="7020-T6",
            kind="aluminium",
            density=2.78e-3,
            modulus=70000.0,
            poisson=0.33,
            ultimate=380.0,
            yield_strength=315.0,
            least=(350.0, 280.0),
            source="handbook values of the alloy, from memory",
        ),
        Material(
            name="2024-T3",
            kind="aluminium",
            density=2.78e-3,
            modulus=73100.0,
            poisson=0.33,
            ultimate=483.0,
            yield_strength=345.0,
            fatigue=138.0,
            fatigue_cycles=5e8,
            basquin=(1100.0, -0.124),
            source="Kutz, Handbook of Materials Selection, table 5; density, ratio from memory",
        ),
        Material(
            name="2024-T4",
            kind="aluminium",
            density=2.78e-3,
            modulus=73100.0,
            poisson=0.33,
            ultimate=469.0,
            yield_strength=324.0,
            fatigue=138.0,
            fatigue_cycles=5e8,
            basquin=(900.0, -0.102),
            source="Kutz, Handbook of Materials Selection, table 5; density, ratio from memory",
        ),
        Material(
            name="7050-T7451",
            kind="aluminium",
            density=2.83e-3,
            modulus=71700.0,
            poisson=0.33,
            ultimate=524.0,
            yield_strength=469.0,
            source="Aluminum Association, typical values; density and ratio from memory",
        ),
        Material(
            name="Ti-6Al-4V",
            kind="titanium",
            density=4.43e-3,
            modulus=114000.0,
            poisson=0.33,
            ultimate=900.0,
            yield_strength=830.0,
            fatigue=510.0,
            fatigue_cycles=1e7,
            basquin=(2030.0, -0.104),
            source="typical values, annealed bar, from memory",
        ),
        Material(
            name="4130",
            kind="steel",
            density=7.85e-3,
            modulus=205000.0,
            poisson=0.29,
            ultimate=670.0,
            yield_strength=435.0,
            source="typical values, normalised at 870 C, from memory",
        ),
        Material(
            name="C45",
            kind="steel",
            density=7.85e-3,
            modulus=210000.0,
            poisson=0.29,
            ultimate=650.0,
            yield_strength=370.0,
            least=(580.0, 305.0),
            source="normalised, from memory",
        ),
        Material(
            name="304",
            kind="steel",
            density=8.00e-3,
            modulus=193000.0,
            poisson=0.29,
            ultimate=505.0,
            yield_strength=215.0,
            source="typical values, annealed, from memory",
        ),
        Material(
            name="15-5PH-H1025",
            kind="steel",
            density=7.80e-3,
            modulus=196000.0,
            poisson=0.27,
            ultimate=1110.0,
            yield_strength=1080.0,
            least=(1070.0, 1000.0),
            source="precipitation-hardening stainless, H1025, from memory",
        ),
        Material(
            name="PLA",
            kind="plastic",
            density=1.24e-3,
            modulus=3000.0,
            poisson=0.36,
            ultimate=50.0,
            source="Heliyon 9 (2023) e15023 table 6, low ends; density and ratio from memory",
        ),
        Material(
            name="PA12",
            kind="plastic",
            density=0.97e-3,
            modulus=1500.0,
            poisson=0.40,
            ultimate=43.0,
            source="Heliyon 9 (2023) e15023 table 6, sintered, low ends; ratio from memory",
        ),
        Material(
            name="PA12-agent",
            kind="plastic",
            density=0.99e-3,
            modulus=1700.0,
            poisson=0.40,
            ultimate=52.0,
            source="Heliyon 9 (2023) e15023 table 6, fused by agent, low ends; ratio from memory",
        ),
    )
}

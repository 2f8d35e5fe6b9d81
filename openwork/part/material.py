"""Alloys and prototype plastics, with where each row was published."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A material: ``density`` g/mm3; ``modulus`` and strengths MPa.

    ``fatigue`` is the fully reversed strength of smooth bars at ``fatigue_cycles``; ``basquin`` are
    the constants a (MPa) and b of a (2 N)^b before that, half of the bars failing. A strength of
    0.0 means that no value is published, not that there is none. Typical values, not design minima.
    """

    name: str
    density: float
    modulus: float
    poisson: float
    ultimate: float
    yield_strength: float = 0.0
    fatigue: float = 0.0
    fatigue_cycles: float = 0.0
    basquin: tuple[float, float] | None = None
    metal: bool = True
    source: str


# The constants of Basquin are from memory, Dowling, Mechanical Behavior of Materials,
# for 6061-T6 and 2024-T3 textbook tables; read the book before a part is made by them.
MATERIALS: dict[str, Material] = {
    material.name: material
    for material in (
        Material(
            name="7075-T6",
            density=2.81e-3,
            modulus=71700.0,
            poisson=0.33,
            ultimate=572.0,
            yield_strength=503.0,
            fatigue=159.0,
            fatigue_cycles=5e8,
            basquin=(1466.0, -0.143),
            source="Aluminum Association typical values; aerodynamicmetals.com, density MatWeb",
        ),
        Material(
            name="6061-T6",
            density=2.70e-3,
            modulus=68900.0,
            poisson=0.33,
            ultimate=310.0,
            yield_strength=276.0,
            fatigue=96.5,
            fatigue_cycles=5e8,
            basquin=(705.0, -0.11),
            source="Aluminum Association typical values; glemco.com 6061-T6",
        ),
        Material(
            name="2024-T3",
            density=2.78e-3,
            modulus=73100.0,
            poisson=0.33,
            ultimate=483.0,
            yield_strength=345.0,
            fatigue=138.0,
            fatigue_cycles=5e8,
            basquin=(1100.0, -0.124),
            source="Kutz, Handbook of Materials Selection, table 5; density ASM; ratio from memory",
        ),
        Material(
            name="2024-T4",
            density=2.78e-3,
            modulus=73100.0,
            poisson=0.33,
            ultimate=469.0,
            yield_strength=324.0,
            fatigue=138.0,
            fatigue_cycles=5e8,
            basquin=(900.0, -0.102),
            source="Kutz, Handbook of Materials Selection, table 5; density ASM; ratio from memory",
        ),
        Material(
            name="7050-T7451",
            density=2.83e-3,
            modulus=71700.0,
            poisson=0.33,
            ultimate=524.0,
            yield_strength=469.0,
            source="typical values, aerodynamicmetals.com; density and ratio from memory",
        ),
        Material(
            name="Ti-6Al-4V",
            density=4.43e-3,
            modulus=114000.0,
            poisson=0.33,
            ultimate=900.0,
            yield_strength=830.0,
            fatigue=510.0,
            fatigue_cycles=1e7,
            basquin=(2030.0, -0.104),
            source="ASM data sheet MTP644, annealed bar",
        ),
        Material(
            name="4130",
            density=7.85e-3,
            modulus=205000.0,
            poisson=0.29,
            ultimate=670.0,
            yield_strength=435.0,
            source="ASM data sheet m4130r, normalized at 870 C",
        ),
        Material(
            name="304",
            density=8.00e-3,
            modulus=193000.0,
            poisson=0.29,
            ultimate=505.0,
            yield_strength=215.0,
            source="AISI 304 data sheet, annealed",
        ),
        Material(
            name="PLA",
            density=1.24e-3,
            modulus=3000.0,
            poisson=0.36,
            ultimate=50.0,
            metal=False,
            source="Heliyon 9 (2023) e15023 table 6, low ends; density and ratio from memory",
        ),
        Material(
            name="PA12",
            density=0.97e-3,
            modulus=1500.0,
            poisson=0.40,
            ultimate=43.0,
            metal=False,
            source="Heliyon 9 (2023) e15023 table 6, sintered, low ends; ratio from memory",
        ),
        Material(
            name="PA12-MJF",
            density=0.99e-3,
            modulus=1700.0,
            poisson=0.40,
            ultimate=52.0,
            metal=False,
            source="Heliyon 9 (2023) e15023 table 6, multi-jet fusion, low ends; ratio from memory",
        ),
    )
}

"""Material rows against the published sheets they come from."""

import pytest

from openwork.part.material import MATERIALS

# ksi x 6.8948; Aluminum Association typical values: aerodynamicmetals.com (7075, 7050), glemco.com
# (6061), Kutz, Handbook of Materials Selection, table 5 (2024). E in 1000 ksi, strengths in ksi.
# name, E, ultimate, yield, fatigue at 5e8 cycles
INCH = [
    ("7075-T6", 10.4, 83, 73, 23),
    ("6061-T6", 10.0, 45, 40, 14),
    ("2024-T3", 10.6, 70, 50, 20),
    ("2024-T4", 10.6, 68, 47, 20),
    ("7050-T7451", 10.4, 76, 68, 0),
]

# Density g/cm3: MatWeb 7075, glemco.com 6061, ASM 2024, MTP644 and m4130r; 304 data sheet; 7050 and
# PLA from memory; Heliyon 9 (2023) e15023 and additive.tools for polyamide, the middle of a range.
DENSITY = {"7075-T6": 2.81, "6061-T6": 2.70, "2024-T3": 2.78, "2024-T4": 2.78, "7050-T7451": 2.83}
DENSITY |= {"Ti-6Al-4V": 4.43, "4130": 7.85, "304": 8.00, "PLA": 1.24, "PA12": 0.97}
DENSITY |= {"PA12-MJF": 0.99}

# MPa: ASM MTP644 annealed bar, ASM m4130r normalized, AISI 304 annealed.
METRIC = [
    ("Ti-6Al-4V", 114000, 900, 830, 510),
    ("4130", 205000, 670, 435, 0),
    ("304", 193000, 505, 215, 0),
]

# MPa, low and high of Heliyon 9 (2023) e15023 table 6: E, ultimate.
PLASTICS = [
    ("PLA", (3000, 4000), (50, 89)),
    ("PA12", (1500, 1800), (43, 48)),
    ("PA12-MJF", (1700, 1800), (52, 54)),
]


@pytest.mark.parametrize(("name", "modulus", "ultimate", "yielded", "fatigue"), INCH)
def test_aluminium_is_as_published_in_ksi(
    name: str, modulus: float, ultimate: float, yielded: float, fatigue: float
) -> None:
    metal = MATERIALS[name]
    assert metal.modulus == pytest.approx(modulus * 6894.8, rel=0.001)
    ours = (metal.ultimate, metal.yield_strength, metal.fatigue)
    assert ours == pytest.approx(
        tuple(6.8948 * ksi for ksi in (ultimate, yielded, fatigue)), rel=0.003
    )
    assert metal.fatigue_cycles == (5e8 if fatigue else 0)


@pytest.mark.parametrize(("name", "modulus", "ultimate", "yielded", "fatigue"), METRIC)
def test_titanium_and_steels_are_as_published(
    name: str, modulus: float, ultimate: float, yielded: float, fatigue: float
) -> None:
    metal = MATERIALS[name]
    ours = (metal.modulus, metal.ultimate, metal.yield_strength, metal.fatigue)
    assert ours == (modulus, ultimate, yielded, fatigue)


@pytest.mark.parametrize(("name", "moduli", "strengths"), PLASTICS)
def test_plastics_take_the_low_end_of_the_published_range(
    name: str, moduli: tuple[float, float], strengths: tuple[float, float]
) -> None:
    plastic = MATERIALS[name]
    assert not plastic.metal
    assert plastic.modulus == moduli[0]
    assert plastic.ultimate == strengths[0]
    assert plastic.yield_strength == plastic.fatigue == 0


@pytest.mark.parametrize(("name", "density"), DENSITY.items())
def test_densities_are_in_gram_per_cubic_millimetre(name: str, density: float) -> None:
    assert MATERIALS[name].density == pytest.approx(density / 1000, abs=1e-9)


def test_every_row_is_checked_and_names_its_source() -> None:
    assert set(DENSITY) == set(MATERIALS)
    assert {row[0] for row in (*INCH, *METRIC, *PLASTICS)} == set(MATERIALS)
    for name, material in MATERIALS.items():
        assert material.name == name
        assert len(material.source) > 10
        assert 0.25 < material.poisson < 0.45
        assert material.fatigue < material.ultimate
        assert (material.fatigue > 0) == (material.fatigue_cycles > 0)

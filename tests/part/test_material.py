"""Material rows against the published sheets they come from."""

import re

import pytest

from openwork.errors import SpecError
from openwork.part.blank import blank
from openwork.part.material import MATERIALS
from openwork.part.material_name import material, nearest
from openwork.spec.spec import from_toml, to_toml

# ksi x 6.8948; Aluminum Association typical values, those of 2024 in Kutz, Handbook of Materials
# Selection, table 5. E in 1000 ksi, strengths in ksi.
# name, E, ultimate, yield, fatigue at 5e8 cycles
INCH = [
    ("7075-T6", 10.4, 83, 73, 23),
    ("7075-T651", 10.4, 83, 73, 23),
    ("6061-T6", 10.0, 45, 40, 14),
    ("2024-T3", 10.6, 70, 50, 20),
    ("2024-T4", 10.6, 68, 47, 20),
    ("7050-T7451", 10.4, 76, 68, 0),
]

# Density g/cm3: Aluminum Association, typical, for aluminium; else typical values, from memory;
# Heliyon 9 (2023) e15023 for polyamide, the middle of a range.
DENSITY = {"7075-T6": 2.81, "6061-T6": 2.70, "2024-T3": 2.78, "2024-T4": 2.78, "7050-T7451": 2.83}
DENSITY |= {"Ti-6Al-4V": 4.43, "4130": 7.85, "304": 8.00, "PLA": 1.24, "PA12": 0.97}
DENSITY |= {"PA12-agent": 0.99, "7075-T651": 2.81}
# Densities of the standards' tables, from memory.
DENSITY |= {"7075-T73": 2.81, "6082-T6": 2.70, "7020-T6": 2.78, "C45": 7.85, "15-5PH-H1025": 7.80}

# Least ultimate and yield strength of plate, MPa: EN 485-2 (aluminium, 3 to 12 mm), EN 10083-2
# (C45 normalised, to 16 mm), AMS 5862 (15-5PH); all from memory.
LEAST = {
    "7075-T6": (540, 470),
    "7075-T651": (540, 470),
    "7075-T73": (475, 385),
    "6061-T6": (290, 240),
    "6082-T6": (310, 260),
    "7020-T6": (350, 280),
    "C45": (580, 305),
    "15-5PH-H1025": (1070, 1000),
}

# MPa: typical values of annealed bar, of normalised 4130 and of annealed 304, from memory.
METRIC = [
    ("Ti-6Al-4V", 114000, 900, 830, 510),
    ("4130", 205000, 670, 435, 0),
    ("304", 193000, 505, 215, 0),
]

# MPa, low and high of Heliyon 9 (2023) e15023 table 6: E, ultimate.
PLASTICS = [
    ("PLA", (3000, 4000), (50, 89)),
    ("PA12", (1500, 1800), (43, 48)),
    ("PA12-agent", (1700, 1800), (52, 54)),
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
    read = {row[0] for row in (*INCH, *METRIC, *PLASTICS)}
    assert {name for name in MATERIALS if "from memory" not in MATERIALS[name].source} <= read
    for name, row in MATERIALS.items():
        assert row.name == name
        assert len(row.source) > 10
        assert 0.25 < row.poisson < 0.45
        assert row.yield_strength <= row.ultimate
        assert row.fatigue < row.ultimate
        assert (row.fatigue > 0) == (row.fatigue_cycles > 0)


def test_least_values_are_the_standards_and_below_the_typical_ones() -> None:
    assert {name for name, one in MATERIALS.items() if one.least} == set(LEAST)
    for name, least in LEAST.items():
        metal = MATERIALS[name]
        assert metal.least == least
        assert least[0] < metal.ultimate
        assert least[1] < metal.yield_strength


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        *(("aluminium", "7075-T6"), ("Aluminum alloy", "7075-T6"), ("titanium", "Ti-6Al-4V")),
        *(("stainless steel", "304"), ("steel", "C45"), ("chromoly", "4130"), ("nylon", "PA12")),
        *(("EN AW-6082", "6082-T6"), ("AlZnMgCu1,5 7075", "7075-T6"), ("7020", "7020-T6")),
        *(("7075-T65", "7075-T651"), ("c45e", "C45"), ("6061", "6061-T6")),
        *(("1.4301", "304"), ("S355", "C45"), ("Ti6Al4V", "Ti-6Al-4V"), ("PLA+", "PLA")),
    ],
)
def test_a_name_is_matched_by_its_meaning(said: str, meant: str) -> None:
    assert nearest(said) == meant
    with pytest.raises(SpecError, match=rf'"{meant}" is nearest, {MATERIALS[meant].kind}'):
        material(said)


@pytest.mark.parametrize("said", ["wood", "carbon", "X12", "magnesium", "brass", "1.2379"])
def test_what_is_no_material_here_has_no_nearest(said: str) -> None:
    with pytest.raises(SpecError) as caught:
        material(said)
    assert "nearest" not in str(caught.value)
    assert "works for a material of your own" in str(caught.value)


def test_a_number_without_quotes_is_read_as_a_name() -> None:
    text = "[ring]\nteeth = 42\nmaterial = 6082\n[mount]\ncircle = 110\n"
    with pytest.raises(SpecError, match='"6082-T6" is nearest, aluminium'):
        from_toml(text)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ("yielding = 600", "yielding: 600 MPa is more than the ultimate strength of 520 MPa"),
        ("fatigue = 530", "fatigue: 530 MPa is more than the ultimate strength of 520 MPa"),
        ('name = "a\\nb"', "must be one line of printable characters"),
    ],
)
def test_values_of_ones_own_that_contradict_are_refused(values: str, words: str) -> None:
    own = f"{{ density = 2.8, modulus = 70000, ultimate = 520, {values} }}"
    with pytest.raises(SpecError, match=words):
        from_toml(f"[ring]\nteeth = 42\nmaterial = {own}\n[mount]\ncircle = 110\n")


def test_a_material_of_ones_own_is_taken_by_its_values() -> None:
    text = """[ring]\nteeth = 42\nmaterial = { name = "Batch 7", density = 2.8, modulus = 70000,
    ultimate = 520, yielding = 450 }\n[mount]\ncircle = 110\n""".replace(",\n", ",")
    spec = from_toml(text)
    own = blank(spec.ring, spec.mount).material
    assert (own.name, own.density, own.yield_strength) == ("Batch 7", 2.8e-3, 450.0)
    assert from_toml(to_toml(spec)) == spec
    with pytest.raises(SpecError, match=r"ring\.material\.ultimate: missing"):
        from_toml(text.replace("ultimate = 520, ", ""))


def test_sources_are_standards_handbooks_or_memory() -> None:
    """What is printed for customers names no trader, no database and no maker's process."""
    told = " ".join(f"{one.name} {one.source}" for one in MATERIALS.values())
    assert not re.search(r"\w\.(com|org|net|de)\b|data ?base|data sheet|MTP|MJF", told)

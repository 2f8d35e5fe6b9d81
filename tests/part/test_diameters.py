"""Sprocket diameters against published tables."""

from typing import Any

import pytest

from openwork.part.chain import CHAINS, Chain
from openwork.part.chain_name import chain
from openwork.part.teeth import diameters, tooth_width

# GB/T 1243, whose formulas are those of ISO 606; worked table read at
# m.doczj.com/doc/71ca24e0f111f18582d05a4f.html. Pins as rollers. 12A has the only odd tooth count.
# chain, z, p, d1, h2, d, da max, da min, df, dg, MR
WORKED = [
    ("06B", 12, 9.525, 6.35, 8.26, 36.80, 42.36, 38.71, 30.45, 26.20, 43.15),
    ("08A", 14, 12.7, 7.92, 12.07, 57.07, 65.03, 60.40, 49.15, 42.33, 64.99),
    ("08B", 24, 12.7, 8.51, 11.81, 97.30, 104.66, 100.64, 88.79, 83.42, 105.81),
    ("10A", 18, 15.875, 10.16, 15.09, 91.42, 101.10, 95.72, 81.26, 73.58, 101.58),
    ("10B", 16, 15.875, 10.16, 14.73, 81.37, 91.06, 85.50, 71.21, 63.73, 91.53),
    ("12A", 17, 19.05, 11.91, 18.08, 103.67, 115.58, 109.02, 91.76, 82.35, 115.14),
    ("12B", 20, 19.05, 12.07, 16.13, 121.78, 133.52, 127.23, 109.71, 102.74, 133.85),
    ("16A", 20, 25.4, 15.88, 24.13, 162.37, 178.24, 169.86, 146.49, 134.51, 178.25),
    ("16B", 20, 25.4, 15.88, 21.08, 162.37, 178.24, 169.86, 146.49, 137.69, 178.25),
    ("20A", 20, 31.75, 19.05, 30.18, 202.96, 223.60, 213.12, 183.91, 168.31, 222.01),
]

# Pitch diameters of 25.4 mm chain, tandwiel.info/en/gears/pitch-diameter-of-roller-chain-wheels.
# fmt: off
PITCH_25_4 = {
    8: 66.37, 9: 74.26, 10: 82.20, 20: 162.37, 22: 178.48, 24: 194.60, 26: 210.72, 27: 218.79,
    28: 226.86, 30: 243.00, 32: 259.14, 34: 275.28, 36: 291.43, 37: 299.51, 38: 307.58,
    39: 315.66, 40: 323.74, 41: 331.81, 42: 339.89, 43: 347.97, 44: 356.05, 45: 364.12,
    46: 372.20, 47: 380.28, 48: 388.36, 49: 396.44, 50: 404.52, 51: 412.60, 52: 420.68,
    53: 428.76, 56: 453.00, 60: 485.33,
}
# fmt: on

# Unit pitch diameters of ASME B29.1, computed from its formula 1 / sin(180 / N) and printed so in
# handbooks; caliper factors of odd counts, PD cos(90 / N).
UNIT_PITCH = {20: 6.3925, 23: 7.3439, 32: 10.2023, 34: 10.8380, 38: 12.1096, 42: 13.3815}
UNIT_PITCH |= {45: 14.3356, 48: 15.2898, 52: 16.5622, 53: 16.8803, 57: 18.1529, 60: 19.1073}
CALIPER = {21: 6.6907, 25: 7.9630, 33: 10.5082, 39: 12.4174, 45: 14.3269, 53: 16.8729}

# Computed here from the formulas of ISO 606 for p 12.7, d1 7.75, h2 9.91: a regression, no source.
# z, d, df, da min, da max, MR, dg
DERIVED = [
    (11, 45.0782, 37.3282, 48.1809, 53.2032, 52.3694, 32.1858),
    (22, 89.2388, 81.4888, 93.2651, 97.3638, 96.9888, 77.2640),
    (32, 129.5692, 121.8192, 133.8842, 137.6942, 137.3192, 117.8789),
    (39, 157.8295, 150.0795, 162.2585, 165.9545, 165.4515, 146.2513),
    (42, 169.9449, 162.1949, 174.4111, 178.0699, 177.6949, 158.4033),
    (53, 214.3799, 206.6299, 218.9465, 222.5049, 222.0358, 202.9370),
    (60, 242.6630, 234.9130, 247.2743, 250.7880, 250.4130, 231.2640),
]


def sized(number: str, pitch: float, roller: float, depth: float) -> Chain:
    """Return a chain of the worked table; its widths and strength play no part."""
    return Chain(
        number=number,
        trade_name=number,
        pitch=pitch,
        roller=roller,
        inner_width=pitch / 2,
        outer_width=pitch,
        over_pins=2 * pitch,
        plate_depth=depth,
        tensile=0.0,
    )


@pytest.mark.parametrize("row", WORKED, ids=lambda row: row[0])
def test_the_worked_table_of_gb_t_1243(row: tuple[Any, ...]) -> None:
    number, teeth, pitch, roller, depth, *published = row
    sizes = diameters(teeth, sized(number, pitch, roller, depth))
    ours = (sizes.pitch, sizes.tip_most, sizes.tip_least, sizes.root, sizes.shroud, sizes.over_pins)
    assert ours == pytest.approx(published, abs=0.00501)


@pytest.mark.parametrize(("teeth", "published"), PITCH_25_4.items())
def test_the_published_pitch_diameters_of_one_inch_chain(teeth: int, published: float) -> None:
    size = diameters(teeth, sized("1 in", 25.4, 15.88, 24.13)).pitch
    assert size == pytest.approx(published, abs=0.00501)
    assert diameters(teeth, chain("082")).pitch == pytest.approx(published / 2, abs=0.0051)


@pytest.mark.parametrize(("teeth", "factor"), UNIT_PITCH.items())
def test_unit_pitch_diameters_of_asme_b29_1(teeth: int, factor: float) -> None:
    assert diameters(teeth, chain("082")).pitch / 12.7 == pytest.approx(factor, abs=0.000051)


@pytest.mark.parametrize(("teeth", "factor"), CALIPER.items())
def test_caliper_factors_of_asme_b29_1(teeth: int, factor: float) -> None:
    size = chain("082")
    over = diameters(teeth, size).over_pins - size.roller
    assert over / 12.7 == pytest.approx(factor, abs=0.000051)


def test_the_worked_example_of_din_8196() -> None:
    # simsonforum.net/thread/76294, z 34, p 12.7: d 137.64; df 129.89 for d1 7.75, 129.13 for 8.51.
    narrow = diameters(34, sized("081", 12.7, 7.75, 9.91))
    wide = diameters(34, sized("08B", 12.7, 8.51, 11.81))
    assert (narrow.pitch, narrow.root, wide.root) == pytest.approx(
        (137.64, 129.89, 129.13), abs=0.006
    )


@pytest.mark.parametrize("row", DERIVED, ids=lambda row: f"{row[0]} teeth")
def test_half_inch_sizes_stay_as_computed(row: tuple[Any, ...]) -> None:
    teeth, *expected = row
    sizes = diameters(teeth, CHAINS["081"])
    ours = (sizes.pitch, sizes.root, sizes.tip_least, sizes.tip_most, sizes.over_pins, sizes.shroud)
    assert ours == pytest.approx(expected, abs=0.000051)


@pytest.mark.parametrize(
    ("number", "width"), [("081", 3.069), ("082", 2.213), ("083", 4.538), ("085", 5.8125)]
)
def test_half_inch_tooth_bands_are_0_93_of_the_inner_width(number: str, width: float) -> None:
    # ISO 606 for p <= 12.7, read at sklep.komerc.pl; products computed here.
    assert tooth_width(chain(number)) == pytest.approx(width, abs=0.0005)


@pytest.mark.parametrize(("inner", "width"), [(15.75, 14.96), (17.02, 16.17)])
def test_tooth_bands_of_coarser_chains(inner: float, width: float) -> None:
    # Worked values for 16A and 16B, bulleadchain.com, "thickness of 16B sprocket".
    size = Chain(
        number="16",
        trade_name="1 in",
        pitch=25.4,
        roller=15.88,
        inner_width=inner,
        outer_width=25.0,
        over_pins=35.0,
        plate_depth=24.13,
        tensile=0.0,
    )
    assert tooth_width(size) == pytest.approx(width, abs=0.0051)

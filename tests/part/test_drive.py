"""Drive figures against published tables."""

import math

import pytest

from openwork.errors import SpecError
from openwork.part.chain import CHAINS, Chain
from openwork.part.drive import Drive, Running, running
from openwork.spec.spec import from_toml

LEAST = "[ring]\nteeth = 42\n[mount]\ncircle = 110\n"


def found(teeth: int, pull: float = 3e3, chain: Chain = CHAINS["082"]) -> Running:
    return running(teeth, chain, tip=1.0, pull=pull, drive=Drive())


# GB/T 1243 worked table, formulas as ISO 606, measuring pin as the roller: d, da,max, df, MR.
@pytest.mark.parametrize(
    ("teeth", "pitch", "roller", "sizes"),
    [
        (24, 12.7, 8.51, (97.30, 104.66, 88.79, 105.81)),
        (17, 19.05, 11.91, (103.67, 115.58, 91.76, 115.14)),
        (20, 25.4, 15.88, (162.37, 178.24, 146.49, 178.25)),
    ],
)
def test_diameters_of_a_published_table(
    teeth: int, pitch: float, roller: float, sizes: tuple[float, ...]
) -> None:
    chain = Chain(
        number="test", trade_name="test", pitch=pitch, roller=roller, inner_width=5.0,
        outer_width=8.0, over_pins=12.0, plate_depth=11.81, tensile=1e4,
    )  # fmt: skip
    one = running(teeth, chain, tip=1.0, pull=1.0, drive=Drive())
    assert (one.pitch, one.tip, one.root, one.over_pins) == pytest.approx(sizes, abs=0.006)


# R. C. Binder, Mechanics of the Roller Chain Drive, 1956, from memory: about 4 % at 11 teeth and
# 1 % at 21; less than 0.3 % above 42.
@pytest.mark.parametrize(("teeth", "percent"), [(11, 4.05), (21, 1.12), (42, 0.28)])
def test_the_ripple_falls_with_the_square_of_the_teeth(teeth: int, percent: float) -> None:
    assert 100 * found(teeth).ripple == pytest.approx(percent, abs=0.005)
    # The chain lies between the pitch circle and the polygon's inner one: measured, not derived.
    corners = [math.tau * k / teeth for k in (-0.5, 0.5)]
    (x0, y0), (x1, y1) = ((math.cos(a), math.sin(a)) for a in corners)
    inner = abs(x0 * y1 - x1 * y0) / math.hypot(x1 - x0, y1 - y0)
    assert found(teeth).ripple == pytest.approx(1 - inner)


def test_even_counts_meet_the_same_links() -> None:
    assert [found(teeth).even for teeth in (41, 42, 43, 44)] == [False, True, False, True]


def test_gear_and_development_are_told_once_the_drive_is_known() -> None:
    spec = from_toml(LEAST)
    assert (found(42).gear, found(42).development) == (None, None)
    assert (spec.drive.cog, spec.drive.wheel) == (None, None)
    known = from_toml(LEAST + "[drive]\ncog = 16\nwheel = 680\n").drive
    one = running(48, CHAINS["082"], tip=0.5, pull=1.0, drive=known)
    assert one.gear == 3.0
    # Three turns of a wheel of 680 mm.
    assert one.development == pytest.approx(6.409, abs=5e-4)
    assert running(48, CHAINS["082"], tip=0.5, pull=1.0, drive=Drive(cog=16)).development is None


@pytest.mark.parametrize(
    ("lines", "part"),
    [
        ("[drive]\ncog = 3", "drive.cog = 3: must be a whole number from 9 to 150; 9 works"),
        ("[drive]\nwheel = 29", "drive.wheel = 29: must be a number from 100 to 1200; 100 works"),
        ("[prices]\nGold = 3", '"Gold" is not one of 7075-T6'),
        ("[prices]\n304 = 0", '"304" = 0: must be a number more than 0'),
        ("[prices]\n304 = 'dear'", "must be a number more than 0"),
        ("[prices]\nGold = 1\n304 = nan", '"304" = nan'),
    ],
)
def test_what_cannot_be_is_refused(lines: str, part: str) -> None:
    with pytest.raises(SpecError) as refused:
        from_toml(LEAST + lines)
    assert part in str(refused.value)


def test_prices_are_kept_by_name() -> None:
    prices = from_toml(LEAST + "[prices]\n7075-T6 = 12\n304 = 5.5\n").prices
    assert dict(prices.by_name) == {"7075-T6": 12.0, "304": 5.5}

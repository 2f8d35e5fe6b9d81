"""Fatigue formulas against handbook values."""

from __future__ import annotations

import dataclasses
from typing import get_args

import numpy as np
import pytest

from openwork.errors import RuleError
from openwork.part.material import MATERIALS
from openwork.strength.endurance import FINISHES, RIGS, Range, endured, mean_strength
from openwork.strength.fatigue import (
    Cycle,
    Fatigue,
    Worst,
    cycle,
    fatigue,
    goodman,
    governing,
    kind,
    scaled,
    smith_watson_topper,
    worst,
)
from openwork.tables.load import Load

GAPS = np.arange(44) * 2 * np.pi / 44


def ends(highest: float, lowest: float) -> Cycle:
    return Cycle(np.array([highest]), np.array([lowest]))


@pytest.mark.parametrize(
    ("name", "by_goodman", "by_smith"),
    [("7075-T6", 248.832, 224.860), ("6061-T6", 147.183, 136.472)],
)
def test_allowable_pulsating_tension(name: str, by_goodman: float, by_smith: float) -> None:
    # At R = 0: Goodman 2/(1/Se + 1/Su), Smith-Watson-Topper Se sqrt(2); typical values of the
    # Aluminum Association for 5e8 cycles. At the allowable the equivalent is the endurance.
    metal = MATERIALS[name]
    limit = pytest.approx(metal.fatigue, rel=1e-5)
    assert goodman(ends(by_goodman, 0.0), metal.ultimate)[0] == limit
    assert smith_watson_topper(ends(by_smith, 0.0))[0] == limit


def test_fully_reversed_is_its_own_equal() -> None:
    reversed_ = ends(100.0, -100.0)
    assert smith_watson_topper(reversed_)[0] == pytest.approx(100.0)
    assert goodman(reversed_, 572.0)[0] == pytest.approx(100.0)
    assert governing(reversed_)[0] == pytest.approx(100.0)


def test_compression_gets_no_credit() -> None:
    pressed = ends(0.0, -200.0)
    assert smith_watson_topper(pressed)[0] == 0.0
    assert goodman(pressed, 572.0)[0] == pytest.approx(100.0)
    assert governing(pressed)[0] == pytest.approx(100.0)
    assert kind(0.0, -200.0) == "compression"
    assert kind(200.0, -10.0) == "tension"
    assert kind(200.0, -100.0) == "reversing"


def test_the_cycle_of_a_turn() -> None:
    # A place stressed at one position only: the sine of that position is what it sees, and both
    # legs pass it, once each way round.
    stress = np.zeros((2, 44))
    stress[0, 11], stress[1, 0] = 80.0, -60.0
    turn = cycle(stress, GAPS, 0.0)
    assert turn.highest[0] == pytest.approx(80.0)  # a quarter turn on: full force
    assert turn.lowest[1] == pytest.approx(0.0, abs=1e-12)  # dead centre: no force
    assert cycle(stress, GAPS, np.pi / 2).lowest[1] == pytest.approx(-60.0)
    assert turn.lowest[0] == 0.0


def uses(found: Worst, strengths: Range, doubt: tuple[float, float] = (1.0, 1.0)) -> Fatigue:
    return fatigue(
        found, strengths, ultimate=572.0, force=1800.0, cycles=1e5, survival=50.0, doubt=doubt
    )


def test_worst_phase_and_band() -> None:
    stress = np.zeros((1, 44))
    stress[0, 0] = 100.0
    points = np.array([[60.0, 1.0]])
    found = uses(worst(stress, points, GAPS, phase=None), (100.0, 120.0, 150.0), (0.9, 1.3))
    assert found.phase == pytest.approx(np.pi / 2)
    assert found.kind == "tension"
    assert found.method == "Smith-Watson-Topper"
    swt = 100 / np.sqrt(2)
    assert found.utilisation == pytest.approx((0.9 * swt / 150, swt / 120, 1.3 * swt / 100))
    other = uses(worst(stress, points, GAPS, phase=0.3), (100.0, 120.0, 150.0))
    assert other.utilisation[1] < found.utilisation[1]
    twice = uses(scaled(worst(stress, points, GAPS, phase=None), 2.0), (100.0, 120.0, 150.0))
    assert twice.utilisation[1] == pytest.approx(2 * found.utilisation[1])


def test_finishes_are_in_order() -> None:
    for least, likely, greatest in FINISHES.values():
        assert 0 < least < likely < greatest <= 1
    assert FINISHES["bare"][1] > FINISHES["anodised"][1] > FINISHES["hard-anodised"][1]


def test_the_line_of_7075() -> None:
    # 1466 (2 N)^-0.143 is 256 MPa at 1e5 turns; below the 159 MPa published for 5e8 from some
    # 3e6 on, where the published value counts. Constants from memory (Dowling).
    metal = MATERIALS["7075-T6"]
    assert mean_strength(metal, 1e5) == pytest.approx(256.0, abs=0.5)
    assert mean_strength(metal, 2e6) > 159.0
    assert mean_strength(metal, 1e7) == mean_strength(metal, 5e8) == 159.0


def test_more_survivors_bear_less() -> None:
    # Mean less two standard deviations is reached by 97.725 %: tables of the normal distribution.
    metal = MATERIALS["7075-T6"]
    likely = [endured(metal, 1e5, "bare", share)[1] for share in (50.0, 84.134, 97.725, 99.865)]
    assert likely == pytest.approx([k * 256.0 * 0.85 for k in (1.0, 0.9, 0.8, 0.7)], rel=2e-3)


def test_material_without_fatigue_data() -> None:
    unknown = dataclasses.replace(MATERIALS["7075-T6"], name="7050", fatigue=0.0)
    with pytest.raises(RuleError, match=r"ring\.material 7050: no published fatigue.*7075-T6"):
        mean_strength(unknown, 1e5)


def test_classes_of_the_rig_are_those_of_the_load() -> None:
    assert set(RIGS) == set(get_args(Load.model_fields["rig"].annotation))
    # 216.4 N m at 1800 N, 156.3 at 1300: 170 mm cranks 45 degrees below level.
    torques = {round(rig.force * 0.17 * np.cos(rig.below), 1) for rig in RIGS.values()}
    assert torques == {156.3, 216.4}

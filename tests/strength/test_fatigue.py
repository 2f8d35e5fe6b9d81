"""Fatigue formulas against handbook values."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from openwork.errors import RuleError
from openwork.part.material import MATERIALS
from openwork.strength.fatigue import (
    FINISHES,
    Cycle,
    cycle,
    fatigue,
    goodman,
    governing,
    kind,
    smith_watson_topper,
)

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


def test_worst_phase_and_band() -> None:
    stress = np.zeros((1, 44))
    stress[0, 0] = 100.0
    points = np.array([[60.0, 1.0]])
    found = fatigue(
        stress, points, GAPS, MATERIALS["7075-T6"], finish="anodised", phase=None, doubt=(1.0, 1.3)
    )
    assert found.phase == pytest.approx(np.pi / 2)
    assert found.kind == "tension"
    assert found.method == "Smith-Watson-Topper"
    swt = 100 / np.sqrt(2)
    least, likely, greatest = FINISHES["anodised"]
    assert found.utilisation[1] == pytest.approx(swt / (159 * likely))
    assert found.utilisation[2] == pytest.approx(1.3 * swt / (159 * least))
    assert found.utilisation[0] == pytest.approx(swt / (159 * greatest))
    other = fatigue(
        stress, points, GAPS, MATERIALS["7075-T6"], finish="anodised", phase=0.3, doubt=(1.0, 1.3)
    )
    assert other.utilisation[1] < found.utilisation[1]


def test_finishes_are_in_order_and_a_band_is_wide() -> None:
    for least, likely, greatest in FINISHES.values():
        assert 0 < least < likely < greatest <= 1
    assert FINISHES["bare"][1] > FINISHES["anodised"][1] > FINISHES["hard-anodised"][1]
    stress = np.full((1, 44), 50.0)
    band = fatigue(
        stress,
        np.zeros((1, 2)),
        GAPS,
        MATERIALS["6061-T6"],
        finish="bare",
        phase=0.0,
        doubt=(1.0, 1.0),
    ).utilisation
    assert band[0] <= 0.75 * band[1]
    assert band[2] >= 1.25 * band[1]


def test_material_without_fatigue_data() -> None:
    unknown = dataclasses.replace(MATERIALS["7075-T6"], name="7050", fatigue=0.0)
    with pytest.raises(RuleError, match=r"ring\.material 7050: no published fatigue.*7075-T6"):
        fatigue(
            np.ones((1, 44)),
            np.zeros((1, 2)),
            GAPS,
            unknown,
            finish="bare",
            phase=0.0,
            doubt=(1.0, 1.0),
        )

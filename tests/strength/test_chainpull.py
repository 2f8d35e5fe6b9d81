"""Chain pull and tooth forces against published formulas and worked values."""

from __future__ import annotations

import numpy as np
import pytest

from openwork.strength.chainpull import (
    lever,
    positions,
    pressure_angle,
    side_force,
    tension_ratio,
    tooth_forces,
    torque,
)


@pytest.mark.parametrize(
    ("worn", "size", "from_inward", "arm"),
    [(False, 0.219336, 53.636, 87.56489693), (True, 0.353680, 70.364, 88.77297822)],
)
def test_first_tooth_of_44(worn: bool, size: float, from_inward: float, arm: float) -> None:
    # |F1|/T0 = sin(2a)/sin(phi + 2a), direction 90 - 180/z - phi from the inward radius: Lami's
    # theorem on the roller (Binder 1956); pressure angles of a handbook of chains.
    phi = pressure_angle(44, worn=worn)
    first = tooth_forces(44, phi)[0]
    assert np.hypot(*first) == pytest.approx(size, abs=1e-6)
    assert np.degrees(np.arctan2(first[1], -first[0])) == pytest.approx(from_inward, abs=1e-3)
    assert 90 - 180 / 44 - np.degrees(phi) == pytest.approx(from_inward, abs=1e-3)
    assert lever(44, 12.7, phi, wrap=22) == pytest.approx(arm, abs=1e-8)


@pytest.mark.parametrize(
    ("teeth", "worn", "phi", "ratio", "first"),
    [
        # A handbook's pressure angles and the force triangle, worked by hand for each z.
        (20, True, 13.8, 0.45266, 0.58642),
        (20, False, 29.0, 0.66289, 0.42253),
        (32, False, 31.25, 0.76788, 0.28877),
        (42, True, 15.4762, 0.65482, 0.36575),
        (42, False, 32.1429, 0.81564, 0.22849),
        (52, False, 32.6923, 0.84708, 0.18904),
        (52, True, 15.7692, 0.70445, 0.31245),
    ],
)
def test_tension_ratio_and_first_force(
    teeth: int, worn: bool, phi: float, ratio: float, first: float
) -> None:
    angle = pressure_angle(teeth, worn=worn)
    assert np.degrees(angle) == pytest.approx(phi, abs=1e-4)
    assert tension_ratio(teeth, angle) == pytest.approx(ratio, abs=6e-6)
    assert np.hypot(*tooth_forces(teeth, angle)[0]) == pytest.approx(first, abs=6e-6)


@pytest.mark.parametrize("teeth", [9, 22, 44, 53])
@pytest.mark.parametrize("worn", [False, True])
def test_the_engaged_chain_is_in_equilibrium(teeth: int, worn: bool) -> None:
    # Moments: (T0 - Tn) (d/2) cos(180/z); resultant: T0 along the tight span, Tn along the slack.
    phi, wrap = pressure_angle(teeth, worn=worn), teeth // 2
    forces = tooth_forces(teeth, phi, wrap=wrap)
    turn = 2 * np.pi / teeth
    radius = 12.7 / (2 * np.sin(turn / 2))
    angle = -turn * np.arange(wrap)
    moment = radius * (np.cos(angle) * forces[:, 1] - np.sin(angle) * forces[:, 0]).sum()
    assert moment == pytest.approx(lever(teeth, 12.7, phi, wrap=wrap), rel=1e-12)
    slack = tension_ratio(teeth, phi) ** wrap
    tight_way = turn / 2 + np.pi / 2
    slack_way = -turn * (wrap - 1) - turn / 2 - np.pi / 2
    expected = np.array([np.cos(tight_way), np.sin(tight_way)])
    expected += slack * np.array([np.cos(slack_way), np.sin(slack_way)])
    assert forces.sum(axis=0) == pytest.approx(expected, abs=1e-12)


def test_a_column_for_every_gap_is_the_first_column_turned() -> None:
    x, y = positions(44, pressure_angle(44))
    force = x + 1j * y
    for shift in (1, 7, 43):
        turned = np.roll(force[:, 0], shift) * np.exp(2j * np.pi * shift / 44)
        assert force[:, shift] == pytest.approx(turned, abs=1e-14)
    assert (abs(force) > 0).sum(axis=0) == pytest.approx(22)


@pytest.mark.parametrize(
    ("teeth", "crank", "pull"),
    [(22, 170, 5715.0), (42, 170, 3001.0), (52, 170, 2424.6), (32, 175, 4051.9), (48, 175, 2703.7)],
)
def test_pull_of_the_static_test(teeth: int, crank: float, pull: float) -> None:
    # EN 14766 4.13.6.2: 1500 N on a level crank; Q over the pitch radius, worked by hand. The
    # polygon's arm is shorter by cos(180/z), the slack strand takes up to 4 %.
    turning = torque(1500.0, crank)
    radius = 12.7 / (2 * np.sin(np.pi / teeth))
    assert turning / radius == pytest.approx(pull, abs=0.1)
    exact = turning / lever(teeth, 12.7, pressure_angle(teeth))
    assert pull < exact < 1.05 * pull


def test_cranks_below_the_horizontal_turn_less() -> None:
    # Crank rigs of ISO 4210-8: 1300 and 1800 N at 45 degrees, forces from memory.
    assert torque(1300.0, 170.0, below=np.pi / 4) / 1000 == pytest.approx(156.27, abs=0.01)
    assert torque(1800.0, 175.0, below=np.pi / 4) / 1000 == pytest.approx(222.74, abs=0.01)


@pytest.mark.parametrize(
    ("offset", "span", "force"), [(5, 391, 37), (10, 410, 71), (20, 415, 140), (23, 405, 165)]
)
def test_side_force(offset: float, span: float, force: float) -> None:
    # T0 sin(psi), psi = atan(offset/span); 5 mm over 391 mm is 0.73 degrees.
    assert side_force(2912.0, offset=offset, span=span) == pytest.approx(force, abs=0.6)

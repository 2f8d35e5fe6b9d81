"""What the ring hangs on: closed forms, balance of forces, and pins that push and never pull."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from pydantic import ValidationError

from openwork.part.material import MATERIALS
from openwork.shape.contour import as_complex, circle
from openwork.strength.body import Fineness, body
from openwork.strength.chainpull import lever, pressure_angle
from openwork.strength.contact import pinned
from openwork.strength.plane import Ring, in_plane, mean_turns, on_spider, ready
from openwork.tables.support import Bolts, Spider
from tests.strength.rings import holes, ring
from tests.strength.tools import Array

COARSE = Fineness(3.0, 2.5)
PHI = pressure_angle(44)
ARMS = (15e3, 200e3)


@pytest.fixture(scope="module")
def made() -> Ring:
    return ready(body(ring(holes()), COARSE))


def test_a_stiff_ring_turns_as_its_springs_let_it() -> None:
    # Five springs k along a circle of radius R: the turn is M / (5 k R^2), whatever the arms'
    # stiffness across; the ring is made stiff enough to add nothing.
    stiff = dataclasses.replace(MATERIALS["7075-T6"], modulus=71700e5)
    alone, hung = mean_turns(body(ring(holes(), material=stiff), COARSE), PHI, ARMS)
    assert hung == pytest.approx(lever(44, 12.7, PHI) / (5 * 15e3 * 55**2), rel=2e-3)
    assert alone < 1e-3 * hung


def test_springs_add_to_what_the_ring_gives() -> None:
    # In series: by symmetry each bolt takes M / (5 R) in the mean of all positions, so going from
    # one spring to another adds M / (5 R^2) times the difference of 1/k, whatever the ring.
    made = body(ring(holes()), COARSE)
    soft, hard = (mean_turns(made, PHI, (k, 200e3))[1] for k in (15e3, 60e3))
    added = lever(44, 12.7, PHI) / (5 * 55**2) * (1 / 15e3 - 1 / 60e3)
    assert soft - hard == pytest.approx(added, rel=2e-3)


def test_bolts_carry_the_load(made: Ring) -> None:
    alone = in_plane(made, PHI)
    for plane in (alone, on_spider(made, alone, ARMS)):
        force = np.stack([plane.loads[0::2].sum(axis=0), plane.loads[1::2].sum(axis=0)])
        assert plane.bolts.sum(axis=0) == pytest.approx(force, abs=1e-9)
    x, y = made.body.model.positions.T[..., None]
    hung = on_spider(made, alone, ARMS).bolts
    moment = (x * hung[:, 1] - y * hung[:, 0]).sum(axis=0)
    # The heads turn freely; the seat's own lever adds a little.
    assert moment == pytest.approx(lever(44, 12.7, PHI), rel=0.01)


def test_arms_that_do_not_give_are_no_arms(made: Ring) -> None:
    alone = in_plane(made, PHI)
    fast = on_spider(made, alone, (1e12, 1e12))
    # What is left is that heads turn, which the ring alone does not let them.
    assert fast.rotation.mean() == pytest.approx(alone.rotation.mean(), rel=0.1)
    assert (fast.rotation > alone.rotation).all()
    turns = [on_spider(made, alone, (k, 200e3)).rotation.mean() for k in (1e6, 1e5, 2.5e4, 5e3)]
    assert turns == sorted(turns)


def test_a_spread_out_spring_gives_as_much(made: Ring) -> None:
    # The other way to draw an arm: a spring under every node of the head, factored anew.
    body_ = made.body
    nodes = np.flatnonzero(body_.held)
    away = body_.mesh.nodes[nodes][:, None] - body_.model.positions
    bolt = np.argmin((away**2).sum(axis=-1), axis=1)
    springs = np.zeros((len(body_.mesh.nodes), 2))
    springs[nodes] = (1e5 / np.bincount(bolt)[bolt])[:, None]
    free = made.factor.whole.copy()
    free.setdiag(free.diagonal() + springs.ravel())
    from scipy.sparse.linalg import spsolve

    from openwork.strength.plane import chain_loads, rim

    loads = chain_loads(body_, PHI).mean(axis=1)
    soft = rim(body_, spsolve(free.tocsc(), loads)[:, None])[0].mean()
    _, hung = mean_turns(body_, PHI, (1e5, 1e5))
    assert hung == pytest.approx(soft, rel=0.03)


def test_pins_push_and_never_pull(made: Ring) -> None:
    alone = in_plane(made, PHI)
    pins = pinned(made, alone)
    assert (pins.pressed >= 0).all()
    nodes = made.body.mesh.nodes[pins.bearing]
    away = nodes[:, None] - made.body.model.positions
    bolt = np.argmin((away**2).sum(axis=-1), axis=1)
    ways = away[np.arange(len(nodes)), bolt]
    ways /= np.hypot(*ways.T)[:, None]
    # A pin pushes the hole's edge outwards; the pushes balance the chain, force and moment.
    pushes = np.einsum("cp,cd->dp", pins.pressed, ways)
    loads = np.stack([alone.loads[0::2].sum(axis=0), alone.loads[1::2].sum(axis=0)])
    assert pushes == pytest.approx(-loads, abs=1e-9)
    # Loose pins are softer than fast heads, and each bears on less than half its hole.
    assert pins.rotation.mean() > 1.02 * alone.rotation.mean()
    share = [(pins.pressed[bolt == k] > 0).mean(axis=0).max() for k in range(5)]
    assert 0.2 < max(share) < 0.56


def persson(angle: Array, half: float) -> Array:
    """Return the pressure times R t / P of a neat round pin, at *angle* from the middle.

    A. Persson, On the stress distribution of cylindrical elastic bodies in contact (Chalmers,
    1964), as M. Ciavarella and P. Decuzzi give it, Int. J. Solids Struct. 38 (2001) 4507, from
    memory: exact for like metals that bear over *half* either side (rad) in a wide plate.
    """
    b, y = np.tan(half / 2), np.tan(angle / 2)
    root, s = np.sqrt(np.maximum(b * b - y * y, 0)), np.sqrt(b * b + 1)
    logarithm = np.log((s + root) / (s - root)) / (2 * np.pi * b * b * (1 + b * b))
    return np.asarray(2 * root / (np.pi * s * (1 + y * y)) + logarithm)


def test_a_pin_presses_as_in_the_published_solution() -> None:
    turn = np.linspace(0, 1.4, 4001)
    balance = 2 * np.trapezoid(persson(turn, 1.4) * np.cos(turn), turn)
    assert balance == pytest.approx(1, rel=1e-4)  # the pressure bears the whole force
    wide = ring(edge=circle(30.0))
    fine = ready(body(wide, Fineness(2.5, 0.9)))
    pins = pinned(fine, in_plane(fine, PHI))
    away = fine.body.mesh.nodes[pins.bearing][:, None] - wide.positions
    bolt = np.argmin((away**2).sum(axis=-1), axis=1)
    direction = np.angle(as_complex(away[np.arange(len(away)), bolt]))
    position = int(np.argmax(pins.pressed.sum(axis=0)))
    here = bolt == np.argmax(np.bincount(bolt, pins.pressed[:, position]))
    force, direction = pins.pressed[here, position], direction[here]
    total = force @ np.exp(1j * direction)
    off = np.angle(np.exp(1j * direction) / total)
    half = float(np.ptp(off[force > 0]) / 2)
    assert np.radians(75) < half < np.radians(90)
    for within in np.radians([15, 30, 45, 60]):
        near = np.abs(off) < within
        share = force[near] @ np.cos(off[near]) / abs(total)
        a = np.linspace(0, within, 2001)
        wanted = 2 * np.trapezoid(persson(a, half) * np.cos(a), a)
        assert share == pytest.approx(wanted, rel=0.025)


@pytest.mark.parametrize(
    "absurd",
    [
        lambda: Spider(tangential=0.0),
        lambda: Spider(radial=-1.0),
        lambda: Bolts(preload=0.0),
        lambda: Bolts(friction=0.0),
        lambda: Bolts(friction=3.0),
        lambda: Bolts(head=0.5),
    ],
)
def test_absurd_supports_are_refused(absurd: object) -> None:
    with pytest.raises(ValidationError):
        absurd()  # type: ignore[operator]


def test_a_joint_slips_where_preload_times_friction_is_used_up() -> None:
    # 10 N m on M8 with a nut factor of 0.2: 6.25 kN, times 0.15: 937.5 N.
    assert Bolts().slip == pytest.approx(10 / (0.2 * 0.008) * 0.15)

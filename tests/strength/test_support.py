"""What the ring hangs on: closed forms, balance of forces, and pins that push and never pull."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from pydantic import ValidationError

from openwork.part.material import MATERIALS
from openwork.shape.contour import as_complex
from openwork.strength.body import Fineness, body
from openwork.strength.chainpull import lever, pressure_angle
from openwork.strength.contact import pinned
from openwork.strength.plane import Ring, in_plane, mean_turns, on_spider, ready
from openwork.tables.support import Bolts, Spider
from tests.strength.rings import holes, ring

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


def test_the_pressure_of_a_pin_is_near_a_cosine(made: Ring) -> None:
    # A neat pin without friction in a wide plate presses over nearly half its hole, and its
    # largest pressure is close to 4 P / (pi D t), that of a cosine (K. L. Johnson, Contact
    # Mechanics, 1985, section 5.3 on conforming bodies: from memory).
    fine = ready(body(ring(holes()), Fineness(1.6, 1.0)))
    pins = pinned(fine, in_plane(fine, PHI))
    nodes = fine.body.mesh.nodes[pins.bearing]
    away = nodes[:, None] - fine.body.model.positions
    bolt = np.argmin((away**2).sum(axis=-1), axis=1)
    ways = away[np.arange(len(nodes)), bolt]
    ways /= np.hypot(*ways.T)[:, None]
    position = int(np.argmax(pins.pressed.sum(axis=0)))
    forces = pins.pressed[:, position]
    busiest = int(np.argmax(np.bincount(bolt, forces)))
    here = bolt == busiest
    total = np.hypot(*(forces[here] @ ways[here]))
    direction = np.angle(as_complex(ways[here]))
    middle = np.angle(forces[here] @ np.exp(1j * direction))
    off = np.abs(np.angle(np.exp(1j * (direction - middle))))
    near = off < np.radians(30)
    # Force within 30 degrees of the middle over all of it, along the middle: a cosine has
    # (pi/3 + sin(60 deg)) / pi = 0.609.
    share = (forces[here] * np.cos(off))[near].sum() / total
    assert share == pytest.approx(0.609, abs=0.09)


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

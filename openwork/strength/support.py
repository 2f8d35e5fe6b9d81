"""What the ring hangs on: bolt heads held fast, or moved with the arms of a spider.

The ring is factored once, its heads held. How it follows a head that moves is one column for each
direction; what the arms give is then a small system of the heads alone (static condensation:
R. J. Guyan, AIAA Journal 3 (1965) 380). A head moves as a whole and turns
freely on its arm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from openwork.shape.contour import Floats
from openwork.strength.body import Body
from openwork.strength.element import Factor

Arms: TypeAlias = tuple[float, float]  # N/mm along the bolt circle and along the arm


@dataclass(frozen=True, slots=True, eq=False)
class Hung:
    """How a ring follows its bolt heads, each with three motions: along x, along y, and a turn.

    ``motion`` (2 n, 3 bolts) are the displacements for 1 of each (mm, rad), ``stiffness``
    (3 bolts, 3 bolts) the forces that takes at the heads, N and N mm, ``frames`` (bolts, 2, 2) the
    directions along the circle and along the arm of each.
    """

    motion: Floats
    stiffness: Floats
    frames: Floats

    def forces(self, loads: Floats) -> Floats:
        """Return the forces (bolts, 2, columns) of the ring on heads held fast under *loads*."""
        return np.asarray(self._pushed(loads)[:, :2])

    def _pushed(self, loads: Floats) -> Floats:
        return np.asarray((self.motion.T @ loads).reshape(-1, 3, loads.shape[1]))

    def moved(self, arms: Arms, loads: Floats) -> tuple[Floats, Floats]:
        """Return what *arms* add to displacements (2 n, columns), and the forces on the bolts."""
        springs = np.zeros((len(self.frames), 3, 3))
        springs[:, :2, :2] = self.frames.transpose(0, 2, 1) @ (
            np.array(arms)[:, None] * self.frames
        )
        whole = self.stiffness.copy()
        for bolt, spring in enumerate(springs):
            here = slice(3 * bolt, 3 * bolt + 3)
            whole[here, here] += spring
        pushed = self._pushed(loads)
        heads = np.linalg.solve(whole, pushed.reshape(len(whole), -1))
        return self.motion @ heads, (springs @ heads.reshape(pushed.shape))[:, :2]


def hung(body: Body, factor: Factor) -> Hung:
    """Return how *body*, factored with its heads held, follows them."""
    model = body.model
    nodes = np.flatnonzero(body.held)
    away = body.mesh.nodes[nodes][:, None] - model.positions
    bolt = np.argmin((away**2).sum(axis=-1), axis=1)
    x, y = away[np.arange(len(nodes)), bolt].T
    lift = np.zeros((2 * len(body.mesh.nodes), 3 * len(model.bolts)))
    lift[2 * nodes, 3 * bolt] = lift[2 * nodes + 1, 3 * bolt + 1] = 1.0
    lift[2 * nodes, 3 * bolt + 2], lift[2 * nodes + 1, 3 * bolt + 2] = -y, x
    motion = lift - factor.solve(factor.whole @ lift)
    outward = model.positions / np.hypot(*model.positions.T)[:, None]
    frames = np.stack([outward @ np.array([[0.0, 1.0], [-1.0, 0.0]]), outward], axis=1)
    return Hung(motion, lift.T @ (factor.whole @ motion), frames)

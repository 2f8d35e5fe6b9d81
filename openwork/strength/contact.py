"""Bolts as loose pins: no friction, no clearance, bearing on the side of the hole that comes.

The heads hold nothing, so what is left of the stiffness is a lower bound. Which places of a hole
bear is found by trying: those that would pull let go, those that would pass into the pin bear,
until nothing changes (an active set). Without clearance all is in proportion to the load.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array
from scipy.sparse.linalg import splu

from openwork.errors import RuleError
from openwork.shape.contour import Floats
from openwork.strength.body import Mask
from openwork.strength.edge_stress import Edges, tangential
from openwork.strength.element import COLUMNS
from openwork.strength.meshing.sides import Integers
from openwork.strength.plane import Plane, Ring, rim

ROUNDS = 60  # changes of what bears that are tried


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """A ring on loose pins at full force: stiffness N m/deg, stresses MPa, place mm.

    ``hole_stress`` is the largest along the edges of the bolt holes.
    """

    stiffness: float
    peak: float
    place: tuple[float, float]
    hole_stress: float


@dataclass(frozen=True, slots=True, eq=False)
class Pinned:
    """A ring on pins: turn (positions,) of the rim, stress (k, positions), what bears.

    ``pressed`` (c, positions) are the forces at the nodes ``bearing`` (c,) of the holes; all per
    newton of pull.
    """

    rotation: Floats
    stress: Floats
    hole_stress: Floats
    bearing: Integers
    pressed: Floats


def pinned(ring: Ring, plane: Plane) -> Pinned:
    """Return *ring* under the loads of *plane*, on a loose pin in each bolt hole.

    Raises RuleError where what bears does not settle.
    """
    body = ring.body
    loops = body.mesh.loops
    sides = np.flatnonzero((loops >= 2) & (loops < 2 + len(body.model.bolts)))
    holes = tangential(body.mesh, sides)
    nodes = np.unique(body.mesh.edges[sides])
    inward = _inward(ring, nodes)
    stiff = float(ring.factor.whole.diagonal().mean())
    sprung = ring.factor.whole + stiff * (inward @ inward.T)
    lu = splu(sprung.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
              options={"SymmetricMode": True})  # fmt: skip
    reader = _Reader(ring, holes, inward)
    loaded = reader.solved(lu, plane.loads)
    pushed = reader.solved(lu, inward.toarray())
    pressed, gaps = _bearing(loaded[0], pushed[0], stiff)
    forces = pressed - stiff * gaps
    turn, stress, hole = (a - b @ forces for a, b in zip(loaded[1:], pushed[1:], strict=True))
    return Pinned(turn[0], stress, hole, nodes, pressed)


def _inward(ring: Ring, nodes: Integers) -> csc_array:
    """Return the directions (2 n, c) from *nodes* of the holes towards their pins."""
    away = ring.body.model.positions - ring.body.mesh.nodes[nodes][:, None]
    nearest = np.argmin((away**2).sum(axis=-1), axis=1)
    ways = away[np.arange(len(nodes)), nearest]
    ways /= np.hypot(*ways.T)[:, None]
    rows = (2 * nodes[:, None] + np.arange(2)).ravel()
    columns = np.repeat(np.arange(len(nodes)), 2)
    shape = (2 * len(ring.body.mesh.nodes), len(nodes))
    return csc_array((ways.ravel(), (rows, columns)), shape=shape)


@dataclass(frozen=True, slots=True, eq=False)
class _Reader:
    """What is read of displacements: motion into the pins, turn of the rim, stresses."""

    ring: Ring
    holes: Edges
    inward: csc_array

    def solved(self, lu: object, loads: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Return all readings of the displacements under *loads*, a few columns at a time."""
        modulus = self.ring.body.model.material.modulus
        parts = []
        for k in range(0, loads.shape[1], COLUMNS):
            u = lu.solve(np.asfortranarray(loads[:, k : k + COLUMNS]))  # type: ignore[attr-defined]
            turn = rim(self.ring.body, u)[0].mean(axis=0)[None]
            edge, hole = (modulus * (one.strain @ u) for one in (self.ring.edges, self.holes))
            parts.append((self.inward.T @ u, turn, edge, hole))
        a, b, c, d = (np.concatenate(part, axis=1) for part in zip(*parts, strict=True))
        return a, b, c, d


def _bearing(free: Floats, pushed: Floats, stiff: float) -> tuple[Floats, Floats]:
    """Return the forces of the pins and the motions into them (c, positions), one of each 0.

    *free* (c, positions) and *pushed* (c, c) are the motions into the pins under the loads and
    under unit forces, every node of the holes on a spring *stiff*.
    """
    loose = np.eye(len(free)) - stiff * pushed
    pressed, gaps = np.zeros_like(free), np.zeros_like(free)
    bears = free[:, 0] > 0
    for position in range(free.shape[1]):
        bears = _settled(loose, pushed, free[:, position], bears)
        unknown = np.linalg.solve(np.where(bears, pushed, loose), free[:, position])
        pressed[bears, position] = unknown[bears]
        gaps[~bears, position] = unknown[~bears]
    return pressed, gaps


def _settled(loose: Floats, pushed: Floats, free: Floats, bears: Mask) -> Mask:
    """Return which nodes bear: forces of those that do, and gaps of the rest, not negative."""
    for _ in range(ROUNDS):
        unknown = np.linalg.solve(np.where(bears, pushed, loose), free)
        kept = unknown > 0
        if np.array_equal(kept, bears):
            return bears
        bears = kept
    raise RuleError(
        f"strength: what bears on the pins does not settle in {ROUNDS} rounds; "
        "draw without --loose works"
    )

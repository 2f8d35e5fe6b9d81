"""The ring in its own plane: plane stress, one factor, every position of the chain as a column."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from openwork.shape.contour import Floats, as_complex
from openwork.strength.body import Body, gap_bottoms, seats
from openwork.strength.chainpull import positions, tooth_forces
from openwork.strength.edge_stress import Edges, free_edges
from openwork.strength.element import Factor, elastic, plane_rigidity
from openwork.strength.meshing.sides import Integers
from openwork.strength.support import Arms, Hung, hung


@dataclass(frozen=True, slots=True, eq=False)
class Plane:
    """Displacements (2 n, positions) per newton of chain pull, for each first loaded gap.

    ``rotation`` (positions,) is the mean turn of the gap bottoms (rad), ``bulge`` (positions,)
    the spread of their radial displacement (mm), ``stress`` (k, positions) the signed stress at
    the stations of ``edges`` (MPa), ``loads`` (2 n, positions) the nodal forces, ``bolts``
    (bolts, 2, positions) the forces of the ring on its bolts (N); all per newton.
    """

    body: Body
    displacement: Floats
    loads: Floats
    bolts: Floats
    rotation: Floats
    bulge: Floats
    edges: Edges
    stress: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Ring:
    """A ring factored with its bolt heads held, how it follows them, and its free edges."""

    body: Body
    factor: Factor
    hung: Hung
    edges: Edges


def factored(body: Body) -> Factor:
    """Return the factor in plane, bolt heads held fast."""
    model = body.model
    rigidity = plane_rigidity(model.material.modulus, model.material.poisson)
    matrices = elastic(body.slopes, body.slopes.areas * body.thickness, rigidity)
    return Factor(matrices, body.mesh.triangles, np.repeat(body.held[:, None], 2, axis=1))


def ready(body: Body) -> Ring:
    """Return *body* ready to be loaded."""
    factor = factored(body)
    return Ring(body, factor, hung(body, factor), free_edges(body))


def chain_loads(body: Body, pressure: float, *, first: Integers | None = None) -> Floats:
    """Return nodal loads (2 n, positions) per newton of pull, its span leaving gap *first*."""
    teeth = body.model.teeth
    direction = complex(as_complex(tooth_forces(teeth, pressure)[0]))
    share = seats(body, direction / abs(direction))
    x, y = positions(teeth, pressure, first=first)
    loads = np.empty((2 * share.shape[0], x.shape[1]))
    loads[0::2] = share @ x
    loads[1::2] = share @ y
    return loads


def rim(body: Body, displacement: Floats) -> tuple[Floats, Floats]:
    """Return the turn (rad) and the radial displacement (mm) of the gap bottoms (gaps, columns)."""
    nodes = gap_bottoms(body)
    x, y = body.mesh.nodes[nodes].T[..., None]
    u, v = displacement[2 * nodes], displacement[2 * nodes + 1]
    square = x * x + y * y
    return (x * v - y * u) / square, (x * u + y * v) / np.sqrt(square)


def in_plane(ring: Ring, pressure: float) -> Plane:
    """Return *ring* alone, its heads held, under chain pull at *pressure* angle, everywhere."""
    loads = chain_loads(ring.body, pressure)
    still = ring.factor.solve(loads)
    return _read(ring, loads, still, ring.hung.forces(loads))


def scouted(body: Body, pressure: float) -> tuple[Edges, Floats, float]:
    """Return free edges, their hottest stress (k,) and the mean turn (rad), per newton of pull.

    As ``in_plane`` has them of the same ring, without what a spider needs.
    """
    displacement = factored(body).solve(chain_loads(body, pressure))
    edges = free_edges(body)
    stress = body.model.material.modulus * (edges.strain @ displacement)
    turn, _ = rim(body, displacement)
    return edges, np.abs(stress).max(axis=1), float(turn.mean())


def on_spider(ring: Ring, alone: Plane, arms: Arms) -> Plane:
    """Return the ring that *alone* is held fast, on *arms* that give."""
    moved, forces = ring.hung.moved(arms, alone.loads)
    return _read(ring, alone.loads, alone.displacement + moved, forces)


def _read(ring: Ring, loads: Floats, displacement: Floats, bolts: Floats) -> Plane:
    turn, radial = rim(ring.body, displacement)
    stress = ring.body.model.material.modulus * (ring.edges.strain @ displacement)
    return Plane(
        body=ring.body,
        displacement=displacement,
        loads=loads,
        bolts=bolts,
        rotation=turn.mean(axis=0),
        bulge=np.ptp(radial, axis=0),
        edges=ring.edges,
        stress=stress,
    )


def mean_turns(body: Body, pressure: float, arms: Arms) -> tuple[float, float]:
    """Return the rim's turn (rad) per newton of pull, averaged over the positions.

    The first is of the ring alone, the second on *arms*; one column of loads instead of all.
    """
    factor = factored(body)
    loads = chain_loads(body, pressure).mean(axis=1)[:, None]
    still = factor.solve(loads)
    moved, _ = hung(body, factor).moved(arms, loads)
    alone, on_arms = (float(rim(body, u)[0].mean()) for u in (still, still + moved))
    return alone, on_arms

"""The ring in its own plane: plane stress, one factor, every position of the chain as a column."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from openwork.shape.contour import Floats
from openwork.strength.body import Body, gap_bottoms, seats
from openwork.strength.chainpull import positions, tooth_forces
from openwork.strength.edge_stress import Edges, free_edges
from openwork.strength.element import Factor, elastic, plane_rigidity
from openwork.strength.meshing.sides import Integers
from openwork.strength.meshing.triangles import Mesh


@dataclass(frozen=True, slots=True, eq=False)
class Plane:
    """Displacements (2 n, positions) per newton of chain pull, for each first loaded gap.

    ``rotation`` (positions,) is the mean turn of the gap bottoms (rad), ``bulge`` (positions,)
    the spread of their radial displacement (mm), ``stress`` (k, positions) the signed stress at
    the stations of ``edges`` (MPa), ``loads`` (2 n, positions) the nodal forces; all per newton.
    """

    body: Body
    displacement: Floats
    loads: Floats
    rotation: Floats
    bulge: Floats
    edges: Edges
    stress: Floats


def factored(body: Body, *, arm: float = 0.0) -> Factor:
    """Return the factor in plane; bolts held fast, or each by a spring of *arm* (N/mm) if not 0."""
    model = body.model
    rigidity = plane_rigidity(model.material.modulus, model.material.poisson)
    matrices = elastic(body.slopes, body.slopes.areas * body.thickness, rigidity)
    count = len(body.mesh.nodes)
    if arm == 0:
        return Factor(matrices, body.mesh.triangles, np.repeat(body.held[:, None], 2, axis=1))
    nodes = np.flatnonzero(body.held)
    away = body.mesh.nodes[nodes][:, None] - model.positions
    bolt = np.argmin((away**2).sum(axis=-1), axis=1)
    spring = np.zeros((count, 2))
    spring[nodes] = (arm / np.bincount(bolt)[bolt])[:, None]
    free = np.zeros((count, 2), dtype=bool)
    return Factor(matrices, body.mesh.triangles, free, springs=spring.ravel())


def chain_loads(body: Body, pressure: float, *, first: Integers | None = None) -> Floats:
    """Return nodal loads (2 n, positions) per newton of pull, its span leaving gap *first*."""
    teeth = body.model.teeth
    direction = complex(tooth_forces(teeth, pressure)[0] @ np.array([1, 1j]))
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


def in_plane(body: Body, pressure: float, *, arm: float = 0.0) -> Plane:
    """Return the ring under chain pull at *pressure* angle (rad), at every position."""
    factor = factored(body, arm=arm)
    loads = chain_loads(body, pressure)
    displacement = factor.solve(loads)
    turn, radial = rim(body, displacement)
    edges = free_edges(body)
    stress = body.model.material.modulus * (edges.strain @ displacement)
    return Plane(
        body, displacement, loads, turn.mean(axis=0), np.ptp(radial, axis=0), edges, stress
    )


def mean_turn(body: Body, pressure: float, *, arm: float = 0.0) -> float:
    """Return the rim's turn (rad) per newton of pull, averaged over the positions: one column."""
    loads = chain_loads(body, pressure).mean(axis=1)
    turn, _ = rim(body, factored(body, arm=arm).solve(loads[:, None]))
    return float(turn.mean())


def node_stress(body: Body, displacement: Floats) -> Floats:
    """Return the stress (n, 3) at the nodes: sxx, syy, sxy of one column, elements averaged.

    Linear through the Gauss points of each element, out to its nodes.
    """
    material = body.model.material
    return nodal(body.mesh, element_stress(body, displacement, material.modulus, material.poisson))


def element_stress(body: Body, displacement: Floats, modulus: float, poisson: float) -> Floats:
    """Return the stress (m, 3, 3) at the Gauss points: sxx, syy, sxy of one column."""
    u = displacement.reshape(-1, 2)[body.mesh.triangles]
    strain = _strain(body.slopes.x, body.slopes.y, u)
    return strain @ plane_rigidity(modulus, poisson)


def _strain(x: Floats, y: Floats, u: Floats) -> Floats:
    dx, dy = x @ u, y @ u  # (m, 3, 2)
    return np.stack([dx[..., 0], dy[..., 1], dy[..., 0] + dx[..., 1]], axis=-1)


# Barycentric planes through the values at the Gauss points, read off at the six nodes.
_OUTWARD = np.array([[5, -1, -1], [-1, 5, -1], [-1, -1, 5], [2, 2, -1], [-1, 2, 2], [2, -1, 2]]) / 3


def nodal(mesh: Mesh, values: Floats) -> Floats:
    """Return Gauss-point *values* (m, 3, c) carried to the nodes (n, c), elements averaged."""
    carried = (_OUTWARD @ values).reshape(-1, values.shape[-1])
    node = mesh.triangles.ravel()
    count = np.bincount(node)
    return np.stack([np.bincount(node, column) / count for column in carried.T], axis=-1)


def von_mises(stress: Floats) -> Floats:
    """Return the equivalent stress of plane stresses (..., 3) after von Mises."""
    x, y, shear = np.moveaxis(stress, -1, 0)
    result: Floats = np.sqrt(x * x - x * y + y * y + 3 * shear * shear)
    return result

"""The stress inside the plate: at Gauss points, carried to nodes, and the equivalent of it."""

from __future__ import annotations

import numpy as np

from openwork.shape.contour import Floats
from openwork.strength.body import Body
from openwork.strength.element import plane_rigidity
from openwork.strength.meshing.triangles import Mesh


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

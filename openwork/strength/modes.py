"""First bending frequency and buckling factor, on the plate's own factor."""

from __future__ import annotations

import numpy as np
from scipy.sparse import csc_array
from scipy.sparse.linalg import LinearOperator, eigsh

from openwork.shape.contour import Floats
from openwork.strength.body import Body
from openwork.strength.element import GAUSS, Factor, assembled, held, products
from openwork.strength.mesh import shapes
from openwork.strength.plane import element_stress

TONNE = 1e-6  # per gram: with N, mm and s a mass is in tonnes


def _matrix(body: Body, blocks: tuple[Floats, Floats, Floats], factor: Factor) -> csc_array:
    """Return a matrix diagonal in w, bx, by from their element matrices, held unknowns emptied."""
    matrices = np.zeros((len(body.mesh.triangles), 6, 3, 6, 3))
    for unknown, block in enumerate(blocks):
        matrices[:, :, unknown, :, unknown] = block
    fixed = factor.fixed.reshape(-1, 3)
    return assembled(held(matrices, body.mesh.triangles, fixed), body.mesh.triangles, len(fixed))


def frequencies(body: Body, factor: Factor, *, count: int = 1) -> Floats:
    """Return the lowest *count* natural frequencies across the plane, Hz; rotary inertia in."""
    n = np.broadcast_to(shapes(GAUSS), body.slopes.x.shape)
    density = body.model.material.density * TONNE * body.slopes.areas
    turning = products(n, n, density * body.thickness**3 / 12)
    mass = _matrix(body, (products(n, n, density * body.thickness), turning, turning), factor)
    values = _largest(mass, factor, count)
    result: Floats = np.sqrt(1 / values) / (2 * np.pi)
    return result


def buckling(body: Body, factor: Factor, displacement: Floats) -> float:
    """Return the factor on the in-plane load of *displacement* (2 n,) at which the plate buckles.

    Stress stiffness of w alone: sigma_ij w,i w,j (Timoshenko and Gere, Theory of Elastic
    Stability, chapter 8). Infinite where nothing is compressed.
    """
    material = body.model.material
    stress = element_stress(body, displacement, material.modulus, material.poisson)
    weight = stress * (body.slopes.areas * body.thickness)[..., None]
    x, y = body.slopes.x, body.slopes.y
    mixed = products(x, y, weight[..., 2])
    block = products(x, x, weight[..., 0]) + products(y, y, weight[..., 1])
    block += mixed + mixed.transpose(0, 2, 1)
    none = np.zeros_like(block)
    geometric = _matrix(body, (-block, none, none), factor)
    largest = float(_largest(geometric, factor, 1)[0])
    return 1 / largest if largest > 0 else float("inf")


def _largest(matrix: csc_array, factor: Factor, count: int) -> Floats:
    """Return the largest values (count,) of matrix x = value stiffness x, greatest first."""
    size = matrix.shape[0]
    stiffness = LinearOperator((size, size), matvec=lambda x: factor.matrix @ x, dtype=float)
    inverse = LinearOperator((size, size), matvec=lambda x: factor.solve(np.ravel(x)), dtype=float)
    start = factor.solve(np.ones(size))
    values = eigsh(
        matrix,
        count,
        stiffness,
        which="LA",
        Minv=inverse,
        v0=start,
        tol=1e-8,
        return_eigenvectors=False,
    )
    result: Floats = np.sort(values)[::-1]
    return result

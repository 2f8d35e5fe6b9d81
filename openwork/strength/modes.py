"""First bending frequency and buckling factor, on the plate's own factor."""

from __future__ import annotations

import numpy as np
from scipy.sparse import csc_array
from scipy.sparse.linalg import LinearOperator, eigsh

from openwork.shape.contour import Floats
from openwork.strength.body import Body
from openwork.strength.element import GAUSS, Factor, Slopes, assembled, held, products
from openwork.strength.field import element_stress
from openwork.strength.meshing.quadratic import shapes

TONNE = 1e-6  # per gram: with N, mm and s a mass is in tonnes


def inertia(slope: Slopes, thickness: Floats, density: float) -> Floats:
    """Return the mass (m, 6, 3, 6, 3) of a plate of *density* (t/mm3), rotary inertia included."""
    n = np.broadcast_to(shapes(GAUSS), slope.x.shape)
    turning = products(n, n, density * slope.areas * thickness**3 / 12)
    return _blocks(products(n, n, density * slope.areas * thickness), turning, turning)


def stress_stiffness(slope: Slopes, forces: Floats) -> Floats:
    """Return the stress stiffness (m, 6, 3, 6, 3) of w for in-plane *forces* (m, 3, 3), N/mm.

    sigma_ij w,i w,j: Timoshenko and Gere, Theory of Elastic Stability, chapter 8.
    """
    x, y = slope.x, slope.y
    direct_x, direct_y, shear = np.moveaxis(forces * slope.areas[..., None], -1, 0)
    mixed = products(x, y, shear)
    block = products(x, x, direct_x) + products(y, y, direct_y) + mixed + mixed.transpose(0, 2, 1)
    return _blocks(block, np.zeros_like(block), np.zeros_like(block))


def _blocks(*diagonal: Floats) -> Floats:
    matrices = np.zeros((len(diagonal[0]), 6, 3, 6, 3))
    for unknown, block in enumerate(diagonal):
        matrices[:, :, unknown, :, unknown] = block
    return matrices


def _free(body: Body, matrices: Floats, factor: Factor) -> csc_array:
    fixed = factor.fixed.reshape(-1, 3)
    return assembled(held(matrices, body.mesh.triangles, fixed), body.mesh.triangles, len(fixed))


def frequencies(body: Body, factor: Factor, *, count: int = 1) -> Floats:
    """Return the lowest *count* natural frequencies across the plane, Hz."""
    mass = inertia(body.slopes, body.thickness, body.model.material.density * TONNE)
    values = largest(_free(body, mass, factor), factor, count)
    result: Floats = np.sqrt(1 / values) / (2 * np.pi)
    return result


def buckling(body: Body, factor: Factor, displacement: Floats) -> float:
    """Return the factor on the in-plane load of *displacement* (2 n,) at which the plate buckles.

    Infinite where nothing is compressed.
    """
    material = body.model.material
    stress = element_stress(body, displacement, material.modulus, material.poisson)
    geometric = stress_stiffness(body.slopes, -stress * body.thickness[..., None])
    value = float(largest(_free(body, geometric, factor), factor, 1)[0])
    return 1 / value if value > 0 else float("inf")


def largest(matrix: csc_array, factor: Factor, count: int) -> Floats:
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

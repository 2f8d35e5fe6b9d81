"""The quadratic triangle: gradients at the three Gauss points, element matrices, assembly.

Three points at (1/6, 1/6, 2/3) integrate quadratics exactly; Zienkiewicz and Taylor, The Finite
Element Method, vol. 1, table of triangle rules.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csc_array
from scipy.sparse.linalg import splu

from openwork.shape.contour import Floats, Points
from openwork.strength.meshing.quadratic import shape_slopes, shapes
from openwork.strength.meshing.sides import Integers
from openwork.strength.meshing.triangles import Mesh

GAUSS = np.array([[4, 1, 1], [1, 4, 1], [1, 1, 4]]) / 6


@dataclass(frozen=True, slots=True, eq=False)
class Slopes:
    """Shape-function slopes ``x``, ``y`` (m, 3, 6) at the Gauss points, their ``areas`` (m, 3)."""

    x: Floats
    y: Floats
    areas: Floats


def slopes(nodes: Points, triangles: Integers, barycentric: Floats = GAUSS) -> Slopes:
    """Return the slopes at *barycentric* points (g, 3) of every element, equal weights."""
    d = shape_slopes(barycentric)
    x = nodes[triangles].transpose(0, 2, 1)
    xi, eta = x @ d[..., 0].T, x @ d[..., 1].T  # (m, 2, g)
    determinant = xi[:, 0] * eta[:, 1] - xi[:, 1] * eta[:, 0]
    inverse = (1 / determinant)[..., None]
    across = d[..., 0] * (eta[:, 1, :, None] * inverse) - d[..., 1] * (xi[:, 1, :, None] * inverse)
    up = d[..., 1] * (xi[:, 0, :, None] * inverse) - d[..., 0] * (eta[:, 0, :, None] * inverse)
    return Slopes(across, up, determinant / (2 * len(barycentric)))


def gauss_points(mesh: Mesh) -> Points:
    """Return the Gauss points (m, 3, 2) of every element."""
    points: Points = shapes(GAUSS) @ mesh.nodes[mesh.triangles]
    return points


def products(a: Floats, b: Floats, weights: Floats) -> Floats:
    """Return the element matrices (m, 6, 6) of the integral of a_i b_j with *weights* (m, 3)."""
    result: Floats = (a * weights[..., None]).transpose(0, 2, 1) @ b
    return result


def elastic(slope: Slopes, weights: Floats, rigidity: Floats) -> Floats:
    """Return element matrices (m, 6, 2, 6, 2) of a plane elastic field, *rigidity* (3, 3)."""
    xx = products(slope.x, slope.x, weights)
    yy = products(slope.y, slope.y, weights)
    xy = products(slope.x, slope.y, weights)
    direct, cross, shear = rigidity[0, 0], rigidity[0, 1], rigidity[2, 2]
    result = np.empty((len(xx), 6, 2, 6, 2))
    result[:, :, 0, :, 0] = direct * xx + shear * yy
    result[:, :, 1, :, 1] = direct * yy + shear * xx
    result[:, :, 0, :, 1] = mixed = cross * xy + shear * xy.transpose(0, 2, 1)
    result[:, :, 1, :, 0] = mixed.transpose(0, 2, 1)
    return result


def plane_rigidity(modulus: float, poisson: float) -> Floats:
    """Return the plane-stress matrix (3, 3), MPa, engineering shear strain."""
    e = modulus / (1 - poisson**2)
    return np.array([[e, e * poisson, 0], [e * poisson, e, 0], [0, 0, e * (1 - poisson) / 2]])


def assembled(matrices: Floats, triangles: Integers, count: int) -> csc_array:
    """Return the sum of element matrices (m, 6, d, 6, d): d unknowns at each of *count* nodes."""
    d = matrices.shape[2]
    size = 6 * d
    unknowns = (triangles[:, :, None] * d + np.arange(d)).reshape(-1, size).astype(np.int32)
    rows = np.repeat(unknowns, size, axis=1).ravel()
    columns = np.tile(unknowns, (1, size)).ravel()
    whole = coo_array((matrices.ravel(), (rows, columns)), shape=(count * d, count * d))
    return whole.tocsc()


def held(matrices: Floats, triangles: Integers, fixed: NDArray[np.bool_]) -> Floats:
    """Return the element matrices without rows and columns of the unknowns *fixed* (n, d)."""
    here = fixed[triangles]
    touched = np.flatnonzero(here.any(axis=(1, 2)))
    free = (~here[touched]).astype(float)
    result = matrices.copy()
    result[touched] *= free[:, :, :, None, None] * free[:, None, None]
    return result


COLUMNS = 16  # solved at once: more leave the cache


class Factor:
    """A factored stiffness matrix; ``solve`` takes columns of nodal loads.

    ``whole`` is the matrix with nothing held. Symmetric-mode minimum degree on A + A^T without
    pivoting: the matrix is positive definite. Nested dissection fills in two thirds more here,
    where the plate is a net; SuperLU's own ``relax`` beyond its default corrupts its memory.
    """

    def __init__(
        self,
        matrices: Floats,
        triangles: Integers,
        fixed: NDArray[np.bool_],
        *,
        springs: Floats | float = 0.0,
    ) -> None:
        self.fixed = fixed.ravel()
        self.whole = assembled(matrices, triangles, len(fixed))
        self.matrix = _held_fast(self.whole, self.fixed, springs)
        self._lu = splu(
            self.matrix,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )

    def solve(self, loads: Floats) -> Floats:
        """Return displacements for *loads* (unknowns,) or (unknowns, columns); 0 where held."""
        if loads.ndim == 1:
            return np.asarray(self._lu.solve(loads * ~self.fixed))
        free = np.where(self.fixed[:, None], 0.0, loads)
        result = np.empty_like(free)
        for k in range(0, free.shape[1], COLUMNS):
            part = np.asfortranarray(free[:, k : k + COLUMNS])
            result[:, k : k + COLUMNS] = self._lu.solve(part)
        return result


def _held_fast(whole: csc_array, fixed: NDArray[np.bool_], springs: Floats | float) -> csc_array:
    """Return *whole* with the rows and columns of *fixed* unknowns cut off, *springs* added."""
    matrix = whole.copy()
    columns = np.repeat(np.arange(len(fixed)), np.diff(matrix.indptr))
    beside = matrix.indices != columns
    matrix.data[beside & (fixed[matrix.indices] | fixed[columns])] = 0.0
    matrix.eliminate_zeros()
    matrix.setdiag(matrix.diagonal() + springs)
    return matrix

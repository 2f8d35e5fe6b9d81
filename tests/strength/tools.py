"""Plain plates for the published cases: mapped grids, edge tractions, prescribed displacements."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array
from scipy.sparse.linalg import splu

from openwork.strength.element import assembled, elastic, plane_rigidity, slopes

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Mapping = Callable[[Array], Array]
FREE = np.nan


def grid(across: int, up: int, mapping: Mapping) -> tuple[Array, Index]:
    """Return nodes and six-node triangles of the unit square, two per cell, mapped."""
    x, y = np.meshgrid(
        np.linspace(0, 1, 2 * across + 1), np.linspace(0, 1, 2 * up + 1), indexing="ij"
    )
    nodes = mapping(np.column_stack([x.ravel(), y.ravel()]))
    i, j = np.meshgrid(2 * np.arange(across), 2 * np.arange(up), indexing="ij")

    def at(di: int, dj: int) -> Index:
        return ((i + di) * (2 * up + 1) + j + dj).ravel()

    low = [at(0, 0), at(2, 0), at(0, 2), at(1, 0), at(1, 1), at(0, 1)]
    high = [at(2, 0), at(2, 2), at(0, 2), at(2, 1), at(1, 2), at(1, 1)]
    return nodes, np.concatenate([np.stack(low, 1), np.stack(high, 1)])


def stiffness(
    nodes: Array, triangles: Index, modulus: float, poisson: float, thickness: float = 1.0
) -> csc_array:
    """Return the assembled plane-stress matrix of a uniform plate."""
    slope = slopes(nodes, triangles)
    blocks = elastic(slope, slope.areas * thickness, plane_rigidity(modulus, poisson))
    return assembled(blocks, triangles, len(nodes))


def solved(matrix: csc_array, loads: Array, given: Array) -> Array:
    """Return unknowns where *given* is NaN, the given values elsewhere."""
    free = np.isnan(given)
    result = np.where(free, 0.0, given)
    rest = loads[free] - matrix[free] @ result
    options = {"SymmetricMode": True}
    inner = matrix[free][:, free].tocsc()
    lu = splu(inner, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=options)
    result[free] = lu.solve(rest)
    return result


def sides_on(nodes: Array, triangles: Index, on: Callable[[Array], NDArray[np.bool_]]) -> Index:
    """Return sides (k, 3), start middle stop, metal on the left, whose three nodes lie *on*."""
    sides = np.concatenate(
        [triangles[:, [0, 3, 1]], triangles[:, [1, 4, 2]], triangles[:, [2, 5, 0]]]
    )
    found: Index = sides[np.flatnonzero(on(nodes)[sides].all(axis=1))]
    return found


def pushed(nodes: Array, sides: Index, traction: Callable[[Array, Array], Array]) -> Array:
    """Return nodal loads (2 n,) of a traction of points and outward normals, on curved *sides*."""
    loads = np.zeros_like(nodes)
    for s, weight in zip([-np.sqrt(0.6), 0, np.sqrt(0.6)], [5 / 9, 8 / 9, 5 / 9], strict=True):
        value = np.array([s * (s - 1) / 2, 1 - s * s, s * (s + 1) / 2])
        along = np.array([s - 0.5, -2 * s, s + 0.5])
        x, tangent = value @ nodes[sides], along @ nodes[sides]
        length = np.hypot(*tangent.T)
        normal = tangent @ np.array([[0, -1], [1, 0]]) / length[:, None]
        force = traction(x, normal) * (weight * length)[:, None]
        np.add.at(loads, sides, value[None, :, None] * force[:, None, :])
    return loads.ravel()

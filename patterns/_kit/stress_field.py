"""Principal stresses of the solid ring that carries a torque from its rim to its clamped pads.

Bilinear elements in the log-polar frame. Strains times the radius are

    r e_r = du_r/du,   r e_t = u_r + du_t/dv,   r g = du_r/dv + du_t/du - u_t

with u = ln r: there a ring has the same stiffness at every radius, so all elements share one
matrix (T. J. R. Hughes, The Finite Element Method, 1987, for the elements).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.linalg import splu

from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.shape.contour import Floats, as_complex

POISSON = 0.33  # of aluminium; any metal gives nearly the same directions
ROWS = 16  # elements across the web
GAUSS = np.array([-1, 1]) / np.sqrt(3)


@dataclass(frozen=True, slots=True)
class Mesh:
    """Elements of one sector: ``rows`` across the web from u = ``low``, ``columns`` round it."""

    low: float
    rows: int
    columns: int
    height: float
    width: float

    @classmethod
    def of(cls, site: Site) -> Mesh:
        """Return nearly square elements that fill the web."""
        low, high = extent(site)
        columns = max(8, round(site.sector / (high - low) * ROWS))
        return cls(low, ROWS, columns, (high - low) / ROWS, site.sector / columns)

    def extended(self, rows: int) -> Mesh:
        """Return the mesh with *rows* more on the inside."""
        low = self.low - rows * self.height
        return Mesh(low, self.rows + rows, self.columns, self.height, self.width)

    @property
    def levels(self) -> Floats:
        """The u of the rows of nodes."""
        return np.linspace(self.low, self.low + self.height * self.rows, self.rows + 1)

    @property
    def angles(self) -> Floats:
        """The v of the columns of nodes."""
        return np.linspace(0, self.width * self.columns, self.columns, endpoint=False)

    def elements(self) -> NDArray[np.int64]:
        """Return the nodes (k, 4) of the elements, row by row, closed round the sector."""
        row, column = np.divmod(np.arange(self.rows * self.columns), self.columns)
        beside = (column + 1) % self.columns
        inner, outer = row * self.columns, (row + 1) * self.columns
        return np.column_stack([inner + column, outer + column, outer + beside, inner + beside])

    def shapes(self, a: float, b: float) -> Floats:
        """Return the shape functions and their u and v derivatives (3, 4) at a, b in -1 to 1."""
        n = np.array([(1 - a) * (1 - b), (1 + a) * (1 - b), (1 + a) * (1 + b), (1 - a) * (1 + b)])
        du = np.array([b - 1, 1 - b, 1 + b, -1 - b]) * 2 / self.height
        dv = np.array([a - 1, -1 - a, 1 + a, 1 - a]) * 2 / self.width
        return np.array([n, du, dv]) / 4


def solved(
    matrices: Floats, loads: Floats, unknowns: NDArray[np.int64], free: NDArray[np.bool_]
) -> Floats:
    """Return the unknowns (n,) that balance *loads* (n,), 0 where they are not *free*.

    The element *matrices* (k, d, d) belong to the *unknowns* (k, d).
    """
    rows = np.repeat(unknowns, unknowns.shape[1], axis=1).ravel()
    columns = np.tile(unknowns, unknowns.shape[1]).ravel()
    whole = coo_array((matrices.ravel(), (rows, columns)), shape=(len(loads),) * 2).tocsc()
    kept = np.flatnonzero(free)
    factors = splu(
        whole[kept][:, kept], permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )  # fmt: skip
    result = np.zeros(len(loads))
    result[kept] = factors.solve(loads[kept])
    return result


def clamped(site: Site, mesh: Mesh) -> NDArray[np.bool_]:
    """Return which nodes (rows + 1, columns) the pads hold; the nearest where they reach none."""
    places = np.exp(np.add.outer(mesh.levels, 1j * mesh.angles))
    apart = np.abs(places[..., None] - as_complex(site.bolt_points))
    return np.asarray((apart < np.maximum(site.pad, apart.min(axis=(0, 1)) * 1.01)).any(axis=-1))


def stresses(site: Site, mesh: Mesh) -> Floats:
    """Return radial, hoop and shear stress times the radius, in the middles of the elements.

    The shape is (3, rows, columns); a unit force pulls along the rim at each of its nodes.
    """
    elastic = np.array([[1, POISSON, 0], [POISSON, 1, 0], [0, 0, (1 - POISSON) / 2]])

    def strain(a: float, b: float) -> Floats:
        n, du, dv = mesh.shapes(a, b)
        matrix = np.zeros((3, 8))
        matrix[0, ::2], matrix[1, ::2], matrix[2, ::2] = du, n, dv
        matrix[1, 1::2], matrix[2, 1::2] = dv, du - n
        return matrix

    parts = [strain(a, b).T @ elastic @ strain(a, b) for a in GAUSS for b in GAUSS]
    stiffness = np.sum(parts, axis=0) * mesh.height * mesh.width / 4
    elements = mesh.elements()
    dofs = np.stack([2 * elements, 2 * elements + 1], axis=-1).reshape(-1, 8)
    nodes = (mesh.rows + 1) * mesh.columns
    loads = np.zeros(2 * nodes)
    loads[2 * (nodes - mesh.columns) + 1 :: 2] = 1.0
    free = np.repeat(~clamped(site, mesh).ravel(), 2)
    matrices = np.broadcast_to(stiffness, (len(elements), 8, 8))
    moves = solved(matrices, loads, dofs, free)
    return np.asarray((elastic @ strain(0, 0) @ moves[dofs].T).reshape(3, mesh.rows, mesh.columns))

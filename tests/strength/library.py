"""The turn of a ring by scikit-fem: another code's elements, assembly and thickness."""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely
import skfem
from scipy.sparse.linalg import splu
from scipy.spatial import cKDTree
from skfem.helpers import ddot, sym_grad, trace

from openwork.shape.contour import Floats, Points, sampled
from openwork.strength.body import Body
from openwork.strength.chainpull import pressure_angle
from openwork.strength.element import plane_rigidity
from openwork.strength.meshing.sides import Integers
from openwork.strength.model import Model
from openwork.strength.plane import chain_loads, rim


def depth_of(model: Model, points: Points) -> Floats:
    """Return the thickness of *model* at *points* (..., 2) by its section: step and bevel."""
    radius = np.hypot(*np.moveaxis(points, -1, 0))
    depth = np.where(radius > model.shroud, model.tooth_width, model.plate)
    if not np.any(model.bevel) or not model.openings:
        return depth
    widths = np.broadcast_to(model.bevel, len(model.openings))
    edges = [shapely.LinearRing(sampled(one, 1e-3)) for one in model.openings]
    places = shapely.points(points.reshape(-1, 2))
    inside, away = shapely.STRtree(edges).query_nearest(
        places, max_distance=float(widths.max()), return_distance=True, all_matches=False
    )
    flat = depth.ravel()
    flat[inside[0]] -= 2 * np.maximum(widths[inside[1]] - away, 0.0)
    return flat.reshape(depth.shape)


def turn_by_library(made: Body, nodes: Points, triangles: Integers, *, order: int) -> float:
    """Return the mean turn of the rim by scikit-fem on *triangles* (m, 3 or 6), all positions."""
    mesh, material = made.mesh, made.model.material
    if order == 2:
        plate = skfem.MeshTri2(nodes.T.copy(), triangles.T.copy())
        element = skfem.ElementVector(skfem.ElementTriP2())
    else:
        plate = skfem.MeshTri(nodes.T.copy(), triangles.T.copy())
        element = skfem.ElementVector(skfem.ElementTriP1())
    basis = skfem.Basis(plate, element, intorder=2)
    e = plane_rigidity(material.modulus, material.poisson)
    depth = depth_of(made.model, np.moveaxis(basis.global_coordinates().value, 0, -1))

    @skfem.BilinearForm  # type: ignore[untyped-decorator]
    def form(u: Any, v: Any, w: Any) -> Any:
        strain, other = sym_grad(u), sym_grad(v)
        stress = e[0, 1] * trace(strain) * trace(other) + 2 * e[2, 2] * ddot(strain, other)
        return stress * w.depth

    matrix = form.assemble(basis, depth=depth)
    places = basis.doflocs.T
    _, back = cKDTree(places[::2]).query(mesh.nodes)
    loads = chain_loads(made, pressure_angle(made.model.teeth)).mean(axis=1)
    right = np.zeros(len(places))
    for direction in (0, 1):
        np.add.at(right, 2 * back + direction, loads[direction::2])
    _, node = cKDTree(mesh.nodes).query(places)
    free = np.flatnonzero(~made.held[node])
    solution = np.zeros_like(right)
    solution[free] = splu(matrix[free][:, free].tocsc()).solve(right[free])
    u = np.empty_like(loads)
    u[0::2], u[1::2] = solution[2 * back], solution[2 * back + 1]
    return float(rim(made, u[:, None])[0].mean())


def quadratic(made: Body) -> float:
    """Return the turn by the library on the very same curved elements."""
    mesh = made.mesh
    corners = np.unique(mesh.triangles[:, :3])
    order = np.concatenate([corners, np.unique(mesh.triangles[:, 3:])])
    number = np.empty(len(order), dtype=int)
    number[order] = np.arange(len(order))
    return turn_by_library(made, mesh.nodes[order], number[mesh.triangles], order=2)

"""Strength of one ring on one thread, beside scikit-fem at the same error in the same run.

Budgets: in plane at all positions 0.30 s; both directions 0.45 s; search quality 0.25 s; sign-off
with refinement 1.2 s; at least 5 times faster than the general library.
"""

import os
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import skfem
from scipy.sparse.linalg import splu
from scipy.spatial import cKDTree
from skfem.helpers import ddot, sym_grad, trace

import openwork
from openwork.shape.contour import Points
from openwork.spec.spec import from_toml
from openwork.strength.body import Body, Fineness, body
from openwork.strength.chainpull import pressure_angle
from openwork.strength.element import plane_rigidity
from openwork.strength.loading import loaded
from openwork.strength.meshing.sides import Integers
from openwork.strength.model import Model, ring_model, thickness
from openwork.strength.plane import chain_loads, in_plane, mean_turn, rim
from openwork.strength.plate import across
from openwork.strength.quality import GRADES
from openwork.strength.report import strength
from openwork.tables.load import Load


def fastest(call: Callable[[], object], runs: int = 5) -> float:
    """Return the least time of *call*: what else the machine does can only add to it."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


SPEC = """
[ring]
teeth = 44
[mount]
circle = 110.0
[web]
rib = 2.5
[pattern]
name = "michell"
"""


def model() -> Model:
    """Return a ring of 100 openings."""
    design = openwork.design(from_toml(SPEC))
    return ring_model(design.blank, design.openings)


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
    x = basis.global_coordinates().value
    depth = thickness(made.model, np.moveaxis(x, 0, -1))

    @skfem.BilinearForm
    def form(u: Any, v: Any, w: Any) -> Any:
        strain, other = sym_grad(u), sym_grad(v)
        stress = e[0, 1] * trace(strain) * trace(other) + 2 * e[2, 2] * ddot(strain, other)
        return stress * w.depth

    matrix = form.assemble(basis, depth=depth)
    places = basis.doflocs.T
    _, back = cKDTree(places[::2]).query(mesh.nodes)
    loads = chain_loads(made, pressure_angle(made.model.teeth))
    right = np.zeros((len(places), loads.shape[1]))
    for direction in (0, 1):
        np.add.at(right, 2 * back + direction, loads[direction::2])
    _, node = cKDTree(mesh.nodes).query(places)
    free = np.flatnonzero(~made.held[node])
    lu = splu(matrix[free][:, free].tocsc())
    solution = np.zeros_like(right)
    solution[free] = lu.solve(right[free])
    u = np.empty_like(loads)
    u[0::2], u[1::2] = solution[2 * back], solution[2 * back + 1]
    return float(rim(made, u)[0].mean())


def quadratic(made: Body) -> float:
    """Return the turn by the library on the very same curved elements."""
    mesh = made.mesh
    corners = np.unique(mesh.triangles[:, :3])
    order = np.concatenate([corners, np.unique(mesh.triangles[:, 3:])])
    number = np.empty(len(order), dtype=int)
    number[order] = np.arange(len(order))
    return turn_by_library(made, mesh.nodes[order], number[mesh.triangles], order=2)


def linear(made: Body, fineness: Fineness) -> float:
    """Return the turn by the library's linear elements, the usual ones, on a finer mesh."""
    fine = body(made.model, fineness)
    corners, numbered = np.unique(fine.mesh.triangles[:, :3], return_inverse=True)
    return turn_by_library(fine, fine.mesh.nodes[corners], numbered.reshape(-1, 3), order=1)


def rows() -> Iterator[tuple[str, str]]:
    ring, load = model(), Load()
    pressure = pressure_angle(ring.teeth)
    draw = GRADES["draw"]
    name = f"{len(ring.openings)} openings, {ring.teeth} positions"

    def plane() -> float:
        return float(in_plane(body(ring, draw.plane), pressure).rotation.mean())

    ours = fastest(plane, 5)
    yield f"{name}: in plane, {draw.plane.step:g}/{draw.plane.spacing:g} mm", f"{ours:.3f} s"
    both = ours + fastest(lambda: across(body(ring, draw.plate)), 5)
    yield "in plane and across", f"{both:.3f} s"
    for quality in ("search", "draw"):
        yield (
            f"all figures, {quality}",
            f"{fastest(lambda q=quality: strength(ring, load, quality=q), 5):.3f} s",
        )
    yield (
        "in plane, final, with the second mesh",
        f"{fastest(lambda: loaded(ring, load, quality='final'), 3):.3f} s",
    )
    yield "all figures, final", f"{fastest(lambda: strength(ring, load, quality='final'), 3):.3f} s"

    made = body(ring, draw.plane)
    found, reference = plane(), mean_turn(body(ring, Fineness(0.7, 0.55)), pressure)
    error = abs(found / reference - 1)
    agreement = f"1 {found / quadratic(made) - 1:+.0e}"
    yield "mean turn, ours over scikit-fem's on the same elements", agreement
    theirs = fastest(lambda: quadratic(body(ring, draw.plane)), 3)
    yield "scikit-fem, same curved elements", f"{theirs:.3f} s, {theirs / ours:.1f} times ours"
    for step in (1.0, 0.7, 0.5, 0.35):
        fineness = Fineness(step, 0.8 * step)
        far = abs(linear(made, fineness) / reference - 1)
        if far <= error:
            break
    theirs = fastest(lambda: linear(made, fineness), 1)
    yield (
        f"scikit-fem, linear elements of {step} mm, error {far:.1%} beside {error:.1%}",
        f"{theirs:.3f} s, {theirs / ours:.1f} times ours",
    )

"""The same mesh in scikit-fem, an independent code: displacements to nine digits."""

from __future__ import annotations

import numpy as np
import pytest

from openwork.strength.body import Fineness, body
from openwork.strength.element import slopes
from tests.strength.rings import holes, ring
from tests.strength.tools import FREE, solved, stiffness

skfem = pytest.importorskip("skfem")
elasticity = pytest.importorskip("skfem.models.elasticity")


def test_same_straight_mesh_of_a_ring() -> None:
    made = body(ring(holes()), Fineness(3.0, 2.5)).mesh
    nodes, triangles = made.nodes.copy(), made.triangles
    for i, (a, b) in enumerate(((0, 1), (1, 2), (2, 0))):
        nodes[triangles[:, 3 + i]] = (nodes[triangles[:, a]] + nodes[triangles[:, b]]) / 2
    corners, numbered = np.unique(triangles[:, :3], return_inverse=True)
    mesh = skfem.MeshTri(nodes[corners].T.copy(), numbered.reshape(-1, 3).T.copy())
    basis = skfem.Basis(mesh, skfem.ElementVector(skfem.ElementTriP2()), intorder=4)
    modulus, poisson = 71700.0, 0.33
    lam, mu = modulus * poisson / (1 - poisson**2), modulus / (2 * (1 + poisson))
    matrix = elasticity.linear_elasticity(lam, mu).assemble(basis)
    # One tangential unit force at the outermost corner node.
    far = int(np.argmax(np.hypot(*nodes[corners].T)))
    loads = np.zeros(basis.N)
    loads[basis.nodal_dofs[1, far]] = 1.0
    held = basis.get_dofs(lambda x: np.hypot(*x) < 46.2).all()
    u = skfem.solve(*skfem.condense(matrix, loads, D=held))
    theirs = u[basis.nodal_dofs[1, far]]

    inner = np.hypot(*nodes.T) < 46.2
    sides = np.isin(np.arange(len(nodes)), made.edges[made.loops == 1])
    given = np.where(np.repeat(inner & sides, 2), 0.0, FREE)
    force = np.zeros(2 * len(nodes))
    force[2 * corners[far] + 1] = 1.0
    ours = solved(stiffness(nodes, triangles, modulus, poisson), force, given)
    assert ours[2 * corners[far] + 1] == pytest.approx(theirs, rel=1e-9)
    assert slopes(nodes, triangles).areas.sum() == pytest.approx(basis.dx.sum(), rel=1e-12)

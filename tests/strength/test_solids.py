"""Bevels and a dished tooth band against solids of quadratic bricks by scikit-fem."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.sparse.linalg import splu

import openwork
from openwork.explore.strength_of import model_of
from openwork.part.zones import Zone, zones
from openwork.shape.contour import Floats, circle
from openwork.spec.spec import from_toml
from openwork.strength.body import Body, heights
from openwork.strength.chainpull import pressure_angle
from openwork.strength.dish import FLAT, at_height, dish, lifted, shell
from openwork.strength.element import Factor, elastic, gauss_points, plane_rigidity, slopes
from openwork.strength.meshing.mesh import meshed
from openwork.strength.model import Model
from openwork.strength.report import strength
from openwork.strength.thickness import thickness
from openwork.tables.load import Load
from tests.strength.rings import ring

skfem = pytest.importorskip("skfem")
elasticity = pytest.importorskip("skfem.models.elasticity")

E, NU = 71700.0, 0.33
INNER, OUTER, PLATE = 20.0, 45.0, 4.0


@dataclasses.dataclass(frozen=True)
class Bricks:
    """A solid of revolution, an angle of it, its displacement under a load on its rim."""

    basis: Any
    u: Floats
    compliance: float

    def at(self, radius: float, z: float) -> float:
        """Return the displacement along x at y = 0, mm."""
        x = self.basis.doflocs[:, ::3]
        found = np.flatnonzero(np.abs(x - np.array([[radius], [0.0], [z]])).max(axis=0) < 1e-6)
        assert len(found) == 1
        return float(self.u[3 * found[0]])


def bricks(
    grids: tuple[Floats, Floats, Floats],
    inside: Callable[[Floats, Floats], Any],
    bent: Callable[[Floats, Floats], Floats],
    pull: Callable[[Any], list[Any]],
    *,
    clamped: bool,
) -> Bricks:
    """Return the solid of the *grids* of radius, angle and height, *inside*, heights *bent*.

    *pull* is the traction on the outer rim, per mm2. Planes y = 0, and x = 0 of a quarter, are
    planes of symmetry; the inner rim is *clamped* or free.
    """
    mesh = skfem.MeshHex.init_tensor(*grids)
    radius, _, z = mesh.p[:, mesh.t].mean(axis=1)
    mesh = skfem.MeshHex2.from_mesh(mesh.restrict(np.flatnonzero(inside(radius, z))))
    r, angle, z = mesh.doflocs
    places = np.stack([r * np.cos(angle), r * np.sin(angle), bent(r, z)])
    mesh = skfem.MeshHex2(places, mesh.t)
    element = skfem.ElementVector(skfem.ElementHex2())
    basis = skfem.Basis(mesh, element, intorder=4)
    matrix = elasticity.linear_elasticity(*elasticity.lame_parameters(E, NU)).assemble(basis)
    rim = mesh.facets_satisfying(lambda x: np.hypot(x[0], x[1]) > OUTER - 2, boundaries_only=True)

    @skfem.LinearForm  # type: ignore[untyped-decorator]
    def work(v: Any, w: Any) -> Any:
        return sum(one * v[k] for k, one in enumerate(pull(w.x)))

    loads = work.assemble(skfem.FacetBasis(mesh, element, facets=rim))
    x, y = basis.doflocs[:2]
    part = np.arange(basis.N) % 3
    fixed = (part == 1) & (np.abs(y) < 1e-9)
    if grids[1][-1] < 2:
        fixed |= (part == 0) & (np.abs(x) < 1e-9)
        fixed |= (part == 2) & (np.abs(basis.doflocs[2]) < 1e-9)
    if clamped:
        fixed |= np.hypot(x, y) < INNER + 1e-6
    u, free = np.zeros(basis.N), np.flatnonzero(~fixed)
    u[free] = splu(
        matrix[free][:, free].tocsc(),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    ).solve(loads[free])
    return Bricks(basis, u, float(loads @ u))


def plate(model: Model, heights_of: Callable[[Floats], Floats], *, clamped: bool) -> Body:
    """Return the annulus as the plane calculation sees it, its thickness by radius if given."""
    mesh = meshed(circle(OUTER), [circle(INNER)], step=2.5, spacing=2.0)
    slope = slopes(mesh.nodes, mesh.triangles)
    points = gauss_points(mesh)
    depth = thickness(model, points, heights(slope))
    depth = depth + heights_of(np.hypot(points[..., 0], points[..., 1]))
    held = np.zeros(len(mesh.nodes), dtype=bool)
    held[mesh.edges[mesh.loops == 1].ravel()] = clamped
    return Body(model, mesh, slope, depth, held)


def rim_loads(made: Body, force: Callable[[Floats, Floats], tuple[Floats, Floats]]) -> Floats:
    """Return nodal loads (2 n, 1) of a *force* per mm of rim at points x, y."""
    sides = made.mesh.edges[made.mesh.loops == 0]
    length = 2 * np.pi * OUTER / len(sides)
    weights = np.tile(np.array([1, 4, 1]) / 6 * length, len(sides))
    share = np.bincount(sides.ravel(), weights, len(made.mesh.nodes))
    loads = np.empty((2 * len(share), 1))
    for k, one in enumerate(force(*made.mesh.nodes.T)):
        loads[k::2, 0] = share * one
    return loads


def disc(**changes: Any) -> Model:
    values = {"openings": (circle(INNER),), "plate": PLATE, "tooth_width": PLATE, "shroud": 1e3}
    return dataclasses.replace(ring(), **{**values, **changes})


def test_a_bevelled_annulus_that_is_pulled_oval() -> None:
    bevel = 0.8

    def pull(x: Any) -> list[Any]:
        radial = np.cos(2 * np.arctan2(x[1], x[0])) / np.hypot(x[0], x[1])
        return [radial * x[0], radial * x[1]]

    def oval(x: Floats, y: Floats) -> tuple[Floats, Floats]:
        radial = PLATE * np.cos(2 * np.arctan2(y, x)) / OUTER
        return radial * x, radial * y

    radii = np.concatenate([np.linspace(INNER, INNER + bevel, 2),
                            [24.0, 29.0, 36.0, OUTER]])  # fmt: skip
    grids = radii, np.linspace(0, np.pi / 2, 6), np.linspace(0, PLATE / 2, 2)
    soft = []
    for width in (0.0, bevel):

        def cut(r: Floats, z: Floats, width: float = width) -> Floats:
            return z * (1 - 2 * np.maximum(width - (r - INNER), 0) / PLATE)

        solid = bricks(grids, lambda r, z: r > 0, cut, pull, clamped=False)
        made = plate(disc(bevel=width), np.zeros_like, clamped=False)
        loads = rim_loads(made, oval)
        flat = float((loads * untied(made).solve(loads)).sum())
        soft.append((flat, 8 * solid.compliance))  # a quarter of one half
        assert flat == pytest.approx(8 * solid.compliance, rel=0.012)
    (flat, solid_), (flat_bevelled, solid_bevelled) = soft
    assert solid_bevelled / solid_ > 1.005
    assert flat_bevelled / flat - 1 == pytest.approx(solid_bevelled / solid_ - 1, rel=0.15)


def untied(made: Body) -> Factor:
    """Return the factor in plane with nothing held, for loads in balance: springs all but none."""
    weights = made.slopes.areas * made.thickness
    matrices = elastic(made.slopes, weights, plane_rigidity(E, NU))
    free = np.zeros((len(made.mesh.nodes), 2), dtype=bool)
    return Factor(matrices, made.mesh.triangles, free, springs=1e-4)


@pytest.mark.parametrize("offset", [1.5, 5.0])
def test_a_dished_annulus_bends_as_a_solid(offset: float) -> None:
    shroud, width = 36.0, 2.0
    found = (*zones(PLATE, width, offset, shroud),
             Zone(1e3, offset - width / 2, offset + width / 2))  # fmt: skip
    levels = np.unique([z for one in found for z in (one.back, one.front)])
    edges = np.unique([INNER, 25.0, 30.0, 34.0, shroud, OUTER])
    grids = edges, np.linspace(0, np.pi, 9), np.union1d(levels, [0.0])

    def of(radius: Floats, value: Callable[[Zone], float]) -> Floats:
        out = np.full(np.shape(radius), value(found[-1]))
        for one in reversed(found[:-1]):
            out = np.where(radius < one.outer, value(one), out)
        return out

    def inside(r: Floats, z: Floats) -> Any:
        return (z > of(r, lambda one: one.back)) & (z < of(r, lambda one: one.front))

    solid = bricks(grids, inside, lambda r, z: z, lambda x: [1 / width], clamped=True)
    made = plate(disc(), lambda r: of(r, lambda one: one.thickness) - PLATE, clamped=True)
    middle = of(np.hypot(*np.moveaxis(gauss_points(made.mesh), -1, 0)),
                lambda one: (one.back + one.front) / 2)  # fmt: skip
    loads = rim_loads(made, lambda x, y: (np.ones_like(x), np.zeros_like(y)))
    u = shell(made, middle).solve(lifted(loads, offset))
    compliance = float((lifted(loads, offset) * u).sum())
    # The short run-out shears in a solid, a shell keeps its normals: it is shown the softer.
    assert compliance == pytest.approx(2 * solid.compliance, rel=0.09)
    nearest = [int(np.argmin(np.abs(made.mesh.nodes - (r, 0.0)).sum(axis=1))) for r in (25, 30)]
    for z in (-PLATE / 2, PLATE / 2):
        there = made.mesh.nodes[nearest, 0]
        strain = np.diff(at_height(u, z)[0::2, 0][nearest])[0] / np.diff(there)[0]
        wanted = (solid.at(30.0, z) - solid.at(25.0, z)) / 5
        assert strain == pytest.approx(wanted, rel=0.1)


SPEC = """
[ring]
teeth = 28
[mount]
bolts = 4
circle = 64.0
[web]
rim = 5.0
[pattern]
name = "spokes"
"""


def test_a_ring_is_softer_and_hotter_the_further_its_teeth_stand_aside() -> None:
    pressure = pressure_angle(28)
    made = {
        offset: model_of(openwork.design(from_toml(SPEC, changes={"ring.offset": offset})))
        for offset in (0.0, 1.0, -1.0, 4.0)
    }
    found = {offset: dish(model, pressure) for offset, model in made.items()}
    assert found[0.0] == FLAT
    # Front and back are alike.
    assert found[-1.0].softer == pytest.approx(found[1.0].softer, rel=1e-9)
    assert found[-1.0].hotter == pytest.approx(found[1.0].hotter, rel=1e-9)
    assert 1.0 < found[1.0].softer < found[4.0].softer < 1.2
    assert 1.1 < found[1.0].hotter < found[4.0].hotter < 3.0
    # It is in the figures, and told of.
    flat, dished = (strength(made[k], Load(), quality="search") for k in (0.0, 4.0))
    assert flat.stress is not None
    assert dished.stress is not None
    hotter = dished.stress.peak_alone.value / flat.stress.peak_alone.value
    assert hotter == pytest.approx(found[4.0].hotter, rel=0.15)
    assert dished.plane.stiffness < flat.plane.stiffness
    assert any(note.startswith("ring.offset 4:") for note in dished.notes)
    assert not any("ring.offset" in note for note in flat.notes)

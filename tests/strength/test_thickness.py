"""Thickness: what cuts take, against exact sections, closed forms and a solid in section."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

import openwork
from openwork.errors import RuleError
from openwork.explore.strength_of import model_of
from openwork.measure.figures import mass
from openwork.shape.contour import Floats, circle
from openwork.spec.spec import from_toml
from openwork.strength.body import Fineness, body, heights
from openwork.strength.chainpull import pressure_angle
from openwork.strength.element import Factor, elastic, gauss_points, plane_rigidity, slopes
from openwork.strength.meshing.mesh import meshed
from openwork.strength.model import Model
from openwork.strength.thickness import thickness
from tests.strength.rings import mean_turn, ring

E, NU = 71700.0, 0.33
G = E / (2 * (1 + NU))
INNER, OUTER = 20.0, 50.0


def disc(**changes: object) -> Model:
    """Return a disc with one round opening in its middle, as far as thickness sees it."""
    values = {"openings": (circle(INNER),), "plate": 4.0, "tooth_width": 4.0, "shroud": 1e3}
    return dataclasses.replace(ring(), **{**values, **changes})  # type: ignore[arg-type]


def turn(model: Model, step: float) -> float:
    """Return the turn (rad per N mm) of the disc's opening, its rim held, on the plane model."""
    mesh = meshed(circle(OUTER), [circle(INNER)], step=step, spacing=0.8 * step)
    slope = slopes(mesh.nodes, mesh.triangles)
    depth = thickness(model, gauss_points(mesh), heights(slope))
    matrices = elastic(slope, slope.areas * depth, plane_rigidity(E, NU))
    edge = mesh.edges[mesh.loops == 1]
    held = np.zeros((len(mesh.nodes), 2), dtype=bool)
    held[mesh.edges[mesh.loops == 0].ravel()] = True
    share = np.bincount(edge.ravel(), np.tile([1, 4, 1], len(edge)) / 6, len(mesh.nodes))
    x, y = mesh.nodes.T
    loads = np.stack([-y, x], axis=1) * (share / (share.sum() * INNER**2))[:, None]
    u = Factor(matrices, mesh.triangles, held).solve(loads.ravel()).reshape(-1, 2)
    nodes = np.unique(edge)
    return float(((x * u[:, 1] - y * u[:, 0])[nodes] / INNER**2).mean())


def closed(depth: Floats, radius: Floats) -> float:
    """Return the same in closed form, exact in plane stress: integral of dr / (2 pi G t r^3)."""
    return float(np.trapezoid(1 / (depth * radius**3), radius) / (2 * np.pi * G))


def bevelled(radius: Floats, bevel: float) -> Floats:
    return np.asarray(4.0 - 2 * np.maximum(bevel - (radius - INNER), 0))


@pytest.mark.parametrize(("step", "bevel"), [(1.3, 0.3), (1.3, 0.8), (3.0, 0.3)])
def test_a_bevelled_disc_twists_as_in_closed_form(bevel: float, step: float) -> None:
    radius = np.linspace(INNER, OUTER, 30001)
    exact = closed(bevelled(radius, bevel), radius)
    plain = closed(np.full_like(radius, 4.0), radius)
    found = turn(disc(bevel=bevel), step)
    assert found == pytest.approx(exact, rel=6e-3)
    # The bevel itself is found, to a third of what it does.
    assert found / turn(disc(), step) - 1 == pytest.approx(exact / plain - 1, rel=0.3)


@pytest.mark.parametrize("step", [1.3, 3.0])
def test_a_stepped_disc_twists_as_in_closed_form(step: float) -> None:
    radius = np.linspace(INNER, OUTER, 30001)
    exact = closed(np.where(radius > 35.0, 2.1, 4.0), radius)
    assert turn(disc(shroud=35.0, tooth_width=2.1), step) == pytest.approx(exact, rel=4e-3)


def test_a_stepped_disc_twists_nearly_as_a_solid() -> None:
    # Torsion of a solid of revolution: only the displacement along the circle, a function of
    # radius and height (J. H. Michell, Proc. London Math. Soc. 31 (1899) 130); quadratic elements
    # of scikit-fem over the section. The plane model knows no shear through the thickness.
    skfem = pytest.importorskip("skfem")
    mesh = skfem.MeshTri.init_tensor(np.linspace(INNER, OUTER, 121), np.linspace(0, 2.0, 41))
    x, z = mesh.p[:, mesh.t].mean(axis=1)
    mesh = mesh.restrict(np.flatnonzero((x < 35) | (z < 1.05)))
    basis = skfem.Basis(mesh, skfem.ElementTriP2())

    @skfem.BilinearForm  # type: ignore[untyped-decorator]
    def stiffness(u: Any, v: Any, w: Any) -> Any:
        r = w.x[0]
        return (
            4 * np.pi * G * r * ((u.grad[0] - u / r) * (v.grad[0] - v / r) + u.grad[1] * v.grad[1])
        )

    outer = basis.get_dofs(lambda p: np.isclose(p[0], OUTER)).all()
    inner = basis.get_dofs(lambda p: np.isclose(p[0], INNER)).all()
    given = np.zeros(basis.N)
    given[inner] = INNER
    matrix = stiffness.assemble(basis)
    u = skfem.solve(*skfem.condense(matrix, x=given, D=np.concatenate([outer, inner])))
    # A unit turn of the opening: twice its energy is the moment, so one over it the turn per N mm.
    solid = 1 / float(u @ matrix @ u)
    plane = turn(disc(shroud=35.0, tooth_width=2.1), 1.3)
    assert plane == pytest.approx(solid, rel=0.02)
    assert plane < solid  # the step hinders the flow of shear


SPEC = """
[ring]
teeth = 42
[mount]
circle = 110.0
{more}
[web]
bevel = {bevel}
"""


@pytest.mark.parametrize(
    ("bevel", "more"),
    [
        (0.0, ""),
        (0.3, ""),
        (0.5, "counterbore = { diameter = 15, depth = 1.5 }"),
        (0.3, "[edges]\nbore = 1.5\nstep = 0.4\nbolts = 0.3"),
    ],
)
def test_the_part_that_is_calculated_weighs_what_is_handed_over(bevel: float, more: str) -> None:
    design = openwork.design(from_toml(SPEC.format(bevel=bevel, more=more)))
    model = model_of(design)
    for fineness in (Fineness(3.0, 2.5), Fineness(1.3, 1.0)):
        weight = body(model, fineness).volume * model.material.density
        assert weight == pytest.approx(mass(design), rel=5e-3)


@pytest.mark.parametrize(
    "changes",
    [
        {"ring.sides": "auto"},
        {"ring.sides": {"relief": 0.5, "angle": 20.0}},
        {"ring.chain": "12-speed", "ring.alternating": {}},
        {"ring.offset": 4.0, "web.rim": 5.0},
        {"ring.offset": -5.0, "web.rim": 5.0, "edges.step": 0.3},
    ],
    ids=str,
)
def test_teeth_and_run_out_are_as_thick_as_they_are_handed_over(changes: dict[str, Any]) -> None:
    # What is taken off, or put on, is found to a tenth, not only lost in the whole.
    text = SPEC.format(bevel=0.3, more="")
    grams = []
    for more in ({"ring.sides": "square"}, changes):
        design = openwork.design(from_toml(text, changes={"web.rim": 5.0, **more}))
        model = model_of(design)
        weight = body(model, Fineness(1.3, 1.0)).volume * model.material.density
        grams.append((weight, mass(design)))
        assert weight == pytest.approx(mass(design), rel=4e-3)
    (square, exact), (found, wanted) = grams
    assert found - square == pytest.approx(wanted - exact, abs=0.03 + 0.1 * abs(wanted - exact))


def test_the_sides_of_teeth_make_a_ring_one_percent_lighter_and_no_softer() -> None:
    # What the README says of them: the mass is at the teeth, where nothing bends.
    turns = []
    for sides in ("square", "auto"):
        text = SPEC.format(bevel=0.3, more="")
        model = model_of(openwork.design(from_toml(text, changes={"ring.sides": sides})))
        turns.append(mean_turn(body(model, Fineness(2.0, 1.6)), pressure_angle(42)))
    assert 1.0 < turns[1] / turns[0] < 1.005


def test_a_counterbore_holds_no_larger_head() -> None:
    text = SPEC.format(bevel=0.3, more="counterbore = { diameter = 12, depth = 1.5 }")
    assert model_of(openwork.design(from_toml(text))).head == 6.0
    head = from_toml(text + "[bolts]\nhead = 11.5\n")
    assert model_of(openwork.design(head)).head == 5.75


def test_a_head_that_reaches_the_teeth_is_refused() -> None:
    text = SPEC.format(bevel=0.3, more="").replace("110.0", "130.0")
    design = openwork.design(from_toml(text + "[bolts]\nhead = 40\n"))
    with pytest.raises(RuleError, match=r"bolts\.head 40: reaches the tooth roots.* works"):
        model_of(design)

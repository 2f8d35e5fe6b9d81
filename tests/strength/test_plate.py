"""Shear-deformable bending against closed forms: plates, strips, vibration, buckling."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ive, jv, kve, yv

from openwork.shape.contour import circle
from openwork.strength.element import (
    GAUSS,
    Factor,
    assembled,
    held,
    slopes,
)
from openwork.strength.meshing.mesh import meshed
from openwork.strength.meshing.quadratic import shapes
from openwork.strength.modes import inertia, largest, stress_stiffness
from openwork.strength.plate import SHEAR, bending
from tests.strength.test_plane import jittered, straight_grid
from tests.strength.tools import FREE, Array, Index, grid, pushed, sides_on, solved

On = Callable[[Array], Array]


def plate(nodes: Array, triangles: Index, thickness: float, modulus: float, poisson: float) -> Any:
    slope = slopes(nodes, triangles)
    blocks = bending(slope, np.full(slope.areas.shape, thickness), modulus, poisson)
    return assembled(blocks, triangles, len(nodes))


def pressed(nodes: Array, triangles: Index) -> Array:
    """Return the loads (3 n,) of a unit pressure."""
    slope = slopes(nodes, triangles)
    share = (shapes(GAUSS)[None] * slope.areas[..., None]).sum(axis=1)
    loads = np.zeros((len(nodes), 3))
    np.add.at(loads[:, 0], triangles, share)
    return loads.ravel()


def test_patch_of_constant_curvature_is_exact() -> None:
    nodes, triangles = straight_grid(4, jittered)
    x, y = nodes.T
    # w = quadratic, b = -grad w: no shear, constant curvature.
    exact = np.column_stack([x * x + 2 * x * y - y * y, -2 * x - 2 * y, -2 * x + 2 * y]).ravel()
    rim = (np.minimum(nodes, 1 - nodes) < 1e-9).any(axis=1)
    given = np.where(np.repeat(rim, 3), exact, FREE)
    found = solved(plate(nodes, triangles, 0.1, 71700, 0.3), np.zeros(len(exact)), given)
    assert abs(found - exact).max() < 1e-10


def test_one_element_has_three_rigid_motions() -> None:
    nodes, triangles = straight_grid(1, lambda p: p * [1.3, 0.8] + 0.2 * p[:, ::-1])
    slope = slopes(nodes, triangles[:1])
    k = bending(slope, np.full((1, 3), 0.4), 1.0, 0.3).reshape(18, 18)
    assert abs(k - k.T).max() < 1e-14
    values = np.linalg.eigvalsh(k)
    assert (values < 1e-12).sum() == 3
    assert values[3] > 1e-6


def square(n: int, thickness: float, *, clamped: bool) -> float:
    """Return w D / (q a^4) in the middle of a unit square under pressure."""
    nodes, triangles = grid(n, n, lambda p: p)
    x_rim = np.minimum(nodes[:, 0], 1 - nodes[:, 0]) < 1e-9
    y_rim = np.minimum(nodes[:, 1], 1 - nodes[:, 1]) < 1e-9
    given = np.full((len(nodes), 3), FREE)
    given[x_rim | y_rim, 0] = 0
    # Hard support: the rotation along the edge is held, the other free unless clamped.
    given[x_rim, 2] = given[y_rim, 1] = 0
    if clamped:
        given[x_rim, 1] = given[y_rim, 2] = 0
    w = solved(
        plate(nodes, triangles, thickness, 1.0, 0.3), pressed(nodes, triangles), given.ravel()
    )
    middle = np.argmin(np.hypot(*(nodes - 0.5).T))
    return float(w[3 * middle] * thickness**3 / (12 * (1 - 0.09)))


@pytest.mark.parametrize(
    ("thickness", "clamped", "expected", "within"),
    [
        # Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: 0.00406 and 0.00126.
        (0.01, False, 0.00406, 2e-3),
        (0.01, True, 0.00126, 6e-3),
        # Thick, kappa 5/6: 0.004273 (SS) and 0.00150 (clamped), from memory of the literature.
        (0.1, False, 0.004273, 1e-3),
        (0.1, True, 0.00150, 5e-3),
    ],
)
def test_square_under_pressure(
    thickness: float, clamped: bool, expected: float, within: float
) -> None:
    assert square(32, thickness, clamped=clamped) == pytest.approx(expected, rel=within)


def test_shear_locks_only_far_above_the_size_used() -> None:
    # Sides 31 times the thickness are still right; rings use sides below the thickness.
    assert square(32, 0.001, clamped=False) == pytest.approx(0.00406, rel=5e-3)
    assert square(8, 0.001, clamped=True) < 0.8 * 0.00126


@pytest.mark.parametrize(("thickness", "expected"), [(4.0, 0.06015568), (1.0, 3.81293406)])
def test_annulus_with_a_line_load(thickness: float, expected: float) -> None:
    # 40/80 mm, inner edge clamped, 1 N/mm on the outer, nu 0.33: Kirchhoff's solution of
    # w = c1 + c2 ln r + c3 r^2 + c4 r^2 ln r plus the shear w a ln(a/b) / (kappa G t).
    modulus, nu, a, b = 71700.0, 0.33, 80.0, 40.0
    d = modulus * thickness**3 / (12 * (1 - nu**2))
    shear = a * np.log(a / b) / (SHEAR * modulus / (2 * (1 + nu)) * thickness)
    assert line_loaded(a, b, nu) * a**3 / d + shear == pytest.approx(expected, rel=1e-6)
    mesh = meshed(circle(a), [circle(b)], step=2.0, spacing=2.0)
    r = np.hypot(*mesh.nodes.T)
    given = np.where(np.repeat(r < b + 1e-6, 3), 0.0, FREE)
    force = pushed(mesh.nodes, mesh.edges[mesh.loops == 0], lambda x, _: np.ones_like(x))
    loads = np.zeros(3 * len(mesh.nodes))
    loads[0::3] = force[0::2]
    w = solved(plate(mesh.nodes, mesh.triangles, thickness, modulus, nu), loads, given)
    assert w[0::3][r > a - 1e-6].mean() == pytest.approx(expected, rel=2e-4)


def line_loaded(a: float, b: float, nu: float) -> float:
    """Return w D / (q a^3) at the loaded edge of a Kirchhoff annulus clamped inside."""

    def row(r: float, kind: str) -> list[float]:
        log = np.log(r)
        w = [1, log, r * r, r * r * log]
        slope = [0, 1 / r, 2 * r, r * (2 * log + 1)]
        second = [0, -1 / r**2, 2, 2 * log + 3]
        if kind == "w":
            return w
        if kind == "slope":
            return slope
        if kind == "moment":
            return [s + nu / r * t for s, t in zip(second, slope, strict=True)]
        return [0, 0, 0, 4 / r]  # shear: d/dr of the Laplacian

    r = b / a
    rows = [row(r, "w"), row(r, "slope"), row(1.0, "moment"), row(1.0, "shear")]
    c = np.linalg.solve(np.array(rows), [0, 0, 0, 1.0])
    return abs(float(np.dot(row(1.0, "w"), c)))


@pytest.mark.parametrize(
    ("ratio", "factor"), [(0.1, 0.2691), (0.3, 0.1389), (0.5, 0.0505), (0.7, 0.0103)]
)
def test_the_closed_form_of_the_annulus(ratio: float, factor: float) -> None:
    # Roark's form y D/(w a^3) of table 11.2, case 1l; the table itself was not at hand, these
    # are the exact solutions, nu 0.3.
    assert line_loaded(1.0, ratio, 0.3) == pytest.approx(factor, abs=6e-5)


@pytest.mark.parametrize(
    ("breadth", "st_venant"), [(8.0, 117.085), (4.0, 35.988), (2.5, 12.733), (1.5, 3.437)]
)
def test_torsion_of_a_rib(breadth: float, st_venant: float) -> None:
    # St Venant's series for a rectangle b x 4: Timoshenko and Goodier art. 109. The closed form
    # of Reissner-Mindlin theory is J = b t^3/3 (1 - tanh(x)/x), x = sqrt(10) b/(2 t).
    t, length, modulus, nu = 4.0, 60.0, 71700.0, 0.33
    x = np.sqrt(10) * breadth / (2 * t)
    closed = breadth * t**3 / 3 * (1 - np.tanh(x) / x)
    series = sum(np.tanh(k * np.pi * breadth / (2 * t)) / k**5 for k in range(1, 99, 2))
    exact = breadth * t**3 / 3 * (1 - 192 * t / (np.pi**5 * breadth) * series)
    assert exact == pytest.approx(st_venant, rel=1e-4)
    across = max(4, round(breadth / 0.5))
    nodes, triangles = grid(60, across, lambda p: p * [length, breadth] - [0, breadth / 2])
    matrix = plate(nodes, triangles, t, modulus, nu)
    given = np.full((len(nodes), 3), FREE)
    for end, twist in ((0.0, 0.0), (length, 1e-3)):
        at = abs(nodes[:, 0] - end) < 1e-9
        # Twisted ends free to warp: w = twist y at the end, by = -twist.
        given[at, 0] = twist * nodes[at, 1]
        given[at, 2] = -twist
    u = solved(matrix, np.zeros(3 * len(nodes)), given.ravel())
    moment = u @ (matrix @ u) / 1e-3
    constant = moment / 1e-3 * length / (modulus / (2 * (1 + nu)))
    assert constant == pytest.approx(closed, rel=5e-3)
    assert constant == pytest.approx(st_venant, rel=0.05)


@pytest.mark.parametrize(("length", "expected"), [(60.0, 0.075581), (20.0, 0.002878)])
def test_cantilever_rib(length: float, expected: float) -> None:
    # Timoshenko's beam: P L^3/(3 E I) + P L/(kappa G A), 2.5 x 4 mm, 1 N.
    nodes, triangles = grid(int(length), 4, lambda p: p * [length, 2.5])
    given = np.where(np.repeat(nodes[:, 0] < 1e-9, 3), 0.0, FREE)
    force = pushed(
        nodes,
        sides_on(nodes, triangles, lambda p: p[:, 0] > length - 1e-9),
        lambda x, _: np.full_like(x, 1 / 2.5),
    )
    loads = np.zeros(3 * len(nodes))
    loads[0::3] = force[0::2]
    w = solved(plate(nodes, triangles, 4.0, 71700.0, 0.33), loads, given)
    inertia, shear = 2.5 * 4**3 / 12, SHEAR * 71700 / 2.66 * 10
    assert length**3 / (3 * 71700 * inertia) + length / shear == pytest.approx(expected, rel=5e-4)
    tip = w[0::3][nodes[:, 0] > length - 1e-9].mean()
    assert tip == pytest.approx(expected, rel=8e-3)


def bessel_root(ratio: float, waves: int, nu: float, low: float, high: float) -> float:
    """Return lambda of a Kirchhoff annulus clamped inside, free outside (Leissa, NASA SP-160)."""

    def determinant(k: float) -> float:
        n = waves

        def derivatives(f: Callable[[float], float], r: float) -> list[float]:
            # Fourth-order values by differences are too rough; use recurrences through the ODE.
            h = 1e-3
            values = [f(r + i * h) for i in (-3, -2, -1, 0, 1, 2, 3)]
            first = np.dot([-1, 9, -45, 0, 45, -9, 1], values) / (60 * h)
            return [values[3], first]

        rows = np.zeros((4, 4))
        kinds = [
            (lambda r: jv(n, k * r), -1),
            (lambda r: yv(n, k * r), -1),
            (lambda r: ive(n, k * r) * np.exp(k * (r - 1)), 1),
            (lambda r: kve(n, k * r) * np.exp(-k * (r - ratio)), 1),
        ]
        for column, (f, sign) in enumerate(kinds):
            w, slope = derivatives(f, ratio)
            rows[0, column], rows[1, column] = w, slope
            w, slope = derivatives(f, 1.0)
            laplacian = sign * k * k * w
            second = laplacian - slope + n * n * w
            rows[2, column] = second + nu * (slope - n * n * w)
            shear = sign * k * k * slope  # d/dr of the Laplacian
            rows[3, column] = shear + (1 - nu) * n * n * (w - slope)
        rows /= abs(rows).max(axis=1, keepdims=True)
        return float(np.linalg.det(rows))

    return float(brentq(determinant, np.sqrt(low), np.sqrt(high)) ** 2)


@pytest.mark.parametrize(("waves", "expected"), [(0, 13.0830), (1, 13.3110), (2, 14.6180)])
def test_frequency_of_an_annulus(waves: int, expected: float) -> None:
    # lambda^2 = w a^2 sqrt(rho t/D) of an annulus 40/80 clamped inside: Bessel solution, nu 0.33.
    assert bessel_root(0.5, waves, 0.33, 0.9 * expected, 1.1 * expected) == pytest.approx(
        expected, rel=1e-4
    )
    assert annulus_modes(1.0)[2 * waves - (waves > 0)] == pytest.approx(expected, rel=2e-3)


@lru_cache
def annulus_modes(t: float) -> tuple[float, ...]:
    modulus, nu, rho = 71700.0, 0.33, 2.81e-9
    mesh = meshed(circle(80.0), [circle(40.0)], step=4.0, spacing=4.0)
    slope = slopes(mesh.nodes, mesh.triangles)
    thickness = np.full(slope.areas.shape, t)
    fixed = np.repeat(np.hypot(*mesh.nodes.T)[:, None] < 40 + 1e-6, 3, axis=1)
    factor = Factor(bending(slope, thickness, modulus, nu), mesh.triangles, fixed)
    blocks = held(inertia(slope, thickness, rho), mesh.triangles, fixed)
    values = largest(assembled(blocks, mesh.triangles, len(fixed)), factor, 6)
    d = modulus * t**3 / (12 * (1 - nu**2))
    return tuple(np.sort(1 / np.sqrt(values)) * 80**2 * np.sqrt(rho * t / d))


def test_shear_and_rotary_inertia_lower_a_thick_annulus() -> None:
    thick, thin = np.array(annulus_modes(4.0)), np.array(annulus_modes(1.0))
    # 12.959, 13.144, 14.331 by another Reissner-Mindlin solve at thickness 4 of 80.
    assert thick[[0, 1, 3]] == pytest.approx([12.959, 13.144, 14.331], rel=2e-3)
    assert (thick < thin).all()


@pytest.mark.parametrize(("t", "expected"), [(0.01, 3.9977), (0.05, 3.9444)])
def test_buckling_of_a_square(t: float, expected: float) -> None:
    # Simply supported, pressed along x: N a^2/(pi^2 D) = 4 (Timoshenko and Gere, chapter 9), less
    # the shear: 4 / (1 + 2 pi^2 D/(kappa G t a^2)).
    d, shear = t**3 / (12 * (1 - 0.09)), SHEAR / 2.6 * t
    assert 4 / (1 + 2 * np.pi**2 * d / shear) == pytest.approx(expected, abs=6e-5)
    nodes, triangles = grid(24, 24, lambda p: p)
    slope = slopes(nodes, triangles)
    x_rim = np.minimum(nodes[:, 0], 1 - nodes[:, 0]) < 1e-9
    y_rim = np.minimum(nodes[:, 1], 1 - nodes[:, 1]) < 1e-9
    fixed = np.column_stack([x_rim | y_rim, y_rim, x_rim])
    thickness = np.full(slope.areas.shape, t)
    factor = Factor(bending(slope, thickness, 1.0, 0.3), triangles, fixed)
    forces = np.zeros((*slope.areas.shape, 3))
    forces[..., 0] = 1.0
    blocks = held(stress_stiffness(slope, forces), triangles, fixed)
    value = 1 / largest(assembled(blocks, triangles, len(nodes)), factor, 1)[0]
    assert value / (np.pi**2 * d) == pytest.approx(expected, rel=2e-3)

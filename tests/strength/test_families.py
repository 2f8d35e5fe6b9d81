"""Every family on six sites and two meshes: no edge missing, nothing folded, numbers finite."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

import openwork
from openwork.fill.pattern import families
from openwork.shape.contour import area
from openwork.spec import from_toml
from openwork.strength.body import Body, Fineness, body
from openwork.strength.chainpull import lever, pressure_angle
from openwork.strength.mesh import pieces
from openwork.strength.model import Model, ring_model
from openwork.strength.plane import chain_loads, factored, mean_turn

SITES = [
    (5, 110.0, 38),
    (5, 110.0, 44),
    (5, 110.0, 52),
    (4, 104.0, 34),
    (4, 104.0, 42),
    (4, 104.0, 50),
]
COARSE, FINE = Fineness(3.0, 2.5), Fineness(2.0, 1.6)
RANKED = 44


@cache
def made(family: str, bolts: int, circle: float, teeth: int) -> Model:
    bore = "bore = 90.0\n" if teeth == 34 else ""
    text = (
        f"[ring]\nteeth = {teeth}\n[mount]\nbolts = {bolts}\ncircle = {circle}\n{bore}"
        f'[web]\nrib = 2.0\n[pattern]\nname = "{family}"\n'
    )
    design = openwork.design(from_toml(text))
    return ring_model(design.blank, design.openings)


def sound(body_: Body) -> None:
    """Assert that the mesh has all edges, unfolded elements and the area of the contours."""
    mesh, ring = body_.mesh, body_.model
    assert (body_.slopes.areas > 0).all()
    assert pieces(mesh) == 1
    assert set(np.unique(mesh.loops)) == set(range(2 + len(ring.bolts) + len(ring.openings)))
    holes = [ring.edge, *ring.bolts, *ring.openings]
    exact = area(ring.outline) - sum(area(hole) for hole in holes)
    assert body_.slopes.areas.sum() == pytest.approx(exact, rel=0.006)
    assert mesh.quality.min() > 0.1


@pytest.mark.parametrize("family", sorted(families()))
@pytest.mark.parametrize(("bolts", "circle", "teeth"), SITES)
def test_every_family_can_be_calculated(family: str, bolts: int, circle: float, teeth: int) -> None:
    ring = made(family, bolts, circle, teeth)
    coarse = body(ring, COARSE)
    sound(coarse)
    sound(body(ring, FINE))
    phi = pressure_angle(teeth)
    loads = chain_loads(coarse, phi, first=np.array([0]))
    factor = factored(coarse)
    u = factor.solve(loads)
    assert np.isfinite(u).all()
    held = np.repeat(coarse.held, 2)
    assert abs((factor.matrix @ u - loads)[~held]).max() < 1e-6
    assert float(loads[:, 0] @ u[:, 0]) > 0


def test_ranking_of_families_on_coarse_and_fine_meshes() -> None:
    # Stiffness per mass of all families on one site, search mesh against one twice as fine:
    # Spearman's rank correlation at least 0.98.
    phi = pressure_angle(RANKED)
    names = sorted(families())
    figures = {}
    for fineness in (COARSE, Fineness(1.3, 1.0)):
        found = [body(made(name, 5, 110.0, RANKED), fineness) for name in names]
        figures[fineness] = [lever(RANKED, 12.7, phi) / mean_turn(one, phi) for one in found]
    ranks = [np.argsort(np.argsort(values)) for values in figures.values()]
    n = len(names)
    assert n >= 5
    spearman = 1 - 6 * ((ranks[0] - ranks[1]) ** 2).sum() / (n * (n * n - 1))
    assert spearman >= 0.98
    ratio = np.divide(*figures.values())
    # The coarse mesh is always the stiffer.
    assert (ratio > 1.0).all()
    assert (ratio < 1.2).all()

"""The figures keep the bands they state, against finer meshes and another code."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

import openwork
from openwork.errors import OpenworkError
from openwork.explore.strength_of import model_of
from openwork.fill.registry import patterns
from openwork.spec.spec import from_toml
from openwork.strength.body import Fineness, body
from openwork.strength.chainpull import pressure_angle
from openwork.strength.edge_stress import free_edges
from openwork.strength.loading import Loaded, loaded
from openwork.strength.meshing.refine import hot_spots
from openwork.strength.model import Model
from openwork.strength.plane import chain_loads, factored, in_plane, ready, rim
from openwork.strength.quality import GRADES
from openwork.strength.report import reckoned
from openwork.tables.load import Load
from openwork.tables.support import Spider
from tests._sweep import often
from tests.strength.rings import holes, mean_turn, ring

SITES = [(4, 64.0, 28), (3, 76.0, 30), (5, 74.0, 32), (4, 64.0, 30)]
LARGE = (4, 104.0, 34)
TRUE = Fineness(0.7, 0.5)
DEGREE = np.pi / 180 / 1000


def made(text: str) -> Model:
    return model_of(openwork.design(from_toml(text)))


def on_site(name: str, site: tuple[int, float, int], rib: float) -> Model:
    bolts, circle, teeth = site
    bore = "bore = 90.0\n" if teeth == 34 else ""
    return made(
        f"[ring]\nteeth = {teeth}\n[mount]\nbolts = {bolts}\ncircle = {circle}\n{bore}"
        f'[web]\nrib = {rib}\n[pattern]\nname = "{name}"\n'
    )


def shown(found: Loaded) -> tuple[float, float]:
    """Return turn of the rim and hottest stress, per newton of pull, as a maker is told them."""
    plane = found.alone.plane
    return float(plane.rotation.mean()) * found.softer, float(np.abs(plane.stress).max())


def kept(model: Model, turn: float, found: Loaded) -> None:
    """Assert that the stiffness of both grades is within its band of that of a true *turn*."""
    search = loaded(model, Load(), Spider(), quality="search")
    softer = found.dish.softer  # is calculated apart, on a mesh of its own
    for grade, one in ((GRADES["search"], search), (GRADES["final"], found)):
        least, most = grade.stiffness
        true = shown(one)[0] / (turn * softer)
        assert least - 2e-3 <= true <= most + 2e-3, (str(grade), true)


def test_errors_fall_as_meshes_get_finer() -> None:
    # Four meshes against their own limit, at least as fast as the size of the elements: corners
    # of fillets and the step keep it from the fourth power of smooth fields.
    model, phi = ring(holes(), bevel=0.3), pressure_angle(44)
    sizes = [4.0, 2.8, 2.0, 1.4]
    turns = [mean_turn(body(model, Fineness(size, 0.8 * size)), phi) for size in sizes]
    limit = mean_turn(body(model, Fineness(0.8, 0.64)), phi)
    errors = [limit / turn - 1 for turn in turns]
    assert errors == sorted(errors, reverse=True)
    rate = np.polyfit(np.log(sizes), np.log(errors), 1)[0]
    assert rate > 1.3


def test_the_final_grade_of_a_hard_look_is_within_its_band() -> None:
    # Narrow ribs that bend: among the worst of the looks that were measured.
    model = on_site("noise", LARGE, 2.0)
    fine = in_plane(ready(body(model, TRUE)), pressure_angle(34))
    found = reckoned(model, Load())
    kept(model, float(fine.rotation.mean()), found.loaded)
    spread = float(fine.bulge.max()) * found.strength.pull
    assert found.strength.plane.ovalisation == pytest.approx(spread, rel=0.02)


@pytest.mark.sweep
@pytest.mark.parametrize("name", sorted(patterns()))
def test_every_pattern_by_another_code(name: str) -> None:
    quadratic = pytest.importorskip("tests.strength.library").quadratic
    model = on_site(name, SITES[sorted(patterns()).index(name) % len(SITES)], 2.2)
    kept(model, quadratic(body(model, TRUE)), loaded(model, Load(), Spider()))


PARTS: tuple[dict[str, Any], ...] = (
    {},
    {},
    {"ring.sides": "square"},
    {"ring.chain": "12-speed", "ring.alternating": {}},
    {"ring.offset": 1.0},
    {"edges.bore": 0.8, "edges.step": 0.3},
    {"mount.counterbore": {"diameter": 12.5, "depth": 1.0}},
)


def at_random(seed: int) -> Model:
    """Return a ring of any pattern, on any site, with any part of what a blank may have."""
    rng = np.random.default_rng(seed)
    while True:
        bolts, circle, teeth = SITES[rng.integers(len(SITES))]
        name = sorted(patterns())[rng.integers(len(patterns()))]
        text = (
            f"[ring]\nteeth = {teeth + 2 * int(rng.integers(0, 3))}\n"
            f"plate = {rng.uniform(3, 5):.2f}\n"
            f"[mount]\nbolts = {bolts}\ncircle = {circle}\n"
            f"[web]\nrib = {rng.uniform(1.8, 3.5):.2f}\n"
            f"bevel = {rng.choice([0.0, 0.2, 0.3, 0.5])}\n"
            f'[pattern]\nname = "{name}"\nseed = {seed}\n'
        )
        try:
            spec = from_toml(text, changes=PARTS[rng.integers(len(PARTS))])
            return model_of(openwork.design(spec))
        except OpenworkError:
            continue


@pytest.mark.parametrize("seed", often(range(50), lambda seed: seed < 4))
def test_random_rings_keep_the_bands(seed: int) -> None:
    model = at_random(seed)
    found = loaded(model, Load(), Spider())
    turn, stress, there = reference(model, found)
    kept(model, turn, found)
    least, most = GRADES["final"].stress
    assert least - 5e-3 <= stress * found.dish.hotter / shown(found)[1] <= most + 5e-3
    # The place that is shown as the hottest is it, or another all but as hot.
    assert there > 0.97 * stress


def reference(model: Model, found: Loaded) -> tuple[float, float, float]:
    """Return mean turn and hottest stress of a fine mesh, refined once more where *found* is hot.

    The stress is that at the position of the chain which is the worst of *found*, everywhere and
    then within 1.5 mm of where *found* is hottest.
    """
    plane, phi = found.alone.plane, pressure_angle(model.teeth)
    hot = np.abs(plane.stress)
    spots = hot_spots(plane.edges.points, hot.max(axis=1), count=4)

    def size(points: np.ndarray) -> np.ndarray:
        away = np.hypot(*np.moveaxis(points[:, None] - spots, -1, 0)).min(axis=1)
        return np.asarray(np.minimum(0.2 + 0.3 * np.maximum(away - 0.8, 0), TRUE.step))

    made = body(model, TRUE, size=size)
    loads = chain_loads(made, phi)
    station, position = np.unravel_index(hot.argmax(), hot.shape)
    worst = loads[:, position]
    u = factored(made).solve(np.stack([loads.mean(axis=1), worst], axis=1))
    edges = free_edges(made)
    stress = np.abs(model.material.modulus * (edges.strain @ u[:, 1]))
    there = np.hypot(*(edges.points - plane.edges.points[station]).T) < 1.5
    return float(rim(made, u)[0].mean(axis=0)[0]), float(stress.max()), float(stress[there].max())


def test_a_bevel_makes_softer_and_hotter() -> None:
    # Measured on six rings by another code: 0.8 to 4 % softer, 1.3 to 6 % hotter.
    model, phi = ring(holes()), pressure_angle(44)
    plain, bevelled = (
        in_plane(ready(body(one, Fineness(1.6, 1.3))), phi)
        for one in (model, dataclasses.replace(model, bevel=0.5))
    )
    softer = bevelled.rotation.mean() / plain.rotation.mean()
    hotter = abs(bevelled.stress).max() / abs(plain.stress).max()
    assert 1.005 < softer < 1.05
    assert 1.003 < hotter < 1.08

"""Bevels that change from hem to rim: widths, mass, solid, mesh, strength, what is refused."""

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import openwork
from openwork.errors import RuleError, SpecError
from openwork.explore.strength_of import model_of
from openwork.measure.figures import mass
from openwork.render.accept.acceptance import refused
from openwork.render.accept.read_step import read_step
from openwork.render.browser.data import bevels_of
from openwork.render.shop.step import ring_step
from openwork.render.solid.faces import faces
from openwork.render.solid.mesh import meshed
from openwork.ring import Design
from openwork.shape.contour import area, centroid, length
from openwork.spec.spec import from_toml, to_toml
from openwork.strength.body import Fineness, body

SPEC = """
[ring]
teeth = 24
sides = "square"
[mount]
bolts = 4
circle = 64.0
bore = 50.0
[pattern]
name = "honeycomb"
"""


def made(bevel: Any, **more: Any) -> Design:
    return openwork.design(from_toml(SPEC, changes={"web.bevel": bevel, **more}))


def test_bevels_grow_with_the_radius_and_are_alike_in_every_sector() -> None:
    ring = made((0.1, 0.7))
    widths = np.array(ring.bevels(ring.openings))
    away = np.array([np.hypot(*centroid(one)) for one in ring.openings])
    place = (away - ring.site.inner) / (ring.site.outer - ring.site.inner)
    assert widths == pytest.approx(0.1 + 0.6 * place, abs=6e-4)
    assert (widths == np.tile(widths[: len(ring.sector)], ring.site.fold)).all()


def test_like_ends_are_one_bevel() -> None:
    one, two = made(0.4), made((0.4, 0.4))
    assert mass(one) == mass(two)
    assert one.bevels(one.openings) == two.bevels(two.openings)


def test_each_bevel_takes_what_steiner_says() -> None:
    graded, sharp = made((0.1, 0.8)), made(0.0)
    taken = sum(
        2 * (length(one) * width**2 / 2 + math.pi * width**3 / 3)
        for one, width in zip(graded.openings, graded.bevels(graded.openings), strict=True)
    )
    lost = mass(sharp) - mass(graded)
    assert lost == pytest.approx(taken * graded.blank.material.density, rel=1e-9)


@pytest.mark.parametrize("more", [{}, {"pocket.which": "outer", "pocket.floor": 1.2}], ids=str)
@pytest.mark.parametrize("bevel", [(0.2, 0.8), (0.8, 0.0)], ids=str)
def test_the_solid_has_the_volume_of_the_mass(bevel: Any, more: Any, tmp_path: Path) -> None:
    """The kernel's volume of the STEP read back, within a millionth."""
    ring = made(bevel, **more)
    path = tmp_path / "ring.step"
    path.write_bytes(ring_step(ring))
    reading = read_step(path, ring)
    assert refused(reading, ring) == {}
    assert reading.body is not None
    assert reading.body.volume * ring.blank.material.density == pytest.approx(mass(ring), rel=1e-6)


def test_a_solid_with_even_bevels_is_not_taken_for_a_graded_one(tmp_path: Path) -> None:
    ring, even = made((0.2, 0.8)), made(0.5)
    path = tmp_path / "ring.step"
    path.write_bytes(ring_step(even))
    assert refused(read_step(path, ring), ring)


def test_the_mesh_is_closed_and_weighs_the_same() -> None:
    ring = made((0.2, 0.8))
    mesh = meshed(faces(ring), 1e-3)
    corners = mesh.corners[mesh.triangles]
    volume = np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6
    assert volume * ring.blank.material.density == pytest.approx(mass(ring), rel=2e-4)
    sides = np.sort(np.concatenate([mesh.triangles[:, k] for k in ((0, 1), (1, 2), (2, 0))]), 1)
    assert (np.unique(sides, axis=0, return_counts=True)[1] == 2).all()


@pytest.mark.parametrize("more", [{}, {"pocket.which": "all", "pocket.face": "front"}], ids=str)
def test_strength_reckons_with_each(more: Any) -> None:
    graded, even = made((0.0, 0.8), **more), made(0.0, **more)
    lost = mass(even) - mass(graded)
    weights = [
        body(model_of(one), Fineness(1.3, 1.0)).volume * one.blank.material.density
        for one in (even, graded)
    ]
    assert weights[0] - weights[1] == pytest.approx(lost, rel=0.05)


def test_the_page_has_one_width_or_one_for_each_opening() -> None:
    even, graded = made(0.3), made((0.2, 0.6))
    assert bevels_of(even) == [0.3]
    assert bevels_of(graded) == list(graded.bevels(graded.sector))


def test_a_spec_with_both_ends_is_written_and_read_again() -> None:
    spec = made((0.2, 0.8)).spec
    assert "bevel = [0.2, 0.8]" in to_toml(spec)
    assert from_toml(to_toml(spec)) == spec


@pytest.mark.parametrize(
    ("bevel", "error", "says"),
    [
        (2.5, SpecError, "a list of 2 numbers from 0 to 2; 2 works"),
        ((0.2,), SpecError, "a list of 2 numbers from 0 to 2; 0.3 works"),
        ((0.2, -0.1), SpecError, "a list of 2 numbers from 0 to 2; 0.3 works"),
        ((0.2, 0.97), RuleError, "bevels would meet on a rib of 2 mm; 0.95 works"),
    ],
)
def test_what_is_refused(bevel: Any, error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says):
        made(bevel)


def test_areas_of_openings_are_as_without_a_bevel() -> None:
    assert sum(map(area, made((0.1, 0.9)).openings)) == sum(map(area, made(0.0).openings))

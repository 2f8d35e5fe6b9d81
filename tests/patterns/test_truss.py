"""The truss against torsion of a ring, where its lines are Michell's spirals."""

from typing import Any

import numpy as np
import pytest
import shapely

from openwork.fill.site import Site
from openwork.patterns._kit import stress_field, stress_lines
from openwork.patterns._kit.short_cells import with_whole_edges
from openwork.patterns._kit.stress_field import Mesh, clamped, stresses
from openwork.patterns._kit.stress_lines import Levels
from openwork.ring import design
from openwork.shape.contour import Points, area, moment
from openwork.testing import SITES, site_spec

WIDE = "48 teeth, 4 on 104"


def site(name: str = WIDE) -> Site:
    return design(site_spec(name, name="spokes")).site


@pytest.fixture
def held_all_round(monkeypatch: pytest.MonkeyPatch) -> None:
    """Clamp the whole inner edge: then the ring is in pure torsion."""

    def inner_row(place: Site, mesh: Mesh) -> Any:
        held = np.zeros((mesh.rows + 1, mesh.columns), dtype=bool)
        held[0] = True
        return held

    monkeypatch.setattr(stress_field, "clamped", inner_row)
    monkeypatch.setattr(stress_lines, "clamped", inner_row)


def test_torsion_is_pure_shear_that_falls_with_the_square(held_all_round: None) -> None:
    """tau = T / (2 pi r^2 t) (Timoshenko, Goodier, Theory of Elasticity, ch. 4); times r here."""
    place = site()
    mesh = Mesh.of(place)
    radial, hoop, shear = stresses(place, mesh)
    middle = (mesh.levels[:-1] + mesh.levels[1:]) / 2
    level = shear * np.exp(middle)[:, None]
    assert np.ptp(level) / level.mean() < 0.01
    assert np.abs(radial).max() < 0.01 * shear.mean()
    assert np.abs(hoop).max() < 0.01 * shear.mean()


def test_the_rim_carries_the_torque_to_the_clamps() -> None:
    """Shear over any circle outside the pads adds up to the loads on the rim."""
    place = site()
    mesh = Mesh.of(place)
    shear = stresses(place, mesh)[2]
    outside = ~clamped(place, mesh)[:-1].any(axis=1)
    middle = (mesh.levels[:-1] + mesh.levels[1:]) / 2
    torque = (shear.sum(axis=1) * mesh.width * np.exp(middle))[outside]
    load = mesh.columns * np.exp(mesh.levels[-1])
    assert torque == pytest.approx(load, rel=0.02)


def test_in_torsion_the_lines_are_michells_spirals(held_all_round: None) -> None:
    """At 45 degrees (A. Michell, 1904): crossings q deep lie pi q / m from the rim in ln r."""
    place = site()
    levels = Levels.of(place, 24)
    number, depth = np.mgrid[0:7, 0:4].astype(float)
    w = levels.crossings(number, number - depth)
    assert w.real == pytest.approx(levels.mesh.levels[-1] - np.pi * depth / 24, abs=1e-3)
    assert w.imag == pytest.approx(np.pi / 12 * (number - depth / 2), abs=1e-3)
    first, second = levels.directions(w)
    assert np.abs(np.tan(np.angle(first))) == pytest.approx(np.ones(w.shape), abs=0.01)
    assert np.abs(np.tan(np.angle(second))) == pytest.approx(np.ones(w.shape), abs=0.01)


@pytest.mark.parametrize("name", [WIDE, "24 teeth, 4 on 64", "44 teeth, 4 uneven on 110"])
def test_crossings_on_the_seam_of_two_sectors_are_the_same_from_either_side(name: str) -> None:
    place = site(name)
    levels = Levels.of(place, 24)
    count, depth = 24 // place.fold, np.arange(4.0)
    before = levels.crossings(np.zeros(4), -1.0 * depth)
    after = levels.crossings(np.full(4, float(count)), count - 1.0 * depth)
    known = np.isfinite(before)
    assert known.sum() >= 2
    apart = np.abs(after - before - 1j * place.sector)[known]
    assert apart.max() * place.outer < 1e-6


def test_lines_gather_at_the_pads() -> None:
    """Where the torque goes into the pads, the lines of both families stand nearer together."""
    place = site()
    levels = Levels.of(place, 40)
    u = np.log(place.inner + place.pad)
    slopes = levels.at(np.array([u + 0j, u + 1j * place.sector / 2]))[1]
    density = np.hypot(slopes[:, 0], slopes[:, 1])
    assert (density[:, 0] > 1.3 * density[:, 1]).all()


@pytest.mark.parametrize("name", ["42 teeth, 5 on 110", WIDE, "40 teeth, 3 on 86"])
def test_ribs_are_mirrored_at_the_bolts(name: str) -> None:
    made = design(site_spec(name, name="truss"))
    middles = np.array([complex(*(moment(one) / area(one))) for one in made.openings])
    apart = np.abs(middles.conj()[:, None] - middles).min(axis=1)
    assert np.quantile(apart, 0.9) < 0.05


def block(near: float, far: float, right: float, left: float) -> Points:
    """Return a rectangle between two distances along the ray midway between two bolts."""
    corners = np.array([[near, right], [far, right], [far, left], [near, left]], dtype=float)
    return np.asarray(corners @ np.array([[1, 1], [-1, 1]]) / np.sqrt(2))


def areas_with_whole_edges(cells: Any) -> list[float]:
    return [shapely.Polygon(one).area for one in with_whole_edges(cells, site(), 6)]


def test_a_cell_cut_short_is_joined_to_the_neighbour_with_more_left() -> None:
    """On a web from radius 58 to 90: most of the inner block is in the hem."""
    cells = {
        (1, 0): block(66, 80, -9, 9),
        (0, 0): block(66, 94, -18, -9),
        (1, 1): block(47, 66, -9, 9),
    }
    joined, other = areas_with_whole_edges(cells)
    assert joined > 18 * (14 + 66 - 58)
    assert other < 9 * 28


def test_a_cut_cell_much_smaller_than_those_beside_is_joined_to_the_smaller_neighbour() -> None:
    cells = {
        (1, 0): block(66, 80, -2, 16),
        (0, 0): block(66, 80, -13, -2),
        (1, 1): block(57, 66, -4, 2),
        (3, 1): block(57, 66, 2, 20),
        (5, 1): block(57, 66, -22, -4),
    }
    areas = areas_with_whole_edges(cells)
    assert len(areas) == 4
    assert areas[0] == pytest.approx(18 * 14)
    assert areas[1] > 11 * 14 + 6 * 7.9


def test_a_small_cut_cell_between_mirror_images_is_left_solid() -> None:
    cells = {
        (1, 0): block(66, 80, 0, 14),
        (0, 0): block(66, 80, -14, 0),
        (1, 1): block(57, 66, -3, 3),
        (3, 1): block(57, 66, 3, 20),
        (5, 1): block(57, 66, -20, -3),
    }
    assert areas_with_whole_edges(cells)[:2] == pytest.approx([14 * 14] * 2)
    assert len(areas_with_whole_edges(cells)) == 4


def test_a_whole_cell_stays_however_small() -> None:
    cells = {(0, 0): block(66, 80, -14, 0), (1, 0): block(70, 72, 0, 2)}
    assert areas_with_whole_edges(cells) == pytest.approx([14 * 14, 2 * 2])


@pytest.mark.parametrize("name", SITES)
def test_every_cell_is_whole(name: str) -> None:
    made = design(site_spec(name, name="truss"))
    assert made.filled == 0
    assert made.dropped == 0

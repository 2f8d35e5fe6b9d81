"""The pushed lattices: what the push must not change."""

import dataclasses
import sys
from typing import Any

import numpy as np
import pytest
import shapely

from openwork.errors import RuleError
from openwork.fill.fillings import Cells
from openwork.fill.parameters import completed
from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.measure.figures import figures
from openwork.measure.limits import limits_broken
from openwork.patterns.noise import LATTICES, Noise
from openwork.ring import design
from openwork.shape.contour import Floats
from openwork.spec.spec import Spec
from openwork.testing import site_spec

pytest.importorskip("noise")
WIDE = "48 teeth, 4 on 104"


def site(name: str = WIDE) -> Site:
    return design(site_spec(name, name="spokes")).site


def areas(cells: Cells) -> Floats:
    return np.array([shapely.Polygon(ring).area for ring in cells.polygons])


def proposed(place: Site, strength: float, lattice: str = "honeycomb", seed: int = 1) -> Any:
    one = completed("noise", {"lattice": lattice, "amount": strength}, place)
    return one(place, np.random.default_rng(seed))


@pytest.mark.parametrize("lattice", LATTICES)
def test_without_strength_the_lattice_is_left_alone(lattice: str) -> None:
    place = site()
    still = proposed(place, 0.0, lattice)
    noise: Any = completed("noise", {"lattice": lattice}, place)
    one: Any = completed(lattice, {"columns": noise.columns}, place)
    plain = one(place, np.random.default_rng(1))
    for cell, other in zip(still.polygons, plain.polygons, strict=True):
        apart = shapely.hausdorff_distance(shapely.Polygon(cell), shapely.Polygon(other))
        assert apart < 1e-6


@pytest.mark.parametrize("lattice", LATTICES)
def test_cells_keep_their_areas(lattice: str) -> None:
    """A push along lines of equal height has no divergence, so it squeezes nothing."""
    place = site()
    still, pushed = areas(proposed(place, 0.0, lattice)), areas(proposed(place, 0.5, lattice))
    assert pushed.sum() == pytest.approx(still.sum(), rel=2e-3)
    assert np.std(np.log(pushed / still)) < 0.12
    assert np.abs(pushed / still - 1).max() > 1e-3


def test_rims_and_pads_stay() -> None:
    place = site()
    push = Noise(columns=32)._push(place, np.random.default_rng(1))
    low, high = extent(place)
    v = np.linspace(0, 2, 50)
    for u in (low, high):
        moved = push(np.asarray(u + 1j * v, dtype=np.complex128))
        assert moved.real == pytest.approx(np.full(50, u), abs=1e-9)
        assert moved.imag == pytest.approx(v, abs=5e-3)
    around = place.pad * 0.7 * np.exp(1j * np.linspace(0, 6, 12)) + place.circle
    inside = around[np.abs(around) > place.inner]
    assert push(np.log(inside)) == pytest.approx(np.log(inside), abs=2e-3)


def test_the_push_repeats_with_the_sector() -> None:
    place = site()
    push = Noise(columns=32)._push(place, np.random.default_rng(5))
    w = np.log(place.middle) + 1j * np.linspace(0.1, place.sector - 0.1, 40)
    moved = push(w) - w
    assert np.abs(moved).max() > 0.005
    turn = 1j * place.sector
    assert push(w + turn) - w - turn == pytest.approx(moved, abs=1e-9)


@pytest.mark.parametrize("name", [WIDE, "44 teeth, 4 uneven on 110"])
def test_the_push_goes_on_smoothly_from_sector_to_sector(name: str) -> None:
    """Neighbours across the seam share a side: were it drawn twice, their rib would be thinner."""
    place = site(name)
    for seed in range(5):
        push = Noise(columns=32)._push(place, np.random.default_rng(seed))
        w = np.log(np.linspace(place.inner, place.outer, 30)) + 0j
        before, after = push(w - 1e-9j) + 1e-9j, push(w + 1e-9j) - 1e-9j
        assert np.abs(after - w).max() > 1e-4
        assert np.abs(before - after).max() * place.outer < 1e-6


def test_seeds_differ_and_repeat() -> None:
    place = site()
    first, again, other = (proposed(place, 0.8, seed=seed) for seed in (1, 1, 2))
    assert all(np.array_equal(a, b) for a, b in zip(first.polygons, again.polygons, strict=True))
    assert not np.allclose(areas(first), areas(other))


def test_without_the_package_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "noise", None)
    with pytest.raises(RuleError, match=r"pip install 'openwork\[noise\]'"):
        design(site_spec(WIDE, name="noise"))
    assert dataclasses.is_dataclass(Noise)


def test_long_courses_bend_without_corners() -> None:
    """The sides of bricks are short chords of arcs: bent strongly, they stay a curve."""
    table = {
        "ring": {"teeth": 55},
        "mount": {"bolts": 3, "circle": 86.0},
        "web": {"rib": 3.77, "corner": 1.0},
    }
    pattern = {"name": "noise", "seed": 404, "lattice": "bricks", "waves": 9, "amount": 0.6}
    ring = design(Spec.model_validate(table | {"pattern": pattern}))
    assert not limits_broken(ring, figures(ring))

"""Slices of the gyroid against its equation."""

import numpy as np
import pytest
import shapely

from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns.gyroid import Gyroid
from openwork.ring import design
from openwork.shape.contour import Floats
from openwork.testing import site_spec

WIDE = "48 teeth, 4 on 104"
X: Floats = np.linspace(0.0, 4 * np.pi, 401)


def site(name: str = WIDE) -> Site:
    return design(site_spec(name, name="spokes")).site


@pytest.mark.parametrize("height", [0.0, 0.3, 0.8, 1.0])
def test_ribs_lie_on_the_nodal_surface(height: float) -> None:
    """sin x cos y + sin y cos z + sin z cos x = 0 (von Schnering, Nesper, Z. Phys. B 83, 1991)."""
    z = np.pi / 4 * height
    for y in Gyroid(height=height).ribs(X):
        value = np.sin(X) * np.cos(y) + np.sin(y) * np.cos(z) + np.sin(z) * np.cos(X)
        assert np.abs(value).max() < 1e-12


def test_ribs_touch_their_neighbours_in_turn_at_full_height() -> None:
    first, second = Gyroid(height=1.0).ribs(np.pi * np.arange(5.0))
    assert (second - first)[1::2] == pytest.approx(0, abs=1e-7)
    assert (second - first)[::2] == pytest.approx(2 * np.pi, abs=1e-7)


def test_ribs_never_touch_below() -> None:
    first, second = Gyroid(height=0.8).ribs(X)
    assert (second - first).min() > 0.3
    assert (second - first).max() < 2 * np.pi - 0.3


@pytest.mark.parametrize("height", [0.2, 1.0])
@pytest.mark.parametrize("rows", [1, 2, 3])
def test_openings_fill_the_web(height: float, rows: int) -> None:
    place = site()
    low, high = extent(place)
    tiles = Gyroid(height=height, columns=20, rows=rows).tiles(place)
    strip = shapely.box(low, -9, high, 9)
    area = sum(shapely.Polygon(one).intersection(strip).area for one in tiles)
    assert area == pytest.approx(high - low, rel=1e-3)


def test_long_waves_run_from_hem_to_rim_and_full_height_cuts_them() -> None:
    waves = design(site_spec(WIDE, name="gyroid", height=0.0, columns=16, rows=3))
    cut = design(site_spec(WIDE, name="gyroid", height=1.0, columns=16, rows=3))
    assert len(waves.openings) == 32
    assert len(cut.openings) > 60

"""Petals against the closed forms of their template."""

import math
from typing import Any

import numpy as np
import pytest
import shapely

from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns.petals import TEMPLATES, Petals
from openwork.ring import design
from openwork.shape.contour import Points
from openwork.spec.spec import Spec
from openwork.testing import least_distance, shapes, site_spec

WIDE = "48 teeth, 4 on 104"


def site(name: str = WIDE) -> Site:
    return design(site_spec(name, name="spokes")).site


def petal(place: Site, **given: Any) -> Points:
    return Petals(columns=20, gaps="solid", **given).tiles(place)[0]


def test_a_slot_is_a_superellipse() -> None:
    """Area 4 a b G(1 + 1/n)^2 / G(1 + 2/n) of |x/a|^n + |y/b|^n = 1 (NIST DLMF 5.12, beta)."""
    place = site()
    low, high = extent(place)
    exponent = TEMPLATES["slot"][1]
    wanted = (high - low) * math.gamma(1 + 1 / exponent) ** 2 / math.gamma(1 + 2 / exponent)
    outline = shapely.Polygon(petal(place, shape="slot"))
    assert outline.area == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize("shape", TEMPLATES)
def test_a_petal_crosses_the_web_and_meets_its_neighbours_at_the_belly(shape: str) -> None:
    place = site()
    outline = petal(place, shape=shape)
    low, high = extent(place)
    assert outline[:, 0].min() == pytest.approx(low)
    assert outline[:, 0].max() == pytest.approx(high)
    widest = outline[outline[:, 1].argmax()]
    assert np.ptp(outline[:, 1]) == pytest.approx(1, abs=2e-3)
    flat = 0.12 if shape == "slot" else 0.02  # a slot is as wide for a long way
    assert (widest[0] - low) / (high - low) == pytest.approx(TEMPLATES[shape][0], abs=flat)


@pytest.mark.parametrize("sweep", [-40.0, 0.0, 40.0])
def test_petals_and_gaps_fill_the_web(sweep: float) -> None:
    """Petal, inner gap and outer gap of a column are one column in all."""
    place = site()
    tiles = Petals(columns=12, shape="petal", sweep=sweep).tiles(place)
    assert len(tiles) == 3
    low, high = extent(place)
    strip = shapely.box(low, -9, high, 9)
    area = sum(shapely.Polygon(one).intersection(strip).area for one in tiles)
    assert area == pytest.approx(high - low, rel=2e-3)


@pytest.mark.parametrize("shape", TEMPLATES)
def test_ribs_between_petals_are_as_wide_as_wanted(shape: str) -> None:
    made = design(site_spec(WIDE, name="petals", shape=shape))
    every = shapes(made.openings)
    # Neighbouring slots touch along all their bellies, which are kept 2e-4 of a column off.
    most = 6e-3 if shape == "slot" else 2e-3
    assert 0 < least_distance(every, every) - made.site.rib < most


def test_solid_gaps_leave_the_petals_alone() -> None:
    both = design(site_spec(WIDE, name="petals", columns=16))
    alone = design(site_spec(WIDE, name="petals", columns=16, gaps="solid"))
    assert len(alone.openings) == 16
    assert len(both.openings) > 32


def test_long_bellies_of_slots_take_nothing_of_a_rib() -> None:
    """Their arcs bulge over the line midway between two neighbours, by less than is kept off it."""
    mount = {"bolts": 4, "circle": 64.0, "bore": 50.0, "pad": 8.0}
    table = {"ring": {"teeth": 63}, "mount": mount, "web": {"rib": 3.0}}
    spec = Spec.model_validate(
        table | {"pattern": {"name": "petals", "shape": "slot", "sweep": 24.3}}
    )
    every = shapes(design(spec).openings)
    assert least_distance(every, every) > 3.0

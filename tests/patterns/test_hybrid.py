"""Strong and fine ribs measured between the openings."""

from typing import Any

import numpy as np
import pytest
import shapely

from openwork.errors import RuleError
from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.patterns.hybrid import ORNAMENTS, Hybrid
from openwork.ring import design
from openwork.shape.contour import Floats
from openwork.spec.spec import Spec
from openwork.testing import least_distance, shapes, site_spec

WIDE = "48 teeth, 4 on 104"


def site(name: str = WIDE) -> Site:
    return design(site_spec(name, name="spokes")).site


def near_circle(value: Floats) -> Any:
    return np.abs(value) < 1 + 1e-9


@pytest.mark.parametrize("ornament", ORNAMENTS)
def test_an_ornament_fills_its_diamond(ornament: str) -> None:
    """The diamond from -1 to 1 has the area 2; parts with round sides are measured as drawn."""
    parts = ORNAMENTS[ornament][0]
    corners = [np.column_stack([one[0].real, one[0].imag]) for one in parts]
    total = sum(shapely.Polygon(ring).area for ring in corners)
    assert total == pytest.approx(2, rel=1e-9)
    assert all(near_circle(ring).all() for ring in corners)


@pytest.mark.parametrize("ornament", ORNAMENTS)
@pytest.mark.parametrize("strength", [1.0, 2.5])
def test_strong_ribs_are_as_wide_as_asked(ornament: str, strength: float) -> None:
    """Between parts of two diamonds strength ribs of metal, between parts of one a rib."""
    spec = site_spec(WIDE, name="hybrid", ornament=ornament, thickness=strength, columns=8)
    made = design(spec)
    place = made.site
    rib, strong = place.rib, strength * place.rib
    every = shapes(made.openings)
    assert least_distance(every, every) == pytest.approx(rib, abs=2e-3)
    apart = shapely.distance(every[:, None], every[None, :])
    apart[np.diag_indices(len(every))] = np.inf
    nearest = np.sort(apart.ravel())
    assert (np.abs(nearest - strong) < 2e-3).any()


def test_the_strong_net_carries_most_of_the_ribs() -> None:
    """Of two and two spirals to a diamond, strength / (1 + strength) of the metal is strong."""
    place = site()
    low, high = extent(place)

    def solid(strength: float) -> Any:
        one = Hybrid(ornament="diamonds", thickness=strength, columns=12)
        tiles = one.tiles(place)
        strip = shapely.box(low, -9, high, 9)
        return high - low - sum(shapely.Polygon(t).intersection(strip).area for t in tiles)

    width = place.rib / place.middle * 12 / (2 * np.pi)  # of a rib, in columns
    crossed = 2 * (high - low) * np.sqrt(2) * width  # two ribs at 45 degrees to a column
    assert solid(1.0) == pytest.approx(0, abs=1e-3)
    assert solid(3.0) == pytest.approx(2 * crossed, rel=0.2)


def test_rows_come_as_near_45_degrees_as_they_can() -> None:
    place = site()
    low, high = extent(place)
    for columns in (8, 12, 20):
        rows = Hybrid(columns=columns).rows(place)
        assert abs((high - low) * columns / np.pi - rows) <= 0.5


def test_ribs_so_strong_that_nothing_is_left_between_them_are_refused() -> None:
    mount = {"bolts": 4, "circle": 64.0, "bore": 50.0, "pad": 8.0}
    table = {"ring": {"teeth": 23}, "mount": mount, "web": {"rib": 4.7, "hem": 2.6}}
    pattern = {"name": "hybrid", "thickness": 4.0}
    with pytest.raises(RuleError, match="no opening is left"):
        design(Spec.model_validate(table | {"pattern": pattern}))

"""Rows whose height follows a power of the radius."""

import numpy as np
import pytest

from openwork.fill.polar import extent, row_levels
from openwork.ring import design
from openwork.shape.contour import centroid
from openwork.testing import site_spec

SITE = "48 teeth, 4 on 104"


@pytest.mark.parametrize("growth", [-1.0, 0.0, 0.5, 1.0, 2.0, 4.0])
def test_thin_rows_are_as_high_as_that_power_of_the_radius(growth: float) -> None:
    site = design(site_spec(SITE, name="honeycomb")).site
    edges = row_levels(site, growth)(np.linspace(0, 1, 2001))
    assert edges[[0, -1]] == pytest.approx(extent(site), abs=1e-12)
    radii = np.exp(edges)
    heights, middles = np.diff(radii), (radii[1:] + radii[:-1]) / 2
    assert heights / middles**growth == pytest.approx(
        np.full(2000, heights[0] / middles[0] ** growth), rel=1e-5
    )


@pytest.mark.parametrize("name", ["honeycomb", "isogrid"])
def test_cells_move_inwards_as_the_outer_rows_grow(name: str) -> None:
    """As many rows and columns, whole at both rims: only the heights differ."""
    place = {"columns": 36, "rows": 2} if name == "isogrid" else {"columns": 48, "rows": 3}
    middles = []
    for growth in (0.0, 1.0, 2.0):
        ring = design(site_spec(SITE, name=name, growth=growth, **place))
        middles.append(np.median([np.hypot(*centroid(one)) for one in ring.sector]))
        radii = [np.hypot(*one.points.T) for one in ring.sector]
        assert min(map(np.min, radii)) == pytest.approx(ring.site.inner, abs=1e-3)
        assert max(map(np.max, radii)) == pytest.approx(ring.site.outer, abs=1e-3)
    assert middles == sorted(middles, reverse=True)

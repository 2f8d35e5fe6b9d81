"""The finisher on shapes whose answer is known in closed form."""

from typing import Any

import numpy as np
import pytest
import shapely

from openwork.errors import RuleError
from openwork.fill.cores import TRACE
from openwork.fill.fillings import Cells, Field, Filling, Net, Shapes
from openwork.fill.finish import finished
from openwork.fill.polar import mapped
from openwork.fill.site import Site
from openwork.measure.figures import figures
from openwork.measure.limits import limits_broken
from openwork.ring import design
from openwork.shape.contour import area, circle, is_circle, length, polygon
from openwork.testing import site_spec

PLAIN = Site(
    inner=50.0, outer=80.0, fold=4, bolts=(0.0, np.pi / 2, np.pi, 3 * np.pi / 2),
    circle=30.0, pad=6.0, blend=5.0, rib=2.0, corner=1.5, bore=47.0, root=83.0,
)  # fmt: skip
RNG = np.random.default_rng(0)


def square(centre: tuple[float, float], side: float) -> Any:
    return np.array(centre) + side / 2 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])


def test_a_square_cell_loses_half_a_rib_and_its_corners() -> None:
    (opening,) = finished(Cells([square((65, 0), 12)]), PLAIN).openings
    side = 12 - 2.0 - 2 * TRACE
    assert area(opening) == pytest.approx(side**2 - (4 - np.pi) * 1.5**2, abs=1e-9)
    assert length(opening) == pytest.approx(4 * (side - 3) + 2 * np.pi * 1.5, abs=1e-9)


def test_the_rim_cuts_a_cell_on_its_exact_circle() -> None:
    (opening,) = finished(Cells([square((78, 0), 16)]), PLAIN).openings
    radius = np.hypot(*opening.points.T)
    assert radius.max() <= 80 + 1e-9
    assert np.isclose(opening.radii, 80, atol=1e-9).any()


def test_a_quarter_of_a_cell_is_filled_and_counted() -> None:
    cells = Cells([square((65, 0), 12), square((83, 0), 12)])
    result = finished(cells, PLAIN)
    assert (len(result.openings), result.filled, result.dropped) == (1, 1, 0)


def test_a_cell_too_narrow_for_the_cutter_is_dropped_and_counted() -> None:
    thin = np.array([[60, -2.4], [70, -2.4], [70, 2.4], [60, 2.4]])
    result = finished(Cells([square((65, 20), 12), thin]), PLAIN)
    assert (len(result.openings), result.filled, result.dropped) == (1, 0, 1)


def test_a_cell_that_turns_back_by_the_last_digit_of_a_corner_keeps_its_ribs() -> None:
    """One cell of this ring has a corner twice, 6e-14 mm apart, in the wrong order."""
    ring = design(site_spec("48 teeth, 4 on 104", name="hybrid", thickness=2.47324022155333))
    assert not limits_broken(ring, figures(ring))


def test_a_cell_that_crosses_itself_costs_no_rib() -> None:
    crossed = Cells(
        [np.array([[58, -8], [72, 8], [72, -8], [58, 8]], dtype=float), square((65, 18), 12)]
    )
    border = shapely.Polygon(square((65, 18), 12)).exterior
    lines = shapely.union_all([shapely.LinearRing(crossed.polygons[0]), border])
    for one in finished(crossed, PLAIN).openings:
        assert polygon(one).distance(lines) > PLAIN.rib / 2 - 1e-3


def test_a_round_hole_stays_one_exact_circle() -> None:
    (opening,) = finished(Shapes([circle(4.0, (65, 0))]), PLAIN).openings
    assert is_circle(opening)
    assert area(opening) == pytest.approx(np.pi * 16, abs=1e-9)


def test_pockets_too_near_each_other_share_the_loss() -> None:
    pockets = Shapes([circle(5.0, (65, -5.5)), circle(5.0, (65, 5.5))])
    first, second = finished(pockets, PLAIN).openings
    assert polygon(first).distance(polygon(second)) == pytest.approx(2.0, abs=0.02)
    assert polygon(first).distance(polygon(second)) >= 2.0 - 1e-3
    assert area(first) == pytest.approx(area(second), rel=1e-3)


def test_a_net_of_radial_ribs_leaves_sectors() -> None:
    angles = 2 * np.pi * np.arange(3) / 12
    net = Net([mapped(np.log([40.0, 90.0]), np.full(2, angle)) for angle in angles])
    openings = finished(net, PLAIN).openings
    assert len(openings) == 3
    between = np.pi * (80**2 - 50**2) / 12 - 2.0 * (np.sqrt(80**2 - 1) - np.sqrt(50**2 - 1))
    for one in openings:
        assert area(one) == pytest.approx(between, rel=0.01)


def test_a_wide_rib_of_a_net_is_wide() -> None:
    angles = 2 * np.pi * np.arange(2) / 8
    curves = [mapped(np.log([40.0, 90.0]), np.full(2, angle)) for angle in angles]
    thin, wide = (
        sum(area(one) for one in finished(Net(curves, widths), PLAIN).openings)
        for widths in ((1.0, 1.0), (1.0, 3.0))
    )
    assert thin - wide == pytest.approx(4.0 * 30, rel=0.02)


def test_a_field_of_lobes_has_one_opening_for_each() -> None:
    lobes = Field(lambda r, v: np.cos(12 * v) - ((r - 65) / 10) ** 2, 0.0)
    openings = finished(lobes, PLAIN).openings
    assert len(openings) == 3
    assert np.ptp([area(one) for one in openings]) < 1e-3 * area(openings[0])


@pytest.mark.parametrize(
    "filling",
    [
        Field(lambda r, v: 8 - np.abs(r - 65) + 0 * v, 0.0),
        Cells([mapped(np.full(200, np.log(75.0)), 2 * np.pi * np.arange(200) / 200)]),
        Net([mapped(np.log([10.0, 20.0]), np.zeros(2))]),
    ],
    ids=["field", "cells", "net"],
)
def test_a_slot_round_the_ring_is_refused(filling: Filling) -> None:
    with pytest.raises(RuleError, match=r"right round|no opening"):
        finished(filling, PLAIN)


def test_rounding_points_of_metal_leaves_the_corners_of_an_opening_alone() -> None:
    """Stars have both; a cutter must follow every inside corner."""
    ring = design(site_spec("24 teeth, 4 on 64", name="stars", grid="squares", rows=2))
    assert any((one.bulges < 0).any() for one in ring.sector)
    assert not limits_broken(ring, figures(ring))

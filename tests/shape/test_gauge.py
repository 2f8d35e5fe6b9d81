"""Gauges on shapes whose metal is known in closed form, and against all pairs."""

import numpy as np
import pytest
import shapely

from openwork.shape.contour import Contour, circle, polygon
from openwork.shape.gauge import least_gap, least_inside_radius, pieces, rib_widths

ROW = [circle(2.0, (5.0 * k, 0.0)) for k in range(6)]


def test_the_least_metal_of_a_row_of_holes() -> None:
    found = least_gap(ROW, ROW)
    assert found.width == pytest.approx(1.0, abs=2e-4)
    apart = np.hypot(*(np.array(found.first) - found.second))
    assert apart == pytest.approx(found.width, abs=2e-4)


def test_the_least_metal_is_that_of_all_pairs() -> None:
    luck = np.random.default_rng(5)
    holes = [circle(luck.uniform(0.5, 1.5), luck.uniform(-40, 40, 2)) for _ in range(40)]
    shapes = [polygon(one, sagitta=1e-5) for one in holes]
    free = [k for k in range(40) if all(
        shapes[k].distance(shapes[j]) > 0 for j in range(40) if j != k
    )]  # fmt: skip
    holes, shapes = [holes[k] for k in free], [shapes[k] for k in free]
    brute = min(a.distance(b) for i, a in enumerate(shapes) for b in shapes[:i])
    assert least_gap(holes, holes).width == pytest.approx(brute, abs=3e-4)


def test_ribs_of_a_row_of_holes() -> None:
    ribs = rib_widths(ROW)
    assert ribs.least == pytest.approx(1.0, abs=2e-4)
    assert ribs.mean > ribs.least
    assert rib_widths([circle(2.0, (0, 0)), circle(2.0, (30, 0))]).least == pytest.approx(
        26, abs=1e-3
    )


def test_the_least_inside_radius_is_the_cutters() -> None:
    slot = Contour(
        np.array([[10.0, -2.0], [20.0, -2.0], [20.0, 2.0], [10.0, 2.0]]),
        np.array([0.0, 1.0, 0.0, 1.0]),
    )
    assert least_inside_radius([slot]) == pytest.approx(2.0, rel=1e-9)
    shape = polygon(slot, sagitta=1e-5)
    reached = shape.buffer(-1.999, quad_segs=64).buffer(1.999, quad_segs=64)
    assert reached.area == pytest.approx(shape.area, rel=1e-3)
    box = Contour(np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]]), np.zeros(4))
    assert least_inside_radius([box]) == 0


def test_a_slot_across_makes_two_pieces() -> None:
    plate = circle(10.0)
    through = Contour(
        np.array([[-12.0, -1.0], [12.0, -1.0], [12.0, 1.0], [-12.0, 1.0]]), np.zeros(4)
    )
    assert pieces(plate, [circle(2.0)]) == 1
    assert pieces(plate, [through]) == 2
    assert shapely.Point(0, 0).within(polygon(through))

"""Gauges on shapes whose metal is known in closed form, and against all pairs."""

import numpy as np
import pytest
import shapely

from openwork.shape.contour import Contour, circle, polygon, polygon_contour, rotated
from openwork.shape.gauging.gauge import least_gap, least_inside_radius, pieces, rib_widths

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


def hexagons(side: float, rib: float, reach: int) -> list[Contour]:
    """Return a grid of hexagons whose centres are *side* apart, *rib* of metal between them."""
    corners = (side - rib) / np.sqrt(3) * np.exp(1j * np.pi * (np.arange(6) / 3 + 1 / 6))
    places = [
        side * (i + j * np.exp(1j * np.pi / 3))
        for i in range(-reach, reach + 1)
        for j in range(-reach, reach + 1)
        if abs(i + j) <= reach
    ]
    return [
        Contour(np.column_stack([(corners + z).real, (corners + z).imag]), np.zeros(6))
        for z in places
    ]


@pytest.mark.parametrize("rib", [0.8, 2.0])
def test_every_rib_of_a_hexagonal_grid_is_as_wide_as_its_cells_are_apart(rib: float) -> None:
    """Cells whose centres are d apart and whose flats are d - w apart leave ribs of w."""
    ribs = rib_widths(hexagons(9.0, rib, 3))
    assert ribs.least == pytest.approx(rib, abs=2e-4)
    assert ribs.mean == pytest.approx(rib, rel=0.01)
    assert ribs.spread < 0.03


@pytest.mark.parametrize("apart", [3.9, 4.1])
def test_metal_wider_than_four_times_the_least_is_no_rib(apart: float) -> None:
    """Two squares 1 mm apart, and a third beside them: a rib as long as they, or none."""

    def square(x: float) -> Contour:
        return polygon_contour([(x, 0), (x + 10, 0), (x + 10, 10), (x, 10)])

    ribs = rib_widths([square(0), square(11), square(21 + apart)], spacing=0.2)
    assert ribs.least == pytest.approx(1.0, abs=2e-4)
    assert ribs.mean == pytest.approx(1.0 if apart > 4 else (1 + apart) / 2, rel=0.01)


@pytest.mark.parametrize("fold", [3, 5])
def test_one_sector_measures_as_the_whole_ring_does(fold: int) -> None:
    """Rings of holes of two sizes, repeated by rotation: every rib is met in every sector."""
    sector = [circle(2.0, (40.0, 0.0)), circle(3.0, (39.0, 7.0)), circle(1.5, (45.0, 6.0))]
    ring = [rotated(one, 2 * np.pi * k / fold) for k in range(fold) for one in sector]
    part, whole = rib_widths(ring, fold, spacing=0.2), rib_widths(ring, spacing=0.2)
    assert part.least == pytest.approx(whole.least, abs=2e-4)
    assert part.mean == pytest.approx(whole.mean, rel=5e-3)
    assert part.spread == pytest.approx(whole.spread, rel=5e-2)

"""Exact integrals over lines and arcs, against shapely on fine sampling and closed forms."""

import numpy as np
import pytest
import shapely

from openwork.shape.contour import (
    Contour,
    area,
    centroid,
    circle,
    inertia,
    is_circle,
    length,
    mirrored,
    polygon,
    polygon_contour,
    reverse,
    rotated,
    sampled,
    scaled,
)

FINE = 1e-7
SHAPES = {
    "lens": Contour(np.array([[0.0, 0.0], [4.0, 0.0]]), np.array([0.4, 0.7])),
    "kite": Contour(
        np.array([[0.0, 0.0], [4.0, 0.0], [5.0, 3.0], [1.0, 4.0]]), np.array([0.3, -0.2, 0.0, 0.6])
    ),
    "slot": Contour(
        np.array([[10.0, -2.0], [20.0, -2.0], [20.0, 2.0], [10.0, 2.0]]),
        np.array([0.0, 1.0, 0.0, 1.0]),
    ),
    "large arc": Contour(np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([0.0, 3.0])),
}


def polar_moment(shape: shapely.Polygon) -> float:
    """Polar second moment of a polygon about the origin: the textbook sum over its sides."""
    x, y = np.array(shape.exterior.coords).T
    a, b, c, d = x[:-1], y[:-1], x[1:], y[1:]
    moment = ((a * d - c * b) * (a * a + a * c + c * c + b * b + b * d + d * d)).sum() / 12
    return float(moment if shape.exterior.is_ccw else -moment)


@pytest.mark.parametrize("name", SHAPES)
def test_integrals_agree_with_fine_polygons(name: str) -> None:
    one = SHAPES[name]
    fine = polygon(one, sagitta=FINE)
    assert area(one) == pytest.approx(fine.area, rel=1e-6)
    assert length(one) == pytest.approx(fine.length, rel=1e-6)
    assert centroid(one) == pytest.approx([fine.centroid.x, fine.centroid.y], abs=1e-6)
    assert inertia(one) == pytest.approx(polar_moment(fine), rel=1e-6)


def test_a_slot_has_its_closed_form() -> None:
    slot = SHAPES["slot"]
    assert area(slot) == pytest.approx(10 * 4 + np.pi * 4, rel=1e-12)
    assert length(slot) == pytest.approx(20 + 4 * np.pi, rel=1e-12)
    assert centroid(slot) == pytest.approx([15, 0], abs=1e-12)


def test_a_circle_off_the_axis_obeys_the_parallel_axes() -> None:
    one = circle(2.0, (3.0, 4.0))
    assert inertia(one) == pytest.approx(np.pi * 2**4 / 2 + np.pi * 4 * 25, rel=1e-12)
    assert is_circle(one)
    assert not is_circle(SHAPES["lens"])


@pytest.mark.parametrize("name", SHAPES)
def test_turns_and_mirrors_change_no_size(name: str) -> None:
    one = SHAPES[name]
    for other in (rotated(one, 0.7), mirrored(one)):
        assert area(other) == pytest.approx(area(one), rel=1e-12)
        assert inertia(other) == pytest.approx(inertia(one), rel=1e-12)
    assert area(reverse(one)) == pytest.approx(-area(one), rel=1e-12)
    assert area(scaled(one, 2.0)) == pytest.approx(4 * area(one), rel=1e-12)
    assert inertia(scaled(one, 2.0)) == pytest.approx(16 * inertia(one), rel=1e-12)


@pytest.mark.parametrize("sagitta", [1e-1, 1e-3, 1e-5])
def test_chords_stay_within_the_sagitta(sagitta: float) -> None:
    points = sampled(circle(50.0), sagitta)
    middles = (points + np.roll(points, -1, axis=0)) / 2
    assert 50 - np.hypot(*middles.T).min() <= sagitta * (1 + 1e-9)
    assert np.hypot(*points.T) == pytest.approx(50.0, abs=1e-12)


def test_straight_sides_are_shapelys() -> None:
    corners = [(0, 0), (5, 1), (4, 6), (1, 3)]
    assert area(polygon_contour(corners)) == pytest.approx(shapely.Polygon(corners).area, rel=1e-12)

"""Moved outlines against shapely's buffer of fine samples, and closed forms."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from openwork.errors import RuleError
from openwork.shape.contour import Contour, area, circle, length, polygon, polygon_contour, rotated
from openwork.shape.parallel.offset import SHORTEST, dilated
from openwork.shape.tracing.trace import traced
from tests.shape._shapes import ellipse, lobes, turns

QUARTER = 256  # chords per quarter circle of shapely's buffer
NEAR = 2e-3  # mm; corners that would get arcs under 0.05 mm are cut a little otherwise


def differs(contour: Contour, distance: float) -> tuple[float, float]:
    """Return by how much area and outline (Hausdorff) differ from shapely's buffer."""
    shape = polygon(contour, sagitta=1e-5)
    expected = shapely.buffer(shape, distance, quad_segs=QUARTER, join_style="round")
    found = polygon(dilated(contour, distance), sagitta=1e-5)
    assert found.is_valid
    gap = shapely.hausdorff_distance(found.exterior, shapely.Polygon(expected.exterior).exterior)
    return abs(found.area - shapely.Polygon(expected.exterior).area), float(gap)


def agrees(contour: Contour, distance: float, near: float = NEAR) -> None:
    size, gap = differs(contour, distance)
    # Chords of shapely's arcs lie inside them by the sagitta.
    sagitta = abs(distance) * (1 - math.cos(math.pi / 4 / QUARTER))
    assert gap <= near + sagitta
    assert size <= length(contour) * (near / 4 + sagitta) + 2 * math.pi * abs(distance) * sagitta


@st.composite
def smooth(draw: st.DrawFn) -> Contour:
    """Return a traced ellipse or waving round."""
    if draw(st.booleans()):
        long = draw(st.floats(2.0, 15.0))
        return traced(ellipse(long, long * draw(st.floats(0.35, 1.0)), 500))
    return traced(lobes(draw(st.floats(3.0, 9.0)), draw(st.floats(0.02, 0.12)), 4, 600))


@st.composite
def cornered(draw: st.DrawFn) -> Contour:
    """Return a convex polygon."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    angles = np.sort(rng.uniform(0, 2 * np.pi, draw(st.integers(4, 9))))
    points = np.column_stack([6 * np.cos(angles), 4 * np.sin(angles)])
    hull = shapely.orient_polygons(shapely.MultiPoint(points).convex_hull)
    return traced(shapely.get_coordinates(hull.exterior)[:-1])


def bent(contour: Contour, distance: float) -> None:
    """Check an outline whose hollows or ends may close to a corner or a short arc.

    One too short to cut becomes a corner, too. An arc over a chord c that turns by b lies
    c (tan b/2 - tan b/4) / 2 from the corner of the tangents at its ends.
    """
    corner = float(np.abs(turns(dilated(contour, distance))).max(initial=0.0))
    agrees(contour, distance, 5e-4 + SHORTEST / 2 * (math.tan(corner / 2) - math.tan(corner / 4)))


@settings(max_examples=20)
@given(smooth(), st.floats(0.1, 4.0))
def test_curves_moved_outwards(contour: Contour, distance: float) -> None:
    bent(contour, distance)


@settings(max_examples=20)
@given(smooth(), st.floats(0.05, 0.25))
def test_curves_moved_inwards(contour: Contour, distance: float) -> None:
    bent(contour, -distance)


@settings(max_examples=20)
@given(cornered(), st.floats(0.3, 4.0))
def test_polygons_moved_outwards(contour: Contour, distance: float) -> None:
    """Steiner's formula: area plus length times distance plus a disc."""
    agrees(contour, distance)
    exact = area(contour) + length(contour) * distance + math.pi * distance**2
    assert area(dilated(contour, distance)) == pytest.approx(exact, abs=0.05 * distance)


@settings(max_examples=20)
@given(smooth(), st.floats(0.1, 2.0))
def test_lengths_by_steiner(contour: Contour, distance: float) -> None:
    moved = dilated(contour, distance)
    assert length(moved) == pytest.approx(length(contour) + 2 * math.pi * distance, rel=2e-4)


@settings(max_examples=10)
@given(smooth(), st.floats(0.1, 2.0), st.floats(-3, 3))
def test_turning_commutes_with_moving(contour: Contour, distance: float, angle: float) -> None:
    one, other = (
        dilated(rotated(contour, angle), distance),
        rotated(dilated(contour, distance), angle),
    )
    assert one.points == pytest.approx(other.points, abs=1e-6)
    assert one.bulges == pytest.approx(other.bulges, abs=1e-6)


def test_a_square_gets_four_quarter_rounds() -> None:
    square = polygon_contour([(0, 0), (4, 0), (4, 4), (0, 4)])
    moved = dilated(square, 1.0)
    assert len(moved) == 8
    assert sorted(moved.sweeps.round(12)) == [0.0] * 4 + [round(math.pi / 2, 12)] * 4
    assert moved.radii[moved.bulges != 0] == pytest.approx(1.0)
    assert area(dilated(square, -1.0)) == pytest.approx(4.0)


@pytest.mark.parametrize("distance", [3.0, -3.0])
def test_a_circle_stays_one(distance: float) -> None:
    moved = dilated(circle(5.0, (2.0, 1.0)), distance)
    assert moved.radii == pytest.approx(5.0 + distance)
    assert moved.centres == pytest.approx(np.array([[2.0, 1.0]] * 2))


def test_nothing_moves_by_nothing() -> None:
    ring = circle(2.0)
    assert dilated(ring, 0.0) is ring


@pytest.mark.parametrize("distance", [0.3, 0.9, 1.6, 3.0])
def test_hollow_corners_and_vanishing_pieces(distance: float) -> None:
    """The step and the notch of an L and a U are lost where the moved sides meet before them."""
    stepped = polygon_contour([(0, 0), (8, 0), (8, 3), (7, 3), (7, 4), (4, 4), (4, 9), (0, 9)])
    notched = polygon_contour([(0, 0), (9, 0), (9, 6), (6, 6), (6, 2), (3, 2), (3, 6), (0, 6)])
    for one in (stepped, notched):
        agrees(one, distance)


@pytest.mark.parametrize("distance", [0.4, 0.9, 1.3])
def test_pieces_that_vanish_inwards(distance: float) -> None:
    agrees(polygon_contour([(0, 0), (8, 0), (8, 5.5), (7.7, 6), (0, 6)]), -distance)
    agrees(
        Contour(np.array([(-3, -2), (3, -2), (3, 2), (-3, 2)]), np.array([0, 1, 0, 1])), -distance
    )


@pytest.mark.parametrize("distance", [0.5, 2.0])
def test_arcs_bent_inwards_shrink_to_nothing_outwards(distance: float) -> None:
    """A square with a hollow of radius 1.5 mm in its right side."""
    hollow = Contour(
        np.array([(0, 0), (6, 0), (6, 2), (6, 5), (6, 7), (0, 7)]), np.array([0, 0, -1.0, 0, 0, 0])
    )
    agrees(hollow, distance)


def test_there_and_back_keeps_a_smooth_outline() -> None:
    ring = traced(ellipse(9.0, 6.0, 600))
    back = dilated(dilated(ring, 1.5), -1.5)
    assert area(back) == pytest.approx(area(ring), rel=1e-6)


def test_what_is_left_of_too_small_an_outline_is_refused() -> None:
    with pytest.raises(RuleError, match="nothing of the outline is left 3 mm inside"):
        dilated(circle(2.0), -3.0)
    with pytest.raises(RuleError, match="nothing of the outline is left"):
        dilated(polygon_contour([(0, 0), (4, 0), (4, 4), (0, 4)]), -2.5)


def test_an_outline_that_falls_apart_inwards_is_refused() -> None:
    waist = polygon_contour(
        [
            (0, 0),
            (6, 0),
            (6, 2),
            (9, 2),
            (9, 0),
            (15, 0),
            (15, 6),
            (9, 6),
            (9, 3),
            (6, 3),
            (6, 6),
            (0, 6),
        ]
    )
    with pytest.raises(RuleError, match="falls into 2 parts 1 mm inside"):
        dilated(waist, -1.0)

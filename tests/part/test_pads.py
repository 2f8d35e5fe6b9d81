"""Edges round bolts, measured against unions, differences and closings of discs by GEOS."""

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from openwork.errors import RuleError
from openwork.part.pads import SLIGHT, inner_edge, largest_blend, padded, tab_width
from openwork.shape.contour import Points, area, circle, is_circle, polygon, sampled
from tests.part.tools import kinks, lengths

FINE = 1e-5  # mm between arcs and chords


def bolts(count: int, circle_radius: float) -> Points:
    angles = np.arange(count) * 2 * np.pi / count
    return circle_radius * np.column_stack([np.cos(angles), np.sin(angles)])


def disc(radius: float, centre: ArrayLike = (0.0, 0.0)) -> shapely.Polygon:
    return polygon(circle(radius, centre), sagitta=FINE)


def discs(points: Points, radius: float) -> shapely.Geometry:
    return shapely.union_all([disc(radius, point) for point in points])


def closed(shape: shapely.Geometry, ball: float) -> shapely.Geometry:
    """Return *shape* with everything filled that a ball outside it cannot reach."""
    return shape.buffer(ball, quad_segs=400).buffer(-ball, quad_segs=400)


FIVE = bolts(5, 55.0)


@pytest.mark.parametrize("radius", [61.0, 58.0, 55.0, 50.0, 46.6, 43.0, 40.0])
@pytest.mark.parametrize("blend", [1.0, 5.0, 9.0])
def test_padded_is_the_closing_of_disc_and_pads_while_the_fillets_reach(
    radius: float, blend: float
) -> None:
    edges = padded(radius, FIVE, pad=8.5, blend=blend)
    union = disc(radius).union(discs(FIVE, 8.5))
    if len(edges) > 1:
        assert 55.0 - 8.5 - radius > blend
        assert len(edges) == 6
        solid = shapely.union_all([polygon(edge, sagitta=FINE) for edge in edges])
        assert solid.symmetric_difference(union).area < 0.02
    else:
        solid = polygon(edges[0], sagitta=FINE)
        assert solid.symmetric_difference(closed(union, blend)).area < 0.02
        assert solid.symmetric_difference(union).area > 0.1


@pytest.mark.parametrize("bore", [48.0, 50.0, 55.0, 58.0, 62.0])
@pytest.mark.parametrize("blend", [1.0, 5.0, 9.0])
def test_inner_edge_is_the_opening_of_the_bore_less_the_pads(bore: float, blend: float) -> None:
    hole = polygon(inner_edge(bore, FIVE, pad=8.5, blend=blend), sagitta=FINE)
    cut = disc(bore).difference(discs(FIVE, 8.5))
    opened = cut.buffer(-blend, quad_segs=400).buffer(blend, quad_segs=400)
    assert hole.symmetric_difference(opened).area < 0.02
    assert hole.symmetric_difference(cut).area > 0.1


def test_areas_without_fillets_agree_with_the_lens_of_two_circles() -> None:
    # Closed form: the lens common to circles of radii a, b at distance d.
    a, b, d = 50.0, 8.5, 55.0
    lens = (
        a * a * math.acos((d * d + a * a - b * b) / (2 * d * a))
        + b * b * math.acos((d * d + b * b - a * a) / (2 * d * b))
        - math.sqrt((-d + a + b) * (d + a - b) * (d - a + b) * (d + a + b)) / 2
    )
    (edge,) = padded(a, FIVE, pad=b, blend=0.0)
    assert area(edge) == pytest.approx(math.pi * (a * a + 5 * b * b) - 5 * lens, rel=1e-12)


def test_pads_inside_the_disc_leave_a_plain_circle() -> None:
    assert padded(64.0, FIVE, pad=8.5, blend=5.0) == (circle(64.0),)


def test_pads_outside_the_bore_leave_a_plain_circle() -> None:
    assert inner_edge(40.0, FIVE, pad=8.5, blend=5.0) == circle(40.0)


@pytest.mark.parametrize("radius", [30.0, 36.4, 36.6, 37.3])
def test_pads_the_fillets_cannot_reach_are_islands(radius: float) -> None:
    # From 36.5 mm on the balls touch both pad and disc, but those of either side still overlap.
    first, *islands = padded(radius, FIVE, pad=8.5, blend=5.0)
    assert first == circle(radius)
    assert islands == [circle(8.5, bolt) for bolt in FIVE]


def test_a_pad_just_off_the_disc_is_bridged() -> None:
    (edge,) = padded(44.0, FIVE, pad=8.5, blend=5.0)
    assert polygon(edge).area > math.pi * (44.0**2 + 5 * 8.5**2)


@pytest.mark.parametrize("stands_out", [0.0, 1e-12, 1e-6, 1e-3, 0.0299, 0.031, 0.1])
@pytest.mark.parametrize("blend", [1.0, 5.0])
def test_a_pad_that_hardly_stands_out_makes_no_short_piece(stands_out: float, blend: float) -> None:
    (outer,) = padded(63.5 - stands_out, FIVE, pad=8.5, blend=blend)
    inner = inner_edge(46.5 + stands_out, FIVE, pad=8.5, blend=blend)
    for edge in (outer, inner):
        assert is_circle(edge) == (stands_out < SLIGHT)
        assert lengths(edge).min() > 0.05
        assert kinks(edge).max() < 1e-6
    reach = np.hypot(*sampled(outer, FINE).T)
    assert reach.max() == pytest.approx(63.5, abs=2 * FINE)
    assert reach.min() >= 63.5 - stands_out - 1e-9
    assert np.hypot(*sampled(inner, FINE).T).min() == pytest.approx(46.5, abs=2 * FINE)


def test_pads_hanging_free_in_the_bore_are_refused() -> None:
    with pytest.raises(RuleError, match=r"hang free in a bore of radius 63\.5"):
        inner_edge(63.5, FIVE, pad=8.5, blend=5.0)


def test_fillets_that_meet_are_refused_with_the_largest_that_fits() -> None:
    # Half the chord of neighbouring bolts less the pad, and 0.1 mm each.
    most = 55.0 * math.sin(math.pi / 5) - 8.5 - 0.1
    assert largest_blend(FIVE, pad=8.5) == pytest.approx(most)
    (edge,) = padded(50.0, FIVE, pad=8.5, blend=most)
    assert polygon(edge).is_valid
    assert lengths(edge).min() > 0.05
    with pytest.raises(RuleError, match=r"room for fillets of 23\.7282 mm"):
        padded(50.0, FIVE, pad=8.5, blend=most + 0.01)


def test_uneven_bolts_are_measured_at_their_nearest_pair() -> None:
    angles = np.radians([0, 40, 180, 220])
    points = 55.0 * np.column_stack([np.cos(angles), np.sin(angles)])
    expected = 55.0 * math.sin(math.radians(20)) - 8.5 - 0.1
    assert largest_blend(points, pad=8.5) == pytest.approx(expected)
    assert largest_blend(points[[2, 0, 3, 1]], pad=8.5) == pytest.approx(expected)


@pytest.mark.parametrize(("bore", "blend"), [(62.5, 2.0), (63.2, 1.0), (63.0, 5.0)])
def test_tab_width_is_the_least_width_of_the_metal_beside_the_bolt(
    bore: float, blend: float
) -> None:
    edge = polygon(inner_edge(bore, FIVE, pad=8.5, blend=blend), sagitta=FINE)
    across = [
        bore_side.intersection(edge).length
        for x in np.linspace(55.0, bore, 800)
        if (bore_side := shapely.LineString([(x, -8.6), (x, 8.6)]))
    ]
    measured = 2 * 8.6 - max(across)
    assert tab_width(bore, FIVE, pad=8.5, blend=blend) == pytest.approx(measured, abs=0.002)
    assert measured < 17.0


def test_a_tab_is_as_wide_as_its_pad_where_nothing_narrows_it() -> None:
    assert tab_width(58.0, FIVE, pad=8.5, blend=5.0) == 17.0
    assert tab_width(40.0, FIVE, pad=8.5, blend=5.0) == 17.0


rings = st.fixed_dictionaries(
    {
        "circle_radius": st.floats(25, 80),
        "count": st.integers(3, 6),
        "pad": st.floats(5, 12),
        "blend": st.floats(1, 8),
        "away": st.floats(-25, 16),
    }
)


@settings(max_examples=150)
@given(ring=rings)
def test_the_solid_is_never_smaller_than_asked(ring: dict[str, Any]) -> None:
    points = bolts(ring["count"], ring["circle_radius"])
    radius, pad, blend = ring["circle_radius"] + ring["away"], ring["pad"], ring["blend"]
    assume(radius > 5)
    assume(blend < largest_blend(points, pad=pad))
    edges = padded(radius, points, pad=pad, blend=blend)
    solid = shapely.union_all([polygon(edge) for edge in edges])
    assert all(solid.contains(shapely.Point(*point)) for point in [(0.0, 0.0), *points])
    # No edge enters the disc or a pad, and all their centres are enclosed: so all of them are.
    around = np.concatenate([sampled(edge, 1e-3) for edge in edges])
    assert np.hypot(*around.T).min() > radius - 1e-9
    for point in points:
        assert np.hypot(*(around - point).T).min() > pad - 1e-9
    for edge in edges:
        assert polygon(edge).is_valid
        assert polygon(edge).exterior.is_ccw
        assert kinks(edge).max() < 0.01
        assert lengths(edge).min() > 0.05


@settings(max_examples=100)
@given(ring=rings, part=st.floats(0.05, 0.95))
def test_growing_circle_and_pads_gives_a_parallel_edge(ring: dict[str, Any], part: float) -> None:
    points = bolts(ring["count"], ring["circle_radius"])
    radius, pad, blend = ring["circle_radius"] + ring["away"], ring["pad"], ring["blend"]
    assume(radius > 5)
    assume(blend < largest_blend(points, pad=pad))
    grown = part * blend
    edges = padded(radius, points, pad=pad, blend=blend)
    parallel = padded(radius + grown, points, pad=pad + grown, blend=blend - grown)
    assume(len(edges) == len(parallel))
    solid = shapely.union_all([polygon(edge, sagitta=1e-5) for edge in edges])
    around = np.concatenate([sampled(edge, 0.01) for edge in parallel])
    away = shapely.distance(shapely.points(around), solid)
    # The tolerance is that of the chords of the solid.
    assert away == pytest.approx(np.full(len(away), grown), abs=1.1e-5)


@settings(max_examples=100)
@given(ring=rings)
def test_any_inner_edge_is_sound(ring: dict[str, Any]) -> None:
    points = bolts(ring["count"], ring["circle_radius"])
    bore, pad, blend = ring["circle_radius"] + ring["away"], ring["pad"], ring["blend"]
    assume(5 < bore < ring["circle_radius"] + pad)
    assume(blend < largest_blend(points, pad=pad))
    edge = inner_edge(bore, points, pad=pad, blend=blend)
    hole = polygon(edge, sagitta=1e-5)
    assert hole.is_valid
    assert hole.exterior.is_ccw
    assert kinks(edge).max() < 0.01
    assert lengths(edge).min() > 0.05
    assert np.hypot(*sampled(edge, 0.01).T).max() < bore + 1e-9
    for point in points:
        assert shapely.Point(*point).distance(hole) > pad - 1e-4

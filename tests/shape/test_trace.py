"""Curves with known equations traced: what is promised holds, by measures of shapely and numpy."""

import math

import numpy as np
import pytest
import shapely

from openwork.shape.contour import Contour, Points, area, is_circle, sampled
from openwork.shape.tracing.trace import LEAST, TOLERANCE, traced
from tests.shape._shapes import (
    alike,
    apart,
    ellipse,
    lengths,
    lobes,
    polyline,
    spiral_cell,
    turned,
    turns,
)

DEVIATION = 0.005  # mm, both ways
TANGENT = math.radians(1.0)
BOW = 5e-4  # mm of the chords of an arc
ONE = 1e-5  # mm from one line or circle within which two pieces are one


def rounded(corners: int, reach: float, radius: float) -> Points:
    """Return a regular polygon grown by *radius*, its arcs sampled by shapely, bows of 0.5 um."""
    angles = 2 * np.pi * np.arange(corners) / corners
    core = shapely.Polygon(reach * np.column_stack([np.cos(angles), np.sin(angles)]))
    quarter = math.ceil(math.pi / 4 / math.sqrt(2 * BOW / radius)) + 4
    rounded: Points = shapely.get_coordinates(core.buffer(radius, quad_segs=quarter).exterior)
    return rounded[:-1]


def wave(count: int) -> Points:
    """Return a band between two sine waves, closed by straight ends."""
    x = np.linspace(0, 20, count)
    y = 2.5 * np.sin(2 * np.pi * x / 20)
    return np.concatenate([polyline(x, y - 1.5), polyline(x, y + 1.5)[::-1]])


CURVES = {
    "ellipse": ellipse(9, 4, 400),
    "flat ellipse": ellipse(6, 1.5, 900),
    "almost round": ellipse(10.984577, 10.934328, 457),
    "large ellipse": ellipse(240, 180, 1500),
    "small ellipse": ellipse(0.8, 0.5, 300),
    "four lobes": lobes(7, 0.08, 4, 600),
    "seven lobes": lobes(12, 0.06, 7, 1400),
    "spiral cell": spiral_cell(52, 74, 0.6, 0.12, 160),
    "leaning spiral cell": spiral_cell(38, 60, 1.1, 0.2, 240),
    "slender spiral cell": spiral_cell(60, 62, 0.3, 0.4, 300),
    "wave": wave(400),
    "rounded triangle": rounded(3, 4, 1.5),
    "rounded hexagon": rounded(6, 3, 1.5),
    "rounded with a tiny radius": rounded(5, 6, 0.3),
    "rounded with a huge radius": rounded(5, 100, 400),
}
CORNERS = {"spiral cell": 4, "leaning spiral cell": 4, "slender spiral cell": 4, "wave": 4}


@pytest.fixture(scope="module", params=CURVES)
def curve(request: pytest.FixtureRequest) -> tuple[str, Points, Contour]:
    ring = CURVES[request.param]
    return request.param, ring, traced(ring)


def same(one: Contour, other: Contour, within: float) -> bool:
    return len(one) == len(other) and bool(
        np.allclose(one.points, other.points, atol=within)
        and np.allclose(one.bulges, other.bulges, atol=within)
    )


def test_it_deviates_little_both_ways(curve: tuple[str, Points, Contour]) -> None:
    _, ring, contour = curve
    assert apart(contour, ring) <= DEVIATION


def test_joints_are_tangents_but_for_the_corners(curve: tuple[str, Points, Contour]) -> None:
    name, _, contour = curve
    if not is_circle(contour):
        assert np.count_nonzero(np.abs(turns(contour)) > TANGENT) == CORNERS.get(name, 0)


def test_no_piece_is_short(curve: tuple[str, Points, Contour]) -> None:
    assert lengths(curve[2]).min() >= LEAST


def test_no_two_neighbours_are_one(curve: tuple[str, Points, Contour]) -> None:
    _, _, contour = curve
    if not is_circle(contour):
        assert alike(contour).min() > ONE


def test_the_area_is_kept(curve: tuple[str, Points, Contour]) -> None:
    _, ring, contour = curve
    plain = shapely.Polygon(ring)
    assert abs(area(contour) - plain.area) <= plain.length * DEVIATION


def test_the_start_and_the_way_round_do_not_matter(curve: tuple[str, Points, Contour]) -> None:
    _, ring, contour = curve
    for shift in np.random.default_rng(3).integers(1, len(ring), 4):
        assert same(traced(np.roll(ring, shift, axis=0)), contour, 0.0)
    assert same(traced(ring[::-1]), contour, 0.0)


@pytest.mark.parametrize("angle", [0.7, math.pi / 2, 4.0])
def test_a_turned_curve_gives_turned_pieces(
    angle: float, curve: tuple[str, Points, Contour]
) -> None:
    """The pieces may start elsewhere; a round without corners may be parted elsewhere, too."""
    _, ring, contour = curve
    moved = traced(turned(ring, angle))
    assert apart(moved, turned(sampled(contour, 1e-4), angle)) <= 2 * DEVIATION
    assert abs(len(moved) - len(contour)) <= 2


@pytest.mark.parametrize("scale", [0.5, 32.0])
def test_a_scaled_curve_gives_scaled_pieces(
    scale: float, curve: tuple[str, Points, Contour]
) -> None:
    """Scaled with tolerance and least length.

    What counts as one vertex or as on a circle is fixed in mm, so rounds may be parted elsewhere.
    """
    name, ring, contour = curve
    found = traced(scale * ring, tolerance=scale * TOLERANCE, least=scale * LEAST)
    assert apart(found, scale * sampled(contour, 1e-4)) <= 2 * scale * DEVIATION
    assert abs(len(found) - len(contour)) <= 2
    if name in CORNERS or name.startswith("rounded"):
        assert found.points / scale == pytest.approx(contour.points, abs=1e-9)


@pytest.mark.parametrize("radius", [0.2, 1.5, 60.0, 5000.0])
@pytest.mark.parametrize("corners", [3, 4, 5, 8])
def test_lines_and_arcs_come_back_as_they_were(corners: int, radius: float) -> None:
    """A polygon grown by a radius has as many arcs as corners, of that radius, and as many lines.

    The area is Steiner's: that of the core, its perimeter times the radius, and a circle.
    """
    reach = 3 * min(max(radius, 2.0), 60.0)
    contour = traced(rounded(corners, reach, radius))
    assert len(contour) == 2 * corners
    arcs = contour.bulges != 0
    assert np.count_nonzero(arcs) == corners
    assert contour.radii[arcs] == pytest.approx(radius, rel=1e-5)
    side = 2 * reach * math.sin(math.pi / corners)
    core = corners * reach**2 * math.sin(2 * math.pi / corners) / 2
    steiner = core + corners * side * radius + math.pi * radius**2
    assert area(contour) == pytest.approx(steiner, rel=1e-5)


@pytest.mark.parametrize("radius", [0.05, 2.0, 300.0])
def test_a_round_is_a_circle(radius: float) -> None:
    count = math.ceil(math.pi / math.sqrt(2 * BOW / radius)) + 16
    contour = traced(ellipse(radius, radius, count) + np.array([7.0, -3.0]))
    assert is_circle(contour)
    assert contour.radii == pytest.approx(radius, abs=BOW)
    assert contour.centres == pytest.approx(np.array([[7.0, -3.0]] * len(contour)), abs=1e-6)


def test_a_polygon_stays_itself() -> None:
    rng = np.random.default_rng(8)
    for _ in range(40):
        angles = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(5, 12)))
        hull = shapely.MultiPoint(9 * np.column_stack([np.cos(angles), np.sin(angles)])).convex_hull
        ring = shapely.get_coordinates(shapely.orient_polygons(hull).exterior)[:-1]
        if shapely.length(shapely.linestrings(np.stack([ring, np.roll(ring, -1, 0)], 1))).min() < 1:
            continue
        contour = traced(ring)
        assert not contour.bulges.any()
        assert {*map(tuple, contour.points.tolist())} == {*map(tuple, ring.tolist())}


def test_points_on_an_edge_and_doubles_are_left_out() -> None:
    square = np.array([[0, 0], [4, 0], [4, 0], [4, 3], [2, 3], [2, 3], [1, 3], [0, 3.0]])
    assert len(traced(square)) == 4


def test_a_line_in_two_pieces_is_one_again() -> None:
    """A spline of two arcs of one circle, with a vertex that is off it by 0.1 um between them."""
    angle = np.linspace(0, math.pi, 120)
    bow = 8 * np.column_stack([np.cos(angle), np.sin(angle)])
    bow[60] *= 1 + 1e-4 / 8
    contour = traced(np.concatenate([bow, [[-8, -6], [8, -6]]]))
    assert len(contour) == 4


@pytest.mark.parametrize("share", [0.5, 1.0, 2.0])
def test_few_arcs_follow_an_ellipse(share: float) -> None:
    """At most half as many again as the best possible.

    An arc of length L over a curve whose curvature changes by k' per mm stays, at best, within
    k' L^3 / 125 of it, so the fewest are the integral of (k' / (125 t))^(1/3) along the curve.
    """
    a, b, tolerance = 12.0, 6.0, share * TOLERANCE
    t = np.linspace(0, 2 * np.pi, 20001)
    speed = np.hypot(a * np.sin(t), b * np.cos(t))
    change = np.abs(np.gradient(a * b / speed**3, t)) / speed
    fewest = np.trapezoid((change / (125 * tolerance)) ** (1 / 3) * speed, t)
    assert fewest - 1 <= len(traced(ellipse(a, b, 2000), tolerance=tolerance)) <= 1.5 * fewest


@pytest.mark.parametrize("points", [[], [[0, 0]], [[0, 0], [1, 0]], [[0, 0], [1, 0], [0, 0]]])
def test_less_than_a_triangle_is_refused(points: list[list[float]]) -> None:
    with pytest.raises(ValueError, match="3 vertices that differ"):
        traced(np.array(points, dtype=float).reshape(-1, 2))

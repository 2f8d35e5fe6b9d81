"""Seed heads against Vogel's model and the arithmetic of phyllotaxis."""

import numpy as np
import pytest
from scipy.spatial import Delaunay

from openwork.fill.site import Site
from openwork.patterns._kit.voronoi import everywhere
from openwork.patterns.phyllotaxis import Phyllotaxis
from openwork.ring import design
from openwork.shape.contour import Floats, Points, as_complex
from openwork.testing import site_spec

GOLDEN = 360 * (1 - 2 / (1 + np.sqrt(5)))  # degrees; H. Vogel, Math. Biosciences 44, 1979: 137.508
SERIES = {
    "fibonacci": {1, 2, 3, 5, 8, 13, 21, 34},
    "lucas": {1, 3, 4, 7, 11, 18, 29},
    "third": {1, 4, 5, 9, 14, 23, 37},
}  # R. V. Jean, Phyllotaxis, 1994: opposed pairs of spirals <1, 2>, <1, 3>, <1, 4>


def site(name: str = "48 teeth, 4 on 104") -> Site:
    return design(site_spec(name, name="spokes")).site


def polar(points: Points) -> tuple[Floats, Floats]:
    z = as_complex(points)
    return np.abs(z), np.degrees(np.angle(z))


def test_seeds_turn_by_the_golden_angle_over_the_bolts() -> None:
    place = site()
    _, angle = polar(Phyllotaxis(cells=160).seeds(place))
    assert np.diff(angle) % 360 == pytest.approx(GOLDEN / place.fold, abs=1e-4)
    _, other = polar(Phyllotaxis(cells=160, hand="right").seeds(place))
    assert -np.diff(other) % 360 == pytest.approx(GOLDEN / place.fold, abs=1e-4)


def test_without_growth_the_square_of_the_radius_rises_evenly() -> None:
    """Vogel's r = c sqrt(k): every seed has the same area of ring."""
    place = site()
    radius, _ = polar(Phyllotaxis(cells=160, growth=0.0).seeds(place))
    steps = np.diff(radius**2)
    assert steps == pytest.approx((place.outer**2 - place.inner**2) / 40, rel=1e-9)


def test_with_growth_the_radius_rises_by_a_factor() -> None:
    place = site()
    radius, _ = polar(Phyllotaxis(cells=160, growth=1.0).seeds(place))
    assert radius[1:] / radius[:-1] == pytest.approx((place.outer / place.inner) ** (1 / 40))


@pytest.mark.parametrize("angle", SERIES)
@pytest.mark.parametrize("growth", [0.0, 1.0])
def test_neighbours_lie_a_number_of_the_series_apart(angle: str, growth: float) -> None:
    place = site()
    head = Phyllotaxis(cells=160, angle=angle, growth=growth).seeds(place)
    count = len(head)
    around = everywhere(head, place)
    radius = np.hypot(*around.T)
    inside = (radius > place.inner + 7) & (radius < place.outer - 7)
    found = set()
    for corners in Delaunay(around).simplices:
        for a, b in zip(corners, np.roll(corners, 1), strict=True):
            if inside[a] and inside[b]:
                found.add(abs(int(a % count) - int(b % count)))
    assert found
    assert found <= SERIES[angle] | {0}


def test_the_look_is_chiral() -> None:
    left = design(site_spec("48 teeth, 4 on 104", name="phyllotaxis"))
    right = design(site_spec("48 teeth, 4 on 104", name="phyllotaxis", hand="right"))
    assert len(left.openings) == len(right.openings)
    assert left.openings != right.openings

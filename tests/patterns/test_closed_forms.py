"""What is known of patterns in closed form, measured on finished openings."""

from typing import Any

import numpy as np
import pytest
import shapely
from scipy.integrate import quad

from openwork.ring import Design, design
from openwork.shape.contour import Contour, area, centroid, is_circle
from openwork.spec.spec import Spec
from openwork.testing import shapes

FINE = 0.3  # mm, the smallest cutter there is
NEAR = 5e-4  # mm; chords stand for the arcs that holes must keep clear of
MOUNT = {"bolts": 3, "circle": 86.0}


def ring(*, teeth: int = 60, web: dict[str, float] | None = None, **pattern: Any) -> Design:
    """Return a ring with three bolts and a wide web, its rib 2 mm and its cutter small."""
    limits = {"rib": 2.0, "corner": FINE, "bevel": 0.0, **(web or {})}
    table = {"ring": {"teeth": teeth}, "mount": MOUNT, "web": limits, "pattern": pattern}
    return design(Spec.model_validate(table))


def away_from_pads(made: Design) -> list[Contour]:
    """Return the openings of the ring that keep clear of every pad by a rib and more."""
    pads = shapely.points(made.site.bolt_points)
    near = shapely.distance(shapes(made.openings)[:, None], pads[None]).min(axis=1)
    return [one for one, d in zip(made.openings, near, strict=True) if d > made.site.pad + 3]


def fillet(angle: float, radius: float) -> float:
    """Return the area a round of *radius* leaves in a corner of *angle* between straight lines."""
    return float(radius**2 * (1 / np.tan(angle / 2) - (np.pi - angle) / 2))


@pytest.mark.parametrize("count", [12, 24, 48])
@pytest.mark.parametrize("rib", [1.5, 4.0])
def test_the_gap_between_two_radial_spokes(count: int, rib: float) -> None:
    """The sector of a ring less half a rib on either side, and less four rounds of the cutter.

    At radius r the gap spans 2 pi / n - 2 asin(t / 2r); its sides meet the rounds at right
    angles but for asin(t / 2r).
    """
    made = ring(name="spokes", count=count, web={"rib": rib})
    low, high, half = made.site.inner, made.site.outer, rib / 2
    exact = quad(lambda r: r * (2 * np.pi / count - 2 * np.arcsin(half / r)), low, high)[0]
    corners = [
        2 * fillet(np.pi / 2 + sign * np.arcsin(half / r), FINE)
        for r, sign in ((low, 1), (high, -1))
    ]
    found = [area(one) for one in away_from_pads(made)]
    assert len(found) >= count / 3
    # 0.001 mm of tracing on either side, of some 50 mm, may be lost.
    assert found == pytest.approx([exact - sum(corners)] * len(found), abs=0.15)


@pytest.mark.parametrize("sweep", [-60.0, -30.0, 15.0, 45.0, 60.0])
def test_a_swept_spoke_has_the_same_angle_at_any_radius(sweep: float) -> None:
    """A logarithmic spiral crosses every radius at one angle (J. Bernoulli, 1692)."""
    made = ring(name="spokes", count=15, sweep=sweep)
    opened = shapely.union_all(shapes(made.openings))
    shapely.prepare(opened)
    around = np.exp(1j * np.linspace(0, 2 * np.pi, 150_000, endpoint=False))
    radii = np.linspace(made.site.inner + 16, made.site.outer - 2, 12)
    middles = []
    for r in radii:
        metal = around[~shapely.contains_xy(opened, r * around.real, r * around.imag)]
        middles.append(np.angle((metal**15).sum()))
    slopes = np.diff(np.unwrap(middles)) / 15 / np.diff(np.log(radii))
    assert np.degrees(np.arctan(slopes)) == pytest.approx(np.full(11, sweep), abs=0.1)


@pytest.mark.parametrize("rib", [1.0, 2.0, 4.0])
def test_the_solid_share_of_a_honeycomb(rib: float) -> None:
    """rho = 1 - (1 - t / (sqrt 3 l))^2, exact (L. J. Gibson, M. F. Ashby, Cellular Solids, 1997).

    Six rounds of the cutter in corners of 120 degrees come on top.
    """
    made = ring(name="honeycomb", frame="flat", columns=30, web={"rib": rib})
    pitch = 2 * np.pi * np.sqrt(made.site.inner * made.site.outer) / 30
    side = pitch / np.sqrt(3)
    cell = 1.5 * np.sqrt(3) * side**2
    share = 1 - (1 - rib / (np.sqrt(3) * side)) ** 2 + 6 * fillet(2 * np.pi / 3, FINE) / cell
    areas = np.array([area(one) for one in made.openings])
    whole = areas[areas > 0.999 * areas.max()]
    assert len(whole) >= 12
    assert 1 - whole / cell == pytest.approx(np.full(len(whole), share), abs=3e-4)


@pytest.mark.parametrize("rib", [1.0, 2.0])
def test_the_solid_share_of_an_isogrid(rib: float) -> None:
    """rho = 2 sqrt 3 b / l - 3 (b / l)^2 for equilateral triangles (NASA CR-124075, 1973).

    A row of triangles that are equilateral in ln r, against flat ones of the same mean area: those
    that point inwards are some tenth larger than those that point outwards.
    """
    columns = 33
    made = ring(name="isogrid", teeth=42, columns=columns, rows=3, web={"rib": rib})
    # Hem and rim take half a rib each of the triangles that stand on them.
    levels = np.geomspace(made.site.inner - rib / 2, made.site.outer + rib / 2, 4)
    row = columns / 2 * np.sin(2 * np.pi / columns) * (levels[2] ** 2 - levels[1] ** 2)
    radii = np.array([np.hypot(*centroid(one)) for one in made.openings])
    cells = [
        area(one) for one, r in zip(made.openings, radii, strict=True) if levels[1] < r < levels[2]
    ]
    assert len(cells) == 2 * columns
    side = np.sqrt(row / len(cells) * 4 / np.sqrt(3))
    assert np.log(levels[2] / levels[1]) == pytest.approx(np.sqrt(3) * np.pi / columns, rel=0.03)
    rounds = len(cells) * 3 * fillet(np.pi / 3, FINE)
    share = 2 * np.sqrt(3) * rib / side - 3 * (rib / side) ** 2 + rounds / row
    assert 1 - sum(cells) / row == pytest.approx(share, rel=0.01)


@pytest.mark.parametrize("rows", [2, 3, 4])
def test_holes_in_staggered_rows_touch_their_neighbours(rows: int) -> None:
    """Grown by half a rib they are tangent, and their radii a share of their distance.

    So do the circles of a Doyle spiral packing (A. F. Beardon, T. Dubejko, K. Stephenson,
    Geometriae Dedicata 49, 1994) whose spirals close after one row: it is unchanged by the factor
    between two rows.
    """
    made = ring(name="circles", rows=rows, columns=12 * rows)
    rib = made.site.rib
    holes = away_from_pads(made)
    assert all(is_circle(one) for one in holes)
    middles = np.array([complex(*centroid(one)) for one in holes])
    radii = np.array([np.sqrt(area(one) / np.pi) for one in holes]) + rib / 2
    shares = radii / np.abs(middles)
    assert shares == pytest.approx(np.full(len(holes), shares.mean()), rel=1e-4)
    gaps = np.abs(middles[:, None] - middles) - radii[:, None] - radii
    np.fill_diagonal(gaps, np.inf)
    assert gaps.min() > -NEAR
    assert (gaps.min(axis=1) < NEAR).all()
    factors = np.unique(np.round(np.abs(middles), 6))
    assert len(factors) == rows
    assert factors[1:] / factors[:-1] == pytest.approx(
        np.full(rows - 1, factors[1] / factors[0]), rel=1e-6
    )

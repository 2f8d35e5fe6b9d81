"""Copies found among outlines are those that were made, and no others; shapely measures them."""

from typing import Any

import numpy as np
import pytest
import shapely

from openwork.fill import finish
from openwork.fill.classes import Copy, copies
from openwork.ring import design
from openwork.shape.contour import Points, as_points, polygon
from openwork.testing import SITES, site_spec

LEAF = np.array([[50, -2], [56, -3], [60, 0.5], [58, 3], [52, 1.5]])


def turned(ring: Points, angle: float) -> Any:
    c, s = np.cos(angle), np.sin(angle)
    return ring @ np.array([[c, s], [-s, c]])


def test_turned_and_mirrored_ones_are_copies_wherever_they_start() -> None:
    rng = np.random.default_rng(4)
    angles = rng.uniform(-3, 3, 8)
    rings = [LEAF]
    for angle, mirror in zip(angles, [False, True] * 4, strict=True):
        image = (LEAF * [1, -1])[::-1] if mirror else LEAF
        rings.append(np.roll(turned(image, angle), rng.integers(5), axis=0))
    found = copies(rings)
    assert found[0] == Copy(0)
    assert [one.mirror for one in found[1:]] == [False, True] * 4
    assert [one.angle for one in found[1:]] == pytest.approx(angles.tolist(), abs=1e-9)


@pytest.mark.parametrize("by", [1e-3, 0.5])
@pytest.mark.parametrize("corner", range(5))
def test_one_corner_that_differs_makes_another_outline(corner: int, by: float) -> None:
    other = LEAF.copy()
    other[corner, 0] += by
    assert [one.of for one in copies([LEAF, other, turned(LEAF, 0.1)])] == [0, 1, 0]


def test_an_outline_farther_out_is_no_copy() -> None:
    assert [one.of for one in copies([LEAF, np.add(LEAF, [1.0, 0.0])])] == [0, 1]


def test_where_vertices_lie_on_a_circle_does_not_count_but_the_circle_does() -> None:
    def cell(start: float, bow: float) -> Points:
        """A box whose outer side is an arc of radius 60, or bows less."""
        arc = start + np.linspace(0.001, 0.099, 9) * (1 + bow / 100)
        box = np.array([start + 0.1, start])
        outer = (60 - bow) * np.exp(1j * arc)
        z = np.concatenate([[59.9 * np.exp(1j * start)], outer, 59.9 * np.exp(1j * box[:1])])
        z = np.concatenate([z, 52 * np.exp(1j * box)])
        return as_points(z)

    circles = [(0.0, 0.0, 60.0)]
    assert [one.of for one in copies([cell(0, 0), cell(0.7, 0), cell(1.4, 0.2)], circles)] == [
        0, 0, 2,
    ]  # fmt: skip


def test_a_bite_elsewhere_makes_another_outline_and_mirrored_a_mirror_image() -> None:
    """The same box, its side bitten by a pad right of its middle, then left of it."""

    def bitten(start: float, aside: float) -> Any:
        shape = shapely.box(52, -10, 70, 10) - shapely.Point(51.9, aside).buffer(4, 64)
        x, y = turned(np.array([51.9, aside]), start)
        return turned(shapely.get_coordinates(shape.exterior)[:-1], start), (x, y, 4.0)

    made = [bitten(0.0, 3.0), bitten(1.0, -3.0), bitten(2.0, 3.0)]
    found = copies([ring for ring, _ in made], [pad for _, pad in made])
    assert [(one.of, one.mirror) for one in found] == [(0, False), (0, True), (0, False)]
    assert found[1].angle == pytest.approx(1.0, abs=1e-6)


def test_openings_keep_clear_of_pads_that_stand_to_their_left_and_their_right() -> None:
    ring = design(site_spec("44 teeth, 4 uneven on 110", name="honeycomb", columns=8))
    pads = shapely.points(ring.site.bolt_points)
    openings = np.array([polygon(one) for one in ring.openings])
    assert shapely.distance(openings[:, None], pads).min() > ring.site.pad - 1e-3


@pytest.mark.parametrize("name", ["honeycomb", "petals", "stars", "gyroid"])
@pytest.mark.parametrize("site", [next(iter(SITES)), list(SITES)[-1]])
def test_a_copy_is_what_would_have_been_drawn_in_its_place(
    name: str, site: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    spec = site_spec(site, name=name)
    copied = design(spec).openings
    monkeypatch.setattr(finish, "copies", lambda rings, circles: [*map(Copy, range(len(rings)))])
    alone = design(spec).openings
    assert len(copied) == len(alone)
    for one, other in zip(copied, alone, strict=True):
        gap = shapely.hausdorff_distance(polygon(one).exterior, polygon(other).exterior)
        assert gap < 3e-3  # both within 1 um of the same core, in other pieces; chords of 1 um

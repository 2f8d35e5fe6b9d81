"""Voronoi cells against what is known of centroidal diagrams."""

from typing import Any

import numpy as np
import pytest
import shapely

from openwork.fill.site import Site
from openwork.patterns._kit.voronoi import everywhere, grid, relaxed, voronoi_cells
from openwork.ring import design
from openwork.shape.contour import Points
from openwork.testing import SITES, site_spec

HEXAGON = 5 / (36 * np.sqrt(3))  # second moment over 2 area^2 of the regular hexagon: the least any
# tiling can have (J. H. Conway, N. J. A. Sloane, Sphere packings, lattices and groups, ch. 2)
WIDE = "48 teeth, 4 on 104"


def site(name: str = WIDE) -> Site:
    return design(site_spec(name, name="spokes")).site


def random_seeds(place: Site, count: int, seed: int = 3) -> Points:
    points = grid(place, 20 * count)[0]
    return points[np.random.default_rng(seed).choice(len(points), count, replace=False)]


def cells(seeds: Points, place: Site) -> list[Any]:
    drawn = [shapely.Polygon(ring) for ring in voronoi_cells(seeds, place).polygons]
    return [one.intersection(place.room()) for one in drawn]


def second_moment(shape: shapely.Polygon) -> float:
    """Return the second moment about the centroid over twice the area squared."""
    ring = np.array(shape.exterior.coords) - [shape.centroid.x, shape.centroid.y]
    a, b = ring[:-1], ring[1:]
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    moment = (cross * ((a**2).sum(1) + (a * b).sum(1) + (b**2).sum(1))).sum() / 12
    return float(abs(moment) / 2 / shape.area**2)


def off_centre(seeds: Points, place: Site) -> list[float]:
    return [
        np.hypot(one.centroid.x - x, one.centroid.y - y) / np.sqrt(one.area)
        for one, (x, y) in zip(cells(seeds, place), seeds, strict=True)
    ]


def test_relaxed_seeds_are_the_centroids_of_their_cells() -> None:
    """Du, Faber, Gunzburger, Centroidal Voronoi tessellations, SIAM Review 41, 1999."""
    place = site()
    seeds = random_seeds(place, 30)
    assert np.mean(off_centre(seeds, place)) > 0.15
    even = relaxed(seeds, place, 24)
    assert max(off_centre(even, place)) < 0.05


def test_relaxed_cells_come_near_the_best_there_are() -> None:
    place = site()
    seeds = random_seeds(place, 30)
    before = np.mean([second_moment(one) for one in cells(seeds, place)])
    after = np.mean([second_moment(one) for one in cells(relaxed(seeds, place, 24), place)])
    assert before > 1.2 * HEXAGON
    assert HEXAGON < after < 1.05 * HEXAGON


def test_growth_is_the_power_of_the_radius_that_sizes_follow() -> None:
    place = site()
    for growth in (0.0, 1.0):
        found = []
        for seed in range(3):
            even = relaxed(random_seeds(place, 40, seed), place, 40, growth=growth)
            found += [(np.hypot(*s), c.area) for s, c in zip(even, cells(even, place), strict=True)]
        radius, area = np.array(found).T
        inside = (radius > place.inner + 6) & (radius < place.outer - 8)
        slope = np.polyfit(np.log(radius[inside]), np.log(np.sqrt(area[inside])), 1)[0]
        assert slope == pytest.approx(growth, abs=0.4)


@pytest.mark.parametrize("name", SITES)
def test_cells_fill_the_web_between_the_pads(name: str) -> None:
    """Nothing is left between cells, also where two of them meet at a pad or a rim."""
    place = site(name)
    seeds = relaxed(random_seeds(place, 80 // place.fold), place, 24)
    drawn = [shapely.Polygon(r) for r in voronoi_cells(everywhere(seeds, place), place).polygons]
    whole = shapely.union_all(drawn)
    assert place.room().difference(whole).area < 0.02 * place.room().area
    assert sum(one.area for one in drawn) == pytest.approx(whole.area, rel=1e-9)


def test_one_bolt_circle_without_symmetry_keeps_its_seeds() -> None:
    spec = {
        "ring": {"teeth": 52},
        "mount": {"bolts": 4, "circle": 96.0, "angles": (0.0, 80.0, 170.0, 265.0)},
        "pattern": {"name": "voronoi", "cells": 40},
    }
    made = design(type(site_spec(WIDE)).model_validate(spec))
    assert made.site.fold == 1
    assert len(made.openings) == 40

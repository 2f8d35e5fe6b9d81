"""Rim, hem and pads, each measured and judged by its own limit."""

import dataclasses
import math

import numpy as np
import pytest
import shapely

import openwork
from openwork.measure.limits import limits_broken
from openwork.measure.margins import SLACK, Margins, margins, too_narrow
from openwork.ring import Design
from openwork.shape.contour import Contour, circle, polygon, rotated
from openwork.testing import SITES, made
from tests.measure.narrow import FOUND, NARROW, narrow, says

FINE = 1e-4  # mm between arcs and chords


def of(ring: Design) -> Margins:
    return margins(ring.blank.outline, ring.blank.edge, ring.blank.bolts, ring.openings)


@pytest.mark.parametrize("margin", NARROW)
def test_a_margin_too_narrow_breaks_its_own_limit_and_no_other(margin: str) -> None:
    ring = narrow(margin)
    figures = openwork.figures(ring)
    assert getattr(figures, f"{margin}_least") == pytest.approx(FOUND[margin][0], abs=3e-4)
    (fault,) = limits_broken(ring, figures)
    assert fault.startswith(says(margin))


@pytest.mark.parametrize("margin", NARROW)
def test_the_least_of_three_limits_would_let_it_pass(margin: str) -> None:
    """Each planted ring keeps the least of rim, hem, and metal round a bolt hole."""
    ring, web = narrow(margin), narrow(margin).spec.web
    hole = ring.spec.mount.hole / 2
    found = of(ring)
    least = min(web.rim, web.hem, ring.spec.mount.pad - hole)
    assert min(found.rim, found.hem, found.pad - hole) >= least


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("family", ["honeycomb", "circles", "spokes"])
def test_they_are_what_polygons_show(site: str, family: str) -> None:
    """By chords and shapely: the least circle in the teeth, distances of filled outlines."""
    ring = made(site, family)
    openings = shapely.union_all([polygon(one, sagitta=FINE) for one in ring.openings])
    teeth = polygon(ring.blank.outline, sagitta=FINE).exterior
    axis = shapely.Point(0, 0)
    found = of(ring)
    far = np.hypot(*shapely.get_coordinates(openings).T).max()
    assert found.rim == pytest.approx(teeth.distance(axis) - far, abs=3e-4)
    hem = polygon(ring.blank.edge, sagitta=FINE).distance(openings)
    assert found.hem == pytest.approx(hem, abs=3e-4)
    bolts = shapely.points(ring.spec.mount.bolt_points)
    assert found.pad == pytest.approx(shapely.distance(openings, bolts).min(), abs=3e-4)
    assert not [*too_narrow(found, ring.spec.web, ring.spec.mount)]


def test_a_bolt_hole_inside_an_opening_has_no_pad() -> None:
    found = margins(circle(50), circle(20), [circle(4, (35, 0))], [circle(9, (34, 0))])
    assert (found.pad, found.rim) == (0.0, 7.0)
    assert found.hem == pytest.approx(5.0, abs=2e-4)


@pytest.mark.parametrize("opening", [circle(5, (21, 0)), circle(3, (2, 1)), circle(25)])
def test_an_opening_on_in_or_round_the_inner_edge_leaves_no_hem(opening: Contour) -> None:
    assert margins(circle(50), circle(20), [], [opening]).hem == 0.0


def test_an_opening_through_the_roots_has_less_than_no_rim() -> None:
    assert margins(circle(50), circle(20), [], [circle(5, (46, 0))]).rim == pytest.approx(-1.0)


def test_nothing_to_measure_breaks_nothing_and_what_is_no_number_breaks_its_limit() -> None:
    ring = narrow("rim")
    none = margins(ring.blank.outline, ring.blank.edge, ring.blank.bolts, [])
    assert none == Margins(rim=math.inf, hem=math.inf, pad=math.inf)
    web, mount = ring.spec.web, ring.spec.mount
    assert not [*too_narrow(none, web, mount)]
    nan = dataclasses.replace(none, hem=math.nan)
    assert [fault.partition(":")[0] for fault in too_narrow(nan, web, mount)] == ["web.hem"]


@pytest.mark.parametrize("short", [0.5 * SLACK, 2 * SLACK])
def test_a_margin_may_be_short_by_what_measuring_spends(short: float) -> None:
    ring = narrow("rim")
    kept = Margins(rim=6.0 - short, hem=1.0, pad=9.0)
    assert bool([*too_narrow(kept, ring.spec.web, ring.spec.mount)]) == (short > SLACK)


@pytest.mark.parametrize("angle", np.linspace(0.0, 1.5, 4).tolist())
def test_turning_a_ring_changes_none(angle: float) -> None:
    ring = made("42 teeth, 5 on 110", "honeycomb")
    blank = ring.blank
    outline, edge, *holes = (
        rotated(one, angle) for one in (blank.outline, blank.edge, *blank.bolts, *ring.sector)
    )
    count = len(blank.bolts)
    turned = margins(outline, edge, holes[:count], holes[count:])
    before = margins(blank.outline, blank.edge, blank.bolts, ring.sector)
    after = dataclasses.astuple(turned)
    assert after == pytest.approx(dataclasses.astuple(before), abs=2e-4)

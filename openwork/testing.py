"""The contract every pattern keeps, as a test class to inherit.

In your own test file::

    from openwork.testing import PatternContract

    class TestMine(PatternContract):
        pattern = "mine"

Everything is measured on the finished outlines, sampled finely, by other code than made them.
"""

from __future__ import annotations

import dataclasses
from functools import lru_cache
from types import MappingProxyType
from typing import Any, ClassVar

import numpy as np
import pytest
import shapely

from openwork.fill.finish import finished, repeated
from openwork.fill.site import Site
from openwork.measure.defects import defects
from openwork.ring import Design, design
from openwork.shape.contour import Contour, area, circle, polygon, rotated
from openwork.spec.spec import Spec

SAMPLING = 1e-4  # mm between an arc and the chords that stand for it in the measurements
PAIRS = 64  # polygons whose distance is measured at once
LENGTH = 1e-3  # mm a limit may be missed by

SITES = MappingProxyType(
    {
        "42 teeth, 5 on 110": {"ring": {"teeth": 42}, "mount": {"circle": 110.0}},
        "32 teeth, 4 on 104": {
            "ring": {"teeth": 32},
            "mount": {"bolts": 4, "circle": 104.0, "bore": 84.0},
        },
        "48 teeth, 4 on 104": {"ring": {"teeth": 48}, "mount": {"bolts": 4, "circle": 104.0}},
        "50 teeth, 5 on 130": {
            "ring": {"teeth": 50, "chain": "081"},
            "mount": {"circle": 130.0},
        },
        "24 teeth, 4 on 64": {
            "ring": {"teeth": 24},
            "mount": {"bolts": 4, "circle": 64.0, "bore": 50.0, "pad": 8.0},
            "web": {"rim": 2.5, "hem": 2.5},
        },
        "40 teeth, 3 on 86": {"ring": {"teeth": 40}, "mount": {"bolts": 3, "circle": 86.0}},
        "44 teeth, 4 uneven on 110": {
            "ring": {"teeth": 44},
            "mount": {"bolts": 4, "circle": 110.0, "angles": (0.0, 82.0, 180.0, 262.0)},
        },
    }
)


def site_spec(site: str, **pattern: Any) -> Spec:
    """Return the spec of one of ``SITES`` with the given pattern table."""
    return Spec.model_validate({**SITES[site], "pattern": pattern})


@lru_cache(maxsize=256)
def made(site: str, pattern: str, seed: int = 1) -> Design:
    """Return the design of *pattern* with its own defaults on one of ``SITES``."""
    return design(site_spec(site, name=pattern, seed=seed))


def shapes(contours: tuple[Contour, ...]) -> Any:
    """Return *contours* as an array of finely sampled polygons."""
    return np.array([polygon(one, sagitta=SAMPLING) for one in contours], dtype=object)


def least_distance(some: Any, others: Any) -> float:
    """Return the least distance over all pairs of different polygons.

    Pair by pair, those whose boxes are nearest first, until boxes are farther apart than that.
    """
    left, right = (shapely.bounds(one) for one in (some[:, None], others[None, :]))
    clear = np.maximum(left[..., :2] - right[..., 2:], right[..., :2] - left[..., 2:])
    apart = np.hypot(*np.moveaxis(clear.clip(min=0), -1, 0))
    apart[np.array([[one is other for other in others] for one in some])] = np.inf
    order = np.argsort(apart, axis=None)
    least = np.inf
    for pairs in np.array_split(order, max(1, len(order) // PAIRS)):
        if apart.flat[pairs[0]] >= least:
            break
        one, other = np.unravel_index(pairs[apart.flat[pairs] < least], apart.shape)
        least = min(least, shapely.distance(some[one], others[other]).min())
    return float(least)


@pytest.mark.parametrize("site", SITES)
class PatternContract:
    """What holds for ``pattern`` on every site."""

    pattern: ClassVar[str]

    def test_cuts_something(self, site: str) -> None:
        """A pattern that cuts nothing breaks no other rule."""
        made_ = made(site, self.pattern)
        assert sum(area(one) for one in made_.openings) > 0.01 * np.pi * made_.site.outer**2

    def test_openings_are_simple(self, site: str) -> None:
        """No outline crosses itself, runs backwards or has a piece shorter than 0.05 mm."""
        made_ = made(site, self.pattern)
        assert shapely.is_valid(shapes(made_.openings)).all()
        for one in made_.sector:
            assert area(one) > 0
            short = np.hypot(*one.chords.T).min()
            assert short >= 0.05 - 1e-9, f"a piece of {short:.4f} mm"

    def test_ribs_are_kept(self, site: str) -> None:
        """The metal between any two openings is at least the rib."""
        made_ = made(site, self.pattern)
        everything = shapes(made_.openings)
        sector = everything[: len(made_.sector)]
        assert least_distance(sector, everything) >= made_.site.rib - LENGTH

    def test_margins_are_kept(self, site: str) -> None:
        """Rim, hem and pads stay solid."""
        made_ = made(site, self.pattern)
        place = made_.site
        sector = shapes(made_.sector)
        radius = np.hypot(*shapely.get_coordinates(list(sector)).T)
        assert radius.max() <= place.outer + LENGTH
        assert radius.min() >= place.inner - LENGTH
        pads = [polygon(circle(place.pad, centre)) for centre in place.bolt_points]
        overlap = shapely.area(shapely.intersection(sector[:, None], np.array(pads)[None, :]))
        assert overlap.max() < 1e-2
        inset = [polygon(circle(place.pad - 2 * LENGTH, centre)) for centre in place.bolt_points]
        assert not shapely.intersects(sector[:, None], np.array(inset)[None, :]).any()

    def test_metal_stays_in_one_piece(self, site: str) -> None:
        """Taking the openings out of the blank leaves one polygon."""
        made_ = made(site, self.pattern)
        ring = made_.blank
        blank = polygon(ring.outline, [ring.edge, *ring.bolts])
        metal = blank.difference(shapely.union_all(shapes(made_.openings)))
        assert metal.geom_type == "Polygon"
        assert len(metal.interiors) == 1 + len(ring.bolts) + len(made_.openings)

    def test_the_cutter_reaches_every_corner(self, site: str) -> None:
        """Opening by the cutter's radius takes nothing away."""
        made_ = made(site, self.pattern)
        sector = shapes(made_.sector)
        radius = made_.site.corner * 0.999
        reached = shapely.buffer(
            shapely.buffer(sector, -radius, quad_segs=64), radius, quad_segs=64
        )
        assert (shapely.area(reached) > 0.999 * shapely.area(sector)).all()

    def test_the_defaults_look_finished(self, site: str) -> None:
        """No leftover, no sliver, no corner, and no cell too narrow to cut."""
        made_ = made(site, self.pattern)
        found = defects(made_.openings, made_.site)
        assert not any(found.values()), found
        assert not made_.dropped

    def test_a_turn_changes_nothing(self, site: str) -> None:
        """Turned by one symmetry sector, the openings fall on themselves."""
        made_ = made(site, self.pattern)
        here = shapely.union_all(shapes(made_.openings))
        turned = tuple(rotated(one, made_.site.sector) for one in made_.openings)
        there = shapely.union_all(shapes(turned))
        assert here.symmetric_difference(there).area < 1e-6 * max(1, len(turned))

    def test_the_seed_decides(self, site: str) -> None:
        """The same seed gives the same design."""
        made_ = made(site, self.pattern)
        assert design(made_.spec).openings == made_.openings

    def test_twice_the_size_is_four_times_the_area(self, site: str) -> None:
        """With every length doubled the openings are doubled."""
        made_ = made(site, self.pattern)
        place = made_.site
        lengths = ("inner", "outer", "bore", "root", "circle", "pad", "blend", "rib", "corner")
        double: Site = dataclasses.replace(
            place, **{name: 2 * getattr(place, name) for name in lengths}
        )
        rng = np.random.default_rng(made_.spec.pattern.seed)
        openings = repeated(finished(made_.pattern(double, rng), double).openings, double)
        assert len(openings) == len(made_.openings)
        once = sum(area(one) for one in made_.openings)
        assert sum(area(one) for one in openings) == pytest.approx(4 * once, rel=2e-3)

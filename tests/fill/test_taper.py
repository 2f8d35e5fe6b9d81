"""Ribs that thicken towards bolts and rim, judged by gauge and areas."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from openwork.errors import SpecError
from openwork.explore.mass.tune import tuned
from openwork.explore.strength_of import model_of
from openwork.fill.fillings import Cells
from openwork.fill.finish import finished
from openwork.measure.figures import figures
from openwork.measure.limits import limits_broken
from openwork.ring import Design, design
from openwork.shape.contour import area, mirrored, polygon, rotated
from openwork.spec.spec import changed
from openwork.strength.loading import mean_stiffness
from openwork.testing import site_spec
from tests.fill.test_finish import PLAIN, square

SITES = ("48 teeth, 4 on 104", "42 teeth, 5 on 110")
LOOKS = ("honeycomb", "michell", "truss", "gyroid", "petals", "phyllotaxis", "circles", "stars")


def ring(name: str, taper: float, site: str = SITES[0], rib: float = 2.0) -> Design:
    spec = site_spec(site, name=name)
    return design(changed(spec, {"web.taper": taper, "web.rib": rib}))


def metal(one: Design) -> float:
    return -sum(area(opening) for opening in one.openings)


@pytest.mark.parametrize("name", LOOKS)
def test_metal_grows_with_the_taper_and_no_limit_is_broken(name: str) -> None:
    rings = [ring(name, taper) for taper in (0.0, 0.3, 0.6, 1.0)]
    masses = [metal(one) for one in rings]
    assert masses == sorted(masses)
    assert masses[-1] - masses[0] > 50  # mm2: it does something
    for one in rings:
        assert not limits_broken(one, figures(one))


def test_a_cell_at_a_bolt_loses_more_than_one_half_way_between_bolts() -> None:
    site = replace(PLAIN, taper=1.0)
    turn = np.exp(1j * np.pi / 4)
    cell = square((62, 0), 12)
    there = cell @ np.array([1, 1j]) * turn
    between = np.column_stack([there.real, there.imag])
    opened = [area(one) for one in finished(Cells([cell, between]), site).openings]
    plain = [area(one) for one in finished(Cells([cell, between]), PLAIN).openings]
    assert plain[0] == pytest.approx(plain[1], abs=1e-6)
    assert opened[0] < opened[1] - 2 < plain[1]


@pytest.mark.parametrize("name", ["honeycomb", "michell", "truss", "stars"])
def test_a_mirrored_look_stays_mirrored_and_every_sector_is_the_first_turned(name: str) -> None:
    one = ring(name, 1.0)
    site = one.site
    whole = shapely.union_all([polygon(opening) for opening in one.openings])
    image = shapely.union_all([polygon(mirrored(opening)) for opening in one.openings])
    turned = shapely.union_all([polygon(rotated(o, site.sector)) for o in one.openings])
    assert whole.symmetric_difference(image).area < 0.02
    assert whole.symmetric_difference(turned).area < 0.02


@settings(max_examples=8, deadline=None)
@given(
    name=st.sampled_from(LOOKS),
    site=st.sampled_from(SITES),
    rib=st.floats(1.0, 4.0),
    taper=st.floats(0.05, 1.0),
)
def test_no_rib_is_ever_thinner_than_it_may_be(
    name: str, site: str, rib: float, taper: float
) -> None:
    one = ring(name, taper, site, round(rib, 2))
    assert not limits_broken(one, figures(one))
    assert figures(one).rib["least"] >= round(rib, 2)


def test_figures_do_not_depend_on_how_the_mount_is_turned() -> None:
    spec = changed(site_spec(SITES[0], name="michell"), {"web.taper": 0.8})
    here, turned = (figures(design(changed(spec, {"mount.turn": by}))) for by in (0.0, 17.0))
    assert here.mass == pytest.approx(turned.mass, abs=1e-3)
    assert here.rib["least"] == pytest.approx(turned.rib["least"], abs=1e-3)


@pytest.mark.parametrize("wrong", [-0.1, 1.2, "much"])
def test_a_taper_out_of_range_is_refused(wrong: object) -> None:
    with pytest.raises(SpecError, match="taper"):
        changed(site_spec(SITES[0], name="michell"), {"web.taper": wrong})


@pytest.mark.parametrize("name", ["michell", "honeycomb"])
def test_ribs_widened_by_force_keep_their_limits_and_grow_with_the_taper(name: str) -> None:
    by_force = {"web.taper_by": "force"}
    base = site_spec(SITES[0], name=name)
    rings = [design(changed(base, {"web.taper": t, **by_force})) for t in (0.0, 0.5, 1.0)]
    masses = [metal(one) for one in rings]
    assert masses == sorted(masses)
    assert masses[-1] - masses[0] > 50
    for one in rings:
        assert not limits_broken(one, figures(one))
    whole = shapely.union_all([polygon(opening) for opening in rings[-1].openings])
    image = shapely.union_all([polygon(mirrored(opening)) for opening in rings[-1].openings])
    assert whole.symmetric_difference(image).area < 0.02


def test_ribs_widened_by_force_are_stiffer_than_even_ones_of_the_same_mass() -> None:
    spec = changed(site_spec(SITES[0], name="honeycomb"), {"goal.least_rib": 0.8})
    tapered = tuned(changed(spec, {"web.taper": 1.0, "web.taper_by": "force"}), 100.0).design
    even = tuned(spec, 100.0).design
    stiff = [
        mean_stiffness(model_of(one), spec.load, spec.spider, quality="search")[0]
        for one in (even, tapered)
    ]
    assert figures(tapered).mass == pytest.approx(figures(even).mass, abs=0.1)
    assert stiff[1] > stiff[0]

"""Packed holes against the geometry of circles that touch."""

from itertools import combinations
from typing import Any

import numpy as np
import pytest

from openwork.explore.mass.tune import tune
from openwork.measure.figures import mass
from openwork.patterns._kit.hole_gaps import Mirrors, walls
from openwork.ring import Design, design
from openwork.shape.contour import Floats, is_circle
from openwork.testing import SITES, site_spec

TOUCH = 1e-6  # mm


def holes(made: Design) -> tuple[Any, Floats]:
    """Return centres (complex) and radii of every hole."""
    assert all(is_circle(one) for one in made.openings)
    centres = np.array([complex(*one.points.mean(axis=0)) for one in made.openings])
    return centres, np.array([one.radii[0] for one in made.openings])


def gaps(made: Design) -> Floats:
    """Return the metal (n, n + m) between each hole and all holes and walls."""
    centres, radii = holes(made)
    between = np.abs(centres[:, None] - centres) - radii[:, None] - radii - made.site.rib
    between[np.diag_indices(len(radii))] = np.inf
    to_walls = walls(made.site).gaps(centres) - radii[:, None]
    return np.column_stack([between, to_walls])


def test_holes_touch_all_round_and_nowhere_overlap() -> None:
    """Two touching neighbours fix a hole of the largest size, three a smaller one.

    A few find none exactly: Newton's method gave up, or a mirror line held them.
    """
    small, large = [], []
    for name in SITES:
        for largest in (0.4, 0.6, 0.8):
            made = design(site_spec(name, name="packing", largest=largest))
            apart = gaps(made)
            assert apart.min() > -TOUCH
            _, radii = holes(made)
            most = largest * (made.site.outer - made.site.inner) / 2
            assert radii.max() <= most * (1 + 1e-9)
            contacts = (apart < TOUCH).sum(axis=1)
            small += contacts[radii < most * (1 - 1e-9)].tolist()
            large += contacts[radii >= most * (1 - 1e-9)].tolist()
    assert min(small + large) >= 1
    assert np.mean(np.array(small) >= 3) > 0.95
    assert np.mean(np.array(large) >= 2) > 0.99


def test_a_hole_between_three_that_touch_obeys_descartes() -> None:
    """F. Soddy, The kiss precise, Nature 137, 1936: of holes grown by half a rib.

    The rim, grown too, is a circle that holds the others: its bend is negative.
    """
    met = 0
    for largest in (0.6, 0.8, 1.0):
        spec = site_spec("48 teeth, 4 on 104", name="packing", largest=largest, smallest=0.05)
        fine = {**spec.model_dump(), "web": {"rib": 1.0, "corner": 0.3}}
        made = design(type(spec).model_validate(fine))
        _, radii = holes(made)
        count, half = len(radii), made.site.rib / 2
        touching = np.zeros((count + 2, count + 2), dtype=bool)
        touching[:count] = gaps(made)[:, : count + 2] < TOUCH
        touching |= touching.T
        rims = [-1 / (made.site.outer + half), 1 / (made.site.inner - half)]
        bend = np.append(1 / (radii + half), rims)
        for one in range(count):
            for three in combinations(np.flatnonzero(touching[one]), 3):
                mutual = all(touching[a, b] for a, b in combinations(three, 2))
                if mutual and bend[one] > bend[list(three)].max():
                    a, b, c = bend[list(three)]
                    inner = a + b + c + 2 * np.sqrt(a * b + b * c + c * a)
                    assert bend[one] == pytest.approx(inner, rel=1e-5)
                    met += 1
    assert met > 10


@pytest.mark.parametrize("name", SITES)
def test_the_holes_are_mirrored_where_the_bolts_are(name: str) -> None:
    made = design(site_spec(name, name="packing"))
    centres, radii = holes(made)
    for line in Mirrors.of(made.site).angles:
        image = np.exp(2j * line) * centres.conj()
        apart = np.abs(image[:, None] - centres)
        assert apart.min(axis=1).max() < 1e-6
        assert radii[apart.argmin(axis=1)] == pytest.approx(radii, abs=1e-6)


def test_mirror_lines_run_through_bolts_or_midway_between() -> None:
    names = {
        "42 teeth, 5 on 110": (0, 36),
        "48 teeth, 4 on 104": (0, 45),
        "44 teeth, 4 uneven on 110": (41, 131),
    }
    for name, lines in names.items():
        place = design(site_spec(name, name="spokes")).site
        assert np.degrees(Mirrors.of(place).angles) == pytest.approx(lines)


def test_bolts_without_a_mirror_line_are_packed_all_the_same() -> None:
    spec = {
        "ring": {"teeth": 52},
        "mount": {"bolts": 4, "circle": 96.0, "angles": (0.0, 80.0, 170.0, 265.0)},
        "pattern": {"name": "packing"},
    }
    made = design(type(site_spec("42 teeth, 5 on 110")).model_validate(spec))
    assert Mirrors.of(made.site).angles == ()
    assert gaps(made).min() > -TOUCH
    assert len(made.openings) > 20


@pytest.mark.parametrize("site", ["42 teeth, 5 on 110", "44 teeth, 4 uneven on 110"])
def test_a_gap_leaves_the_packing_and_shrinks_its_holes(site: str) -> None:
    """By half the gap each, none below what the cutter makes; the centres stay."""
    close, open_ = (design(site_spec(site, name="packing", gap=gap)) for gap in (0.0, 1.0))
    (centres, radii), (same, smaller) = holes(close), holes(open_)
    assert abs(centres - same).max() < 1e-9
    shrunk = smaller < radii - 1e-9
    assert smaller[shrunk] == pytest.approx(np.maximum(radii - 0.5, smaller.min())[shrunk])
    assert smaller.min() <= radii.min()
    assert shrunk.sum() >= 0.8 * len(radii)


def test_a_packing_is_brought_on_a_mass_by_its_gaps_and_then_by_larger_holes() -> None:
    spec = site_spec("42 teeth, 5 on 110", name="packing")
    own = mass(design(spec))
    heavy, light = (tune(spec, own + more) for more in (12.0, -6.0))
    assert [one.key for one in heavy.changes] == ["pattern.gap"]
    assert "pattern.largest" in {one.key for one in light.changes}
    for found, wanted in ((heavy, own + 12), (light, own - 6)):
        assert mass(design(found.spec)) == pytest.approx(wanted, abs=0.05)
        assert found.spec.web.rib == spec.web.rib

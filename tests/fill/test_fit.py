"""Parameters chosen together: the cheapest of all candidates, judged as GEOS judges them."""

import dataclasses
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
import shapely

from openwork.fill.draft import PHASES, Draft
from openwork.fill.finish import FRAGMENT
from openwork.fill.fit import CRAMPED, LOST, MOST, PAD_COST, Fit
from openwork.fill.lattice import COMFORT, Lattice, repeated
from openwork.fill.parameters import completed
from openwork.fill.registry import pattern, pattern_named
from openwork.fill.site import Site
from openwork.patterns.kagome import Kagome
from openwork.ring import design
from openwork.testing import SITES, site_spec

UNEVEN = "44 teeth, 4 uneven on 110"
FIT = Fit(size=14.0, share=0.5, ratio=3**0.5 / 4)


def place(name: str) -> Site:
    return design(site_spec(name, name="spokes")).site


def spoilt(lattice: Lattice, site: Site) -> float:
    """Return what the pads spoil, by GEOS, on all tiles of one sector and finely drawn pads."""
    rings = repeated(lattice.tiles(site), lattice, site).polygons
    tiles = shapely.polygons([shapely.linearrings(ring) for ring in rings])
    reach = site.pad + site.corner
    pads = shapely.union_all(shapely.buffer(shapely.points(site.bolt_points), reach, quad_segs=90))
    near = tiles[shapely.intersects(tiles, pads)]
    cores = shapely.buffer(near, -site.rib / 2 - site.corner, join_style="mitre")
    left = shapely.difference(cores, pads)
    share = shapely.area(left) / np.maximum(shapely.area(cores), 1e-9)
    easy = ~shapely.is_empty(shapely.buffer(left, (1 - COMFORT) * site.corner))
    bad = np.where(easy & (share > FRAGMENT), 1 - share, np.minimum(1, 10 * share))
    return float(bad.sum() / len(site.bolts) * site.fold)


@pytest.mark.parametrize("site", [*SITES])
@pytest.mark.parametrize("name", ["bricks", "kagome", "zigzag", "guilloche"])
def test_pads_spoil_of_a_draft_what_geos_says(name: str, site: str) -> None:
    here = place(site)
    one: Any = completed(name, {}, here)
    for phase in PHASES:
        lattice = dataclasses.replace(one, phase=phase)
        assert Draft(one, here).spoilt[phase] == pytest.approx(spoilt(lattice, here), abs=0.15)


@pytest.mark.parametrize("site", ["42 teeth, 5 on 110", "32 teeth, 4 on 104", UNEVEN])
def test_nothing_looked_at_would_have_been_cheaper(site: str) -> None:
    here = place(site)
    found = FIT.best(Kagome, here, {})

    def cost(price: float, one: Kagome, phase: str) -> float:
        draft = Draft(one, here)
        narrow = CRAMPED * draft.cramped + LOST * draft.lost
        return price + narrow + PAD_COST * draft.spoilt[phase]

    candidates = sorted(FIT._candidates(Kagome, here, {}), key=lambda pair: pair[0])[:MOST]
    costs = {
        (one.columns, one.rows, phase): cost(price, one, phase)
        for price, one in candidates
        for phase in PHASES
    }
    assert costs[found.columns, found.rows, found.phase] == pytest.approx(min(costs.values()))
    assert len(costs) > 10


def test_what_is_given_stays() -> None:
    found: Any = completed("kagome", {"columns": 30, "phase": "node"}, place("42 teeth, 5 on 110"))
    assert (found.columns, found.phase) == (30, "node")


def test_a_copied_lattice_is_fitted_as_itself() -> None:
    @dataclass(frozen=True, kw_only=True)
    class Basket(Kagome):
        """Kagome by another name."""

    found = Basket.suited(place("42 teeth, 5 on 110"), {})
    assert type(found) is Basket


def test_suited_parameters_want_somebody_to_choose() -> None:
    plain: Any = type("Plain", (), dict(vars(pattern_named("spokes"))))
    plain.__module__ = "tests.plain"
    del plain.suited
    with pytest.raises(RuntimeError, match="no method suited"):
        pattern(plain)

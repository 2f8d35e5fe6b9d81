"""Looks beside themselves with pockets, on one mass."""

import pytest

import openwork
from openwork.explore.variants.figure_rows import numbers
from openwork.explore.variants.relief import paired
from openwork.explore.variants.variants import Made, Variant
from openwork.spec.spec import from_toml
from tests._sure import one_of

SPEC = """
[ring]
teeth = 42
[mount]
circle = 110.0
bore = 116.0
[goal]
mass = 75.0
"""


def test_every_look_stands_beside_itself_with_the_pockets_of_the_spec() -> None:
    looks = [Variant(pattern="spokes"), Variant(pattern="arcs", changes=(("web.rib", 3.0),))]
    for spec, which in ((SPEC, "all"), (SPEC + '[pocket]\nwhich = "outer"\n', "outer")):
        found = paired(from_toml(spec), looks)
        assert [one.pattern for one in found] == ["spokes", "spokes", "arcs", "arcs"]
        told = [dict(one.changes)["pocket.which"] for one in found]
        assert told == ["none", which, "none", which]
        assert found[2].label == ("rib 3", "cut through")
        assert found[3].label == ("rib 3", f"pockets: {which}")


def test_at_one_mass_soft_looks_gain_most_by_a_floor() -> None:
    """Spokes and honeycomb: a floor makes them a shear panel, the spokes several times as stiff."""
    spec = from_toml(SPEC + "[pocket]\nfloor = 0.8\n")
    rings = openwork.sheet(spec, vary={"pattern.name": ["spokes", "honeycomb"]}, relief=True,
                           strong=True)  # fmt: skip
    gains, best = {}, []
    entries = [entry for _, entry in rings.entries]
    for cut, sunk in zip(entries[::2], entries[1::2], strict=True):
        assert one_of(Made, cut).figures.pockets == 0
        assert one_of(Made, sunk).figures.openings == 0
        stiff = [numbers(one)["strength.stiffness"] for one in (cut, sunk)]
        for one in (cut, sunk):
            assert one_of(Made, one).figures.mass == pytest.approx(75.0, abs=0.051)
        gains[cut.variant.pattern] = stiff[1] / stiff[0]
        best.append(max(stiff))
    assert best == sorted(best, reverse=True)
    assert gains["spokes"] > 2.5
    assert 1.2 < gains["honeycomb"] < gains["spokes"]

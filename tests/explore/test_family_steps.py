"""The mass of a family rises with every tooth, and by no more than 1.6 times its median step."""

import random
from itertools import pairwise

import pytest

from openwork.explore.family.family import family
from openwork.explore.family.once import unevenness
from openwork.explore.family.plan import evened
from openwork.fill.registry import patterns
from openwork.spec.spec import from_toml
from tests._sweep import SLOW

MOST = 1.6  # times the median step
RANGES = {
    "104 x 4": "[ring]\nteeth = 44\n[mount]\nbolts = 4\ncircle = 104.0\n[goal]\nteeth = [40, 50]\n",
    "110 x 5": "[ring]\nteeth = 42\n[mount]\nbolts = 5\ncircle = 110.0\n[goal]\nteeth = [38, 46]\n",
}
WIDE = ("honeycomb", "michell", "noise", "packing", "phyllotaxis", "spots", "truss")


def steps(name: str, where: str) -> float:
    """Return the largest step over the median of the family of pattern *name*; print both."""
    spec = from_toml(RANGES[where], changes={"pattern": {"name": name}, "goal.hold": "rib"})
    sizes = family(spec).made
    assert len(sizes) == len(spec.goal.sizes)
    masses = [size.figures.mass for size in sizes]
    found = unevenness(spec.goal.sizes, masses)
    print(f"{name:12} {where}  {found:5.2f}  {masses[0]:6.1f} to {masses[-1]:6.1f} g")
    return found


@pytest.mark.parametrize("name", ["michell", "packing", "phyllotaxis"])
def test_a_family_rises_evenly(name: str) -> None:
    assert steps(name, "110 x 5") <= MOST


@pytest.mark.sweep
@pytest.mark.parametrize("name", sorted(set(patterns()) - set(SLOW)))
def test_every_family_rises_evenly_on_five_bolts(name: str) -> None:
    assert steps(name, "110 x 5") <= MOST


@pytest.mark.sweep
@pytest.mark.parametrize("name", WIDE)
def test_families_that_jumped_rise_evenly_on_four_bolts(name: str) -> None:
    assert steps(name, "104 x 4") <= MOST


@pytest.mark.sweep
def test_rings_of_four_bolts_come_on_98_g_at_44_teeth_in_most_patterns() -> None:
    """Such rings weigh 100 to 113 g, the lightest good ones 97: common practice, no source."""
    text = RANGES["104 x 4"] + 'mass = 98.0\nper_tooth = "auto"\n'
    whole: list[str] = []
    for name in sorted(set(patterns()) - set(SLOW)):
        if len(whole) == 15:
            break
        sizes = family(from_toml(text, changes={"pattern": {"name": name}})).made
        off = [
            abs(size.figures.mass - size.wanted) for size in sizes if isinstance(size.wanted, float)
        ]
        if len(off) == 11 and max(off) <= 0.1:
            whole.append(name)
    assert len(whole) >= 15, whole


@pytest.mark.parametrize("seed", range(20))
def test_masses_are_evened_by_no_more_than_it_takes(seed: int) -> None:
    dice = random.Random(seed)
    masses = {teeth: 60 + 4 * teeth + dice.uniform(-15, 15) for teeth in range(40, 51)}
    masses[50] = 60 + 4 * 50 + 20
    found = evened(masses)
    assert all(found[teeth] >= masses[teeth] - 0.006 for teeth in masses)
    taken = [more - less for less, more in pairwise(found.values())]
    mean = (masses[50] - masses[40]) / 10
    assert all(0.8 * mean - 0.02 <= step <= 1.2 * mean + 0.02 for step in taken)
    assert any(found[teeth] == pytest.approx(masses[teeth], abs=0.006) for teeth in masses)

"""Random parameters inside their ranges give a sound ring or one clear message, mostly a ring."""

import dataclasses
import math
import random
from functools import cache

import pytest

from openwork.design import design
from openwork.errors import RuleError
from openwork.figures import figures
from openwork.fill.pattern import families
from openwork.limits import limits_broken
from openwork.testing import SITES, site_spec

TRIES = 20  # rings for each family
REFUSED = 0.15  # greatest share that may be refused, within the ranges a family gives itself
LIMITS = ("web.rib", "web.corner", "web.rim", "pattern.", "cutter", "at most", "cut it in two")


@cache
def fold(site: str) -> int:
    return design(site_spec(site, name="circles")).site.fold


def drawn(name: str, site: str, luck: random.Random) -> dict[str, float | int | str]:
    """Return half of the parameters of family *name*, each anywhere in its range.

    Counts round the ring are multiples of the order that the bolts of *site* leave.
    """
    values: dict[str, float | int | str] = {}
    for field in dataclasses.fields(families()[name]):
        meta = field.metadata
        if luck.random() < 0.5:
            continue
        if meta["choices"]:
            values[field.name] = luck.choice(meta["choices"])
        elif isinstance(field.default, float):
            values[field.name] = luck.uniform(meta["low"], meta["high"])
        else:
            step = fold(site) if meta["per_bolt"] else 1
            least, most = math.ceil(meta["low"] / step), meta["high"] // step
            values[field.name] = step * luck.randint(least, most)
    return values


@pytest.mark.parametrize("name", sorted(families()))
def test_parameters_in_range_give_a_ring(name: str) -> None:
    luck = random.Random(name)
    refused = 0
    for _ in range(TRIES):
        site = luck.choice(list(SITES))
        values = drawn(name, site, luck)
        try:
            ring = design(site_spec(site, name=name, seed=luck.randrange(1000), **values))
        except RuleError as refusal:
            refused += 1
            print(f"{name} on {site} with {values}: {str(refusal).splitlines()[0]}")
            continue
        assert not limits_broken(ring, figures(ring)), f"{name} on {site} with {values}"
    print(f"{name}: {refused} of {TRIES} refused")
    assert refused <= REFUSED * TRIES


def corner(name: str, site: str, end: str) -> dict[str, float | int | str]:
    """Return every parameter of family *name* at the *end*, low or high, of its range."""
    values: dict[str, float | int | str] = {}
    for field in dataclasses.fields(families()[name]):
        meta = field.metadata
        if meta["choices"]:
            values[field.name] = meta["choices"][0 if end == "low" else -1]
        elif isinstance(field.default, float):
            values[field.name] = meta[end]
        else:
            step = fold(site) if meta["per_bolt"] else 1
            counts = (math.ceil(meta["low"] / step), meta["high"] // step)
            values[field.name] = step * counts[end == "high"]
    return values


@pytest.mark.parametrize("end", ["low", "high"])
@pytest.mark.parametrize("name", sorted(families()))
def test_at_the_ends_of_its_ranges_it_gives_a_ring_or_says_why_not(name: str, end: str) -> None:
    refusals = []
    for site in SITES:
        values = corner(name, site, end)
        try:
            ring = design(site_spec(site, name=name, **values))
        except RuleError as refusal:
            refusals.append(str(refusal))
            continue
        assert not limits_broken(ring, figures(ring)), f"{name} on {site} with {values}"
    unnamed = [said for said in refusals if not any(word in said for word in LIMITS)]
    assert unnamed == []

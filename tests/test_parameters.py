"""Random parameters inside their ranges give a sound ring or one clear message, mostly a ring."""

import contextlib
import dataclasses
import math
import random
from functools import cache

import pytest

from openwork.errors import RuleError
from openwork.fill.parameters import parameter_faults
from openwork.fill.registry import patterns
from openwork.fill.site import site as open_site
from openwork.measure.defects import defects
from openwork.measure.figures import figures
from openwork.measure.limits import limits_broken
from openwork.part.blank import blank
from openwork.ring import design
from openwork.spec.spec import Spec
from openwork.testing import SITES, site_spec
from tests._sweep import QUICK, SLOW, often, quick_patterns

NAMES = quick_patterns()
TRIES = 20  # rings for each family
REFUSED = 0.15  # greatest share that may be refused, within the ranges a family gives itself
LIMITS = ("web.rib", "web.corner", "web.rim", "pattern.", "cutter", "at most", "cut it in two")


@cache
def fold(site: str) -> int:
    return design(site_spec(site, name="circles")).site.fold


def drawn(name: str, site: str, luck: random.Random) -> dict[str, float | int | str]:
    """Return half of the parameters of family *name*, each anywhere in its range.

    Counts round the ring are multiples of the order that the bolts of *site* leave, twice that
    where every second column may be mirrored.
    """
    values: dict[str, float | int | str] = {}
    fields = dataclasses.fields(patterns()[name])
    mirrored = any(field.name == "mirror" for field in fields)
    for field in fields:
        meta = field.metadata
        if luck.random() < 0.5 or meta["text"]:
            continue
        if meta["choices"]:
            values[field.name] = luck.choice(meta["choices"])
        elif isinstance(field.default, float):
            values[field.name] = luck.uniform(meta["low"], meta["high"])
        else:
            step = fold(site) * (1 + mirrored) if meta["per_bolt"] else 1
            least, most = math.ceil(meta["low"] / step), meta["high"] // step
            values[field.name] = step * luck.randint(least, most)
    return values


@pytest.mark.parametrize("name", NAMES)
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


LOPSIDED = {"bolts": 4, "circle": 110.0, "angles": (0.0, 80.0, 170.0, 265.0)}
MOUNTS = (
    {"bolts": 5, "circle": 110.0},
    {"bolts": 5, "circle": 130.0},
    {"bolts": 4, "circle": 104.0},
    {"bolts": 4, "circle": 64.0, "bore": 50.0, "pad": 8.0},
    {"bolts": 4, "circle": 110.0, "angles": (0.0, 82.0, 180.0, 262.0)},
    LOPSIDED,
    {"bolts": 3, "circle": 86.0},
    {"bolts": 6, "circle": 80.0},
    {"bolts": 7, "circle": 80.0},
)


def ring_with_room(name: str, luck: random.Random) -> Spec:
    """Return a ring with a random rib and cutter whose web is at least twice as wide as both."""
    while True:
        mount = luck.choice(MOUNTS)
        ring = {"teeth": luck.randint(24, 72)}
        web = {"rib": round(luck.uniform(0.6, 5), 1), "corner": round(luck.uniform(0.4, 3), 1)}
        table = {"ring": ring, "mount": mount, "web": web, "pattern": {"name": name}}
        spec = Spec.model_validate(table)
        try:
            place = open_site(blank(spec.ring, spec.mount), spec.web)
        except RuleError:
            continue
        if place.outer - place.inner > 2 * (place.rib + 2 * place.corner):
            return spec


@pytest.mark.sweep
@pytest.mark.parametrize("name", SLOW)
def test_what_solves_makes_a_ring_of_most_webs_with_room_or_says_why_not(name: str) -> None:
    """Of a layout as the force wants it a wide cutter may leave nothing on a narrow web."""
    luck, made = random.Random(name), 0
    for _ in range(TRIES // 4):
        spec = ring_with_room(name, luck)
        with contextlib.suppress(RuleError):
            ring = design(spec)
            assert not limits_broken(ring, figures(ring)), spec
            made += 1
    assert made >= TRIES // 4 - 1


@pytest.mark.parametrize("name", often(sorted(set(patterns()) - set(SLOW)), QUICK.__contains__))
def test_what_is_left_out_suits_any_web_with_room(name: str) -> None:
    luck = random.Random(name)
    for _ in range(TRIES // 2):
        spec = ring_with_room(name, luck)
        ring = design(spec)
        assert not parameter_faults(name, dataclasses.asdict(ring.pattern)), ring.pattern
        assert not limits_broken(ring, figures(ring)), spec


@pytest.mark.parametrize("name", NAMES)
def test_bolts_without_any_symmetry_suit_every_family(name: str) -> None:
    table = {"ring": {"teeth": 44}, "mount": LOPSIDED, "pattern": {"name": name}}
    ring = design(Spec.model_validate(table))
    assert ring.site.fold == 1
    found = defects(ring.openings, ring.site)
    assert not any(found.values()), found
    assert not ring.dropped
    assert not limits_broken(ring, figures(ring))


@pytest.mark.parametrize(
    ("teeth", "mount", "web", "pattern"),
    [
        (
            59,
            {"bolts": 3, "circle": 64.0, "bore": 40.0},
            {"rib": 3.23, "corner": 1.97, "rim": 6.3, "hem": 2.9},
            {"name": "spots", "seed": 867, "rows": 1},
        ),
        (
            44,
            {"bolts": 5, "circle": 130.0},
            {"rib": 1.39, "corner": 2.95, "rim": 3.3, "hem": 6.6},
            {"name": "truss", "columns": 15},
        ),
    ],
    ids=["spots", "truss"],
)
def test_where_nothing_can_be_drawn_that_is_said(
    teeth: int, mount: dict[str, object], web: dict[str, float], pattern: dict[str, object]
) -> None:
    table = {"ring": {"teeth": teeth}, "mount": mount, "web": web, "pattern": pattern}
    with pytest.raises(RuleError, match=r"no (cell|opening)"):
        design(Spec.model_validate(table))


def test_slanted_bricks_across_a_wide_web_have_smooth_ends() -> None:
    """Eight chords for a spiral, as on a narrow web, would be seen as eight edges."""
    mount = {"bolts": 3, "circle": 64.0, "bore": 40.0}
    web = {"rib": 1.2, "corner": 0.53, "rim": 4.3, "hem": 4.2}
    table = {"ring": {"teeth": 39}, "mount": mount, "web": web}
    pattern = {"name": "bricks", "columns": 21, "rows": 1, "slant": -25.8}
    ring = design(Spec.model_validate(table | {"pattern": pattern}))
    assert not limits_broken(ring, figures(ring))
    assert max(len(one) for one in ring.openings) < 40


def corner(name: str, site: str, end: str) -> dict[str, float | int | str]:
    """Return every parameter of family *name* at the *end*, low or high, of its range."""
    values: dict[str, float | int | str] = {}
    for field in dataclasses.fields(patterns()[name]):
        meta = field.metadata
        if meta["text"]:
            continue
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
@pytest.mark.parametrize("name", NAMES)
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


@pytest.mark.parametrize(("name", "now"), [("hybrid", "thickness"), ("noise", "amount")])
def test_a_parameter_that_had_another_name_is_refused_with_the_new_one(name: str, now: str) -> None:
    faults = parameter_faults(name, {"strength": 1.0})
    assert faults == [f"pattern.strength: is called pattern.{now}"]

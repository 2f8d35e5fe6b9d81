"""Pockets: which openings keep a floor, what that weighs, and what is refused."""

import math
from typing import Any

import numpy as np
import pytest
import shapely

import openwork
from openwork.errors import RuleError, SpecError
from openwork.fill.registry import patterns
from openwork.measure.figures import mass
from openwork.ring import Design
from openwork.shape.contour import area, centroid, polygon
from openwork.spec.spec import from_toml, to_toml

SPEC = """
[ring]
teeth = 42
[mount]
circle = 110.0
[pattern]
name = "honeycomb"
columns = 40
"""
WHICH = ("all", "outer", "inner", "every second", "small", "large")


def made(**changes: Any) -> Design:
    return openwork.design(from_toml(SPEC, changes={f"pocket.{k}": v for k, v in changes.items()}))


def radius(one: Any) -> float:
    return float(np.hypot(*centroid(one)))


@pytest.mark.parametrize("which", WHICH)
def test_every_sector_has_the_same_pockets(which: str) -> None:
    ring = made(which=which)
    each = len(ring.sector)
    assert ring.floors == ring.floors[:each] * ring.site.fold
    assert len(ring.pockets) + len(ring.through) == len(ring.openings)
    assert bool(ring.through) == (which != "all")


def test_each_takes_what_it_is_called_by() -> None:
    outer, small, every = (made(which=one) for one in ("outer", "small", "every second"))
    assert min(map(radius, outer.pockets)) > max(map(radius, outer.through))
    assert max(map(area, small.pockets)) < min(map(area, small.through))
    assert len(every.pockets) == len(every.through)
    angles = [np.sort(np.arctan2(*np.array([*map(centroid, some)]).T)) for some in
              (every.pockets, every.through)]  # fmt: skip
    assert all(np.diff(one).max() < 2 * np.pi / 10 for one in angles)


def test_a_share_takes_more_and_more() -> None:
    counts = [len(made(which="large", share=share).pockets) for share in (0.1, 0.5, 0.9)]
    assert counts == sorted(counts)
    assert counts[-1] > counts[0]


@pytest.mark.parametrize("face", ["both", "front", "back"])
@pytest.mark.parametrize("wide", [0.0, 0.9])
def test_the_mass_is_that_of_thin_slices(face: str, wide: float) -> None:
    """The pocket cut into slices, each an outline moved inwards by GEOS; from the formula none."""
    ring = openwork.design(
        from_toml(
            SPEC,
            changes={"web.bevel": 0.0, "pocket.which": "all", "pocket.face": face,
                     "pocket.radius": wide, "pocket.floor": 1.6},
        )
    )  # fmt: skip
    plate, pocket = ring.blank.plate, ring.spec.pocket
    depth, sides = (plate - 1.6) / (2 if face == "both" else 1), 2 if face == "both" else 1
    edges = wide * np.linspace(0, 1, 161) ** 2
    height = (edges[1:] + edges[:-1]) / 2
    insets = wide - np.sqrt(wide**2 - (wide - height) ** 2)
    sector = [polygon(one, (), 1e-5) for one in ring.sector]
    taken = sum(map(area, ring.sector)) * (depth - wide)
    for inset, thick in zip(insets, np.diff(edges), strict=True):
        taken += float(shapely.area(shapely.buffer(sector, -inset, quad_segs=64)).sum()) * thick
    solid = openwork.design(from_toml(SPEC, changes={"web.bevel": 0.0}))
    opened = sum(map(area, solid.openings)) * plate
    density = ring.blank.material.density
    wanted = mass(solid) + (opened - sides * taken * ring.site.fold) * density
    assert pocket.depth(plate) == pytest.approx(depth)
    assert mass(ring) == pytest.approx(wanted, rel=3e-6)


def test_every_mm_of_floor_weighs_as_much_as_the_openings_are_large() -> None:
    none = made()
    rings = [made(which="all", floor=floor) for floor in (0.5, 2.0, 3.4)]
    weights = [mass(one) for one in (none, *rings)]
    assert weights == sorted(weights)
    opened = sum(map(area, none.openings)) * none.blank.material.density
    assert (weights[3] - weights[1]) / (3.4 - 0.5) == pytest.approx(opened, rel=1e-9)


def test_figures_tell_pockets_apart() -> None:
    found = openwork.figures(made(which="outer", floor=1.2))
    plain = openwork.figures(made())
    assert (found.openings, found.pockets, found.floor_least) == (40, 40, 1.2)
    assert (plain.openings, plain.pockets, plain.floor_least) == (80, 0, 0.0)
    assert found.rib == plain.rib
    assert found.solid_share > plain.solid_share
    assert found.machining["depth_to_cutter"] == plain.machining["depth_to_cutter"]
    shallow = openwork.figures(made(which="all", floor=2.0))
    assert shallow.machining["depth_to_cutter"] == pytest.approx(1 / (2 * shallow.corner_least))


def test_a_spec_with_pockets_is_written_and_read() -> None:
    spec = made(which="every second", face="back", radius=0.4).spec
    assert from_toml(to_toml(spec)) == spec


@pytest.mark.parametrize("name", sorted(patterns()))
def test_every_pattern_bears_pockets(name: str) -> None:
    changes = {"pattern": {"name": name, "seed": 1}}
    whole = openwork.design(from_toml(SPEC, changes=changes))
    ring = openwork.design(from_toml(SPEC, changes=changes | {"pocket.which": "all"}))
    assert ring.openings == whole.openings
    assert mass(whole) < mass(ring) < mass(whole) + sum(map(area, ring.openings)) * 0.01


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"floor": 3.8}, "pocket.floor 3.8 mm: a plate of 4 mm has no pocket that shallow; 3.6"),
        ({"floor": 0.2}, "pocket.floor = 0.2: must be a number from 0.5"),
        ({"radius": 1.6, "floor": 0.5, "face": "front"}, "more than the cutter has, web.corner"),
        ({"radius": 1.4}, "with a bevel of 0.3 mm more than the pocket is deep, 1.5 mm; 1.2 works"),
        ({"which": "outer", "share": 0.02}, 'pocket.which = "outer": takes no opening'),
        ({"which": "odd"}, 'pocket.which = "odd": must be "none" or "all"'),
        ({"face": "left"}, "pocket.face"),
        ({"share": 1.5}, "pocket.share"),
    ],
)
def test_what_cannot_be_is_refused(changes: dict[str, Any], words: str) -> None:
    with pytest.raises((RuleError, SpecError)) as caught:
        made(**{"which": "all", **changes})
    assert words in str(caught.value)


def test_what_works_is_told_truly() -> None:
    with pytest.raises(RuleError, match=r"share ([\d.]+) works") as caught:
        made(which="outer", share=0.02)
    share = float(str(caught.value).rpartition("share ")[2].removesuffix(" works"))
    assert made(which="outer", share=share).pockets


def test_a_deep_pocket_wants_a_stout_cutter() -> None:
    with pytest.raises(RuleError, match=r"more than 4 diameters of a cutter.*0\.8 works"):
        openwork.design(
            from_toml(SPEC, changes={"pocket.which": "all", "pocket.floor": 0.5,
                                     "pocket.face": "front", "web.corner": 0.4})
        )  # fmt: skip


def test_an_odd_row_cannot_be_halved() -> None:
    with pytest.raises(RuleError, match=r"rows of 40 or 50 work"):
        openwork.design(
            from_toml(SPEC, changes={"pocket.which": "every second", "pattern.columns": 45})
        )


def test_a_quarter_round_is_what_is_left() -> None:
    """A round pocket of radius R: what a torus of radius r leaves, by Pappus' theorem."""
    r, wide = 0.7, 5.0
    corner = r**2 * (1 - math.pi / 4)
    from_wall = r - (r**3 * (5 / 6 - math.pi / 4)) / corner
    ring = corner * 2 * math.pi * (wide - r + from_wall)
    pocket = made(which="all", radius=r, floor=1.6, face="front").spec.pocket
    assert pocket.filleted(2 * math.pi * wide) == pytest.approx(ring, rel=1e-9)

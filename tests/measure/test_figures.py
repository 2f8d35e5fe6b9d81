"""Figures against sampled polygons, closed forms and the common practice of the trade."""

import math
from typing import Any

import numpy as np
import pytest
import shapely

from openwork.measure.figures import figures, mass, meanings, symmetry
from openwork.measure.looks import raster
from openwork.ring import Design, design
from openwork.shape.contour import circle, mirrored, polygon, rotated
from openwork.spec.spec import Spec, from_toml
from openwork.testing import SITES, made
from tests.part.tools import relieved

FINE = 1e-4  # mm between arcs and chords
FINEST = 1e-7


def sampled_mass(ring: Design) -> float:
    """Mass by areas of finely sampled polygons, the bevel stacked in twenty slices a face."""
    blank, bevel = ring.blank, ring.spec.web.widest_bevel
    face = polygon(blank.outline, [blank.edge, *blank.bolts], FINE)
    shroud = shapely.Point(0, 0).buffer(blank.shroud, quad_segs=4096)
    openings = [polygon(one, sagitta=FINE) for one in ring.openings]
    plate = face.intersection(shroud).area * blank.plate
    teeth = face.difference(shroud)
    band = teeth.area * blank.tooth_width - relieved(teeth, blank.tip_diameter / 2)
    depth = (np.arange(20) + 0.5) / 20 * bevel
    grown = [shapely.area(shapely.buffer(openings, by, quad_segs=32)).sum() for by in depth]
    opened = shapely.area(openings).sum()
    opened_volume = opened * (blank.plate - 2 * bevel) + 2 * np.mean(grown) * bevel
    return float((plate + band - opened_volume) * blank.material.density)


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("family", ["honeycomb", "michell", "circles"])
def test_mass_agrees_with_sampled_polygons(site: str, family: str) -> None:
    ring = made(site, family)
    assert mass(ring) == pytest.approx(sampled_mass(ring), rel=1e-4)


def test_a_counterbore_takes_its_volume() -> None:
    base = {"ring": {"teeth": 42}, "mount": {"circle": 110.0}}
    plain = design(Spec.model_validate(base))
    base["mount"] = {"circle": 110.0, "counterbore": {"diameter": 13.0, "depth": 1.0}}
    bored = design(Spec.model_validate(base))
    volume = 5 * np.pi / 4 * (13.0**2 - 10.1**2) * 1.0
    assert mass(plain) - mass(bored) == pytest.approx(volume * 2.81e-3, rel=1e-9)


def test_area_and_share_agree_with_polygons() -> None:
    ring = made("42 teeth, 5 on 110", "honeycomb")
    found = figures(ring)
    blank = ring.blank
    opened = [polygon(one, sagitta=FINEST) for one in ring.openings]
    face = polygon(blank.outline, [blank.edge, *blank.bolts], FINEST)
    assert found.area == pytest.approx(face.difference(shapely.union_all(opened)).area, rel=1e-6)
    root = shapely.Point(0, 0).buffer(found.root_diameter / 2, quad_segs=65536)
    web = face.intersection(root).area
    assert found.solid_share == pytest.approx(1 - shapely.area(opened).sum() / web, rel=1e-6)
    assert found.edge_length == pytest.approx(shapely.length(opened).sum(), rel=1e-6)


@pytest.mark.parametrize("site", SITES)
def test_measured_limits_are_kept(site: str) -> None:
    ring = made(site, "honeycomb")
    found = figures(ring)
    assert found.rib["least"] >= ring.site.rib - 1e-3
    assert found.corner_least >= ring.site.corner - 1e-3
    assert found.rim_least >= ring.spec.web.rim - 1e-3
    assert found.hem_least >= ring.spec.web.hem - 1e-3
    assert found.pad_least >= ring.spec.mount.pad - 1e-3
    assert found.pieces == 1
    assert found.fold % ring.site.fold == 0
    assert found.balance < 1e-6 or ring.site.fold == 1


def test_symmetry_is_measured() -> None:
    holes = [circle(1.0, (10 * np.cos(t), 10 * np.sin(t))) for t in 2 * np.pi * np.arange(12) / 12]
    assert symmetry(holes) == 12
    assert symmetry([*holes[:11], circle(1.1, holes[11].points.mean(axis=0))]) == 1


def test_a_lean_is_seen_and_turns_with_the_mirror() -> None:
    left = made("50 teeth, 5 on 130", "spokes")
    swept = [
        design(
            left.spec.model_copy(
                update={
                    "pattern": left.spec.pattern.model_validate(
                        {"name": "spokes", "count": 20, "sweep": angle}
                    )
                }
            )
        )
        for angle in (40.0, -40.0)
    ]
    one, other = (figures(ring) for ring in swept)
    assert one.handedness == pytest.approx(-other.handedness, abs=0.02)
    assert abs(one.handedness) > 0.5
    assert abs(figures(left).handedness) < 0.02
    assert figures(left).mirror > 0.99 > one.mirror


@pytest.mark.parametrize("turn", [0.0, 33.3])
@pytest.mark.parametrize("name", ["honeycomb", "circles", "guilloche", "stars"])
def test_what_is_mirrored_is_mirrored_to_the_last_digit(name: str, turn: float) -> None:
    text = "[ring]\nteeth = 42\n[mount]\ncircle = 110.0\nbore = 112.0\n"
    ring = design(from_toml(text, changes={"pattern.name": name, "mount.turn": turn}))
    # By overlay: the openings and their image in the line through the first bolt.
    shapes = [polygon(one, sagitta=1e-4) for one in ring.openings]
    images = [polygon(rotated(mirrored(rotated(one, -math.radians(turn))), math.radians(turn)),
                      sagitta=1e-4) for one in ring.openings]  # fmt: skip
    apart = shapely.union_all(shapes).symmetric_difference(shapely.union_all(images)).area
    assert apart < 0.02 * len(shapes)
    found = figures(ring)
    assert found.mirror == pytest.approx(1, abs=5e-5)
    assert found.handedness == pytest.approx(0, abs=5e-4)


def test_rhythm_is_the_number_of_spokes() -> None:
    ring = made("40 teeth, 3 on 86", "spokes")
    spokes: Any = ring.pattern
    assert figures(ring).rhythm["order"] == spokes.count


def test_a_ring_of_this_class_weighs_what_rings_of_this_class_weigh() -> None:
    """Common practice, no source: 44 teeth, 4 on 104 mm, 4 mm of 7075: 85 to 120 g."""
    spec = {
        "ring": {"teeth": 44, "plate": 4.0, "material": "7075-T6"},
        "mount": {"bolts": 4, "circle": 104.0},
        "web": {"rib": 2.0},
        "pattern": {"name": "honeycomb"},
    }
    assert 85 < figures(design(Spec.model_validate(spec))).mass < 120


def test_every_figure_has_a_meaning() -> None:
    found = figures(made("42 teeth, 5 on 110", "honeycomb"))
    assert set(meanings()) == set(found.as_dict())
    assert all(entry.meaning for entry in meanings().values())


def test_more_rib_weighs_more() -> None:
    ring = made("48 teeth, 4 on 104", "michell")
    masses = [mass(design(replace_rib(ring.spec, rib))) for rib in (1.6, 2.0, 2.4, 2.8)]
    assert masses == sorted(masses)


def replace_rib(spec: Spec, rib: float) -> Spec:
    return spec.model_copy(update={"web": spec.web.model_copy(update={"rib": rib})})


@pytest.mark.parametrize("site", SITES)
def test_the_raster_is_open_where_a_point_lies_in_an_opening(site: str) -> None:
    """Point by point, by a library's polygons of all openings; one sector is not trusted."""
    ring = made(site, "spokes")
    inner, outer = ring.site.inner, ring.site.outer
    found = raster(ring.openings, ring.site.fold, inner, outer)
    whole = shapely.union_all([polygon(one, sagitta=1e-4) for one in ring.openings])
    rows, columns = found.shape
    radii = inner * (outer / inner) ** ((np.arange(rows) + 0.5) / rows)
    angles = 2 * np.pi * (np.arange(columns) + 0.5) / columns
    x, y = np.outer(radii, np.cos(angles)), np.outer(radii, np.sin(angles))
    wrong = found != shapely.contains_xy(whole, x, y)
    # A point may lie right on an edge, to either side by rounding.
    edge = shapely.distance(whole.boundary, shapely.points(x[wrong], y[wrong]))
    assert edge.max(initial=0) < 0.002

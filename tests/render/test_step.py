"""The STEP solid, read back by Open CASCADE, and the bevels in closed form."""

import dataclasses
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import openwork
from openwork.errors import RuleError
from openwork.render.accept.acceptance import refused
from openwork.render.accept.read_step import read_step
from openwork.render.shop.step import ring_step
from openwork.render.solid.bevel import bevel
from openwork.ring import Design
from openwork.shape.contour import Contour, area, circle, length, polygon, polygon_contour
from openwork.shape.parallel.offset import dilated
from openwork.spec.spec import from_toml

SPEC = """
title = "Slip 24"
[ring]
teeth = 24
[mount]
bolts = 4
circle = 64.0
bore = 50.0
[pattern]
name = "spokes"
count = 20
"""
VARIANTS = {
    "bevelled": {},
    "plain": {"web.bevel": 0.0},
    "counterbored": {"mount.counterbore": {"diameter": 13.0, "depth": 1.5}},
    "band set forward": {"ring.offset": 0.5},
    "band level with the front": {"ring.tooth_width": 2.0, "ring.offset": 1.0},
    "band proud of the front": {"ring.offset": 2.0},
    "band level with the back": {"ring.tooth_width": 2.0, "ring.offset": -1.0},
}


def back(data: bytes, design: Design, folder: Path) -> Any:
    path = folder / "ring.step"
    path.write_bytes(data)
    return read_step(path, design)


@pytest.mark.parametrize("changes", VARIANTS.values(), ids=VARIANTS)
def test_one_valid_solid_that_weighs_what_the_figures_say(
    changes: dict[str, Any], tmp_path: Path
) -> None:
    design = openwork.design(from_toml(SPEC, changes=changes))
    reading = back(ring_step(design), design, tmp_path)
    assert refused(reading, design) == {}
    assert reading.body.loose == ()
    weight = reading.body.volume * design.blank.material.density
    assert weight == pytest.approx(openwork.figures(design).mass, rel=1e-3)


def test_arcs_are_cylinders_and_bevels_of_arcs_are_cones(tmp_path: Path) -> None:
    design = openwork.design(from_toml(SPEC))
    faces = back(ring_step(design), design, tmp_path).body.faces
    contours = (design.blank.outline, design.blank.edge, *design.blank.bolts, *design.openings)
    arcs = [int(np.count_nonzero(one.bulges)) for one in contours]
    assert faces["cylinders"] == sum(arcs) + 2 * 2  # two halves of the step on either face
    assert faces["cones"] == 2 * sum(arcs[2 + len(design.blank.bolts) :])
    assert faces["tori"] == 2 * 24  # the sides of every tooth
    assert set(faces) == {"planes", "cylinders", "cones", "tori"}


def test_the_same_ring_makes_the_same_bytes_whatever_was_made_before() -> None:
    design = openwork.design(from_toml(SPEC))
    first = ring_step(design)
    ring_step(openwork.design(from_toml(SPEC, changes={"title": "Another"})))
    assert ring_step(design) == first


def test_the_header_names_protocol_and_title_and_is_ascii() -> None:
    data = ring_step(openwork.design(from_toml(SPEC, changes={"title": "Quai d'été 東"})))
    head = data.decode("ascii").partition("ENDSEC")[0]  # ISO 10303-21: \\X4\\ for other letters
    assert "AUTOMOTIVE_DESIGN { 1 0 10303 214" in head
    assert "Quai d''\\X4\\000000E9\\X0\\t\\X4\\000000E9\\X0\\ \\X4\\00006771\\X0\\" in head


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    design = openwork.design(from_toml(SPEC))
    back(ring_step(design), design, tmp_path)
    assert capfd.readouterr() == ("", "")


def test_a_round_bevel_is_a_round_opening_that_is_wider() -> None:
    (step,) = bevel(circle(3.0, (20.0, 5.0)), 0.5)
    assert area(step.contour) == pytest.approx(math.pi * 3.5**2, rel=1e-12)
    assert step.distance == 0.5


def test_a_bevel_is_the_parallel_outline() -> None:
    square = dilated(polygon_contour([(0, 0), (6, 0), (6, 4), (0, 4)]), 1.5)
    (step,) = bevel(square, 0.4)
    steiner = area(square) + length(square) * 0.4 + math.pi * 0.4**2  # Steiner's formula
    assert area(step.contour) == pytest.approx(steiner, rel=1e-12)


def notched(radius: float) -> Any:
    """Return an opening into which a finger of metal points, its end rounded to *radius*."""
    points = [(0, 0), (8, 0), (8, 6), (4 + radius, 6), (4 + radius, 4), (4 - radius, 4),
              (4 - radius, 6), (0, 6)]  # fmt: skip
    return Contour(np.array(points, dtype=float), np.array([0, 0, 0, 0, -1.0, 0, 0, 0]))


def wedged(radius: float) -> Any:
    """Return an opening into which a wedge of metal points, its tip rounded to *radius*."""
    lean = math.radians(60)  # of the tangents at the ends of the arc from the axis of the wedge
    out = radius * math.sin(lean), 3 + radius * (1 - math.cos(lean))
    far = out[0] + (6 - out[1]) / math.tan(lean)
    points = [(-6, 0), (6, 0), (6, 6), (far, 6), out, (-out[0], out[1]), (-far, 6), (-6, 6)]
    bulges = np.zeros(8)
    bulges[4] = -math.tan(2 * lean / 4)
    return Contour(np.array(points), bulges)


@pytest.mark.parametrize(("width", "pieces"), [(0.3, 8), (0.49, 8), (0.6, 7), (0.9, 7)])
def test_a_bevel_goes_on_where_an_arc_has_ended(width: float, pieces: int) -> None:
    """Metal rounded to 0.5 mm comes to a point at 0.5 mm; its flanks go on from there.

    The outline is compared with the parallel that GEOS draws.
    """
    opening = wedged(0.5)
    steps = bevel(opening, width)
    assert len(steps) == (1 if pieces == 8 else 2)
    assert len(steps[-1].contour) == pieces
    grown = polygon(opening, (), 1e-5).buffer(width, join_style="mitre", quad_segs=256)
    off = polygon(steps[-1].contour, (), 1e-5).symmetric_difference(grown).area
    assert off < 1e-4 * length(opening)


def test_a_bevel_too_wide_is_refused() -> None:
    with pytest.raises(RuleError, match="bevel"):
        bevel(notched(0.5), 2.5)


def test_a_ring_with_one_opening_less_is_not_the_ring(tmp_path: Path) -> None:
    """The comparison must be able to fail."""
    design = openwork.design(from_toml(SPEC))
    fewer = dataclasses.replace(design, openings=design.openings[1:])
    assert {"roles", "shape"} <= set(refused(back(ring_step(fewer), design, tmp_path), design))

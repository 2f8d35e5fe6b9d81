"""Pockets in the thickness that is calculated with, against plates whose answer is known."""

import dataclasses
from typing import Any

import numpy as np
import pytest

import openwork
from openwork.explore.strength_of import model_of
from openwork.spec.spec import from_toml
from openwork.strength.loading import mean_stiffness
from openwork.strength.model import Recesses
from openwork.strength.thickness import thickness
from openwork.tables.load import Load
from openwork.tables.support import Spider

SPEC = """
[ring]
teeth = 42
[mount]
circle = 110.0
bore = 116.0
[web]
bevel = 0.0
[pattern]
name = "honeycomb"
columns = 40
"""


def stiff(changes: dict[str, Any]) -> float:
    ring = openwork.design(from_toml(SPEC, changes=changes))
    return mean_stiffness(model_of(ring), Load(), Spider(), quality="search")[0]


def test_a_point_is_as_thick_as_the_floor_it_lies_over() -> None:
    ring = openwork.design(from_toml(SPEC, changes={"pocket.which": "outer", "pocket.floor": 1.2}))
    model = model_of(ring)
    inside = np.array([[one.points.mean(axis=0)] for one in ring.pockets])
    height = np.ones(len(inside))
    assert thickness(model, inside, height) == pytest.approx(1.2)
    assert thickness(dataclasses.replace(model, recesses=None), inside, height) == pytest.approx(4)


def test_stiffness_goes_from_the_open_ring_to_the_plate() -> None:
    through, solid = stiff({}), stiff({"pattern": {"name": "plain"}})
    floors = [stiff({"pocket.which": "all", "pocket.floor": one}) for one in (0.5, 1.5, 3.0)]
    row = [through, *floors, solid]
    assert row == sorted(row)


def test_the_face_a_pocket_is_cut_from_is_left_out() -> None:
    found = {
        face: stiff({"pocket.which": "all", "pocket.face": face}) for face in ("both", "front")
    }
    assert found["both"] == pytest.approx(found["front"], rel=1e-12)


def test_a_floor_over_everything_is_a_thinner_plate() -> None:
    """The web of a plain ring as one pocket is a ring with a turned step."""
    ring = openwork.design(from_toml(SPEC, changes={"pattern": {"name": "plain"}}))
    model = model_of(ring)
    depth = 1.5
    wide = dataclasses.replace(
        model, recesses=Recesses((ring.blank.outline,), depth, 2), chamfers=model.chamfers
    )
    points = np.array([[[60.0, 12.0]], [[50.0, 40.0]]])
    thin = thickness(wide, points, np.ones(2))
    assert thin == pytest.approx(thickness(model, points, np.ones(2)) - depth)
    whole = mean_stiffness(model, Load(), Spider(), quality="search")[0]
    found = mean_stiffness(wide, Load(), Spider(), quality="search")[0]
    teeth = model.tooth_width
    assert (teeth - depth) / teeth < found / whole < (model.plate - depth) / model.plate

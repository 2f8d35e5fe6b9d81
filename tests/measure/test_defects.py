"""Faults of a look, planted one at a time in a clean row of openings."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from openwork.fill.site import Site
from openwork.measure.defects import defects
from openwork.shape.contour import Contour, polygon_contour, rotated
from openwork.shape.parallel.offset import dilated

PLACE = Site(
    inner=54.0, outer=80.0, fold=4, bolts=(0.0, np.pi / 2, np.pi, 3 * np.pi / 2),
    circle=52.0, pad=8.0, blend=5.0, rib=2.0, corner=1.5,
)  # fmt: skip
ANGLES = np.radians([15, 30, 45, 60, 75])
NONE = {"fragments": 0, "trimmed": 0, "slivers": 0, "kinks": 0, "thin_ribs": 0}


def box(
    angle: float, wide: float, high: float, *, middle: float = 67.0, round_by: float = 1.5
) -> Any:
    """Return a box with round corners, its middle at a radius and an angle."""
    x, y = high / 2 - round_by, wide / 2 - round_by
    core = polygon_contour([(middle - x, -y), (middle + x, -y), (middle + x, y), (middle - x, y)])
    return rotated(dilated(core, round_by), angle)


def ring(*changed: tuple[int, Contour]) -> list[Contour]:
    """Return a row of boxes round the whole ring, some of one sector's changed in all of them."""
    sector = [box(angle, 12, 20) for angle in ANGLES]
    for number, one in changed:
        sector[number] = one
    return [rotated(one, k * np.pi / 2) for k in range(4) for one in sector]


def test_a_clean_row_has_none() -> None:
    assert defects(ring(), PLACE) == NONE


@pytest.mark.parametrize(
    ("name", "planted"),
    [
        ("fragments", box(ANGLES[2], 8, 11)),
        ("slivers", box(ANGLES[2], 3.1, 60)),
        ("kinks", rotated(polygon_contour([(57, -6), (77, -6), (77, 6), (57, 6)]), ANGLES[2])),
        ("thin_ribs", box(ANGLES[2] + 0.06, 12, 20)),
    ],
)
def test_one_is_counted(name: str, planted: Any) -> None:
    found = defects(ring((2, planted)), PLACE)
    assert found[name] == {"kinks": 4, "thin_ribs": 2}.get(name, 1)
    assert {key: n for key, n in found.items() if n} == {name: found[name]}


def test_a_cell_that_a_pad_halves_is_trimmed_but_a_small_one_elsewhere_is_not() -> None:
    half = box(ANGLES[0], 10.5, 10.5)
    assert defects(ring((0, half)), PLACE) == NONE
    nearest = np.hypot(*(half.points - PLACE.bolt_points[0]).T).min()
    reaching = replace(PLACE, pad=float(nearest))
    assert defects(ring((0, half)), reaching) == NONE | {"trimmed": 1}


def test_thin_ribs_between_two_sectors_are_seen() -> None:
    assert defects(ring((0, box(-0.07, 12, 20, middle=70.0))), PLACE)["thin_ribs"] == 2

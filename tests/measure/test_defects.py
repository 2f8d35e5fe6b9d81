"""Faults of a look, planted one at a time in a clean row of openings."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from openwork.fill.site import Site
from openwork.measure.defects import defects
from openwork.measure.figures import figures
from openwork.measure.slabs import slabs
from openwork.ring import design
from openwork.shape.contour import Contour, polygon_contour, rotated
from openwork.shape.parallel.offset import dilated
from openwork.spec.spec import changed, from_toml

PLACE = Site(
    inner=54.0, outer=80.0, fold=4, bolts=(0.0, np.pi / 2, np.pi, 3 * np.pi / 2),
    circle=52.0, pad=8.0, blend=5.0, rib=2.0, corner=1.5, bore=47.0, root=83.0,
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


SOLID = {"slabs": 0, "filled_rows": 0, "solid_half": 0}


def rows(*rings: tuple[float, list[float]]) -> list[Contour]:
    """Return small boxes at the radii given, at the angles (degrees) of each, in every quarter."""
    return [
        rotated(box(np.radians(angle), 6.4, 6.4, middle=radius, round_by=1.8), k * np.pi / 2)
        for k in range(4)
        for radius, angles in rings
        for angle in angles
    ]


FULL = [9.0, 18.0, 27.0, 36.0, 45.0, 54.0, 63.0, 72.0, 81.0]


def test_three_clean_rows_have_no_slab() -> None:
    assert slabs(rows((57.3, FULL), (67.0, [0.0, *FULL]), (76.7, [0.0, *FULL])), PLACE) == SOLID


@pytest.mark.parametrize(
    ("middle_row", "planted"),
    [
        ([9.0, 18.0, 27.0, 36.0, 54.0, 63.0, 72.0, 81.0], SOLID | {"slabs": 4}),
        ([9.0, 81.0], SOLID | {"slabs": 4, "filled_rows": 1}),
    ],
)
def test_a_row_mostly_filled_is_told_from_one_opening_that_is_missing(
    middle_row: list[float], planted: dict[str, int]
) -> None:
    made = rows((57.3, FULL), (67.0, [0.0, *middle_row]), (76.7, [0.0, *FULL]))
    assert slabs(made, PLACE) == planted


def test_solid_slabs_at_the_bolts_are_counted() -> None:
    less = FULL[1:-1]
    made = rows((57.3, less), (67.0, less), (76.7, FULL))
    assert slabs(made, PLACE) == SOLID | {"slabs": 4}


def test_a_solid_inner_half_is_seen() -> None:
    found = slabs(rows((76.7, [0.0, *FULL])), PLACE)
    assert found["solid_half"] == 1
    assert found["filled_rows"] >= 1


def test_broken_looks_that_were_met_are_faulted_and_their_neighbours_are_not() -> None:
    base = from_toml("[ring]\nteeth = 44\n[mount]\nbolts = 4\ncircle = 104.0\n")
    wide = {"mount.circle": 144.0, "mount.bolts": 5, "ring.teeth": 48}
    crowded = changed(base, {"pattern": {"name": "spots", "rows": 5}})
    turned = changed(base, {**wide, "pattern": {"name": "truss"}})
    for spec in (crowded, turned):
        assert figures(design(spec)).defects["slabs"] >= 5
    found = figures(design(crowded)).defects
    assert found["dropped"] > 100
    assert (found["solid_half"], found["filled_rows"]) > (0, 0)
    for name in ("spots", "truss"):
        clean = figures(design(changed(base, {"pattern": {"name": name}}))).defects
        assert not any(clean.values()), clean

"""The blank as a whole: what fits, what is refused, and what it weighs."""

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from openwork.errors import RuleError
from openwork.part.blank import Blank, Ring, blank
from openwork.part.chain import CHAINS
from openwork.part.fit import least_teeth
from openwork.part.mount import Mount
from openwork.part.teeth import diameters
from openwork.shape.contour import area, is_circle, polygon

# Smallest ring sold for a bolt circle. Read: sheldonbrown.com/cribsheet-bcd.html (151 to 118),
# uoflcycling.com (5 x 110). From memory: 94, 74, 58, 104, 64 and the other four-bolt ones.
# bolts, circle, teeth
SMALLEST = [
    *((5, 151, 44), (5, 144, 41), (5, 135, 39), (5, 130, 38), (5, 128, 38), (5, 122, 38)),
    *((5, 118, 36), (5, 110, 33), (5, 94, 29), (5, 74, 24), (5, 58, 20), (4, 120, 38)),
    *((4, 110, 34), (4, 104, 32), (4, 102, 32), (4, 88, 28), (4, 80, 26), (4, 64, 22)),
]

# Where makers go to the limit, one tooth less is refused by the 7 mm rule.
TIGHTEST = [(5, 144, 41), (5, 135, 39), (5, 130, 38), (5, 110, 33), (5, 94, 29), (5, 74, 24)]
TIGHTEST += [(5, 58, 20), (4, 104, 32), (4, 88, 28), (4, 80, 26), (4, 64, 22)]


def made(ring: dict[str, Any] | None = None, mount: dict[str, Any] | None = None) -> Blank:
    return blank(
        Ring.model_validate({"teeth": 42, **(ring or {})}),
        Mount.model_validate({"circle": 110, **(mount or {})}),
    )


def refusal(ring: dict[str, Any] | None = None, mount: dict[str, Any] | None = None) -> list[str]:
    with pytest.raises(RuleError) as caught:
        made(ring, mount)
    return str(caught.value).splitlines()


@pytest.mark.parametrize(("bolts", "circle", "teeth"), SMALLEST)
def test_the_smallest_rings_sold_fit(bolts: int, circle: float, teeth: int) -> None:
    ring = made({"teeth": teeth}, {"bolts": bolts, "circle": circle})
    assert (ring.diameters.root - circle) / 2 > 7


@pytest.mark.parametrize(("bolts", "circle", "teeth"), TIGHTEST)
def test_one_tooth_less_is_refused_with_the_smallest_that_fits(
    bolts: int, circle: float, teeth: int
) -> None:
    (fault,) = refusal({"teeth": teeth - 1}, {"bolts": bolts, "circle": circle})
    assert fault.startswith(f"ring.teeth {teeth - 1}: ")
    assert fault.endswith(f"{teeth} works")


def test_least_teeth_is_the_first_whose_root_circle_is_large_enough() -> None:
    for root in np.linspace(40, 300, 500):
        teeth = least_teeth(CHAINS["082"], root)
        assert diameters(teeth, CHAINS["082"]).root >= root - 1e-6
        assert diameters(teeth - 1, CHAINS["082"]).root < root


def test_one_piece_with_the_bolts_inside_and_the_bore_open() -> None:
    ring = made()
    solid = polygon(ring.outline, [ring.edge, *ring.bolts], sagitta=1e-5)
    assert solid.is_valid
    assert solid.geom_type == "Polygon"
    assert not solid.contains(shapely.Point(0, 0))
    assert len(ring.bolts) == 5
    assert all(is_circle(hole) for hole in ring.bolts)
    assert all(area(hole) == pytest.approx(math.pi * 5.05**2) for hole in ring.bolts)
    exact = area(ring.outline) - area(ring.edge) - sum(area(hole) for hole in ring.bolts)
    assert exact == pytest.approx(solid.area, rel=1e-6)


def test_zones_of_thickness() -> None:
    # 0.93 x 2.38 (ISO 606); shroud 158.4033 mm across for z 42, h2 9.91 by GB/T 1243, computed.
    ring = made({"offset": 1.5, "plate": 4})
    assert ring.tooth_width == pytest.approx(2.2134)
    assert ring.shroud == pytest.approx(158.4033 / 2, abs=5e-5)
    assert ring.shroud < ring.diameters.root / 2
    assert (ring.plate, ring.offset) == (4.0, 1.5)
    assert made({"tooth_width": 2}).tooth_width == 2.0
    assert ring.tip_diameter == pytest.approx((174.4111 + 178.0699) / 2, abs=5e-5)


@pytest.mark.parametrize(
    ("ring", "mount", "key"),
    [
        ({"tooth_width": 2.5}, {}, "ring.tooth_width"),
        ({"teeth": 32}, {}, "ring.teeth"),
        ({"teeth": 34}, {"room": 10.0}, "ring.teeth"),
        ({"teeth": 33}, {"room": 0.0, "hole": 14.0, "pad": 9.0}, "ring.teeth"),
        ({"teeth": 33}, {"counterbore": {"diameter": 16.0, "depth": 1.0}}, "ring.teeth"),
        ({"teeth": 34}, {"bore": 126, "pad": 12.0}, "mount.bore"),
        ({}, {"counterbore": {"diameter": 13.0, "depth": 4.0}}, "mount.counterbore.depth"),
        ({"gap": 1.0, "tip": 0.9}, {}, "ring.tip"),
        ({}, {"blend": 25.0}, "mount.blend"),
    ],
)
def test_one_fault_is_refused_with_what_works(
    ring: dict[str, Any], mount: dict[str, Any], key: str
) -> None:
    (fault,) = refusal(ring, mount)
    assert fault.startswith(f"{key} ")
    works = fault.split("; ")[1].removesuffix(" works").split(" or ")[0].split()[-1]
    table, name = key.split(".", 1)
    value: Any = int(works) if name == "teeth" else float(works)
    if name == "counterbore.depth":
        name, value = "counterbore", {"diameter": 13.0, "depth": value}
    tables = {"ring": ring, "mount": mount}
    made(**{**tables, table: {**tables[table], name: value}})


def test_all_faults_come_at_once() -> None:
    found = refusal(
        {"teeth": 30, "tip": 1.0, "gap": 1.0, "offset": 5.0, "tooth_width": 3.0},
        {"bore": 130, "hole": 14.0, "counterbore": {"diameter": 20.0, "depth": 5.0}},
    )
    keys = [line.split()[0] for line in found]
    assert keys == [
        "ring.tooth_width",
        "ring.teeth",
        "mount.bore",
        "mount.pad",
        "mount.counterbore.diameter",
        "mount.bore",
        "mount.counterbore.depth",
        "ring.tip",
    ]


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"teeth": 8}, "greater than or equal to 9"),
        ({"teeth": 42.0}, "valid integer"),
        ({"teeth": True}, "valid integer"),
        ({"chain": "1/2 x 5/32"}, "no chain here is 3.97 mm wide inside"),
        ({"material": "7057-T6"}, '"7075-T6" is nearest'),
        ({"tooth_width": "wide"}, 'neither "auto" nor a number from 1 to 12'),
        ({"tooth_width": 0.5}, 'neither "auto" nor a number from 1 to 12'),
        ({"gap": 1.1}, "less than or equal to 1"),
        ({"plate": math.inf}, "finite number"),
        ({"colour": "red"}, "Extra inputs"),
    ],
)
def test_a_malformed_ring_is_refused(values: dict[str, Any], words: str) -> None:
    with pytest.raises(ValidationError, match=words) as caught:
        Ring.model_validate({"teeth": 42, **values})
    assert caught.value.error_count() == 1


def test_every_key_says_what_it_is() -> None:
    for table in (Ring, Mount):
        for name, field in table.model_fields.items():
            assert field.description, name


@settings(max_examples=80)
@given(
    teeth=st.integers(24, 60),
    bolts=st.integers(3, 6),
    spare=st.floats(0.0, 15.0),
    pad=st.floats(7.1, 12.0),
    wide=st.floats(-20.0, 30.0),
    blend=st.floats(1.0, 9.0),
)
def test_any_blank_is_whole_or_refused(
    teeth: int, bolts: int, spare: float, pad: float, wide: float, blend: float
) -> None:
    root = diameters(teeth, CHAINS["082"]).root
    circle = root - 2 * (7 + spare)
    mount = {"bolts": bolts, "circle": circle, "pad": pad, "bore": circle + wide, "blend": blend}
    try:
        ring = made({"teeth": teeth}, mount)
    except RuleError:
        return
    solid = polygon(ring.outline, [ring.edge, *ring.bolts])
    assert solid.is_valid
    for hole in ring.bolts:
        round_it = polygon(hole).exterior
        assert round_it.distance(polygon(ring.edge)) > 2 - 0.01
        assert round_it.distance(polygon(ring.outline).exterior) > 1 - 0.01
    # What a blank is thinnest at, tabs included, stays in one piece when 0.9 mm is taken off.
    assert solid.buffer(-0.9).geom_type == "Polygon"

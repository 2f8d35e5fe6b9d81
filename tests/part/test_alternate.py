"""Teeth that alternate: what the chain's own measures ask of them."""

import math
from typing import Any

import numpy as np
import pytest
import shapely

from openwork.errors import RuleError
from openwork.part.alternate import PATENTS, lands
from openwork.part.blank import blank
from openwork.part.zones import thickness
from openwork.shape.contour import area, polygon
from openwork.spec.spec import from_toml

SPEC = """[ring]
teeth = %d
chain = "12-speed"
alternating = { %s }
[mount]
circle = 64
bolts = 4
"""


def made(teeth: int = 32, given: str = "play = 0.3") -> Any:
    spec = from_toml(SPEC % (teeth, given))
    return blank(spec.ring, spec.mount)


def test_every_second_tooth_is_as_wide_as_the_outer_plates_leave() -> None:
    ring = made()
    middle = ring.diameters.root / 2 + 1.0  # between the lands' foot and the sides
    for tooth in range(ring.teeth):
        angle = (2 * tooth + 1) * math.pi / ring.teeth
        point = middle * np.array([math.cos(angle), math.sin(angle)])
        wanted = 3.8 - 0.3 if tooth % 2 == 0 else 0.93 * 2.18
        assert thickness(ring, point) == pytest.approx(wanted)
    gap = (ring.diameters.root / 2 - 0.5) * np.array([1.0, 0.0])
    assert thickness(ring, gap) == pytest.approx(0.93 * 2.18)


def test_lands_keep_clear_of_the_ends_of_inner_plates() -> None:
    ring = made()
    pitch = ring.diameters.pitch / 2
    pins = pitch * np.exp(2j * np.pi * np.arange(ring.teeth) / ring.teeth)
    ends = shapely.buffer(shapely.points(pins.real, pins.imag), 9.0 / 2, quad_segs=64)
    outline = polygon(ring.outline).buffer(3e-3)
    found = lands(ring)
    assert len(found) == 16
    for land in found:
        for one in land:
            shape = polygon(one)
            assert shapely.distance(shape, ends).min() == pytest.approx(0.3, abs=5e-3)
            assert outline.contains(shape)
            assert area(one) > 10


@pytest.mark.parametrize(
    ("teeth", "given", "words"),
    [
        (33, "play = 0.3", "ring.teeth 32 or 34 works"),
        (32, "wide = 4.0", "fit between outer plates 3.8 mm apart"),
        (32, "wide = 2.1", "must be 0.2 mm wider than the narrow ones of 2.03"),
        (32, "clear = 2.0", "leave -0.30 mm between their ends"),
    ],
)
def test_what_the_chain_forbids_is_refused_with_numbers(teeth: int, given: str, words: str) -> None:
    with pytest.raises(RuleError) as caught:
        made(teeth, given)
    assert words in str(caught.value)


def test_the_caution_leaves_patents_to_an_attorney() -> None:
    assert "patent attorney" in PATENTS

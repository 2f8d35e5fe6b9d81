"""Sides of teeth against ISO 606, and the volume of bands in closed form."""

import dataclasses
import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad

from openwork.errors import RuleError, SpecError
from openwork.part.blank import blank
from openwork.part.zones import thickness, volume
from openwork.shape.contour import circle
from openwork.spec.spec import from_toml

SPEC = "[ring]\nteeth = 42\n%s\n[mount]\ncircle = 104\nbolts = 4\n"


def made(lines: str = "") -> Any:
    spec = from_toml(SPEC % lines)
    return blank(spec.ring, spec.mount)


@pytest.mark.parametrize("number", ["081", "083", "084", "085"])
def test_sides_are_those_of_the_standard(number: str) -> None:
    # ISO 606:2015 clause 5.6, from memory: rx = p, ba = 0.06 p for these chains.
    ring = made(f'chain = "{number}"')
    tip = ring.tip_diameter / 2
    assert ring.sides.recess(tip) == pytest.approx(0.06 * 12.7, abs=1e-12)
    middle = np.array([ring.sides.start, 12.7])  # of the side's circle: radius, depth below a face
    for radius in np.linspace(ring.sides.start, tip, 10):
        there = np.array([radius, float(ring.sides.recess(radius))])
        assert np.hypot(*(there - middle)) == pytest.approx(12.7, abs=1e-12)
    assert ring.sides.recess(ring.sides.start - 1) == 0
    assert ring.sides.start > ring.diameters.root / 2


@pytest.mark.parametrize("number", ["082", "11/128"])
def test_cycle_chains_take_the_same_side(number: str) -> None:
    ring = made(f'chain = "{number}"')
    assert ring.sides.recess(ring.tip_diameter / 2) == pytest.approx(0.06 * 12.7, abs=1e-12)
    assert thickness(ring, np.array([ring.tip_diameter / 2, 0.0])) == pytest.approx(
        ring.tooth_width - 0.12 * 12.7
    )


def test_thin_teeth_keep_half_a_millimetre_at_the_tip() -> None:
    ring = made("tooth_width = 1.5")
    assert thickness(ring, np.array([ring.tip_diameter / 2, 0.0])) == pytest.approx(0.5)
    assert made('tooth_width = 1.0\nsides = "square"').sides is None


@pytest.mark.parametrize(
    "lines",
    [
        "",
        "sides = { relief = 0.6, angle = 15 }",
        "sides = { relief = 0.5, radius = 20 }",
        "offset = 3.5",
        'sides = "square"',
    ],
)
def test_a_band_without_gaps_is_a_solid_of_revolution(lines: str) -> None:
    """The outline a circle: the volume is 2 pi times the integral of thickness by radius."""
    ring = made(lines)
    tip = ring.tip_diameter / 2
    disc = dataclasses.replace(ring, outline=circle(tip))
    knots = [*(one.outer for one in ring.zones), ring.sides.start if ring.sides else 70.0, 0, tip]
    knots = sorted(knots)
    wanted = sum(
        quad(lambda r: float(thickness(ring, np.array([r, 0.0]))) * 2 * math.pi * r, a, b)[0]
        for a, b in pairwise(knots)
    )
    assert volume(dataclasses.replace(disc, teeth=1)) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (
            "sides = { relief = 0.8, radius = 0.5 }",
            "stands back 0.5 mm at most, not 0.8; 0.8 works",
        ),
        ("sides = { relief = 1.0 }", "would meet at the tip of teeth 2.213 mm thick"),
        ("sides = { relief = 0.7, radius = 60 }", "into the seats of the rollers"),
        ("sides = { relief = 0.7, angle = 2 }", "into the seats of the rollers"),
        ('sides = "round"', 'neither "auto" nor "square"'),
        ("sides = { relief = 0.7, radius = 12, angle = 20 }", "leave one out"),
        ("sides = { radius = 12.0 }", "ring.sides.relief: missing"),
    ],
)
def test_sides_that_cannot_be_are_refused_with_numbers(lines: str, words: str) -> None:
    with pytest.raises((RuleError, SpecError)) as caught:
        made(lines)
    assert words in str(caught.value)


@pytest.mark.parametrize("lines", ["relief = 0.7, radius = 60", "relief = 0.7, angle = 2"])
def test_what_is_said_to_work_works(lines: str) -> None:
    with pytest.raises(RuleError) as caught:
        made(f"sides = {{ {lines} }}")
    works = str(caught.value).rpartition("; ")[2]
    number = next(word for word in works.split() if word[0].isdigit())
    key = "radius" if "radius" in lines else "angle"
    relief = lines.partition(",")[0]
    assert made(f"sides = {{ {relief}, {key} = {number} }}").sides is not None

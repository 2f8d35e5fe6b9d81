"""Chamfers and clearances: what collides is refused with what works."""

import dataclasses
import math
import re

import numpy as np
import pytest
from scipy.integrate import quad

import openwork
from openwork.errors import RuleError, SpecError
from openwork.part.blank import blank
from openwork.part.broken import broken
from openwork.part.edges import Edges, chamfered
from openwork.part.sides import Profile
from openwork.shape.contour import circle
from openwork.spec.spec import from_toml

SPEC = """[ring]
teeth = 44
%s
[mount]
bolts = 4
circle = 104
"""


def refused(tables: str, ring: str = "") -> str:
    with pytest.raises((RuleError, SpecError)) as caught:
        openwork.design(from_toml(SPEC % ring + tables))
    return str(caught.value)


@pytest.mark.parametrize(
    ("tables", "ring", "words"),
    [
        ("[edges]\nbore = 2.5\n", "", "edges.bore 2.5 mm: meets itself inside a plate of 4 mm"),
        ("[web]\nhem = 1.0\n[edges]\nbore = 0.9\n", "", "across a hem of 1 mm"),
        ("[web]\nrim = 4.5\n[edges]\nstep = 1.2\n", "", "the plate stands 0.893 mm proud"),
        ("[edges]\nteeth = 0.1\n", "alternating = {}", "is for equal teeth; beside wide ones"),
        ("[edges]\nteeth = 0.3\n", "", "corners of the tips are round; 0.25 works"),
        (
            "[edges]\nteeth = 0.25\n",
            "tooth_width = 1.95",
            "meets itself at the tip of teeth 0.50 mm thick there; 0.2 works",
        ),
        ("[edges]\nteeth = 0.4\n", 'sides = "square"', "corners of the tips are round"),
        ("[edges]\nbolts = 2.0\n", "", "edges.bolts 2 mm"),
        ("[clearance]\narm = [[45, -2], [95, -2]]\n", "", "clearance.arm: runs into the chain"),
        ("[clearance]\narm = [[45, -1], [60, -1]]\n", "", "clearance.arm: runs into the plate"),
        (
            "[clearance]\nstay = [[80, -4.5], [95, -4.5]]\n",
            "",
            "is 0.40 mm, less than 1, from the chain",
        ),
        ("[clearance]\nstay = [[80, -4.5]]\n", "", "must be two points or more"),
    ],
)
def test_what_collides_is_told(tables: str, ring: str, words: str) -> None:
    assert words in refused(tables, ring)


@pytest.mark.parametrize("sides", ["auto", "straight"])
def test_a_disc_with_turned_sides_loses_what_revolution_says(sides: str) -> None:
    """The outline a circle: the chamfer is a solid of revolution, integrated by other code."""
    given = "" if sides == "auto" else "sides = { relief = 0.6, angle = 15 }"
    spec = from_toml(SPEC % given)
    ring = blank(spec.ring, spec.mount)
    assert ring.sides is not None
    turned, tip, width = ring.sides, ring.tip_diameter / 2, 0.2
    disc = dataclasses.replace(ring, outline=circle(tip), teeth=1)
    foot, brow = (float(turned.recess(np.array(one))) for one in (tip, tip - width))

    def taken(radius: float) -> float:
        share = (tip - radius) / width
        ruled = (1 - share) * (foot + width) + share * brow
        return 2 * 2 * math.pi * radius * (ruled - float(turned.recess(np.array(radius))))

    wanted = quad(taken, tip - width, tip)[0]
    assert broken(disc, turned, width) == pytest.approx(wanted, rel=1e-9)


def test_sides_that_do_not_stand_back_lose_what_square_teeth_do() -> None:
    """Steiner's formula for a chamfer of 45 degrees, by both roads."""
    spec = from_toml(SPEC % "")
    ring = blank(spec.ring, spec.mount)
    flat = Profile(1000.0, radius=12.7)
    square = dataclasses.replace(ring, sides=None)
    assert broken(ring, flat, 0.2) == pytest.approx(chamfered(square, Edges(teeth=0.2)), rel=1e-9)


@pytest.mark.parametrize("key", ["bore", "step", "bolts"])
def test_the_width_that_is_said_to_work_works(key: str) -> None:
    words = refused(f"[edges]\n{key} = 2.0\n")
    most = words.rpartition("; ")[2].split()[0]
    openwork.design(from_toml(SPEC % "" + f"[edges]\n{key} = {most}\n"))


def test_a_dished_band_is_refused_where_the_arm_stands_and_told_how_far_it_must_move() -> None:
    arm = "[clearance]\narm = [[45, 2.0], [75, 2.0], [100, 2.0]]\n[web]\nrim = 4.5\n"
    words = refused(arm, "offset = 3.0")
    assert "runs into" in words
    moves = re.findall(r"the line ([\d.]+) mm further forward works", words)
    assert len(moves) == words.count("clearance.arm")  # all the same way
    free = arm.replace("2.0]", f"{2.0 + max(map(float, moves))}]")
    assert "runs into" in refused(arm, "offset = 2.5")
    assert refused(free.replace("rim = 4.5", "rim = 0.5"), "offset = 3.0").count("clearance") == 0

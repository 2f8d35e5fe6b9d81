"""Chamfers and clearances: what collides is refused with what works."""

import re

import pytest

import openwork
from openwork.errors import RuleError, SpecError
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
        ("[edges]\nteeth = 0.1\n", "", 'is for equal square teeth, ring.sides = "square"'),
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

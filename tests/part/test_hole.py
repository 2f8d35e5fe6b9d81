"""Bolt holes: threads, counterbores and countersinks."""

import math
import re

import pytest

from openwork.errors import RuleError, SpecError
from openwork.part.blank import blank
from openwork.part.hole import Counterbore, Countersink, Hole, head_caution
from openwork.spec.spec import from_toml, to_toml

SPEC = "[ring]\nteeth = 44\n[mount]\nbolts = 4\ncircle = 104\n"

# ISO 724, minor diameter D1 of internal threads, mm, from memory of its table.
MINOR = [("M8x0.75", 7.188), ("M8x1", 6.917), ("M8x1.25", 6.647), ("M6x1", 4.917), ("M10x1", 8.917)]


@pytest.mark.parametrize(("thread", "minor"), MINOR)
def test_a_thread_says_its_hole(thread: str, minor: float) -> None:
    for line in (f'hole = {{ tap = "{thread}" }}', f'tap = "{thread}"'):
        spec = from_toml(SPEC + line + "\n")
        assert spec.mount.hole == pytest.approx(minor, abs=1.1e-3)
        assert spec.mount.tap == thread
        assert from_toml(to_toml(spec)) == spec


def test_a_recess_takes_what_its_cone_or_cylinder_holds() -> None:
    # Frustum of radii 7 and 5 over 2 mm: pi 2 (49 + 35 + 25) / 3, less the hole's own cylinder.
    sunk = Hole(hole=10.0, countersink=Countersink(diameter=14.0))
    assert sunk.sink_depth == pytest.approx(2.0)
    assert sunk.sunk == pytest.approx(math.pi * 2 * (109 / 3 - 25))
    bored = Hole(hole=10.0, counterbore=Counterbore(diameter=14.0, depth=1.5))
    assert bored.sunk == pytest.approx(math.pi * (49 - 25) * 1.5)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ('tap = "M8"', "no metric thread with its pitch"),
        ('hole = { tap = "M8" }', 'mount.hole: "M8" is no metric thread with its pitch'),
        ('tap = "M8x3"', "no metric thread with its pitch"),
        ('tap = "M16x1.5"', "mount.pad 8.5: leaves less than 2 mm of metal round a thread M16x1.5"),
        ("countersink = { diameter = 10.0 }", "countersink.diameter 10"),
        ("countersink = { diameter = 17.0, angle = 60 }", "mm deep in a plate of 4 mm"),
        (
            "counterbore = { diameter = 14.0, depth = 4.0 }",
            "leaves less than 0.8 mm of the plate of 4 mm under the head; 3.2 works",
        ),
        (
            'counterbore = { diameter = 14.0, depth = 2.0, face = "back" }\n'
            "countersink = { diameter = 14.0, angle = 82 }",
            "all that is sunk is 4.24 mm deep in a plate of 4 mm",
        ),
        ('tap = "M2x0.4"', '"M2x0.4": lies outside M4 to M20'),
        ('hole = { tap = "M24x1" }', 'mount.hole: "M24x1" lies outside M4 to M20'),
        (
            "counterbore = { diameter = 14.0, depth = 1.0 }\ncountersink = { diameter = 13.0 }",
            'face = "back" works',
        ),
        ("holes = [{ hole = 10.1 }]", "1 holes for 4 bolts"),
    ],
)
def test_what_has_no_room_is_refused_with_numbers(lines: str, words: str) -> None:
    with pytest.raises((SpecError, RuleError), match=re.escape(words)):
        made(lines)


@pytest.mark.parametrize(
    "lines",
    [
        "counterbore = { diameter = 14.0, depth = %s }",
        'counterbore = { diameter = 14.0, depth = 2.0, face = "back" }\n'
        "countersink = { diameter = %s, angle = 82 }",
        "countersink = { diameter = %s, angle = 60 }",
    ],
)
def test_what_is_said_to_work_for_a_recess_works(lines: str) -> None:
    with pytest.raises(RuleError) as caught:
        made(lines % 11.5 if "depth = %s" in lines else lines % 17.0)
    made(lines % str(caught.value).rpartition("; ")[2].removesuffix(" works"))


def made(lines: str) -> None:
    spec = from_toml(SPEC + lines + "\n")
    blank(spec.ring, spec.mount)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("", ""),
        ("counterbore = { diameter = 13.5, depth = 1.0 }", ""),
        (
            "counterbore = { diameter = 12.5, depth = 1.0 }",
            "A head of 13 mm does not go into a counterbore of 12.5: measure your bolt",
        ),
        ("hole = 13.0", "A head of 13 mm falls through a hole of 13: measure your bolt"),
        ("pad = 6.4", "A head of 13 mm is wider than its pad of 12.8, and clamps openings too"),
    ],
)
def test_a_head_that_does_not_go_with_its_hole_is_told(lines: str, words: str) -> None:
    mount = from_toml(SPEC + lines + "\n").mount
    said = head_caution(mount.bolt_holes, 13.0, mount.pad)
    assert said.startswith(words)
    assert bool(said) == bool(words)


def test_holes_may_be_unlike() -> None:
    holes = '[{ hole = 10.1 }, { tap = "M8x0.75" }, { hole = 10.1 }, { hole = 8.1 }]'
    spec = from_toml(f"{SPEC}holes = {holes}\n")
    radii = [one.radii[0] for one in blank(spec.ring, spec.mount).bolts]
    assert radii == pytest.approx([5.05, 3.594, 5.05, 4.05])
    assert spec.mount.widest_hole == 10.1
    assert from_toml(to_toml(spec)) == spec

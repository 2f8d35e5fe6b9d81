"""Bolt circles found from the distances of their holes."""

import math
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from openwork.cli import main
from openwork.errors import SpecError
from openwork.part.chords import COMMON, READ, angles_of, circle_of, common_of, tolerance
from openwork.part.mount import Mount
from openwork.spec.spec import from_toml, to_toml

# Chords between neighbouring holes, mm, of two public bolt-circle tables: bolts, circle, chord.
READINGS = [
    *((5, 151, 88.8), (5, 144, 84.6), (5, 135, 79.4), (5, 130, 76.4), (5, 128, 75.2)),
    *((5, 122, 71.7), (5, 118, 69.4), (5, 110, 64.7), (5, 74, 43.5), (4, 146, 103.3)),
    *((4, 120, 84.9), (4, 104, 73.6), (4, 102, 72.1), (4, 88, 62.2), (4, 80, 56.6)),
    *((4, 64, 45.3), (3, 86, 74.5)),
]
# Least rings of the same tables, and, from memory, of 104 and 64.
SMALLEST = {(5, 144): 41, (5, 135): 39, (5, 130): 38, (5, 110): 33, (4, 104): 32, (4, 64): 22}


@pytest.mark.parametrize(("bolts", "circle", "chord"), READINGS)
def test_a_chord_read_from_a_table_gives_its_circle_back(
    bolts: int, circle: float, chord: float
) -> None:
    found = circle_of([chord] * bolts)
    assert found == pytest.approx(circle, abs=0.13)
    common = common_of(bolts, found, even=True)
    assert common is not None
    assert (common.bolts, common.circle) == (bolts, circle)
    if (bolts, circle) in SMALLEST:
        assert common.teeth == SMALLEST[bolts, int(circle)]


@pytest.mark.parametrize("one", COMMON, ids=lambda one: f"{one.bolts}x{one.circle:g}")
def test_the_exact_chord_of_every_common_circle_gives_it_back(one: Any) -> None:
    chord = one.circle * math.sin(math.pi / one.bolts)
    assert circle_of([chord] * one.bolts) == pytest.approx(one.circle, abs=1e-9)
    assert tolerance([chord] * one.bolts) == pytest.approx(READ / math.sin(math.pi / one.bolts))


@given(st.lists(st.floats(0.4, 2.4), min_size=3, max_size=8), st.floats(30, 300))
def test_holes_laid_on_a_circle_are_found_again(gaps: list[float], circle: float) -> None:
    angles = np.concatenate([[0.0], np.cumsum(gaps)]) * 2 * math.pi / sum(gaps)
    holes = circle / 2 * np.exp(1j * angles)
    chords = np.abs(np.diff(holes)).tolist()
    if np.diff(angles).max() >= math.pi - 1e-3:
        return
    found = circle_of(chords)
    assert found == pytest.approx(circle, rel=1e-7)
    assert angles_of(chords, found) == pytest.approx(np.degrees(angles[:-1]), abs=1e-4)


def test_uneven_arms_are_told_in_the_spec_by_their_distances() -> None:
    text = "[ring]\nteeth = 46\n[mount]\nchords = [64.7, 89.0]\n"
    spec = from_toml(text)
    assert (spec.mount.bolts, spec.mount.fold) == (4, 2)
    points = spec.mount.bolt_points
    sides = [math.dist(points[k], points[(k + 1) % 4]) for k in range(4)]
    assert sides == pytest.approx([64.7, 89.0, 64.7, 89.0], abs=1e-3)
    # Arms of 72 and 108 degrees on 110 mm: both chords by hand.
    assert 110 * math.sin(math.radians(36)) == pytest.approx(64.7, abs=0.05)
    assert spec.mount.circle == pytest.approx(110, abs=0.1)
    assert from_toml(to_toml(spec)) == spec


@pytest.mark.parametrize(
    ("mount", "words"),
    [
        ("chords = [100.0, 20.0, 20.0]", "mount.chords: 100, 20, 20 mm close on no circle"),
        ("bolts = 5\nchords = [64.7, 89.0]", "mount.chords: 2 distances do not go round 5 bolts"),
        ("bolts = 4\ncircle = 110\nchords = [73.5]", "mount.chords: say a circle of 103.94 mm"),
        ("chords = [0.5, 89.0]\ncircle = 110", "mount.chords: 0.5 mm is no distance of two holes"),
        ("chords = [-5.0, 50.0]\ncircle = 110", "mount.chords: -5 mm is no distance of two holes"),
    ],
)
def test_distances_that_contradict_are_refused(mount: str, words: str) -> None:
    with pytest.raises(SpecError, match=words.replace(".", r"\.")):
        from_toml(f"[ring]\nteeth = 46\n[mount]\n{mount}\n")


def test_a_turn_moves_every_bolt_and_leaves_the_rest() -> None:
    plain = Mount(circle=110.0, bolts=4, angles=(0.0, 72.0, 180.0, 252.0))
    turned = plain.model_copy(update={"turn": 90.0})
    assert turned.bolt_points == pytest.approx(plain.bolt_points @ np.array([[0, 1], [-1, 0]]))
    assert turned.fold == plain.fold


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["mount", *words])


def test_the_command_names_the_common_circle_and_what_goes_into_the_spec() -> None:
    result = run("--bolts", "4", "--chord", "73.5")
    assert result.exit_code == 0
    assert "4 x 104 mm" in result.output
    assert "holes usually 10.1 mm, least ring usually 32 teeth" in result.output
    table = result.output.partition("[mount]")[2]
    assert from_toml(f"[ring]\nteeth = 42\n[mount]{table}").mount.circle == 104


def test_a_circle_is_common_only_with_arms_like_its_own() -> None:
    uneven = run("--bolts", "4", "--chord", "64.7", "--chord", "89.0").output
    assert "4 uneven x 110 mm is the common circle there" in uneven
    nearly = run(*(word for chord in (60, 60, 60, 70) for word in ("--chord", f"{chord}"))).output
    assert "no common circle; 4 uneven x 110 mm is nearest, 21.37 mm off" in nearly
    assert "no circle of 6 bolts is in common use" in run("--bolts", "6", "--chord", "22").output


def test_outsides_and_insides_are_a_hole_off_the_centres() -> None:
    centres = run("--bolts", "5", "--chord", "64.7", "--json").output
    for over, chord in (("outsides", "74.8"), ("insides", "54.6")):
        words = ("--bolts", "5", "--chord", chord, "--over", over, "--hole", "10.1", "--json")
        assert run(*words).output == centres


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--bolts", "5", "--chord", "64.7", "--chord", "89"), "bolts = 4 works"),
        (("--chord", "100", "--chord", "20", "--chord", "20"), "close on no circle"),
        (("--bolts", "4", "--chord", "73", "--over", "insides"), "needs --hole"),
        (("--bolts", "4", "--chord", "nan"), "--chord"),
        (("--bolts", "4", "--chord", "73,5"), "73.5 works"),
        (("--bolts", "4", "--chord", "73.5mm"), "73.5 works"),
        (("--bolts", "4", "--chord", "far"), '"far" is no number of mm'),
        (("--bolts", "4", "--chord", "599"), "a circle of 847.11 mm; a mount takes 30 to 600 mm"),
        (("--bolts", "4", "--chord", "6"), "a circle of 8.49 mm; a mount takes 30 to 600 mm"),
    ],
)
def test_what_closes_no_circle_is_refused_with_status_2(words: tuple[str, ...], says: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert says in result.stderr
    assert "Traceback" not in result.output

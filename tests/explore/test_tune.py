"""Mass on target: on the gram, inside the window that is told, the user's file respected."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

import openwork
from openwork.cli import main
from openwork.design import design
from openwork.errors import RuleError, SpecError
from openwork.explore.reach import unreachable
from openwork.explore.tune import Trials, settled, tuned
from openwork.figures import mass
from openwork.fill.pattern import families
from openwork.spec import changed, load
from openwork.testing import site_spec

GALLERY = Path(__file__).parents[2] / "gallery"
SITE = "48 teeth, 4 on 104"


@pytest.mark.parametrize("name", ["harbour", "breakwater", "lighthouse", "buoy"])
@pytest.mark.parametrize("factor", [0.9, 1.15])
def test_a_gallery_ring_is_tuned_to_the_gram(name: str, factor: float) -> None:
    spec = load(GALLERY / name / "spec.toml")
    target = factor * mass(design(spec))
    found = tuned(spec, target)
    assert abs(mass(design(found.spec)) - target) <= 0.05
    assert found.tried <= 8


@pytest.mark.parametrize("family", sorted(families()))
def test_every_family_is_tuned_or_says_what_it_can(family: str) -> None:
    spec = site_spec(SITE, name=family)
    target = 1.1 * mass(design(spec))
    try:
        found = tuned(spec, target)
    except RuleError as error:
        told = str(error)
    else:
        told = "reached" if abs(mass(found.design) - target) <= 0.05 else "off target"
    assert told == "reached" or "cannot be reached" in told or "jumped over" in told


@given(st.sampled_from(["honeycomb", "spokes", "michell"]), st.floats(1, 4), st.floats(0.05, 1))
@settings(max_examples=25, deadline=None)
def test_more_rib_weighs_more(family: str, rib: float, more: float) -> None:
    spec = site_spec(SITE, name=family)
    spec = settled(spec, design(spec))
    thin, thick = (
        design(changed(spec, {"web.rib": width}, source="")) for width in (rib, rib + more)
    )
    assert mass(thick) > mass(thin)


def test_the_window_is_right() -> None:
    """The masses told as the least and the greatest can be had, and no more than those."""
    spec = load(GALLERY / "slipway" / "spec.toml")
    with pytest.raises(RuleError) as refused:
        tuned(spec, 100.0)
    words = str(refused.value).splitlines()[0].split()
    least, most = float(words[words.index("from") + 1]), float(words[words.index("to") + 1])
    assert abs(tuned(spec, most - 0.05).mass - (most - 0.05)) <= 0.05
    assert abs(tuned(spec, least + 0.05).mass - (least + 0.05)) <= 0.05
    for outside in (least - 0.3, most + 0.3):
        with pytest.raises(RuleError, match=r"cannot be reached|jumped over"):
            tuned(spec, outside)


def test_a_jump_is_told_as_one() -> None:
    spec = load(GALLERY / "harbour" / "spec.toml")
    trials = Trials(settled(spec, design(spec)), "web.rib")
    trials.start(design(spec))
    light, heavy = trials.mass(8.39), trials.mass(8.41)
    told = unreachable(trials, (light + heavy) / 2, (0.5, 30.0))
    assert "jumped over" in told
    assert "drop out" in told


def test_the_plate_can_be_turned() -> None:
    spec = load(GALLERY / "harbour" / "spec.toml")
    found = tuned(spec, 75.0, key="ring.plate")
    assert found.spec.ring.plate > spec.ring.plate
    assert abs(found.mass - 75.0) <= 0.05


@pytest.mark.parametrize("key", ["ring.teeth", "ring.chain", "pattern.columns", "sails.jib", "rib"])
def test_a_key_that_does_not_vary_is_refused(key: str) -> None:
    with pytest.raises(SpecError, match=r"web\.rib or ring\.plate works"):
        tuned(load(GALLERY / "harbour" / "spec.toml"), 80.0, key=key)


def test_comments_and_order_survive(tmp_path: Path) -> None:
    source = GALLERY / "harbour" / "spec.toml"
    done = CliRunner().invoke(main, ["tune", str(source), "--mass", "90", "--out", str(tmp_path)])
    assert done.exit_code == 0, done.output
    before, after = source.read_text(encoding="utf-8"), (tmp_path / "spec.toml").read_text()
    kept = [line for line in before.splitlines() if not line.startswith("rib")]
    assert [line for line in after.splitlines() if line in kept] == kept
    assert abs(mass(design(openwork.load(tmp_path / "spec.toml"))) - 90) <= 0.05


def test_a_new_family_leaves_no_old_parameters(tmp_path: Path) -> None:
    source = GALLERY / "harbour" / "spec.toml"
    words = ["tune", str(source), "--mass", "70", "--set", "pattern.name=spokes"]
    done = CliRunner().invoke(main, [*words, "--out", str(tmp_path), "--json"])
    assert done.exit_code == 0, done.output
    assert json.loads(done.output)["mass"] == pytest.approx(70, abs=0.05)
    spec = openwork.load(tmp_path / "spec.toml")
    assert spec.pattern.name == "spokes"
    assert abs(mass(design(spec)) - 70) <= 0.05


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (["--mass", "500"], 1, "cannot be reached"),
        (["--mass", "nan"], 2, "--mass"),
        (["--mass", "-3"], 2, "from 1 to 5000"),
        (["--by", "ring.teeth"], 2, "not a number that can be turned"),
    ],
)
def test_a_wrong_line_writes_nothing(
    words: list[str], code: int, part: str, tmp_path: Path
) -> None:
    line = ["tune", str(GALLERY / "harbour" / "spec.toml"), *words, "--out", str(tmp_path / "o")]
    done = CliRunner().invoke(main, line)
    assert done.exit_code == code
    assert part in done.output
    assert not (tmp_path / "o").exists()

"""``openwork patterns``: the list, one pattern, its drawing, the figures."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from openwork.cli import main
from openwork.fill.catalogue import catalogue
from openwork.fill.registry import patterns
from openwork.measure.figures import meanings


def run(*words: str, code: int = 0) -> str:
    done = CliRunner().invoke(main, ["patterns", *words])
    assert done.exit_code == code, done.output
    return done.output


def test_every_pattern_is_listed() -> None:
    shown = run()
    assert all(name in shown for name in patterns())


def test_every_pattern_says_what_it_is() -> None:
    for one in catalogue():
        assert one.kind in {"cells", "net", "shapes", "field", "drawn", "solid"}
        assert 5 < len(one.summary) < 80
        assert one.parameters or one.kind == "solid"
        assert all(parameter.help for parameter in one.parameters)
        ranged = [p for p in one.parameters if not p.choices and p.name != "outlines"]
        assert all(p.low is not None and p.high is not None for p in ranged)


def test_the_list_is_machine_readable() -> None:
    listed = json.loads(run("--json"))
    assert {one["name"] for one in listed} == set(patterns())
    spokes = next(one for one in listed if one["name"] == "spokes")
    assert {"name", "kind", "summary", "parameters"} <= set(spokes)
    assert spokes["parameters"][1]["high"] == 65


def test_one_pattern_is_described_and_drawn(tmp_path: Path) -> None:
    shown = run("spokes", "--out", str(tmp_path))
    assert "a multiple of the symmetry" in shown
    assert "-65 to 65" in shown
    assert (tmp_path / "spokes.svg").read_text(encoding="utf-8").startswith("<?xml")


def test_the_figures_are_explained() -> None:
    listed = json.loads(run("--figures", "--json"))
    assert set(meanings()) <= set(listed)
    assert listed["mass"]["unit"] == "g"
    assert listed["strength.stiffness"]["unit"] == "N m/deg"


@pytest.mark.parametrize(
    ("words", "part"),
    [(["spoke"], "did you mean 'spokes'"), (["--out", "x"], "needs the NAME")],
)
def test_a_wrong_line_is_told_what_works(words: list[str], part: str) -> None:
    assert part in run(*words, code=2)

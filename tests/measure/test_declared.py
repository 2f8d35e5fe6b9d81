"""A figure is declared once: a planted one is found wherever figures are told."""

import csv
import dataclasses
import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from openwork.cli import main
from openwork.explore.variants.figure_rows import known, names
from openwork.measure import figures as measured
from openwork.measure.figures import Figures
from openwork.tables.figure import figure
from openwork.tables.plain import plain

GLOW = figure("lm", "light given off", label="glow of the ring", better=1, places=1)
SPEC = """
title = "Slip 24"
[ring]
teeth = 24
[mount]
bolts = 4
circle = 64.0
bore = 50.0
[pattern]
name = "spokes"
count = 20
[goal]
hold = "rib"
teeth = [24, 26]
"""


@dataclasses.dataclass(frozen=True, kw_only=True)
class Planted(Figures):
    """Figures and one more."""

    glow: float = dataclasses.field(default=0.0, metadata=GLOW.metadata)

    def __post_init__(self) -> None:
        object.__setattr__(self, "glow", self.mass / 3)


@pytest.fixture(autouse=True)
def planted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(measured, "Figures", Planted)


def run(folder: Path, command: str, *options: str) -> str:
    (folder / "slip.toml").write_text(SPEC)
    line = [command, str(folder / "slip.toml"), "--out", str(folder / "out"), *options]
    result = CliRunner().invoke(main, line)
    assert result.exit_code == 0, result.output
    return result.stdout


def test_in_the_json_of_a_ring(tmp_path: Path) -> None:
    found = json.loads(run(tmp_path, "draw", "--json"))
    assert found["glow"] == pytest.approx(found["mass"] / 3, rel=1e-5)
    assert found["glow"] == plain(found["glow"])


def test_in_the_help_on_figures() -> None:
    told = CliRunner().invoke(main, ["patterns", "--figures"]).output
    (row,) = [line for line in told.splitlines() if "glow" in line]
    assert "lm" in row
    assert "light given off" in row
    listed = json.loads(CliRunner().invoke(main, ["patterns", "--figures", "--json"]).output)
    assert listed["glow"] == {"unit": "lm", "meaning": "light given off"}
    assert "glow" in names()
    assert known("glow") == "glow"


def test_on_sheet_page_and_comparison(tmp_path: Path) -> None:
    options = ("--vary", "web.rib=1.6,2,2.4", "--sort", "glow", "--compare", "A1,A2", "--jobs", "1")
    rings = json.loads(run(tmp_path, "sheet", *options, "--json"))
    glows = [rings[mark]["figures"]["glow"] for mark in ("A1", "A2", "A3")]
    assert glows == sorted(glows, reverse=True)
    assert glows[0] > glows[2]
    page = (tmp_path / "out/sheet.html").read_text()
    row = '"label":"glow of the ring","unit":"lm","meaning":"light given off","better":1,"places":1'
    assert f'"key":"glow",{row}' in page
    compared = (tmp_path / "out/compare.svg").read_text()
    assert "glow of the ring, lm" in compared
    assert f"{glows[0]:.1f}" in compared


def test_in_a_family_and_its_table(tmp_path: Path) -> None:
    sizes = json.loads(run(tmp_path, "family", "--jobs", "1", "--json"))["sizes"]
    with (tmp_path / "out/family.csv").open(newline="") as file:
        rows = [*csv.DictReader(file)]
    for row, size in zip(rows, sizes, strict=True):
        assert float(row["glow (lm)"]) == size["glow"] == plain(size["glow"]) > 0
        alone = json.loads((tmp_path / f"out/{size['teeth']}/figures.json").read_text())
        assert alone["glow"] == size["glow"]


def test_without_the_plant_there_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()
    assert known("glow") is None
    assert "glow" not in CliRunner().invoke(main, ["patterns", "--figures"]).output

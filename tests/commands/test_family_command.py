"""``openwork family`` as it is typed."""

import csv
import hashlib
import json
import math
import os
import re
import signal
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

import openwork
from openwork.cli import main
from openwork.errors import RuleError
from openwork.measure.figures import Figures, meanings
from openwork.render.ring.outline import ring_svg
from openwork.ring import Design
from openwork.spec.spec import from_toml
from openwork.tables.recipe import recipe

SPEC = """# The ferry crew's rings.
title = "Ferry 42"

[ring]
teeth = 42  # the ring that sets the look

[mount]
circle = 110.0

[pattern]
name = "honeycomb"
columns = 40

[goal]
mass = 70.0
teeth = [41, 43]  # what is sold
"""


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    path = tmp_path / "ferry.toml"
    path.write_text(SPEC)
    return path


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, ["family", *map(str, arguments)])


def test_a_folder_for_each_size_and_the_sheets_are_written(spec: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run(spec, "--out", out)
    assert result.exit_code == 0, result.output
    sizes = {f"{teeth}/{name}" for teeth in (41, 42, 43)
             for name in ("spec.toml", "ring.svg", "preview.svg", "figures.json")}  # fmt: skip
    found = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert found - {"family.pdf"} == sizes | {"family.svg", "family.csv", "family.json"}
    for path in out.rglob("*.svg"):
        ET.parse(path)
    assert "estimates" in result.output
    assert "stand out" in result.output or "No size stands out" in result.output


def test_each_size_is_drawn_again_from_its_own_spec_comments_kept(
    spec: Path, tmp_path: Path
) -> None:
    assert run(spec, "--out", tmp_path).exit_code == 0
    for teeth in (41, 43):
        folder = tmp_path / str(teeth)
        text = (folder / "spec.toml").read_text()
        assert "# The ferry crew's rings." in text
        assert "# what is sold" in text
        ring = openwork.design(openwork.load(folder / "spec.toml"))
        figures = json.loads((folder / "figures.json").read_text())
        assert ring.spec.title == f"Ferry {teeth}"
        assert abs(figures["mass"] - 70.0) <= 0.05
        assert openwork.figures(ring).as_dict().items() <= figures.items()
        again = from_toml(recipe((folder / "ring.svg").read_text()))
        assert openwork.design(again).openings == ring.openings


def test_the_json_lists_every_figure_of_every_size(spec: Path, tmp_path: Path) -> None:
    result = run(spec, "--out", tmp_path, "--json")
    listed = json.loads(result.stdout)
    assert listed == json.loads((tmp_path / "family.json").read_text())
    assert [size["teeth"] for size in listed["sizes"]] == [41, 42, 43]
    drive = {"pitch", "root", "tip", "over_pins", "pull", "ripple", "even", "gear", "development"}
    for size in listed["sizes"]:
        assert set(meanings()) <= set(size)
        assert set(size["drive"]) == drive
    assert listed["consistency"]["stands_out"]["line"]


def test_the_table_holds_what_the_json_does(spec: Path, tmp_path: Path) -> None:
    sets = ["--set", "drive.cog=14", "--set", "drive.wheel=700", "--set", "goal.teeth=[28,41,43]"]
    result = run(spec, "--out", tmp_path, *sets)
    assert result.exit_code == 0, result.output
    with (tmp_path / "family.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    sizes = json.loads((tmp_path / "family.json").read_text())["sizes"]
    assert [row["teeth"] for row in rows] == ["28", "41", "43"]
    assert [row["made"] for row in rows] == ["no", "yes", "yes"]
    assert rows[0]["reason"] == " / ".join(sizes[0]["reason"].splitlines())
    for row, size in zip(rows[1:], sizes[1:], strict=True):
        assert float(row["mass (g)"]) == size["mass"]
        assert float(row["rib.least (mm)"]) == size["rib"]["least"]
        assert float(row["drive.over_pins (mm)"]) == size["drive"]["over_pins"]
        # Turns of the cog by the teeth, and the circumference for each.
        metres = size["teeth"] / 14 * math.pi * 0.7
        assert float(row["drive.development (m)"]) == pytest.approx(metres, abs=1e-5)
        assert float(row["drive.gear (1)"]) == pytest.approx(size["teeth"] / 14, abs=1e-5)


def test_the_number_of_processes_changes_no_byte(spec: Path, tmp_path: Path) -> None:
    for jobs in (1, 2):
        assert run(spec, "--out", tmp_path / str(jobs), "--jobs", jobs).exit_code == 0
    one, two = (
        {p.relative_to(tmp_path / jobs): p.read_bytes()
         for p in (tmp_path / jobs).rglob("*") if p.is_file()}
        for jobs in ("1", "2")
    )  # fmt: skip
    assert one == two


def test_a_size_that_cannot_be_made_is_said_and_old_files_of_it_are_too(
    spec: Path, tmp_path: Path
) -> None:
    (tmp_path / "28").mkdir()
    result = run(spec, "--out", tmp_path, "--set", "goal.teeth=[28,41,42]")
    assert result.exit_code == 0, result.output
    assert re.search(r"28 teeth cannot be made: \S", result.output)
    assert f"{tmp_path / '28'} is left from an earlier run" in result.output
    assert not list((tmp_path / "28").iterdir())
    assert "28 teeth cannot be made" in (tmp_path / "family.svg").read_text()


def test_a_family_of_nothing_ends_in_1(spec: Path, tmp_path: Path) -> None:
    result = run(spec, "--out", tmp_path, "--set", "goal.mass=500", "--set", "goal.teeth=[42]")
    assert result.exit_code == 1
    assert "none of the sizes can be made" in result.output
    assert "500 g cannot be reached" in (tmp_path / "family.json").read_text()


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (["--set", "goal.teeth=[]"], 2, "goal.teeth: missing; goal.teeth = [38, 46] works"),
        (["--set", "goal.teeth=[43, 41]"], 2, "must rise; [41, 43] works"),
        (["--set", "goal.teeth=[1, 200]"], 2, "whole numbers from 9 to 150"),
        (["--set", "goal.hold=ribs"], 2, '"mass" or "share" or "rib"'),
        (["--set", "goal.teeth=[41,44]", "--set", "goal.per_tooth=-50"], 2, "makes it -30 g at 44"),
        (["--jobs", "0"], 2, "--jobs"),
        (["--to", "dwg"], 2, '--to "dwg": is none of svg, dxf'),
        (["--to", ""], 2, "is none of svg"),
        (["--set", "goal.share=1.2"], 2, "goal.share"),
        (["--set", "goal.mass=[90, 80]"], 2, "the least comes first; [80, 90] works"),
        (["--paper", "B5"], 2, "--paper"),
        (["--set", "mount.circle=200"], 1, "bolt centres on a circle of 200 mm"),
    ],
)
def test_a_wrong_line_writes_nothing(
    spec: Path, tmp_path: Path, words: list[str], code: int, part: str
) -> None:
    result = run(spec, *words, "--out", tmp_path / "o")
    assert result.exit_code == code, result.output
    assert part in result.output
    assert not (tmp_path / "o").exists()


def test_a_file_in_the_way_is_named(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "o").write_text("")
    result = run(spec, "--out", tmp_path / "o", "--set", "goal.teeth=[42]")
    assert result.exit_code == 1
    assert "earlier files are whole" in result.output


def test_an_interrupt_leaves_nothing_half_done(spec: Path, tmp_path: Path) -> None:
    line = [sys.executable, "-m", "openwork", "family", str(spec), "--out", str(tmp_path / "o")]
    line += ["--jobs", "2", "--set", "goal.teeth=[34, 150]", "--set", "goal.per_tooth=4"]
    with subprocess.Popen(line, stderr=subprocess.PIPE, start_new_session=True) as process:
        time.sleep(2.5)
        os.kill(process.pid, signal.SIGINT)
        _, told = process.communicate(timeout=30)
    assert process.returncode == 130, told
    assert told.decode().splitlines() == ["interrupted; earlier files are whole"]
    assert not (tmp_path / "o").exists()


def test_odd_mounts_have_families(spec: Path, tmp_path: Path) -> None:
    uneven = "mount.angles=[0, 82, 180, 262]"
    sets = ["--set", "mount.bolts=4", "--set", uneven, "--set", "goal.hold=rib"]
    result = run(spec, "--out", tmp_path, *sets, "--set", "goal.teeth=[42, 43]")
    assert result.exit_code == 0, result.output
    assert (tmp_path / "43" / "ring.svg").exists()


def test_every_size_is_exported_calculated_and_packed(spec: Path, tmp_path: Path) -> None:
    out = tmp_path / "o"
    result = run(spec, "--out", out, "--to", "svg", "--strength", "--zip", "--jobs", "1",
                 "--set", "goal.teeth=[41, 42]")  # fmt: skip
    assert result.exit_code == 0, result.output
    assert "checks passed" in result.output
    assert "ISO 4210-8" in result.output
    listed = {
        size["teeth"]: size for size in json.loads((out / "family.json").read_text())["sizes"]
    }
    sheet = (out / "family.svg").read_text()
    for teeth in (41, 42):
        strength = listed[teeth]["strength"]
        assert json.loads((out / f"{teeth}/figures.json").read_text())["strength"] == strength
        note = json.loads((out / f"{teeth}/handover.json").read_text())
        assert note["files"]["ring.svg"]["sha256"] == hashlib.sha256(
            (out / f"{teeth}/ring.svg").read_bytes()).hexdigest()  # fmt: skip
        aside, plane = strength["lateral_between_vs_plate"], strength["stiffness_vs_plate"]
        # Derived: 1500 N on a level crank of 170 mm (EN 14766:2005 4.13.6.2) over half the pitch
        # diameter; the slack strand's own pull is on top of it, a few per cent.
        alone = 2 * 255e3 / (12.7 / math.sin(math.pi / teeth))
        assert strength["pull"] == listed[teeth]["drive"]["pull"]
        assert 1.0 < strength["pull"] / alone < 1.04
        assert f"aside ×{aside:.2f} · ×{plane:.2f}" in sheet
    with (out / "family.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert float(rows[0]["strength.stiffness (N m/deg)"]) == listed[41]["strength"]["stiffness"]
    with zipfile.ZipFile(out / "family.zip") as archive:
        packed = {name: archive.read(name) for name in archive.namelist()}
    found = {p.relative_to(out).as_posix(): p.read_bytes() for p in out.rglob("*.*")}
    del found["family.zip"]
    assert packed == found


def test_a_size_whose_file_is_refused_is_named_and_the_others_stay(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def make(design: Design, figures: Figures, choices: object) -> bytes:
        if design.blank.teeth == 42:
            raise RuleError("ring.svg: planted")
        return ring_svg(design, figures).encode()

    monkeypatch.setattr("openwork.render.shop.svg.make", make)
    result = run(spec, "--out", tmp_path / "o", "--to", "svg", "--jobs", "1",
                 "--set", "goal.teeth=[41, 42]")  # fmt: skip
    assert result.exit_code == 1
    assert "ferry.toml: 42 teeth: ring.svg: planted" in result.output
    assert (tmp_path / "o/41/handover.json").exists()
    assert not (tmp_path / "o/42/handover.json").exists()

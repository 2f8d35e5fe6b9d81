"""The register of formats: a planted seventh is found wherever the six are."""

import gzip
import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from openwork.cli import main
from openwork.render.accept.acceptance import CHECKS
from openwork.render.shop.formats import FORMATS
from tests.render import zipped

ROOT = Path(__file__).parents[2]
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
"""


@pytest.fixture
def seventh(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, row in zipped.ROW.items():
        monkeypatch.setitem(FORMATS, name, row)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "slip.toml").write_text(SPEC)
    return tmp_path


def export(folder: Path, formats: str) -> Result:
    line = ["export", str(folder / "slip.toml"), "--to", formats, "--out", str(folder / "out")]
    return CliRunner().invoke(main, line)


def test_the_help_lists_it() -> None:
    line = [sys.executable, "-m", "tests.render.zipped", "export", "--help"]
    told = subprocess.run(line, capture_output=True, text=True, check=True, cwd=ROOT).stdout
    assert ", ".join([*FORMATS, "svgz"]) in " ".join(told.split())


@pytest.mark.usefixtures("seventh")
def test_it_is_written_judged_and_told(folder: Path) -> None:
    result = export(folder, "svg,svgz")
    assert result.exit_code == 0, result.output
    data = (folder / "out/ring.svgz").read_bytes()
    assert gzip.decompress(data) == (folder / "out/ring.svg").read_bytes()
    note = json.loads((folder / "out/handover.json").read_text())
    assert note["files"]["ring.svgz"]["checks"] == [*CHECKS]
    assert f"ring.svgz, {len(data) / 1e3:.0f} kB: {len(CHECKS)} checks passed" in result.output


@pytest.mark.usefixtures("seventh")
def test_its_damaged_file_is_refused_by_the_check_of_its_name(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(zipped, "UNIT", "in")
    result = export(folder, "svgz")
    assert result.exit_code == 1
    assert "ring.svgz: units: the file is in in, not in mm" in result.output
    assert not (folder / "out").exists()


@pytest.mark.usefixtures("seventh")
def test_its_extra_is_asked_for(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "gzip", None)
    result = export(folder, "svgz")
    assert result.exit_code == 2
    assert "pip install 'openwork[zip]'" in result.output


def test_without_its_row_it_is_none_of_the_six(folder: Path) -> None:
    result = export(folder, "svgz")
    assert result.exit_code == 2
    assert f"none of {', '.join(FORMATS)}" in result.output


@pytest.mark.parametrize("name", FORMATS)
def test_every_row_has_a_module_that_makes_and_judges(name: str) -> None:
    kind = FORMATS[name].module()
    assert callable(kind.make)
    assert callable(kind.judge)
    assert FORMATS[name].file.endswith(f".{name}")


def test_the_register_loads_nothing_that_makes_a_file() -> None:
    code = (
        "import sys, openwork.render.shop.formats; "
        "print({'numpy', 'shapely', 'ezdxf', 'OCP', 'trimesh', 'typst'} & set(sys.modules))"
    )
    line = [sys.executable, "-c", code]
    told = subprocess.run(line, capture_output=True, text=True, check=True, cwd=ROOT).stdout
    assert told.strip() == "set()"

"""``openwork export``: what it writes, and that nothing half-written or unchecked stays."""

import errno
import hashlib
import json
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from openwork.cli import main
from openwork.render.accept.acceptance import CHECKS
from openwork.render.shop import dxf

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
FILES = ["ring.svg", "ring.dxf", "ring.step", "ring.3mf", "ring.stl", "template.pdf"]


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    path = tmp_path / "slip.toml"
    path.write_text(SPEC)
    return path


def export(spec: Path, *options: Any) -> Result:
    return CliRunner().invoke(main, ["export", str(spec), *map(str, options)])


def test_every_format_is_written_checked_and_told(spec: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = export(spec, "--to", "svg,dxf,step,3mf,stl,pdf", "--out", out)
    assert result.exit_code == 0, result.output
    assert sorted(path.name for path in out.iterdir()) == sorted(
        [*FILES, "handover.json", "handover.pdf"]
    )
    note = json.loads((out / "handover.json").read_text())
    assert list(note["files"]) == FILES
    for name, told in note["files"].items():
        data = (out / name).read_bytes()
        assert told["bytes"] == len(data)
        assert told["sha256"] == hashlib.sha256(data).hexdigest()
        assert len(told["checks"]) == (3 if name.endswith("pdf") else len(CHECKS))
    assert note["title"] == "Slip 24"
    assert note["overall"]["diameter"] == pytest.approx(103.41, abs=0.01)
    assert note["tolerance"] == "ISO 2768-m"
    assert note["bolt_holes"]["class"] == "H11"
    assert note["contours"] == 2 + 4 + 12
    assert "ISO 4210" in note["caution"]
    assert "checks passed" in result.output
    assert "estimates" in result.output


def test_the_same_spec_makes_the_same_bytes(spec: Path, tmp_path: Path) -> None:
    made = []
    for name in "ab":
        out = tmp_path / name
        assert export(spec, "--to", "svg,dxf,3mf,stl,pdf", "--out", out).exit_code == 0
        made.append({path.name: path.read_bytes() for path in out.iterdir()})
    assert made[0] == made[1]


def test_json_prints_the_note_and_nothing_else(spec: Path, tmp_path: Path) -> None:
    result = export(spec, "--to", "svg", "--out", tmp_path / "out", "--json")
    assert json.loads(result.stdout) == json.loads((tmp_path / "out/handover.json").read_text())


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--to", "stp"), '"step" works'),
        (("--to", ","), "none of svg"),
        (("--to", "svg,dwg,iges"), "dwg"),
        (("--to", "stl", "--chord", "0"), "--chord 0"),
        (("--to", "stl", "--chord", "nan"), "--chord nan"),
        (("--to", "stl", "--hole-clearance", "99"), "--hole-clearance 99"),
        (("--to", "pdf", "--paper", "A5"), "A5"),
        (("--to", "dxf", "--dxf-version", "R9"), "R9"),
    ],
)
def test_a_wrong_command_line_is_refused(
    spec: Path, tmp_path: Path, options: Any, said: str
) -> None:
    result = export(spec, *options, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert said in result.output
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("name", "package", "extra"),
    [
        ("dxf", "ezdxf", "dxf"),
        ("step", "OCP", "step"),
        ("stl", "trimesh", "print"),
        ("3mf", "lib3mf", "print"),
        ("pdf", "typst", "pdf"),
        ("pdf", "font_source_sans_pro", "pdf"),
    ],
)
def test_a_missing_extra_is_named(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, package: str, extra: str
) -> None:
    monkeypatch.setitem(sys.modules, package, None)
    result = export(spec, "--to", name, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert f"pip install 'openwork[{extra}]'" in result.output
    assert not (tmp_path / "out").exists()


def test_a_file_that_fails_is_not_kept_and_its_check_is_named(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "ring.dxf").write_text("an earlier one")
    monkeypatch.setattr(dxf, "MM", 1)
    result = export(spec, "--to", "svg,dxf", "--out", out)
    assert result.exit_code == 1
    assert "ring.dxf: units: the file is in inches" in result.output
    assert [path.name for path in out.iterdir()] == ["ring.dxf"]
    assert (out / "ring.dxf").read_text() == "an earlier one"


def test_a_folder_that_cannot_be_written_is_named(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    result = export(spec, "--to", "svg", "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert str(tmp_path / "out") in result.output
    assert (tmp_path / "out").read_text() == "a file"


def test_a_full_disk_leaves_nothing_half_written(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "ring.svg").write_text("an earlier one")
    write = Path.write_bytes

    def full(path: Path, data: bytes) -> Any:
        if path.parent == out and "dxf" in path.name:
            write(path, data[: len(data) // 2])
            raise OSError(errno.ENOSPC, "No space left on device")
        return write(path, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    result = export(spec, "--to", "svg,dxf", "--out", out)
    assert result.exit_code == 1
    assert "No space left" in result.output
    assert [path.name for path in out.iterdir()] == ["ring.svg"]
    assert (out / "ring.svg").read_text() == "an earlier one"


def test_what_the_disk_garbles_is_removed(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write = Path.write_bytes

    def garbled(path: Path, data: bytes) -> Any:
        return write(path, data[:-1] + b"?" if path.parent == out and "dxf" in path.name else data)

    monkeypatch.setattr(Path, "write_bytes", garbled)
    result = export(spec, "--to", "svg,dxf", "--out", out)
    assert result.exit_code == 1
    assert "ring.dxf: bytes" in result.output
    assert not (out / "ring.dxf").exists()

"""A package installed beside ours adds a family; a broken one is named and stops nothing."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

GOOD = '''
from dataclasses import dataclass
import numpy as np
from openwork.fill.fillings import Shapes
from openwork.fill.parameters import param
from openwork.fill.registry import pattern
from openwork.shape.contour import circle

@pattern
@dataclass(frozen=True, kw_only=True)
class Portholes:
    """One row of portholes."""

    count: int = param(20, low=5, high=60, per_bolt=True, help="portholes round the ring")

    def __call__(self, site, rng):
        angles = 2 * np.pi * np.arange(self.count // site.fold) / self.count
        return Shapes([circle(5.0, (70 * np.cos(a), 70 * np.sin(a))) for a in angles])
'''
BAD = "raise OSError('no such harbour')\n"
SPEC = "[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n[pattern]\nname = 'portholes'\n"


@pytest.fixture
def installed(tmp_path: Path) -> dict[str, str]:
    """The environment of a process that sees two more packages."""
    for name, body in (("portholes", GOOD), ("sunken", BAD)):
        (tmp_path / f"{name}.py").write_text(body, encoding="utf-8")
        info = tmp_path / f"{name}-1.0.dist-info"
        info.mkdir()
        (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n")
        (info / "entry_points.txt").write_text(f"[openwork.patterns]\n{name} = {name}\n")
    (tmp_path / "spec.toml").write_text(SPEC, encoding="utf-8")
    return {**os.environ, "PYTHONPATH": str(tmp_path)}


def openwork(*words: str, env: dict[str, str], cwd: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "openwork", *words]
    return subprocess.run(command, env=env, cwd=cwd, capture_output=True, text=True, check=False)


def test_a_plug_in_is_drawn(installed: dict[str, str], tmp_path: Path) -> None:
    done = openwork("draw", "spec.toml", "--out", "o", "--json", env=installed, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["openings"] == 20


def test_a_plug_in_is_listed_and_a_broken_one_named(
    installed: dict[str, str], tmp_path: Path
) -> None:
    done = openwork("patterns", "--json", env=installed, cwd=tmp_path)
    assert done.returncode == 0
    listed = {one["name"]: one for one in json.loads(done.stdout)}
    assert listed["portholes"]["kind"] == "any"
    assert listed["portholes"]["summary"] == "One row of portholes"
    assert "honeycomb" in listed
    assert "sunken" not in listed
    assert done.stderr == "plug-in sunken: left out: OSError: no such harbour\n"


def test_asking_for_a_broken_one_says_why(installed: dict[str, str], tmp_path: Path) -> None:
    words = ["draw", "spec.toml", "--set", "pattern.name=sunken"]
    done = openwork(*words, env=installed, cwd=tmp_path)
    assert done.returncode == 2
    assert "no such harbour" in done.stderr
    assert "Traceback" not in done.stderr

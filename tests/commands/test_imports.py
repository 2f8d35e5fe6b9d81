"""What a plain draw may import: half of a cold start would be modules that it has no use for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

SPEC = Path(__file__).parents[2] / "gallery" / "harbour" / "spec.toml"
# Packages beside ours and Python's own that a draw may import; what each is for.
ALLOWED = {
    "annotated_types",  # pydantic's
    "click",  # the command line
    "numpy",
    "pydantic",  # the spec is checked
    "pydantic_core",
    "rich",  # the summary is a table
    "shapely",
    "svgwrite",  # the drawings
    "tomlkit",  # the recipe is written
    "typing_extensions",  # pydantic's
    "typing_inspection",
}
SCIPY: set[str] = set()  # its parts that a draw may import: one costs as much as numpy
NUMPY = {"numpy.ma", "numpy.testing", "numpy.f2py"}  # what it may not import of numpy
FOUND = """
import sys
from importlib.metadata import packages_distributions
from openwork.cli import main
main(sys.argv[1:], standalone_mode=False)
theirs = set(packages_distributions()) - {"openwork"}
names = {name for name in sys.modules if name.partition(".")[0] in theirs}
print(*sorted(name for name in names if name.count(".") < 2))
"""


def imported(folder: Path, *changes: str) -> set[str]:
    """Return the packages and parts of packages that a draw in a process of its own imports."""
    words = ["draw", str(SPEC), "--out", str(folder)]
    words += [word for change in changes for word in ("--set", change)]
    command = [sys.executable, "-c", FOUND, *words]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return set(done.stdout.splitlines()[-1].split())


def packages(names: set[str]) -> set[str]:
    """Return the packages among *names*, installers' helpers of editable packages left out."""
    return {name for name in names if "." not in name and not name.startswith("_")}


def parts(names: set[str], package: str) -> set[str]:
    """Return the public parts of *package* among *names*."""
    return {name for name in names if name.startswith(f"{package}.") and "._" not in name}


def test_a_plain_draw_imports_what_it_needs(tmp_path: Path) -> None:
    found = imported(tmp_path)
    assert "shapely" in found
    assert packages(found) <= ALLOWED
    assert parts(found, "scipy") <= SCIPY
    assert not parts(found, "numpy") & NUMPY


@pytest.mark.parametrize(
    ("name", "needs"),
    [("voronoi", "scipy.spatial"), ("noise", "scipy.interpolate")],
)
def test_what_else_a_pattern_needs_comes_with_it(tmp_path: Path, name: str, needs: str) -> None:
    """And so the check can fail."""
    assert needs in imported(tmp_path, f"pattern.name={name}")

"""Strength of one ring on one thread, beside scikit-fem at the same error in the same run.

Budgets: search grade 0.35 s; final grade 2.5 s; at least 5 times faster than the general library at
the same error. Against the base: `draw --strength` 1.6 times, a sheet of 24 as drawn 1.3 times, the
search grade 1.0 times.
"""

import os
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Callable, Iterator

import numpy as np

import openwork
from openwork.explore.strength_of import model_of
from openwork.spec.spec import from_toml
from openwork.strength.body import Body, Fineness, body
from openwork.strength.chainpull import pressure_angle
from openwork.strength.loading import loaded
from openwork.strength.model import Model
from openwork.strength.plane import in_plane, ready
from openwork.strength.plate import across
from openwork.strength.quality import GRADES
from openwork.strength.report import strength
from openwork.tables.load import Load
from openwork.tables.support import Spider
from tests.bench._base import BASE, HERE, against_base, base
from tests.strength.library import quadratic, turn_by_library
from tests.strength.rings import mean_turn


def fastest(call: Callable[[], object], runs: int = 5) -> float:
    """Return the least time of *call*: what else the machine does can only add to it."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


SPEC = """
[ring]
teeth = 44
[mount]
circle = 110.0
[web]
rib = 2.5
[pattern]
name = "michell"
"""


def model() -> Model:
    """Return a ring of 100 openings."""
    return model_of(openwork.design(from_toml(SPEC)))


def commands() -> Iterator[tuple[str, str, str]]:
    """Yield drawing and sheet with strength, beside the base's; the spec asks for no mass."""
    with tempfile.TemporaryDirectory() as folder:
        spec = Path(folder, "ring.toml")
        spec.write_text(SPEC)
        for words, budget in (
            (["draw", str(spec), "--strength"], 1.6),
            (["sheet", str(spec), "--strength", "--count", "24", "--jobs", "1"], 1.3),
        ):
            told, times = against_base([*words, "--out", folder], 1, budget)
            yield f"openwork {words[0]} --strength", told, times


def searched(root: Path) -> float:
    """Return the processor time of a ring at the search grade by the code in *root*, s."""
    place = {**os.environ, "PYTHONPATH": str(root), "OPENBLAS_NUM_THREADS": "1"}
    script = Path(__file__).with_name("_search.py")
    command = [sys.executable, "-P", str(script)]
    done = subprocess.run(command, cwd=root, env=place, capture_output=True, text=True, check=True)
    return float(done.stdout)


def linear(made: Body, fineness: Fineness) -> float:
    """Return the turn by the library's linear elements, the usual ones, on a finer mesh."""
    fine = body(made.model, fineness)
    corners, numbered = np.unique(fine.mesh.triangles[:, :3], return_inverse=True)
    return turn_by_library(fine, fine.mesh.nodes[corners], numbered.reshape(-1, 3), order=1)


def rows() -> Iterator[tuple[str, ...]]:
    yield from commands()
    ours, theirs = searched(HERE), searched(base())
    ratio = f"{ours / theirs:.2f} of {BASE}, budget 1.00"
    yield "all figures, search, of six rings", ratio, f"{ours:.3f} s beside {theirs:.3f} s"
    ring, load = model(), Load()
    pressure, fine = pressure_angle(ring.teeth), GRADES["final"].plane
    name = f"{len(ring.openings)} openings, {ring.teeth} positions"

    def plane() -> float:
        return float(in_plane(ready(body(ring, fine)), pressure).rotation.mean())

    ours = fastest(plane, 5)
    yield f"{name}: in plane, {fine.step:g}/{fine.spacing:g} mm", f"{ours:.3f} s"
    both = ours + fastest(lambda: across(body(ring, GRADES["final"].plate)), 5)
    yield "in plane and across", f"{both:.3f} s"
    for quality in GRADES:
        yield (
            f"all figures, {quality}",
            f"{fastest(partial(strength, ring, load, quality=quality), 3):.3f} s",
        )
    yield (
        "in plane, final, four cases, with both meshes",
        f"{fastest(lambda: loaded(ring, load, Spider()), 3):.3f} s",
    )

    made = body(ring, fine)
    found, reference = (
        mean_turn(made, pressure),
        mean_turn(body(ring, Fineness(0.6, 0.4)), pressure),
    )
    error = abs(found / reference - 1)
    agreement = f"1 {found / quadratic(made) - 1:+.0e}"
    yield "mean turn, ours over scikit-fem's on the same elements", agreement
    alone = fastest(lambda: mean_turn(body(ring, fine), pressure), 3)
    theirs = fastest(lambda: quadratic(body(ring, fine)), 3)
    yield "scikit-fem, same curved elements", f"{theirs:.3f} s, {theirs / alone:.1f} times ours"
    for step in (1.0, 0.7, 0.5, 0.35):
        fineness = Fineness(step, 0.8 * step)
        far = abs(linear(made, fineness) / reference - 1)
        if far <= error:
            break
    theirs = fastest(lambda: linear(made, fineness), 1)
    yield (
        f"scikit-fem, linear elements of {step} mm, error {far:.1%} beside {error:.1%}",
        f"{theirs:.3f} s, {theirs / alone:.1f} times ours",
    )

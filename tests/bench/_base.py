"""The commit that budgets are ratios of, checked out beside this one, and both run in turn."""

import atexit
import io
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

BASE = "c3980e0"  # the last commit before the code moved into rooms
HERE = Path(__file__).parents[2]


@cache
def base() -> Path:
    """Return the folder of the base, taken out of git's history until the process ends."""
    packed = subprocess.run(["git", "archive", BASE], cwd=HERE, check=True, capture_output=True)
    folder = tempfile.mkdtemp(prefix="openwork-base-")
    atexit.register(shutil.rmtree, folder)
    with tarfile.open(fileobj=io.BytesIO(packed.stdout)) as archive:
        archive.extractall(folder, filter="fully_trusted")
    return Path(folder)


def spent(root: Path, words: Sequence[str]) -> float:
    """Return the processor time, s, of the command of *words* by the code in *root*."""
    env = {**os.environ, "PYTHONPATH": str(root), "OPENBLAS_NUM_THREADS": "1"}
    env.pop("PYTHONDONTWRITEBYTECODE", None)  # compiled once, as where it is installed
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-c", "from openwork.cli import main; main()", *words]
    done = subprocess.run(command, cwd=root, env=env, check=True, stdout=subprocess.PIPE)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.stdout, "what prints nothing has done nothing"
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def against_base(words: Sequence[str], runs: int, budget: float) -> Iterator[str]:
    """Yield the ratio of median processor times to the base's, its budget, and both times."""
    roots = (HERE, base())
    for root in roots:
        spent(root, words)
    times = [[spent(root, words) for root in roots] for _ in range(runs)]
    ours, theirs = (statistics.median(one) for one in zip(*times, strict=True))
    yield f"{ours / theirs:.2f} of {BASE}, budget {budget:.2f}"
    yield f"{ours:.3f} s beside {theirs:.3f} s"

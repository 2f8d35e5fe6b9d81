"""From spec to Design, every pattern on the six sites of the gallery, in processor time.

Budgets: choosing the parameters at most a quarter of the way, on every site; spec to Design no
longer than at the base commit, 0.6 of it for kagome, zigzag and gyroid; at most 3 times what GEOS
alone takes to shrink and clip the cells of the whole ring, which is the limit.
"""

import json
import os
import statistics
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from openwork.fill.registry import patterns
from tests.bench._base import BASE, HERE, base

SCRIPT = Path(__file__).with_name("_designs.py")
Times = dict[str, dict[str, tuple[float, float, float | None]]]


def times(root: Path, names: list[str]) -> Times:
    """Return what the script tells of the checkout at *root*."""
    place = {**os.environ, "PYTHONPATH": str(root), "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-P", str(SCRIPT), *names]
    done = subprocess.run(command, cwd=root, env=place, capture_output=True, text=True, check=True)
    found: Times = json.loads(done.stdout)
    return found


def rows() -> Iterator[tuple[str, ...]]:
    for name in sorted(patterns()):
        old, new = (times(root, [name])[name] for root in (base(), HERE))
        share = max(one[0] / one[1] for one in new.values())
        ratio = [one[1] / old[site][1] for site, one in new.items()]
        limit = [one[1] / one[2] for one in new.values() if one[2]]
        yield (
            name,
            f"{statistics.median(ratio):.2f} of {BASE}, worst {max(ratio):.2f}",
            f"choosing {share:.0%} at most",
            f"{max(limit):.1f} times GEOS at most" if limit else "",
        )

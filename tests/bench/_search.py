"""Processor time of one checkout, run as a script there: strength of some rings in a search.

Prints the least of some runs, seconds a ring, once all that rings share is known.
"""

import time
from importlib import import_module
from typing import Any

import openwork

RUNS = 5
SPEC = '[ring]\nteeth = 44\n[mount]\ncircle = 110.0\n[web]\nrib = 2.5\n[pattern]\nname = "{}"\n'
NAMES = ("arcs", "circles", "honeycomb", "michell", "spokes", "voronoi")


def found(name: str, *modules: str) -> Any:
    """Return what is called *name* in the first of *modules* that is there: checkouts differ."""
    for module in modules:
        try:
            return getattr(import_module(f"openwork.{module}"), name)
        except (ImportError, AttributeError):
            continue
    raise LookupError(name)


def least() -> float:
    strength_of = found("strength_of", "explore.strength_of", "explore.strong")
    read = found("from_toml", "spec.spec", "spec")
    rings = [openwork.design(read(SPEC.format(name))) for name in NAMES]
    times = []
    for _ in range(RUNS + 1):
        start = time.process_time()
        for ring in rings:
            strength_of(ring, quality="search", compare=False)
        times.append((time.process_time() - start) / len(rings))
    return min(times[1:])


if __name__ == "__main__":
    print(least())

"""Processor time of one checkout, run as a script there: choosing, spec to Design, GEOS alone.

Prints JSON: for every pattern and site of the gallery the least of some runs, seconds, each with
all that functions remember of earlier calls forgotten. GEOS alone shrinks the cells of the whole
ring by half a rib and the cutter, and clips them to the region; null where there are no cells.
"""

import functools
import gc
import json
import sys
import time
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
import shapely

import openwork
from openwork.fill.site import site as open_site
from openwork.part.blank import blank

RUNS = 5
SITES = ("harbour", "quay", "breakwater", "lighthouse", "slipway", "buoy")
GALLERY = Path(__file__).parents[2] / "gallery"
KEPT = ("_load", "_ours")  # what is registered stays so


def found(name: str, *modules: str) -> Any:
    """Return what is called *name* in the first of *modules* that is there: checkouts differ."""
    for module in modules:
        try:
            return getattr(import_module(f"openwork.fill.{module}"), name)
        except (ImportError, AttributeError):
            continue
    raise LookupError(name)


def least(call: Callable[[], object], caches: list[Any]) -> float:
    times = []
    for _ in range(RUNS):
        for one in caches:
            one.cache_clear()
        start = time.process_time()
        call()
        times.append(time.process_time() - start)
    return min(times)


def remembered() -> list[Any]:
    return [
        one
        for one in gc.get_objects()
        if isinstance(one, functools._lru_cache_wrapper)
        and (one.__module__ or "").startswith("openwork.")
        and one.__name__ not in KEPT
    ]


def clipped(rings: list[np.ndarray], site: Any) -> float:
    """Return the time of one shrink and clip of the cells of all sectors."""
    z = [ring @ np.array([1, 1j]) for ring in rings]
    turns = np.exp(1j * site.sector * np.arange(site.fold))
    points = [np.column_stack([(t * one).real, (t * one).imag]) for t in turns for one in z]
    cells = shapely.polygons([shapely.linearrings(one) for one in points])
    room = site.room(site.corner)
    by = site.rib / 2 + site.corner

    def shrink_and_clip() -> object:
        return shapely.intersection(shapely.buffer(cells, -by, join_style="mitre"), room)

    return least(shrink_and_clip, [])


def measured(name: str, place: str) -> list[float | None]:
    completed = found("completed", "parameters", "pattern")
    spec = openwork.load(GALLERY / place / "spec.toml", {"pattern.name": name})
    site = open_site(blank(spec.ring, spec.mount), spec.web)
    ring = openwork.design(spec)
    proposed = ring.pattern(site, np.random.default_rng(1))
    caches = remembered()
    choosing = least(lambda: completed(name, spec.pattern.parameters, site), caches)
    whole = least(lambda: openwork.design(spec), caches)
    cells = getattr(proposed, "polygons", None)
    return [choosing, whole, clipped(cells, site) if cells else None]


if __name__ == "__main__":
    names = sys.argv[1:]
    print(json.dumps({name: {place: measured(name, place) for place in SITES} for name in names}))

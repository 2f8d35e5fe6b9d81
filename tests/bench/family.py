"""Mass on target: one ring, and one look over eleven sizes by two processes.

Budgets: six evaluations of 60 ms for one ring; 6 s for eleven sizes on the mass to 0.1 g or on
one share. One
evaluation is a design and its mass on the blank made once; the cells, which are laid out anew for
each rib because rows fill the web with half a rib to spare, are told beside, as their share.
"""

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np

from openwork.explore.family.family import family
from openwork.explore.mass.tune import tuned
from openwork.measure.figures import mass
from openwork.ring import design
from openwork.spec.spec import Spec, load
from tests._sure import sure
from tests.bench._timing import seconds

RINGS = ("harbour", "breakwater", "lighthouse", "buoy")
FOUR = {"ring.plate": 4.5, "pattern": {"name": "honeycomb", "seed": 1, "columns": 36},
        "goal.teeth": [40, 50]}  # fmt: skip


def remade(spec: Spec) -> float:
    """Return the share of a design's time that its cells take."""
    ring = design(spec)

    def cells() -> object:
        return ring.pattern(ring.site, np.random.default_rng(1))

    return seconds(cells) / seconds(lambda: design(spec))


def rows() -> Iterator[tuple[str, str]]:
    for name in RINGS:
        spec = load(f"gallery/{name}/spec.toml")
        for factor in (0.9, 1.15):
            target = factor * mass(design(spec))
            found = tuned(spec, target)
            assert abs(found.mass - target) <= 0.05
            each = seconds(partial(tuned, spec, target), 3) / found.tried
            yield (
                f"tune {name} to {target:.0f} g",
                f"{found.tried} evaluations of {1e3 * each:.1f} ms; "
                f"cells {100 * remade(spec):.0f} %",
            )
    for name, changes in (
        ("harbour", {"goal.mass": 70.0, "goal.teeth": [38, 48]}),
        ("breakwater", FOUR | {"goal.mass": 100.0}),
        ("breakwater", FOUR | {"goal.mass": 110.0}),
    ):
        spec = load(f"gallery/{name}/spec.toml", changes)
        sizes = family(spec, jobs=2)
        wanted: Any = spec.goal.mass
        off = [abs(sure(size.figures).mass - wanted) for size in sizes.made]
        assert len(off) == 11
        assert max(off) <= 0.1
        time = seconds(partial(family, spec, jobs=2), 3)
        first, last = spec.goal.teeth
        yield (
            f"{first} to {last} teeth at {spec.goal.mass:g} g, 2 jobs",
            f"{time:.2f} s, at most {max(off):.3f} g off",
        )
    spec = load("gallery/breakwater/spec.toml", FOUR | {"goal.hold": "share"})
    time = seconds(partial(family, spec, jobs=2), 3)
    yield "40 to 50 teeth on one share, 2 jobs", f"{time:.2f} s"

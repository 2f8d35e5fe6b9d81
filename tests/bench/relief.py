"""What pockets cost: spec to Design, solid and strength, beside the same ring cut through.

Budgets: 1.1 times the design, 1.5 times the STEP, 1.1 times the strength.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any

import openwork
from openwork.explore.strength_of import strength_of
from openwork.render.shop.step import ring_step
from openwork.spec.spec import load
from tests.bench._timing import seconds

DEMO = "gallery/harbour/spec.toml"


def rows() -> Iterator[tuple[str, str]]:
    """Yield the ratio of each step, and both times."""
    specs = [load(DEMO, {"pocket.which": which}) for which in ("none", "all")]
    rings = [openwork.design(spec) for spec in specs]
    strong = partial(strength_of, quality="search", compare=False)
    steps: tuple[tuple[str, Callable[[Any], object], Sequence[Any], int], ...] = (
        ("spec to Design", openwork.design, specs, 9),
        ("Design to STEP", ring_step, rings, 1),
        ("strength, search", strong, rings, 3),
    )
    for name, call, given, runs in steps:
        through, sunk = (seconds(partial(call, one), runs) for one in given)
        yield name, f"{sunk / through:.2f} times, {1e3 * sunk:.0f} ms for {1e3 * through:.0f}"

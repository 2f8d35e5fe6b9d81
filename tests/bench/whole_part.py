"""What turned sides cost, against square teeth in the same run, in processor time.

Budgets: ring and preview of the demo 1.1 times, STEP 1.6 times.
"""

import statistics
import time
from collections.abc import Callable, Iterator
from typing import Any

import openwork
from openwork.render.ring.preview import preview_svg
from openwork.render.shop.printed import ring_mesh
from openwork.render.shop.step import ring_step
from openwork.spec.spec import Spec

DEMO = "gallery/harbour/spec.toml"
ALTERNATING = {"ring.chain": "12-speed", "ring.alternating": {}}


def drawn(spec: Spec) -> None:
    ring = openwork.design(spec)
    openwork.figures(ring)
    preview_svg(ring)


def ratio(call: Callable[[Any], object], one: object, other: object, runs: int = 5) -> str:
    """Return how many times as long *call* takes for *one* as for *other*, by turns."""
    found = []
    for _ in range(runs):
        times = []
        for what in (one, other):
            start = time.process_time()
            call(what)
            times.append(time.process_time() - start)
        found.append(times[0] / times[1])
    return f"{statistics.median(found):.2f} times"


def rows() -> Iterator[tuple[str, str]]:
    square = openwork.load(DEMO, {"ring.sides": "square"})
    for name, changes in (("turned sides", {}), ("alternating teeth", ALTERNATING)):
        spec = openwork.load(DEMO, changes)
        rings = openwork.design(spec), openwork.design(square)
        yield f"{name}: design, figures and preview", ratio(drawn, spec, square)
        yield f"{name}: STEP", ratio(ring_step, *rings)
        yield f"{name}: mesh", ratio(ring_mesh, *rings)

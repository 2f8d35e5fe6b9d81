"""Tracing the cores of every gallery ring: share of the way from spec to Design, and pieces.

Promise: 150 openings in less than 0.15 s, a symmetry sector once and copied; at most 40 pieces an
opening, or one for each mm of its outline.
"""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np

import openwork
from openwork.fill import finish
from openwork.shape.tracing.trace import traced
from tests.bench._timing import seconds

GALLERY = Path(__file__).parents[2] / "gallery"


def retraced(calls: list[Any]) -> object:
    return [traced(ring, **options) for ring, options in calls]


def rows() -> Iterator[tuple[str, str]]:
    for path in sorted(GALLERY.glob("*/spec.toml")):
        spec = openwork.load(path)
        calls: list[Any] = []

        def kept(ring: Any, calls: Any = calls, **options: Any) -> Any:
            calls.append((ring, options))
            return traced(ring, **options)

        with mock.patch.object(finish, "traced", kept):
            design = openwork.design(spec)
        whole = seconds(partial(openwork.design, spec), 3)
        alone = seconds(partial(retraced, calls), 3)
        counts = [len(one) for one in design.openings]
        vertices = sum(len(ring) for ring, _ in calls)
        yield (
            path.parent.name,
            f"{1e3 * alone:.0f} ms, {alone / whole:.0%} of {1e3 * whole:.0f} ms; {vertices} "
            f"vertices in a sector; {len(counts)} openings of {np.mean(counts):.0f} pieces",
        )

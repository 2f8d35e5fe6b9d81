"""Sheets on the mass: beside the same sheet as drawn, and with strength, by two processes.

Budgets: 2.5 times the sheet as drawn for 24 rings; 25 s for 48 with strength on two quiet cores.
Patterns that solve for their layout are told apart: of a mass they want another solution.
"""

import time
from collections.abc import Iterator

from openwork.explore.variants.balanced import balanced
from openwork.explore.variants.variants import all_made, made
from openwork.fill.registry import patterns
from openwork.spec.spec import load
from tests._sweep import SLOW

SPEC = ("gallery/breakwater/spec.toml", {"goal.mass": 116.0})


def rows() -> Iterator[tuple[str, str]]:
    spec = load(*SPEC)
    for words, names in (
        ("24 rings", tuple(patterns())),
        ("24 rings of patterns that lay out at once", tuple(set(patterns()) - set(SLOW))),
    ):
        spent = [0.0, 0.0]
        for variant in balanced(spec, 24, sorted(names)):
            for k, as_drawn in enumerate((True, False)):
                start = time.process_time()
                made(spec, variant, as_drawn=as_drawn)
                spent[k] += time.process_time() - start
        yield (
            f"{words} on the mass",
            f"{spent[1] / spent[0]:.2f} times as drawn, {spent[1]:.1f} s for {spent[0]:.1f}",
        )
    start = time.perf_counter()
    made_ = [*all_made(spec, balanced(spec, 48), jobs=2, strong=True)]
    words = f"{len(made_)} on the mass with strength, 2 jobs"
    yield words, f"{time.perf_counter() - start:.1f} s"

"""Which of many like cases run every time; the others run in the sweep alone."""

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import TypeVar

import pytest
from _pytest.mark.structures import ParameterSet

from openwork.fill.registry import patterns

T = TypeVar("T")
SLOW = ("grown",)  # patterns that solve for their layout: seconds a ring, and a search tries many
QUICK = ("gyroid", "honeycomb", "packing", "petals", "spokes")  # one of each way to fill a web


def often(
    cases: Iterable[T], kept: Callable[[T], bool], name: Callable[[T], str] = str
) -> list[ParameterSet]:
    """Return *cases* as parameters called *name*; those not *kept* run in the sweep alone."""
    return [
        pytest.param(one, id=name(one), marks=() if kept(one) else pytest.mark.sweep)
        for one in cases
    ]


def named(cases: Mapping[str, T], kept: Collection[str]) -> list[ParameterSet]:
    """Return the values of *cases* by their names; those not *kept* run in the sweep alone."""
    return [
        pytest.param(one, id=name, marks=() if name in kept else pytest.mark.sweep)
        for name, one in cases.items()
    ]


def quick_patterns() -> list[ParameterSet]:
    """Return the names of all patterns as parameters, all but a few in the sweep alone."""
    return often(sorted(patterns()), QUICK.__contains__)


def fast_patterns() -> list[ParameterSet]:
    """Return the names of all patterns as parameters, those that solve in the sweep alone."""
    return often(sorted(patterns()), lambda name: name not in SLOW)

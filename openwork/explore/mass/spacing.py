"""A look with fewer or smaller openings: its columns and rows spaced anew."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any

from openwork.errors import OpenworkError
from openwork.measure.cell import ROWS
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed

FEWER = (0.8, 0.64, 0.5)  # of the columns, the nearest first
MORE = (1.25, 1.6, 2.0)
CELLS = "cells"  # what patterns without columns call their count


def respaced(spec: Spec, ring: Design, *, more: bool) -> Iterator[Design]:
    """Yield the look *ring* of *spec* with fewer openings, or first with *more* and smaller ones.

    What *spec* gives stays; the pattern chooses anew what it chose before. One that has no counts
    states as ``SIZE`` the parameter that is the size of its openings.
    """
    seen = [ring.pattern]
    for factor in (*MORE, *FEWER) if more else FEWER:
        counts = _counts(spec, ring, factor)
        if not counts:
            return
        try:
            found = design(changed(spec, counts))
        except OpenworkError:
            continue
        if found.pattern not in seen:
            seen.append(found.pattern)
            yield found


def _counts(spec: Spec, ring: Design, factor: float) -> Mapping[str, float]:
    """Return the counts of *ring* that are not given times *factor*, or its size over that.

    All within their ranges.
    """
    given = spec.pattern.parameters
    size = getattr(type(ring.pattern), "SIZE", "")
    found: dict[str, float] = {}
    for field in dataclasses.fields(ring.pattern):
        now, step = getattr(ring.pattern, field.name), 1
        if field.name == size and size not in given:
            found[f"pattern.{size}"] = round(min(now / factor, field.metadata["high"]), 2)
        if field.name in given or not _counted(field):
            continue
        if field.metadata["per_bolt"]:
            step = ring.site.fold
        elif field.name == ROWS and factor > 1:
            continue
        count = step * max(1, round(now * factor / step))
        count = min(max(count, _least(field, step)), int(field.metadata["high"]) // step * step)
        found[f"pattern.{field.name}"] = count
    return found


def _least(field: dataclasses.Field[Any], step: int) -> int:
    return -(-int(field.metadata["low"]) // step) * step


def _counted(field: dataclasses.Field[Any]) -> bool:
    return bool(field.metadata["per_bolt"]) or field.name in (ROWS, CELLS)

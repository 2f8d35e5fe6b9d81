"""A balanced set of variants: every pattern in turn, its counts first, then its other looks."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain, islice, zip_longest
from typing import Any

from openwork.errors import OpenworkError
from openwork.explore.mass.tune import Value
from openwork.explore.variants.variants import Variant
from openwork.fill.parameters import completed
from openwork.fill.registry import pattern_named, patterns
from openwork.fill.site import Site, site
from openwork.part.blank import blank
from openwork.spec.spec import Spec

FACTORS = (0.75, 1.3, 0.6, 1.6, 0.45, 2.0)  # of the count that suits the web, most wanted first
FIRST = 2  # counts beside the one that suits, before anything else is varied

Change = tuple[str, Value]


def balanced(spec: Spec, count: int, names: Sequence[str] = ()) -> tuple[Variant, ...]:
    """Return up to *count* variants of *spec*, as evenly over the patterns *names* as they go.

    All patterns where none are named. Raises RuleError where the blank itself cannot be made.
    """
    place = site(blank(spec.ring, spec.mount), spec.web)
    chosen = names or tuple(patterns())
    looks = {name: _looks(name, spec, place) for name in chosen}
    turns = chain.from_iterable(
        zip_longest(*([(name, look) for look in every] for name, every in looks.items()))
    )
    taken = [*islice((turn for turn in turns if turn), count)]
    return tuple(
        Variant(pattern=name, changes=look, suited=_suited(look, looks[name][0]))
        for name in chosen
        for look in sorted((look for owner, look in taken if owner == name), key=_order)
    )


def _suited(look: tuple[Change, ...], first: tuple[Change, ...]) -> tuple[str, ...]:
    """Return the keys of *look* that have the values of the *first*, which the pattern chose."""
    return tuple(key for key, value in look if (key, value) in first)


def _order(look: tuple[Change, ...]) -> tuple[int, Value]:
    """Sort the counts of the plain look upwards, the other looks after them."""
    return len(look), look[0][1] if len(look) == 1 else 0


def _looks(name: str, spec: Spec, place: Site) -> list[tuple[Change, ...]]:
    """Return changes for one look each, the most wanted first."""
    given = spec.pattern.parameters if spec.pattern.name == name else {}
    fields = dataclasses.fields(pattern_named(name))
    main = next((field for field in fields if isinstance(field.default, int)), None)
    try:
        suited = dataclasses.asdict(completed(name, given, place))
    except OpenworkError:
        return [tuple((f"pattern.{key}", value) for key, value in given.items())]
    others = [(change,) for field in fields for change in _others(field, suited)]
    if main is None:
        return [(), *others]
    counts = [((f"pattern.{main.name}", value),) for value in _counts(main, suited, place)]
    looks = [(*counts[0], *other) for other in others]
    return [*counts[: 1 + FIRST], *looks, *counts[1 + FIRST :]]


def _counts(field: dataclasses.Field[Any], suited: Mapping[str, Any], place: Site) -> Iterator[int]:
    """Yield the count that suits the web, then smaller and larger ones in turn."""
    step = place.fold if field.metadata["per_bolt"] else 1
    least = math.ceil(field.metadata["low"] / step)
    most = math.floor(field.metadata["high"] / step)
    seen = []
    for factor in (1.0, *FACTORS):
        count = step * min(max(round(factor * suited[field.name] / step), least), most)
        if count not in seen:
            seen.append(count)
            yield count


def _others(field: dataclasses.Field[Any], suited: Mapping[str, Any]) -> Iterator[Change]:
    """Yield the other choices of a named parameter, and two steps either way of a real one."""
    key, value = f"pattern.{field.name}", suited[field.name]
    if isinstance(field.default, str):
        yield from ((key, choice) for choice in field.metadata["choices"] if choice != value)
    elif isinstance(field.default, float):
        for limit in (field.metadata["high"], field.metadata["low"]):
            if math.isfinite(limit) and limit != value:
                yield key, round((value + limit) / 2, 2)

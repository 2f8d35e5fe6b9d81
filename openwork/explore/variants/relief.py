"""Every look twice: cut through, and with pockets in its place, to compare at one mass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from openwork.explore.mass.tune import Value
from openwork.explore.variants.figure_rows import numbers
from openwork.explore.variants.variants import Entry, Variant
from openwork.spec.spec import Spec

WHICH = "pocket.which"
ALL = "all"  # openings that keep a floor where the spec has no pockets


def paired(spec: Spec, variants: Sequence[Variant]) -> tuple[Variant, ...]:
    """Return each of *variants* cut through, and after it with the pockets of *spec*, or all."""
    which = ALL if spec.pocket.which == "none" else spec.pocket.which
    return tuple(chain.from_iterable(
        (_with(one, "none"), _with(one, which)) for one in variants
    ))  # fmt: skip


def _with(variant: Variant, which: Value) -> Variant:
    return replace(variant, changes=(*variant.changes, (WHICH, which)))


def stiffest_first(entries: Sequence[Entry], key: str) -> list[Entry]:
    """Return *entries*, pairs one after the other, that with the greatest figure *key* first."""
    pairs = [*zip(entries[::2], entries[1::2], strict=True)]

    best = [max(numbers(one).get(key, -1.0) for one in pair) for pair in pairs]
    order = sorted(range(len(pairs)), key=best.__getitem__, reverse=True)
    return [*chain.from_iterable(pairs[k] for k in order)]

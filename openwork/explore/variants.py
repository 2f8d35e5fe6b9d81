"""Variants of a spec: which rings stand on a contact sheet, and the making of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from signal import SIG_IGN, SIGINT, signal
from typing import TypeAlias

from openwork.design import Design, design
from openwork.errors import OpenworkError
from openwork.figures import Figures, figures
from openwork.limits import keep
from openwork.spec import Spec, changed

Value: TypeAlias = int | float | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A pattern family and changes to a spec, each a dotted key and its value.

    The spec's own family keeps the parameters it has there; another starts from its defaults.
    """

    family: str
    changes: tuple[tuple[str, Value], ...] = ()

    @property
    def label(self) -> tuple[str, ...]:
        """What differs, in words: "columns 40", "rib 2.2"."""
        return tuple(f"{key.rpartition('.')[2]} {_shown(value)}" for key, value in self.changes)

    def applied(self, spec: Spec) -> Spec:
        """Return *spec* with this family and these changes; raises SpecError."""
        if self.family != spec.pattern.name:
            table = {"name": self.family, "seed": spec.pattern.seed}
            spec = changed(spec, {"pattern": table}, source="")
        return changed(spec, dict(self.changes), source="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A variant as made; where it cannot be, ``reason`` says why and the others are None."""

    variant: Variant
    design: Design | None = None
    figures: Figures | None = None
    reason: str = ""


def made(spec: Spec, variant: Variant) -> Entry:
    """Return *variant* of *spec*, designed and measured; a broken limit becomes the reason."""
    try:
        ring = design(variant.applied(spec))
        measured = figures(ring)
        keep(ring, measured)
    except OpenworkError as fault:
        lines = (line.strip() for line in str(fault).splitlines())
        return Entry(variant=variant, reason="\n".join(lines))
    return Entry(variant=variant, design=ring, figures=measured)


def all_made(spec: Spec, variants: Iterable[Variant], *, jobs: int = 1) -> Iterator[Entry]:
    """Yield the *variants* of *spec* as made by *jobs* processes, in their order."""
    make = partial(made, spec)
    if jobs == 1:
        yield from map(make, variants)
        return
    # An interrupt is for the parent alone, else every process would print its own.
    with ProcessPoolExecutor(jobs, None, signal, (SIGINT, SIG_IGN)) as pool:
        yield from pool.map(make, variants)


def _shown(value: Value) -> str:
    return f"{value:.4g}" if isinstance(value, float) else str(value)

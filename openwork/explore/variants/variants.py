"""Variants of a spec: which rings stand on a contact sheet, and the making of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TypeAlias

from openwork.errors import OpenworkError
from openwork.explore.parallel import mapped
from openwork.explore.strength_of import strength_of
from openwork.measure.figures import Figures, figures
from openwork.measure.limits import keep
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed
from openwork.strength.result import Strength

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
            spec = changed(spec, {"pattern": table})
        return changed(spec, dict(self.changes))


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A variant as made; where it cannot be, ``reason`` says why and the others are None.

    ``strength`` is there where it was asked for.
    """

    variant: Variant
    design: Design | None = None
    figures: Figures | None = None
    strength: Strength | None = None
    reason: str = ""


def made(spec: Spec, variant: Variant, *, strong: bool = False) -> Entry:
    """Return *variant* of *spec*, designed and measured; a broken limit becomes the reason.

    *strong* asks for its strength too, at the quality of a search.
    """
    try:
        ring = design(variant.applied(spec))
        measured = figures(ring)
        keep(ring, measured)
        strength = strength_of(ring, quality="search", compare=False) if strong else None
    except OpenworkError as fault:
        lines = (line.strip() for line in str(fault).splitlines())
        return Entry(variant=variant, reason="\n".join(lines))
    return Entry(variant=variant, design=ring, figures=measured, strength=strength)


def all_made(
    spec: Spec, variants: Iterable[Variant], *, jobs: int = 1, strong: bool = False
) -> Iterator[Entry]:
    """Yield the *variants* of *spec* as made by *jobs* processes, in their order."""
    yield from mapped(partial(made, spec, strong=strong), variants, jobs=jobs)


def _shown(value: Value) -> str:
    return f"{value:.4g}" if isinstance(value, float) else str(value)

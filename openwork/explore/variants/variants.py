"""Variants of a spec: which rings stand on a contact sheet, and the making of them."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TypeAlias

from openwork.errors import OpenworkError
from openwork.explore.mass.begun import RIB
from openwork.explore.mass.out_of_reach import OutOfReachError
from openwork.explore.mass.tune import Change, Value, tune
from openwork.explore.parallel import mapped
from openwork.explore.strength_of import OVER, over_the_metal, strength_of
from openwork.measure.figures import Figures, figures
from openwork.measure.limits import keep
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed
from openwork.strength.result import Strength
from openwork.tables.goal import middle

RIM, HEM = "web.rim", "web.hem"


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A pattern and changes to a spec, each a dotted key and its value.

    The spec's own pattern keeps the parameters it has there; another starts from its defaults.
    ``suited`` are keys of ``changes`` that only say what suits the spec as drawn: on its mass the
    ring may have others.
    """

    pattern: str
    changes: tuple[tuple[str, Value], ...] = ()
    suited: tuple[str, ...] = ()

    @property
    def label(self) -> tuple[str, ...]:
        """What differs, in words: "columns 40", "rib 2.2"."""
        return tuple(_words(key, value) for key, value in self.changes)

    def free(self) -> Variant:
        """Return the variant without the changes that only say what suits the spec as drawn."""
        kept = tuple(one for one in self.changes if one[0] not in self.suited)
        return Variant(pattern=self.pattern, changes=kept)

    def applied(self, spec: Spec) -> Spec:
        """Return *spec* with this pattern and these changes; raises SpecError."""
        if self.pattern != spec.pattern.name:
            table = {"name": self.pattern, "seed": spec.pattern.seed}
            spec = changed(spec, {"pattern": table})
        return changed(spec, dict(self.changes))


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A variant as made, measured, and with its strength where that was asked for.

    ``changes`` brought the ring on its mass.
    """

    variant: Variant
    design: Design
    figures: Figures
    strength: Strength | None = None
    changes: tuple[Change, ...] = ()

    @property
    def label(self) -> tuple[str, ...]:
        """What differs, in words, and what brought it on its mass; its rib is a figure anyway."""
        now = {one.key: one.now for one in self.changes if one.key not in (RIB, RIM, HEM)}
        told = dict(self.variant.changes) | now
        belts = [one.now for one in self.changes if one.key in (RIM, HEM)]
        wider = (
            [f"rim and hem {belts[0]:.2f}"]
            if len(set(belts)) == 1 and len(belts) == 2
            else [_words(one.key, one.now) for one in self.changes if one.key in (RIM, HEM)]
        )
        over = self.strength is not None and over_the_metal(self.strength)
        marks = [OVER] if over else []
        return (*(_words(key, value) for key, value in told.items()), *wider, *marks)

    @property
    def changed(self) -> dict[str, Value]:
        """All that differs from the spec, by key: the variant's changes and those of the mass."""
        return dict(self.variant.changes) | {one.key: one.now for one in self.changes}


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A variant that cannot be made, and the ``reason``.

    Where its mass is out of reach ``reach`` tells the least and the most it can weigh, g.
    """

    variant: Variant
    reason: str
    reach: tuple[float, float] | None = None

    @property
    def label(self) -> tuple[str, ...]:
        """What differs, in words."""
        return self.variant.label

    @property
    def changed(self) -> dict[str, Value]:
        """All that differs from the spec, by key."""
        return dict(self.variant.changes)


Entry: TypeAlias = Made | Refused


def made(spec: Spec, variant: Variant, *, strong: bool = False, as_drawn: bool = False) -> Entry:
    """Return *variant* of *spec*, designed and measured; a broken limit becomes the reason.

    It is brought on the mass of its goal, of a band on the middle, unless *as_drawn*. *strong* asks
    for its strength too, at the quality of a search.
    """
    try:
        ring, changes = _ring(spec, variant, as_drawn)
        measured = figures(ring)
        keep(ring, measured)
        strength = strength_of(ring, quality="search", compare=False) if strong else None
    except OpenworkError as fault:
        lines = (line.strip() for line in str(fault).splitlines())
        reach = fault.reach if isinstance(fault, OutOfReachError) else None
        window = None if reach is None else (reach.least, reach.most)
        return Refused(variant=variant, reason="\n".join(lines), reach=window)
    return Made(variant=variant, design=ring, figures=measured, strength=strength, changes=changes)


def _ring(spec: Spec, variant: Variant, as_drawn: bool) -> tuple[Design, tuple[Change, ...]]:
    """Return the ring of *variant* and what brought it on its mass, if that is wanted."""
    drawn = variant.applied(spec)
    if as_drawn or drawn.goal.mass is None:
        return design(drawn), ()
    found = tune(variant.free().applied(spec), middle(drawn.goal.mass))
    # Told with the spec the ring can be made again from, what its pattern chose written down.
    return dataclasses.replace(found.design, spec=found.spec), found.changes


def all_made(
    spec: Spec,
    variants: Iterable[Variant],
    *,
    jobs: int = 1,
    strong: bool = False,
    as_drawn: bool = False,
) -> Iterator[Entry]:
    """Yield the *variants* of *spec* as made by *jobs* processes, in their order."""
    making = partial(made, spec, strong=strong, as_drawn=as_drawn)
    yield from mapped(making, variants, jobs=jobs)


def _words(key: str, value: Value) -> str:
    shown = f"{value:.4g}" if isinstance(value, float) else str(value)
    if key == "pocket.which":
        return "cut through" if value == "none" else f"pockets: {shown}"
    return f"{key.rpartition('.')[2]} {shown}"

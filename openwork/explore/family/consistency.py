"""How much a look changes over the sizes of a family, and which size stands out most.

Every figure is compared in steps that a person begins to notice in two rings side by side;
the steps are common practice, no source. They order, they do not judge.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import mean, median
from typing import Any

from openwork.explore.family.size import MadeSize, about
from openwork.measure.cell import Cell
from openwork.tables.figure import Figure, told
from openwork.tables.plain import plain

FEWEST = 3  # sizes of which one can stand out
SEEN = frozenset({"solid_share", "openings", "rows"})  # by which a size stands out to the eye


@dataclass(frozen=True, slots=True, kw_only=True)
class Trait:
    """A figure of a size; ``step`` is what is noticed, a share of the value where ``relative``."""

    name: str
    about: Figure
    step: float
    relative: bool
    of: Callable[[MadeSize], float | None]

    @property
    def words(self) -> str:
        """The words for it."""
        return self.about.label or self.name.replace("_", " ")

    @property
    def unit(self) -> str:
        """Its unit."""
        return self.about.unit

    def away(self, value: float, middle: float) -> float:
        """Return how many steps *value* lies from *middle*."""
        if self.relative:
            return abs(math.log(value / middle)) / math.log1p(self.step) if value > 0 else math.inf
        return abs(value - middle) / self.step


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A figure over a family; ``spread`` is most less least, over the mean where ``relative``."""

    trait: Trait
    least: float
    most: float
    mean: float
    spread: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Consistency:
    """The spreads of a family, and the size that stands out most: its teeth, why, in words."""

    spreads: tuple[Spread, ...]
    teeth: int | None
    figure: str
    line: str

    def as_dict(self) -> dict[str, Any]:
        """Return plain values for JSON."""
        figures = {
            one.trait.name: {
                "unit": one.trait.unit,
                **{key: getattr(one, key) for key in ("least", "most", "mean", "spread")},
                "spread_of": "mean" if one.trait.relative else "unit",
            }
            for one in self.spreads
        }
        found = {"teeth": self.teeth, "figure": self.figure, "line": self.line}
        return {"figures": plain(figures), "stands_out": found}


def _cell(name: str, step: float, of: Callable[[Cell], float]) -> Trait:
    """Return the trait that is a figure of the size's cell."""

    def found(size: MadeSize) -> float:
        return of(size.cell)

    return Trait(name=name, about=about()[name], step=step, relative=True, of=found)


def _ring(key: str, step: float, *, relative: bool = False) -> Trait:
    """Return the trait that is the figure *key* of the ring."""
    name, _, part = key.partition(".")

    def of(size: MadeSize) -> float | None:
        found = getattr(size.figures, name)
        value: float | None = found[part] if part and found is not None else found
        return value

    return Trait(name=name, about=told(key, about()), step=step, relative=relative, of=of)


TRAITS = (
    _cell("cell_size", 0.15, lambda cell: cell.size),
    _cell("cell_proportion", 0.12, lambda cell: cell.proportion),
    _ring("rib.least", 0.25, relative=True),
    Trait(name="rows", about=about()["rows"], step=1.0, relative=False, of=lambda size: size.rows),
    _ring("openings", 0.12, relative=True),
    _ring("solid_share", 0.08),
    _ring("cell_spread", 0.1),
    _ring("circularity", 0.08),
    _ring("handedness", 0.15),
    _ring("mirror", 0.1),
    _ring("edge_density", 0.25, relative=True),
    _ring("rhythm.share", 0.1),
)


def consistency(made: Sequence[MadeSize]) -> Consistency:
    """Return how much the look of the sizes *made* differs."""
    values = {trait: [trait.of(size) for size in made] for trait in TRAITS}
    known = {trait: found for trait, found in values.items() if found and None not in found}
    spreads = tuple(_spread(trait, [float(one or 0) for one in known[trait]]) for trait in known)
    if len(made) < FEWEST:
        return Consistency(spreads=spreads, teeth=None, figure="", line="Too few sizes to compare.")
    return _standing_out(made, spreads)


def _spread(trait: Trait, values: Sequence[float]) -> Spread:
    least, most, middle = min(values), max(values), mean(values)
    scale = middle if trait.relative and middle else 1.0
    return Spread(trait=trait, least=least, most=most, mean=middle, spread=(most - least) / scale)


def _standing_out(made: Sequence[MadeSize], spreads: tuple[Spread, ...]) -> Consistency:
    """Return the size farthest from the median by what the eye sees, and the figure that tells."""
    seen = [one.trait for one in spreads if one.trait.name in SEEN]
    middles = {trait: median(float(trait.of(size) or 0) for size in made) for trait in seen}

    def steps(size: MadeSize) -> dict[Trait, float]:
        return {
            trait: trait.away(float(trait.of(size) or 0), middle)
            for trait, middle in middles.items()
        }

    size = max(made, key=lambda one: sum(step**2 for step in steps(one).values()))
    trait, most = max(steps(size).items(), key=lambda pair: pair[1])
    value, middle = float(trait.of(size) or 0), middles[trait]
    told = f"{trait.words} {_told(trait, value)}, the median {_told(trait, middle)}"
    if most < 1:
        line = f"No size stands out; farthest is {size.teeth} teeth: {told}."
    else:
        line = f"{size.teeth} teeth stand out most: {told}."
    return Consistency(spreads=spreads, teeth=size.teeth, figure=trait.name, line=line)


def _told(trait: Trait, value: float) -> str:
    if trait.unit == "":
        return f"{value:g}"
    if trait.about.percent:
        return f"{100 * value:.0f} %"
    return f"{value:.2f}" + (f" {trait.unit}" if trait.unit != "1" else "")

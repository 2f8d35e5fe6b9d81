"""How a lattice of columns and rows chooses its numbers, all at once, to suit a site."""

from __future__ import annotations

import dataclasses
import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from openwork.fill.draft import Draft
from openwork.fill.lattice import Lattice
from openwork.fill.parameters import Value
from openwork.fill.polar import extent, unevenness
from openwork.fill.registry import Pattern
from openwork.fill.site import Site

L = TypeVar("L", bound=Lattice)

MOST = 30  # candidates looked at: the proportions of others are no longer those of the pattern
PAD_COST = 0.05  # of one tile spoilt at every pad, against squared logarithms of proportions
LATER = 0.05  # cost of every angle passed over
CRAMPED = 1.5  # cost of tiles all too narrow to look like openings
LOST = 4.0  # cost of tiles all too narrow for the cutter


@dataclass(frozen=True, kw_only=True)
class Fit:
    """How a lattice chooses its columns, rows, phase and angle for a site.

    Columns are about ``size`` plus ``share`` of the web's width wide (mm, at the middle radius),
    rows ``ratio`` times as high as columns are wide; ``angles`` are tried in turn.
    """

    size: float
    share: float
    ratio: float
    angles: tuple[float, ...] = ()

    def best(self, cls: type[L], site: Site, given: Mapping[str, Any]) -> L:
        """Return the lattice of class *cls* that suits *site* best, with all that is *given*."""
        return chosen(self._candidates(cls, site, given), site, given)

    def _candidates(
        self, cls: type[L], site: Site, given: Mapping[str, Any]
    ) -> Iterator[tuple[float, L]]:
        """Yield lattices, and the cost of their proportions."""
        low, high = extent(site)
        size = self.size + self.share * (site.outer - site.inner)
        tilted = [{"angle": one} for one in options("angle", given, self.angles)] or [{}]
        least, most = bounds(cls, "columns")
        deepest = int(bounds(cls, "rows")[1])
        for columns in options("columns", given, multiples(least, site, size, most)):
            width = 2 * math.pi / columns
            wide = math.log(site.middle * width / size) ** 2 + unevenness(site, columns) ** 2
            wanted = math.ceil((high - low) / width / self.ratio)
            for rows in options("rows", given, range(1, min(wanted, deepest) + 1)):
                stretch = math.log((high - low) / rows / (self.ratio * width))
                for later, angle in enumerate(tilted):
                    one = cls(**{**given, **angle, "columns": columns, "rows": rows})
                    yield stretch**2 + wide + LATER * later, one


def bounds(cls: type[Pattern], name: str) -> tuple[float, float]:
    """Return the least and the greatest value of the parameter called *name*."""
    field = next(one for one in dataclasses.fields(cls) if one.name == name)
    return field.metadata["low"], field.metadata["high"]


def multiples(least: float, site: Site, size: float, most: float = math.inf) -> Sequence[int]:
    """Return the counts to try round the ring for what is about *size* mm wide.

    Multiples of the symmetry order from *least* to *most*, up to twice as many as fit.
    """
    first = math.ceil(least / site.fold) * site.fold
    last = max(first, min(most, round(4 * math.pi * site.middle / size)))
    return range(first, int(last) + 1, site.fold)


def options(name: str, given: Mapping[str, Any], otherwise: Iterable[Any]) -> Iterable[Any]:
    """Return the value *given* for a parameter alone, or what may be tried *otherwise*."""
    return [given[name]] if name in given else otherwise


def chosen(
    candidates: Iterable[tuple[float, L]], site: Site, given: Mapping[str, Any],
    flaw: Callable[[Draft[L]], float] = lambda _: 0.0,
) -> L:  # fmt: skip
    """Return the cheapest candidate, tiles that are cramped or lost and pads counted.

    *candidates* come with the cost of their proportions; *flaw* is the cost of what else only a
    draft shows. The phase is chosen too, unless *given*.
    """
    best, least = None, math.inf
    known: dict[tuple[Value, ...], list[tuple[int, float]]] = defaultdict(list)
    for price, one in sorted(candidates, key=lambda pair: pair[0])[:MOST]:
        if price >= least:
            break
        coarser = known[_all_but_count(one)]
        narrow = max((flaws for columns, flaws in coarser if columns <= one.columns), default=0.0)
        if price + narrow >= least:
            continue
        draft = Draft(one, site)
        flaws = CRAMPED * draft.cramped + flaw(draft)
        if price + flaws < least:
            flaws += LOST * draft.lost
        coarser.append((one.columns, flaws))
        if price + flaws < least:
            phase = min(options("phase", given, draft.spoilt), key=draft.spoilt.__getitem__)
            whole = price + flaws + PAD_COST * draft.spoilt[phase]
            if whole < least:
                best, least = replace(one, phase=phase), whole
    assert best is not None
    return best


def _all_but_count(lattice: Lattice) -> tuple[Value, ...]:
    """Return the parameters of *lattice* but its count round the ring.

    Of lattices alike in them, one with more columns has tiles that are at least as narrow.
    """
    fields = dataclasses.fields(lattice)
    return tuple(getattr(lattice, one.name) for one in fields if not one.metadata["per_bolt"])

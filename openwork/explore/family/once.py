"""Columns, rows and all else that a pattern chooses, chosen once so that every size bears them.

Of a few choices that one is taken with which the masses at one rib rise most evenly from size to
size: where an opening comes or goes between two sizes, or a row at the hem, the mass jumps.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import Any, TypeAlias

from openwork.errors import OpenworkError
from openwork.explore.mass.begun import settled
from openwork.explore.mass.chain import brought, started
from openwork.explore.mass.search import TOLERANCE
from openwork.explore.mass.spacing import respaced
from openwork.measure.cell import ROWS, row_count
from openwork.measure.figures import mass
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed

EVEN = 1.4  # largest step over the median one with which a choice is good enough
TRIED = 7  # choices looked at

Mass: TypeAlias = Callable[[Design], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The base ring with its pattern settled, and by teeth the rings at its rib that can be made.

    ``missed`` of them cannot have the mass that is wanted of them, as far as was tried.
    ``unevenness`` is the largest step of the mass over the median one; infinite where it falls.
    """

    look: Design
    rings: dict[int, Design]
    missed: int
    unevenness: float


def chosen_once(spec: Spec, teeth: Sequence[int], wanted: Mass | None = None) -> Choice:
    """Return the choice of *spec*'s pattern that suits all sizes of *teeth* best.

    *wanted* is the mass, g, that each shall have. Raises RuleError where the base itself cannot
    be made.
    """
    best: Choice | None = None
    for count, look in enumerate(_looks(spec, teeth)):
        found = _choice(look, teeth, wanted)
        if best is None or _cost(found) < _cost(best):
            best = found
        good = len(best.rings) - best.missed == len(teeth)
        if count + 1 == TRIED or (good and best.unevenness <= EVEN):
            break
    assert best is not None
    return best


def _cost(choice: Choice) -> tuple[int, float]:
    return choice.missed - len(choice.rings), choice.unevenness


def _choice(look: Design, teeth: Sequence[int], wanted: Mass | None) -> Choice:
    rings = {}
    for count in teeth:
        ring = _made(look.spec, {"ring.teeth": count})
        if ring is not None:
            rings[count] = ring
    masses = [mass(one) for one in rings.values()]
    missed = 0 if wanted is None else _missed([*rings.values()], wanted)
    uneven = unevenness([*rings], masses)
    return Choice(look=look, rings=rings, missed=missed, unevenness=uneven)


def _missed(rings: Sequence[Design], wanted: Mass) -> int:
    """Return how many of *rings* weigh too much already, and whether the ends can be brought."""
    heavy = {ring.spec.ring.teeth for ring in rings if mass(ring) > wanted(ring) + TOLERANCE}
    for ring in (rings[0], rings[-1]) if rings and not heavy else ():
        with suppress(OpenworkError):
            brought(ring.spec, wanted(ring))
            continue
        heavy.add(ring.spec.ring.teeth)
    return len(heavy)


def unevenness(teeth: Sequence[int], masses: Sequence[float]) -> float:
    """Return the largest step of the mass for one tooth over the median; infinite if one falls.

    >>> unevenness([40, 42, 43, 44], [60.0, 64.0, 66.0, 69.0])
    1.5
    """
    steps = [
        (heavy - light) / (more - less)
        for (less, light), (more, heavy) in pairwise(zip(teeth, masses, strict=True))
    ]
    if not steps:
        return 1.0
    return max(steps) / median(steps) if min(steps) > 0 else math.inf


def _looks(spec: Spec, teeth: Sequence[int]) -> Iterator[Design]:
    """Yield the base ring with what its pattern may choose, the choice for itself first.

    What *spec* gives of the pattern stays.
    """
    base = started(spec)
    seen = []
    for look in _choices(spec, base, teeth):
        if look.pattern not in seen:
            seen.append(look.pattern)
            yield look


def _choices(spec: Spec, base: Design, teeth: Sequence[int]) -> Iterator[Design]:
    yield base
    rows = row_count(base.pattern)
    fewer = () if rows is None or ROWS in spec.pattern.parameters else range(rows - 1, 0, -1)
    made = [_made(spec, {f"pattern.{ROWS}": count}) for count in fewer]
    yield from (found := [*filter(None, made)])
    for count in (min(teeth), max(teeth)):
        other = _made(spec, {"ring.teeth": count})
        look = other and _made(settled(other), {"ring.teeth": spec.ring.teeth})
        if look:
            found.append(look)
            yield look
    yield from (_settled(one) for one in respaced(spec, base, more=True))
    if "phase" not in spec.pattern.parameters:
        yield from (flip for one in (base, *found) for flip in _flipped(one))


def _flipped(look: Design) -> Iterator[Design]:
    """Yield *look* in the other phases of its pattern."""
    fields = {one.name: one for one in dataclasses.fields(look.pattern)}
    if "phase" not in fields:
        return
    for phase in fields["phase"].metadata["choices"]:
        flipped = _made(settled(look), {"pattern.phase": phase})
        if flipped is not None:
            yield flipped


def _made(spec: Spec, changes: dict[str, Any]) -> Design | None:
    try:
        return _settled(design(changed(spec, changes)))
    except OpenworkError:
        return None


def _settled(ring: Design) -> Design:
    return dataclasses.replace(ring, spec=settled(ring))

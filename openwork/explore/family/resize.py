"""A look in another tooth count: on its mass, with the rows that keep it best."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from functools import partial
from typing import TypeAlias

from openwork.errors import RuleError
from openwork.explore.family.differences import departures, stretch
from openwork.explore.family.rows import row_choices
from openwork.explore.family.size import Size
from openwork.explore.mass.out_of_reach import OutOfReachError, reach
from openwork.explore.mass.tune import Attempt, attempted, settled
from openwork.explore.mass.wider_rim import bridged
from openwork.fill.site import site
from openwork.measure.cell import ROWS, cell, row_count
from openwork.measure.figures import Figures, figures
from openwork.measure.limits import keep
from openwork.part.blank import blank
from openwork.part.chain_name import chain
from openwork.part.drive import Running, running
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed
from openwork.tables.goal import Goal, Wanted

TRIED = 2  # row counts looked at for one size
UNSURE = 0.15  # |ln| of the proportion that another rib may make of it

Tries: TypeAlias = dict[int | None, Design | Attempt | RuleError]


def sized(look: Design, goal: Goal, teeth: int) -> Size:
    """Return the base *look* with *teeth* teeth, as *goal* wants it."""
    wanted = goal.wanted(teeth - look.spec.ring.teeth)
    spec = _spec(look, wanted, teeth)
    size = partial(Size, teeth=teeth, wanted=wanted, drive=_drive(spec))
    try:
        choices = row_choices(look, site(blank(spec.ring, spec.mount), spec.web))[:TRIED]
        tries = _tries(look, spec, wanted, choices)
        ring, measured = _best(look, tries)
    except OutOfReachError as fault:
        return size(reason=str(fault), reach=(fault.reach.least, fault.reach.most))
    except RuleError as fault:
        return size(reason=str(fault))
    missed = [rows for rows, found in tries.items() if isinstance(found, Attempt)]
    said = departures(look, ring, missed)
    return size(design=ring, figures=measured, cell=cell(ring), said=said)


def _tries(look: Design, spec: Spec, wanted: Wanted, choices: Sequence[int]) -> Tries:
    """Return by rows the rings, the attempts that miss the mass, and what went wrong.

    Which of two row counts keeps the proportion of *look* better is known with the rib only, so
    the next is tried too unless it is far behind.
    """
    if not choices:
        return {None: _tried(spec, wanted)}
    found: Tries = {}
    for rows in choices:
        made = [ring for ring in found.values() if isinstance(ring, Design)]
        if not made or _near(look, made[0], rows):
            one = changed(spec, {f"pattern.{ROWS}": rows})
            found[rows] = _tried(one, wanted)
    return found


def _near(look: Design, ring: Design, rows: int) -> bool:
    """Tell whether *rows* might keep the proportion of *look* better than *ring* does."""
    off = stretch(look, ring)
    other = off + math.log((row_count(ring.pattern) or rows) / rows)
    return abs(other) < abs(off) + UNSURE


def _tried(spec: Spec, wanted: Wanted) -> Design | Attempt | RuleError:
    """Return the ring; where the mass jumps over what is wanted of the rib, by a wider rim too."""
    try:
        if wanted is None:
            return design(spec)
        attempt = attempted(spec, wanted)
        if attempt.value is not None:
            return attempt.trials.rings[attempt.value]
        return bridged(attempt) or attempt
    except RuleError as fault:
        return fault


def _best(look: Design, tries: Tries) -> tuple[Design, Figures]:
    """Return the ring that keeps the cells of *look* best in proportion, and its figures.

    Raises RuleError with what is wrong with the first one tried where none is sound.
    """
    faults: list[RuleError] = []
    rings = [found for found in tries.values() if isinstance(found, Design)]
    for ring in sorted(rings, key=lambda ring: abs(stretch(look, ring))):
        measured = figures(ring)
        try:
            keep(ring, measured)
        except RuleError as fault:
            faults.append(fault)
        else:
            return ring, measured
    first = next(iter(tries.values()))
    if isinstance(first, Attempt):
        raise OutOfReachError(reach(first.trials, first.aim), first.aim)
    raise first if isinstance(first, RuleError) else faults[0]


def _spec(look: Design, wanted: Wanted, teeth: int) -> Spec:
    """Return the spec of *look* for *teeth* teeth; a count in its title is changed with it."""
    base = look.spec.ring.teeth
    title = re.sub(rf"\b{base}\b", str(teeth), look.spec.title)
    changes: dict[str, object] = {"ring.teeth": teeth, "title": title}
    if wanted is not None:
        changes["goal.mass"] = wanted
    return changed(settled(look), changes)


def _drive(spec: Spec) -> Running:
    ring, load = spec.ring, spec.load
    torque = load.force * load.crank
    return running(ring.teeth, chain(ring.chain), tip=ring.tip, torque=torque, drive=spec.drive)

"""One look over many tooth counts: the same mount, the same columns, rows that follow the web.

The spec's own ring sets the look: what its pattern chose for itself stays for every size, and the
rib that brings it on its mass is where every other size begins. Rows are chosen anew for each
web, the count whose cells come nearest in proportion first.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import Any, TypeAlias

from openwork.design import Design, design
from openwork.errors import RuleError, SpecError
from openwork.explore.bridge import BY, bridged
from openwork.explore.cell import ROWS, cell, row_count
from openwork.explore.consistency import Consistency, consistency
from openwork.explore.goal import LEAST, MOST, Goal
from openwork.explore.parallel import mapped
from openwork.explore.reach import OutOfReachError, reach
from openwork.explore.rows import row_choices
from openwork.explore.size import Size
from openwork.explore.tune import Attempt, attempted, settled
from openwork.figures import Figures, figures
from openwork.fill.polar import MOST_STRETCH
from openwork.fill.site import site
from openwork.limits import keep
from openwork.part.blank import blank
from openwork.part.chain import chain
from openwork.part.drive import Running, running
from openwork.spec import Spec, changed

TRIED = 2  # row counts looked at for one size
FEWER = 0.12  # share of the openings whose loss shows
UNSURE = 0.15  # |ln| of the proportion that another rib may make of it

Tries: TypeAlias = dict[int | None, Design | Attempt | RuleError]


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Family:
    """All sizes of a look, in the order asked for; ``spec`` is the base that sets it."""

    spec: Spec
    sizes: tuple[Size, ...]
    consistency: Consistency

    @property
    def made(self) -> tuple[Size, ...]:
        """The sizes that can be made."""
        return tuple(size for size in self.sizes if size.design is not None)

    def as_dict(self) -> dict[str, Any]:
        """Return the family as plain values for JSON."""
        goal = self.spec.goal
        return {
            "title": self.spec.title,
            "base": self.spec.ring.teeth,
            "hold": goal.hold,
            "mass": goal.mass,
            "per_tooth": goal.per_tooth,
            "sizes": [size.as_dict() for size in self.sizes],
            "consistency": self.consistency.as_dict(),
        }

    def __repr__(self) -> str:
        teeth = ", ".join(str(size.teeth) for size in self.sizes)
        return f"<{self.spec.title}: a family of {teeth} teeth>"

    def _repr_html_(self) -> str:
        """Return the sheets by which a notebook shows the family."""
        # Looked up when it is asked for: sizes are made without knowing how they are drawn.
        found: str = import_module("openwork.render.notebook").family_html(self)
        return found


def family(spec: Spec, *, jobs: int = 1) -> Family:
    """Return the ring of *spec* in every tooth count of its goal, by *jobs* processes.

    Raises SpecError where the goal names no tooth counts or no mass to hold, RuleError where the
    base itself cannot be made.
    """
    return gathered(spec, sizes(spec, jobs=jobs))


def gathered(spec: Spec, made: Iterable[Size]) -> Family:
    """Return the family of *spec* that the sizes *made* are."""
    found = tuple(made)
    return Family(spec=spec, sizes=found, consistency=consistency(found))


def sizes(spec: Spec, *, jobs: int = 1) -> Iterator[Size]:
    """Yield the sizes of *spec*'s family in their order; raises as ``family`` at the first."""
    goal = spec.goal
    if not goal.teeth:
        raise SpecError("goal.teeth: missing; goal.teeth = [38, 46] works")
    if goal.hold == "mass" and goal.mass is None:
        raise SpecError(
            'goal.mass: missing, and goal.hold is "mass"; goal.mass = 100.0 or '
            'goal.hold = "rib" works'
        )
    _check(spec)
    yield from mapped(partial(sized, _look(spec), goal), goal.sizes, jobs=jobs)


def _check(spec: Spec) -> None:
    """Raise SpecError where the mass grows out of the range that a goal may have."""
    goal = spec.goal
    for teeth in goal.sizes:
        wanted = _wanted(goal, teeth - spec.ring.teeth)
        for mass in wanted if isinstance(wanted, tuple) else (wanted,):
            if mass is not None and not LEAST <= mass <= MOST:
                raise SpecError(
                    f"goal.per_tooth {goal.per_tooth:g}: makes it {mass:g} g at {teeth} teeth; "
                    f"must stay from {LEAST:g} to {MOST:g} g, 0 works"
                )


def _look(spec: Spec) -> Design:
    """Return the base ring, on its mass where that is held and it can be."""
    if spec.goal.hold == "rib" or spec.goal.mass is None:
        return design(spec)
    found = attempted(spec, spec.goal.mass)
    value = next(iter(found.trials.rings)) if found.value is None else found.value
    return found.trials.rings[value]


def sized(look: Design, goal: Goal, teeth: int) -> Size:
    """Return the base *look* with *teeth* teeth, as *goal* wants it."""
    wanted = _wanted(goal, teeth - look.spec.ring.teeth)
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
    said = _said(look, ring, missed)
    return size(design=ring, figures=measured, cell=cell(ring), said=said)


def _tries(
    look: Design, spec: Spec, wanted: float | tuple[float, float] | None, choices: Sequence[int]
) -> Tries:
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
            one = changed(spec, {f"pattern.{ROWS}": rows}, source="")
            found[rows] = _tried(one, wanted)
    return found


def _near(look: Design, ring: Design, rows: int) -> bool:
    """Tell whether *rows* might keep the proportion of *look* better than *ring* does."""
    off = _stretch(look, ring)
    other = off + math.log((row_count(ring.pattern) or rows) / rows)
    return abs(other) < abs(off) + UNSURE


def _tried(spec: Spec, wanted: float | tuple[float, float] | None) -> Design | Attempt | RuleError:
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
    for ring in sorted(rings, key=lambda ring: abs(_stretch(look, ring))):
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


def _stretch(look: Design, ring: Design) -> float:
    """Return the logarithm of how much higher for their width cells are than those of *look*."""
    return math.log(cell(ring).proportion / cell(look).proportion)


def _wanted(goal: Goal, more: int) -> float | tuple[float, float] | None:
    """Return the mass, or the band, wanted of a size with *more* teeth than the base."""
    if goal.hold == "rib" or goal.mass is None:
        return None
    if isinstance(goal.mass, tuple):
        return goal.mass[0] + more * goal.per_tooth, goal.mass[1] + more * goal.per_tooth
    return goal.mass + more * goal.per_tooth


def _spec(look: Design, wanted: float | tuple[float, float] | None, teeth: int) -> Spec:
    """Return the spec of *look* for *teeth* teeth; a count in its title is changed with it."""
    base = look.spec.ring.teeth
    title = re.sub(rf"\b{base}\b", str(teeth), look.spec.title)
    changes: dict[str, object] = {"ring.teeth": teeth, "title": title}
    if wanted is not None:
        changes["goal.mass"] = wanted
    return changed(settled(look), changes, source="")


def _drive(spec: Spec) -> Running:
    ring, load = spec.ring, spec.load
    torque = load.force * load.crank
    return running(ring.teeth, chain(ring.chain), tip=ring.tip, torque=torque, drive=spec.drive)


def _said(look: Design, ring: Design, missed: list[int | None]) -> tuple[str, ...]:
    """Return in words where *ring* departs from *look*; *missed* row counts miss the mass."""
    base, found = look.spec.ring.teeth, []
    before, now = (row_count(one.pattern) for one in (look, ring))
    if before != now:
        found.append(f"{_counted(now)}, {before} at {base} teeth")
    counts = [len(one.openings) for one in (look, ring)]
    if before == now and abs(counts[1] - counts[0]) > FEWER * counts[0]:
        found.append(f"{counts[1]} openings, {counts[0]} at {base} teeth")
    if look.spec.web.rim != ring.spec.web.rim:
        found.append(f"{BY} {ring.spec.web.rim:.4g} mm: no rib alone gives the mass")
    stretch = _stretch(look, ring)
    if abs(stretch) > MOST_STRETCH:
        way = "higher" if stretch > 0 else "lower"
        share = 100 * math.expm1(abs(stretch))
        found.append(f"cells {share:.0f} % {way} for their width than at {base} teeth")
    found += [f"with {_counted(rows)} the mass is out of reach" for rows in missed]
    return tuple(found)


def _counted(rows: int | None) -> str:
    return "1 row" if rows == 1 else f"{rows} rows"

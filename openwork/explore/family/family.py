"""One look over many tooth counts: the same mount, the same columns, rows that follow the web.

The spec's own ring sets the look: what its pattern chose for itself stays for every size, and the
rib that brings it on its mass is where every other size begins. Rows are chosen anew for each
web, the count whose cells come nearest in proportion first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import Any

from openwork.errors import SpecError
from openwork.explore.family.consistency import Consistency, consistency
from openwork.explore.family.resize import sized
from openwork.explore.family.size import Size
from openwork.explore.mass.tune import attempted
from openwork.explore.parallel import mapped
from openwork.ring import Design, design
from openwork.spec.spec import Spec
from openwork.tables.goal import LEAST, MOST


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
        wanted = goal.wanted(teeth - spec.ring.teeth)
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

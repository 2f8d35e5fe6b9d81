"""One look over many tooth counts: the same mount, the same columns and rows.

The spec's own ring sets the look. Columns, rows, phase and the row at the hem are chosen once so
that every size bears them; the sizes share a mass, which may grow with the teeth, or the solid
share of the web, or the rib.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import Any

from openwork.errors import SpecError
from openwork.explore.family.consistency import Consistency, consistency
from openwork.explore.family.plan import Plan, planned
from openwork.explore.family.resize import sized
from openwork.explore.family.size import MadeSize, RefusedSize, Size
from openwork.explore.parallel import mapped
from openwork.fill.registry import PLAIN
from openwork.spec.spec import Spec
from openwork.tables.goal import LEAST, MOST


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Family:
    """All sizes of a look, in the order asked for; ``spec`` is the base that sets it."""

    spec: Spec
    plan: Plan
    sizes: tuple[Size, ...]
    consistency: Consistency

    @property
    def made(self) -> tuple[MadeSize, ...]:
        """The sizes that can be made."""
        return _made(self.sizes)

    @property
    def refused(self) -> tuple[RefusedSize, ...]:
        """The sizes that cannot be made."""
        return tuple(one for one in self.sizes if isinstance(one, RefusedSize))

    def as_dict(self) -> dict[str, Any]:
        """Return the family as plain values for JSON."""
        goal = self.spec.goal
        return {
            "title": self.spec.title,
            "base": self.spec.ring.teeth,
            "hold": goal.held,
            "mass": goal.mass,
            "per_tooth": self.plan.per_tooth,
            "share": self.plan.share,
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


def family(spec: Spec, *, jobs: int = 1, strong: bool = False) -> Family:
    """Return the ring of *spec* in every tooth count of its goal, by *jobs* processes.

    *strong* ones come with their strength.

    Raises SpecError where the goal names no tooth counts or no mass to hold, RuleError where the
    base itself cannot be made.
    """
    return gathered(spec, sizes(spec, jobs=jobs, strong=strong))


def gathered(spec: Spec, made: Iterable[tuple[Plan, Size]]) -> Family:
    """Return the family of *spec* that the sizes *made* to a plan are."""
    plans, found = zip(*made, strict=True)
    alike = consistency(_made(found))
    return Family(spec=spec, plan=plans[0], sizes=found, consistency=alike)


def _made(sizes: Iterable[Size]) -> tuple[MadeSize, ...]:
    return tuple(one for one in sizes if isinstance(one, MadeSize))


def sizes(spec: Spec, *, jobs: int = 1, strong: bool = False) -> Iterator[tuple[Plan, Size]]:
    """Yield the plan of *spec*'s family with each size in order; raises as ``family`` at once."""
    goal = spec.goal
    if not goal.teeth:
        raise SpecError("goal.teeth: missing; goal.teeth = [38, 46] works")
    if spec.pattern.name == PLAIN:
        raise SpecError(
            f'pattern.name = "{PLAIN}": has no openings to carry over tooth counts; '
            'pattern.name = "honeycomb" works'
        )
    if goal.held == "mass" and goal.mass is None:
        raise SpecError(
            'goal.mass: missing, and goal.hold is "mass"; goal.mass = 100.0 or '
            'goal.hold = "share" works'
        )
    plan = planned(spec)
    _check(spec, plan)
    for size in mapped(partial(sized, plan, strong=strong), goal.sizes, jobs=jobs):
        yield plan, size


def _check(spec: Spec, plan: Plan) -> None:
    """Raise SpecError where the mass grows out of the range that a goal may have."""
    for teeth, wanted in plan.wanted.items():
        for mass in wanted if isinstance(wanted, tuple) else (wanted,):
            if mass is not None and not LEAST <= mass <= MOST:
                raise SpecError(
                    f"goal.per_tooth {plan.per_tooth or 0:g}: makes it {mass:g} g at {teeth} "
                    f"teeth; must stay from {LEAST:g} to {MOST:g} g, 0 works"
                )

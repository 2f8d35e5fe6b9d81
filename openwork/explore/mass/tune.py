"""A spec brought on the mass wanted, by the changes that keep its look or by one key alone."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

from openwork.errors import SpecError
from openwork.explore.mass.begun import RIB, begun, least_rib, plainest
from openwork.explore.mass.chain import brought
from openwork.explore.mass.out_of_reach import OutOfReachError, reach
from openwork.explore.mass.search import TOLERANCE, Trials, nearest, solved
from openwork.measure.figures import mass
from openwork.ring import Design
from openwork.spec.spec import Spec, changed
from openwork.tables.goal import middle

Value: TypeAlias = int | float | str
# Keys that a search may change, and those that it is told to turn alone; the pattern's beside them.
TURNED = (RIB, "web.rim", "web.hem", "ring.plate")
ALONE = ("web.corner", "web.taper", "web.bevel", "pocket.floor")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A key that was turned: its value before and now."""

    key: str
    before: Value
    now: Value

    @property
    def words(self) -> str:
        """The change in a few words, as "rim 3 to 3.84"."""
        return f"{self.key.rpartition('.')[2]} {_shown(self.before)} to {_shown(self.now)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuned:
    """A spec on its mass, its ring, and what was changed; ``before`` is the ring of the spec.

    That is None where it could not be made. ``mass`` is in g. ``spec`` holds what the pattern
    chose for itself only where it would choose otherwise now.
    """

    before: Design | None
    changes: tuple[Change, ...]
    mass: float
    spec: Spec
    design: Design
    tried: int


def tune(
    spec: Spec, mass: float | tuple[float, float] | None = None, *, key: str | None = None
) -> Tuned:
    """Return *spec* changed until the ring weighs *mass* (g), by default its goal.

    A band (least, most) is aimed at in its middle; a ring already inside it is left as it is.
    Without *key* that is the order that keeps the look: ribs, rim and hem, the numbers of columns
    and rows, the plate where ``goal.plate`` allows it; else *key* alone is turned. What is given
    of the pattern stays. Raises SpecError without a mass or for a key that cannot be turned,
    OutOfReachError, a RuleError, with the masses that can be reached, what limits them and what
    would help, where the mass cannot.
    """
    wanted = spec.goal.mass if mass is None else mass
    if wanted is None:
        raise SpecError("goal.mass: missing; goal.mass = 100.0, or the band [97.0, 103.0], works")
    if key is not None:
        return _turned(spec, key, wanted)
    tries = brought(spec, wanted)
    assert tries.found is not None
    return _result(spec, tries.before, tries.found, len(tries.tried))


def tuned(spec: Spec, target: float, *, key: str = RIB, tolerance: float = TOLERANCE) -> Tuned:
    """Return *spec* with *key* alone turned, the mass within *tolerance* of *target*, g."""
    trials, start = begun(spec, key)
    return _settled_on(spec, trials, solved(trials, start, target, tolerance), target)


def _turned(spec: Spec, key: str, wanted: float | tuple[float, float]) -> Tuned:
    """Return *spec* with *key* alone turned to the mass *wanted* (g) or one inside a band."""
    trials, start = begun(spec, key)
    low, high = wanted if isinstance(wanted, tuple) else (wanted, wanted)
    aim, half = middle(wanted), max((high - low) / 2, TOLERANCE)
    value = nearest(trials, aim, half)
    if value is None:
        value = solved(trials, start, aim, TOLERANCE)
    if value is None:
        value = nearest(trials, aim, half)
    return _settled_on(spec, trials, value, aim)


def _settled_on(spec: Spec, trials: Trials, value: float | None, aim: float) -> Tuned:
    if value is None:
        raise OutOfReachError(reach(trials, aim), aim)
    first = trials.rings.get(next(iter(trials.masses)))
    return _result(spec, first, trials.rings[value], len(trials.masses))


def _result(spec: Spec, before: Design | None, ring: Design, tried: int) -> Tuned:
    changes = tuple(_changes(spec, before, ring))
    return Tuned(
        before=before,
        changes=changes,
        mass=mass(ring),
        spec=_plainest(spec, changes, ring),
        design=ring,
        tried=tried,
    )


def _changes(spec: Spec, before: Design | None, ring: Design) -> Iterator[Change]:
    """Yield what *ring* has other than *spec*, whose ring is *before*."""
    for key in (*TURNED, *ALONE):
        table, _, name = key.partition(".")
        old, new = (getattr(getattr(one, table), name) for one in (spec, ring.spec))
        if old != new:
            yield Change(key=key, before=old, now=new)
    if before is None:
        return
    old, new = (dataclasses.asdict(one.pattern) for one in (before, ring))
    for name in (name for name in new if old.get(name) != new[name]):
        yield Change(key=f"pattern.{name}", before=old[name], now=new[name])


def _plainest(spec: Spec, changes: tuple[Change, ...], ring: Design) -> Spec:
    """Return *spec* with *changes*, and what it takes for it to make *ring* again."""
    turned: dict[str, Any] = {one.key: one.now for one in changes}
    if turned.get(RIB, 0) > least_rib(spec):
        turned["goal.least_rib"] = least_rib(spec)  # the next search may go back there
    return plainest(changed(spec, turned), ring)


def _shown(value: Value) -> str:
    return f"{value:.4g}" if isinstance(value, float) else str(value)

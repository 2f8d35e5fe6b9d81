"""One continuous key of a spec turned until the ring weighs what is wanted.

The mass is measured on the real design at every step. It grows with the rib, but jumps where
small openings drop out, so the search keeps a bracket once it has one: secant steps inside it,
with the weight of an end that stays halved (the Illinois rule: Dowell and Jarratt, A modified
regula falsi method for computing the root of an equation, BIT 11, 1971).
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass, field
from typing import Any

from openwork.design import Design, design
from openwork.errors import RuleError, SpecError
from openwork.explore.reach import unreachable
from openwork.figures import mass
from openwork.fill.pattern import family
from openwork.shape.contour import length
from openwork.spec import Spec, changed

TOLERANCE = 0.05  # g
MOST = 60  # rings tried before the search gives up
NARROW = 1e-6  # share of the range: a bracket as narrow and still off the mass is a jump


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuned:
    """A spec with one key turned, its ring, and what it weighed before and weighs now, g."""

    key: str
    before: float
    value: float
    mass_before: float
    mass: float
    spec: Spec
    design: Design
    tried: int


def tuned(
    spec: Spec, target: float, *, key: str = "web.rib", tolerance: float = TOLERANCE
) -> Tuned:
    """Return *spec* with *key* turned until the ring weighs *target* (g) within *tolerance*.

    Every parameter the pattern chose for itself is written down first, so that the look stays.
    Raises SpecError for a key that cannot be turned, RuleError with the masses that can be
    reached, what limits them and what would help, where the target cannot.
    """
    limits = key_range(spec, key)
    ring = design(spec)
    trials = Trials(settled(spec, ring), key)
    start = trials.start(ring)
    value = _found(trials, start, target, limits, tolerance)
    found = trials.rings[value]
    return Tuned(
        key=key,
        before=start,
        value=value,
        mass_before=trials.masses[start],
        mass=trials.masses[value],
        spec=found.spec,
        design=found,
        tried=len(trials.masses),
    )


def settled(spec: Spec, ring: Design) -> Spec:
    """Return *spec* with every parameter that *ring*'s pattern chose for itself written down."""
    chosen = dataclasses.asdict(ring.pattern)
    table = {"name": spec.pattern.name, "seed": spec.pattern.seed, **chosen}
    return changed(spec, {"pattern": table}, source="")


def key_range(spec: Spec, key: str) -> tuple[float, float]:
    """Return the least and the greatest value that *key* ("table.key") may take.

    Raises SpecError for a key that is not a number that varies.
    """
    table, _, name = key.partition(".")
    if table == "pattern":
        fields = {one.name: one for one in dataclasses.fields(family(spec.pattern.name))}
        if name in fields and isinstance(fields[name].default, float):
            return fields[name].metadata["low"], fields[name].metadata["high"]
    else:
        known = getattr(type(getattr(spec, table, None)), "model_fields", {})
        if name in known and known[name].annotation is float:
            bounds = [
                (getattr(one, "ge", None), getattr(one, "le", None)) for one in known[name].metadata
            ]
            low = [a for a, _ in bounds if a is not None]
            high = [b for _, b in bounds if b is not None]
            return float(low[0]), float(high[0])
    raise SpecError(f"--by {key}: not a number that can be turned; web.rib or ring.plate works")


@dataclass(slots=True)
class Trials:
    """The rings tried so far and their masses (g; NaN: cannot be made), by the key's value."""

    spec: Spec
    key: str
    masses: dict[float, float] = field(default_factory=dict)
    rings: dict[float, Design] = field(default_factory=dict)
    reasons: dict[float, str] = field(default_factory=dict)

    def start(self, ring: Design) -> float:
        """Take *ring*, made from the spec as it is, as the first trial; return its value."""
        table, _, name = self.key.partition(".")
        source: Any = ring.pattern if table == "pattern" else getattr(ring.spec, table)
        value = float(getattr(source, name))
        self.rings[value], self.masses[value] = ring, mass(ring)
        return value

    def mass(self, value: float) -> float:
        """Return the mass with the key at *value*."""
        if value not in self.masses:
            try:
                ring = design(changed(self.spec, {self.key: value}, source=""))
            except RuleError as error:
                self.masses[value], self.reasons[value] = math.nan, str(error)
            else:
                self.rings[value], self.masses[value] = ring, mass(ring)
        return self.masses[value]

    def slope(self, value: float) -> float:
        """Return about how fast the mass grows with the key; half a rib lies on either edge."""
        ring = self.rings[value]
        if self.key == "web.rib":
            edges = sum(length(one) for one in ring.sector) * ring.site.fold
            return edges / 2 * ring.blank.plate * ring.blank.material.density
        return self.masses[value] / max(abs(value), 1.0)


def _found(
    trials: Trials,
    start: float,
    target: float,
    limits: tuple[float, float],
    tolerance: float,
) -> float:
    """Return the value of the key at which the mass is within *tolerance* of *target*."""
    a, fa = start, trials.masses[start] - target
    if abs(fa) <= tolerance:
        return a
    b, fb = math.nan, math.nan
    walls = list(limits)  # nearest values on either side that cannot be passed
    slope = trials.slope(a)
    while len(trials.masses) < MOST:
        if math.isnan(b):
            step = -fa / slope if slope else (limits[1] - limits[0]) / 20
            x = _towards(a, a + step, walls, limits)
        else:
            x = b - fb * (b - a) / (fb - fa)
        if x in trials.masses or abs(x - a) < NARROW * (limits[1] - limits[0]):
            break
        f = trials.mass(x) - target
        if math.isnan(f):
            walls[x > a] = x
            continue
        if abs(f) <= tolerance:
            return x
        if math.isnan(b) and f * fa > 0:
            slope = (f - fa) / (x - a)
            a, fa = x, f
        elif math.isnan(b):
            b, fb = x, f
        elif f * fb < 0:
            a, fa, b, fb = b, fb, x, f
        else:
            fa, b, fb = fa / 2, x, f
    raise RuleError(unreachable(trials, target, limits))


def _towards(a: float, wanted: float, walls: list[float], limits: tuple[float, float]) -> float:
    """Return *wanted*, or as far towards it from *a* as may work: half way to a wall once met."""
    wall, limit = (walls[1], limits[1]) if wanted > a else (walls[0], limits[0])
    if abs(wanted - a) < abs(wall - a):
        return wanted
    return limit if wall == limit else (a + wall) / 2

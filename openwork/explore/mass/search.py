"""The search for the value of one key at which a ring weighs what is wanted.

The mass is measured on the real design at every step. It grows with the rib, but jumps where
small openings drop out, and some patterns arrange themselves anew for every rib. So the search
steps along the slope until it has the mass between two values, and closes in with the Illinois
rule (Dowell and Jarratt, A modified regula falsi method for computing the root of an equation,
BIT 11, 1971), now and then halving; where that fails it looks over the whole range first.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TypeAlias

import numpy as np

from openwork.errors import RuleError
from openwork.measure.figures import mass
from openwork.ring import Design, design
from openwork.shape.contour import length
from openwork.spec.spec import Spec, changed

TOLERANCE = 0.05  # g
PLACES = 4  # decimals of a value: 0.002 g in the rib of a ring, and short enough to read
APART = 1.5 * 10**-PLACES  # values nearer than this have none between them
QUICK = 16  # rings tried along the slope
SPREAD = 24  # values over the whole range
NEAR = 0.06  # mm: nearer to a value that loses an opening the search does not go
HALVED = 4  # every so many steps a bracket is halved: weights alone stall where the mass jumps

Walls: TypeAlias = list[float | None]
Made: TypeAlias = dict[tuple[int, tuple[tuple[str, float], ...]], tuple[Spec, Design]]


@dataclass(slots=True)
class Trials:
    """The rings tried so far and their masses (g; NaN: cannot be made), by the key's value.

    ``limits`` are the least and the greatest value the key may take. A ring with fewer openings
    than ``keep`` counts as one that cannot be made. ``made`` holds every ring by what was changed
    in which spec (by identity, so that spec is held too), for trials that keep less.
    """

    spec: Spec
    key: str
    limits: tuple[float, float]
    keep: int = 0
    made: Made = field(default_factory=dict)
    masses: dict[float, float] = field(default_factory=dict)
    rings: dict[float, Design] = field(default_factory=dict)
    reasons: dict[float, str] = field(default_factory=dict)

    def take(self, value: float, ring: Design) -> None:
        """Count *ring*, already made with the key at *value*, among those tried."""
        self.rings[value], self.masses[value] = ring, mass(ring)

    def mass(self, value: float) -> float:
        """Return the mass with the key at *value*."""
        if value not in self.masses:
            try:
                self.take(value, self._ring(value))
            except RuleError as error:
                self.masses[value], self.reasons[value] = math.nan, str(error)
        return self.masses[value]

    def _ring(self, value: float) -> Design:
        changes = self.changes(value)
        key = id(self.spec), tuple(changes.items())
        if key not in self.made:
            self.made[key] = self.spec, design(changed(self.spec, dict(changes)))
        ring = self.made[key][1]
        if len(ring.openings) < self.keep:
            lost = self.keep - len(ring.openings)
            raise RuleError(f"{lost} of {self.keep} openings would fill with metal")
        return ring

    def changes(self, value: float) -> Mapping[str, float]:
        """Return what the key at *value* changes in the spec."""
        return {self.key: value}

    def slope(self, value: float) -> float:
        """Return about how fast the mass grows with the key; half a rib lies on either edge."""
        ring = self.rings[value]
        if self.key == "web.rib":
            edges = sum(length(one) for one in ring.sector) * ring.fold
            return edges / 2 * ring.blank.plate * ring.blank.material.density
        return self.masses[value] / max(abs(value), 1.0)

    def spread(self) -> list[float]:
        """Return values over the whole range, closer where they are small."""
        low, high = self.limits
        spaced = np.geomspace if low > 0 else np.linspace
        inner = np.round(spaced(low, high, SPREAD)[1:-1], PLACES).tolist()
        return [low, *inner, high]

    def survey(self) -> None:
        """Try values over the whole range, and closer where they cease to make a ring."""
        for value in self.spread():
            self.mass(value)
        for good in (self.known()[0][0], self.known()[-1][0]):
            values = sorted(self.masses)
            at = values.index(good)
            for bad in values[max(at - 1, 0) : at] + values[at + 1 : at + 2]:
                if math.isnan(self.masses[bad]):
                    self._halve(good, bad)

    def _halve(self, good: float, bad: float) -> None:
        """Try values between one that makes a ring and one that does not."""
        while abs(good - bad) > APART:
            middle = round((good + bad) / 2, PLACES)
            good, bad = (middle, bad) if math.isfinite(self.mass(middle)) else (good, middle)

    def known(self) -> list[tuple[float, float]]:
        """Return the values that can be made and their masses, in the order of the values."""
        return sorted(pair for pair in self.masses.items() if math.isfinite(pair[1]))


def solid_mass(ring: Design) -> float:
    """Return what *ring* would weigh, g, without openings."""
    return mass(dataclasses.replace(ring, openings=()))


def solved(trials: Trials, start: float, target: float, tolerance: float) -> float | None:
    """Return the value at which the mass is within *tolerance* of *target* (g); None without one.

    *start* is a value already tried that can be made.
    """
    found = nearest(trials, target, tolerance)
    if found is not None:
        return found
    found = stepped(trials, start, target, tolerance)
    if found is not None:
        return found
    if trials.key != "ring.plate" and target >= solid_mass(trials.rings[start]):
        return None
    trials.survey()
    for low, high in sorted(_brackets(trials, target), key=lambda pair: abs(sum(pair) / 2 - start)):
        found = _between(trials, low, high, target, tolerance)
        if found is not None:
            return found
    return nearest(trials, target, tolerance)


def nearest(trials: Trials, target: float, tolerance: float) -> float | None:
    """Return the value tried whose mass is nearest *target*, if within *tolerance*, g."""
    off, value = min((abs(mass_ - target), value) for value, mass_ in trials.known())
    return value if off <= tolerance else None


def stepped(trials: Trials, start: float, target: float, tolerance: float) -> float | None:
    """Return the value found by steps along the slope until the mass lies between two values."""
    here, off = start, trials.masses[start] - target
    walls: Walls = [None, None]  # nearest values on either side that make no ring
    slope = trials.slope(here)
    for _ in range(QUICK):
        step = -off / slope if slope else (trials.limits[1] - trials.limits[0]) / SPREAD
        there = round(_towards(here, here + step, walls, trials.limits), PLACES)
        if there in trials.masses or _cornered(trials, here, there, walls):
            return None
        found = trials.mass(there) - target
        if abs(found) <= tolerance:
            return there
        if math.isnan(found):
            walls[there > here] = there
        elif found * off < 0:
            return _between(trials, here, there, target, tolerance)
        else:
            slope = (found - off) / (there - here)
            here, off = there, found
    return None


def _towards(here: float, wanted: float, walls: Walls, limits: tuple[float, float]) -> float:
    """Return *wanted*, or as far towards it as may work: half way to a wall once met."""
    wall = walls[wanted > here]
    if wall is None:
        return min(max(wanted, limits[0]), limits[1])
    return wanted if abs(wanted - here) < abs(wall - here) else (here + wall) / 2


def _cornered(trials: Trials, here: float, there: float, walls: Walls) -> bool:
    """Tell whether a wall is as near as makes no difference."""
    wall = walls[there > here]
    return wall is not None and abs(wall - here) < (NEAR if trials.keep else APART)


def _brackets(trials: Trials, target: float) -> Iterator[tuple[float, float]]:
    """Yield the neighbouring values that have *target* between their masses."""
    for (low, light), (high, heavy) in pairwise(trials.known()):
        if (light - target) * (heavy - target) < 0 and high - low > APART:
            yield low, high


def _between(trials: Trials, a: float, b: float, target: float, tolerance: float) -> float | None:
    """Return the value between *a* and *b*, whose masses lie on either side of *target*.

    None where the mass jumps over it or a ring on the way cannot be made.
    """
    off_a, off_b = trials.masses[a] - target, trials.masses[b] - target
    steps = 0
    while abs(b - a) > APART:
        steps += 1
        value = round(b - off_b * (b - a) / (off_b - off_a), PLACES)
        if steps % HALVED == 0 or not min(a, b) < value < max(a, b):
            value = round((a + b) / 2, PLACES)
        off = trials.mass(value) - target
        if abs(off) <= tolerance:
            return value
        if math.isnan(off):
            return None
        if off * off_b < 0:
            a, off_a = b, off_b
        else:
            off_a /= 2
        b, off_b = value, off
    return None

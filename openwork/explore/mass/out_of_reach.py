"""Which masses one key of a spec can reach, what limits them, and what else would help."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, TypeAlias

from openwork.errors import OpenworkError, RuleError
from openwork.explore.mass.search import TOLERANCE, Trials, solid_mass, stepped
from openwork.explore.mass.window import Window
from openwork.measure.figures import mass
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed

STEPS = 12  # of a count tried either way
OTHER = 0.5  # mm of plate tried to find how much a mm weighs
INSIDE = (0.01, 0.03, 0.06, 0.1, 0.15, 0.2)  # shares of a plate tried beyond what would just do

Jump: TypeAlias = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """The masses that ``key`` reaches, g, and at which values; what stops it, what would help.

    ``jump`` holds two neighbouring values and their masses where the wanted mass lies between.
    """

    key: str
    least: float
    most: float
    at_least: float
    at_most: float
    limit: str
    helps: tuple[str, ...] = ()
    jump: Jump | None = None

    def text(self, target: float) -> str:
        """Return in words why *target* (g) is out of reach, and what would help."""
        window = (
            f"from {self.least:.2f} g at {self.at_least:.4g} "
            f"to {self.most:.2f} g at {self.at_most:.4g}"
        )
        first = f"{target:g} g cannot be reached; {window} can"
        if self.jump is not None:
            (low, light), (high, heavy) = self.jump
            first = (
                f"{target:g} g is jumped over: {low:.4f} gives {light:.2f} g and {high:.4f} "
                f"{heavy:.2f} g; else {window} can be reached"
            )
        return "\n".join([f"{self.key}: {first}", f"the limit is {self.limit}", *self.helps])


class OutOfReachError(RuleError):
    """The mass wanted cannot be reached; ``reach`` says which can."""

    def __init__(self, reach: Reach | Window, target: float) -> None:
        super().__init__(reach.text(target))
        self.reach = reach


def reach(trials: Trials, target: float) -> Reach:
    """Return the masses that *trials* can reach, and why *target* (g) is not among them."""
    trials.survey()
    value_of = {mass_: value for value, mass_ in reversed(trials.known())}
    least, most = min(value_of), max(value_of)
    jump = jump_over(trials, target)
    stop = value_of[least if target < least else most]
    helped = jump[0][0] if jump else stop
    return Reach(
        key=trials.key,
        least=least,
        most=most,
        at_least=value_of[least],
        at_most=value_of[most],
        limit=_step(trials, jump) if jump else _limit(trials, stop, target),
        helps=tuple(_helps(trials, trials.rings[helped], target)),
        jump=jump,
    )


def jump_over(trials: Trials, target: float) -> Jump | None:
    """Return the nearest two values that have *target* between their masses; None without."""
    across = [
        (low, high)
        for low, high in pairwise(trials.known())
        if (low[1] - target) * (high[1] - target) < 0
    ]
    return min(across, key=lambda pair: pair[1][0] - pair[0][0], default=None)


def _step(trials: Trials, jump: Jump) -> str:
    """Return why the mass jumps between two values."""
    before, after = (len(trials.rings[value].openings) for value, _ in jump)
    if before == after:
        return "that the openings change all at once there"
    return f"that {abs(before - after)} small openings drop out at once there"


def _limit(trials: Trials, stop: float, target: float) -> str:
    """Return what keeps the mass from going further than at the value *stop*."""
    solid = solid_mass(trials.rings[stop])
    if target >= solid and trials.key != "ring.plate":
        return f"the blank: without any opening it weighs {solid:.2f} g"
    if stop in trials.limits:
        return f"the range of {trials.key}, {trials.limits[0]:g} to {trials.limits[1]:g}"
    values = sorted(trials.masses)
    at = values.index(stop)
    for beyond in (values[at - 1], values[at + 1]):
        if beyond in trials.reasons:
            return f"that at {beyond:.4g} {trials.reasons[beyond].splitlines()[0]}"
    return f"how the pattern arranges itself: at {stop:.4g} it goes no further"


def _helps(trials: Trials, ring: Design, target: float) -> list[str]:
    """Return the nearest other changes that reach *target* from *ring*, with their numbers."""
    plate = "" if trials.key == "ring.plate" else _plate(trials, ring, target)
    count = "" if target >= solid_mass(ring) else _count(ring, target)
    return [line for line in (plate, count) if line]


def _plate(trials: Trials, ring: Design, target: float) -> str:
    """Return the plate with which *target* lies a little inside the window, proved by trial."""
    plate = ring.spec.ring.plate
    other = _made(ring.spec, {"ring.plate": plate + OTHER})
    if other is None:
        return ""
    slope = (mass(other) - mass(ring)) / OTHER
    exact, way = plate + (target - mass(ring)) / slope, 1 if target > mass(ring) else -1
    start = next(value for value in trials.masses if value in trials.rings)
    for share in INSIDE:
        wanted = round(exact * (1 + way * share), 2)
        first = _made(trials.spec, {"ring.plate": wanted, trials.key: start})
        if first is None:
            return ""
        again = Trials(first.spec, trials.key, trials.limits)
        again.take(start, first)
        value = stepped(again, start, target, TOLERANCE)
        if value is not None:
            return f"ring.plate {wanted:g} mm reaches it, {trials.key} {value:g}"
    return ""


def _count(ring: Design, target: float) -> str:
    """Return the nearest other count of columns, ribs or cells that brings the mass across."""
    name = count_name(ring)
    if name is None:
        return ""
    here = mass(ring)
    field = next(one for one in dataclasses.fields(ring.pattern) if one.name == name)
    step = ring.site.fold if field.metadata["per_bolt"] else 1
    finer = 1 if target > here else -1
    for k in range(1, STEPS + 1):
        value = getattr(ring.pattern, name) + finer * k * step
        found = _made(ring.spec, {f"pattern.{name}": value})
        if found is not None and (mass(found) - target) * (here - target) < 0:
            return f"pattern.{name} {value} reaches past it, to {mass(found):.2f} g"
    return ""


def count_name(ring: Design) -> str | None:
    """Return what *ring*'s family calls its count round the ring, or of cells; None without."""
    fields = dataclasses.fields(ring.pattern)
    round_ = [one.name for one in fields if one.metadata["per_bolt"]]
    cells = [one.name for one in fields if one.name == "cells"]
    return next(iter(round_ + cells), None)


def _made(spec: Spec, changes: dict[str, Any]) -> Design | None:
    try:
        return design(changed(spec, changes))
    except OpenworkError:
        return None

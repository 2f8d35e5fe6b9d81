"""Which masses one key of a spec can reach, what limits them, and what else would help."""

from __future__ import annotations

import dataclasses
import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from openwork.design import Design, design
from openwork.errors import OpenworkError
from openwork.figures import mass
from openwork.spec import Spec, changed

if TYPE_CHECKING:
    from openwork.explore.tune import Trials

HALVINGS = 12  # of the range between a ring that can be made and one that cannot
COUNTS = ("columns", "count", "cells")  # what families call how fine they are
STEPS = 12  # of a count tried either way


def unreachable(trials: Trials, target: float, limits: tuple[float, float]) -> str:
    """Return why *target* (g) is out of reach: a jump, or the masses the key's range gives."""
    if jump := _jump(trials, target):
        return jump
    start = next(iter(trials.masses))
    ends = [_farthest(trials, start, end) for end in limits]
    ends.sort(key=trials.masses.__getitem__)
    (least, most), (light, heavy) = ends, [trials.masses[one] for one in ends]
    stop = least if target < light else most
    reason = _limit(trials, stop, limits)
    lines = [
        f"{trials.key}: {target:g} g cannot be reached; from {light:.2f} g at {least:.4g} "
        f"to {heavy:.2f} g at {most:.4g} can",
        f"the limit is {reason}",
        *_helps(trials.rings[stop], target),
    ]
    return "\n".join(lines)


def _jump(trials: Trials, target: float) -> str:
    """Return what to say where the mass jumps over *target* between two values."""
    known = sorted((value, one) for value, one in trials.masses.items() if math.isfinite(one))
    for (a, mass_a), (b, mass_b) in pairwise(known):
        if (mass_a - target) * (mass_b - target) < 0:
            lost = len(trials.rings[a].openings) - len(trials.rings[b].openings)
            return (
                f"{trials.key}: {target:g} g is jumped over; {a:.6g} gives {mass_a:.2f} g and "
                f"{b:.6g} gives {mass_b:.2f} g, for {abs(lost)} small openings drop out there"
            )
    return ""


def _farthest(trials: Trials, start: float, end: float) -> float:
    """Return the value nearest *end* at which the ring can still be made."""
    if math.isfinite(trials.mass(end)):
        return end
    good, bad = start, end
    for _ in range(HALVINGS):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if math.isfinite(trials.mass(middle)) else (good, middle)
    return good


def _limit(trials: Trials, stop: float, limits: tuple[float, float]) -> str:
    if stop in limits:
        return f"the range of {trials.key}, {limits[0]:g} to {limits[1]:g}"
    beyond = min(trials.reasons, key=lambda value: abs(value - stop))
    return f"that at {beyond:.4g} {trials.reasons[beyond].splitlines()[0]}"


def _helps(ring: Design, target: float) -> list[str]:
    """Return the nearest other changes that reach *target* from *ring*, with their numbers."""
    return [line for line in (_plate(ring, target), _count(ring, target)) if line]


def _plate(ring: Design, target: float) -> str:
    """Return the plate thickness that gives *target*: the mass is a straight line in it."""
    plate = ring.spec.ring.plate
    thicker = _made(ring.spec, {"ring.plate": plate + 0.5})
    if thicker is None:
        return ""
    slope = (mass(thicker) - mass(ring)) / 0.5
    wanted = plate + (target - mass(ring)) / slope
    found = _made(ring.spec, {"ring.plate": round(wanted, 3)})
    return f"ring.plate {wanted:.3f} mm reaches it" if found else ""


def _count(ring: Design, target: float) -> str:
    """Return the nearest other count of columns, ribs or cells that brings the mass across."""
    fields = {one.name: one for one in dataclasses.fields(ring.pattern)}
    name = next((one for one in COUNTS if one in fields), None)
    if name is None:
        return ""
    here = mass(ring)
    step = ring.site.fold if fields[name].metadata["per_bolt"] else 1
    finer = 1 if target > here else -1
    for k in range(1, STEPS + 1):
        value = getattr(ring.pattern, name) + finer * k * step
        found = _made(ring.spec, {f"pattern.{name}": value})
        if found is not None and (mass(found) - target) * (here - target) < 0:
            return f"pattern.{name} {value} reaches past it, to {mass(found):.2f} g"
    return ""


def _made(spec: Spec, changes: dict[str, Any]) -> Design | None:
    try:
        return design(changed(spec, changes, source=""))
    except OpenworkError:
        return None

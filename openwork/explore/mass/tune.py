"""One continuous key of a spec turned until the ring weighs what is wanted."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any

from openwork.errors import RuleError, SpecError
from openwork.explore.mass.out_of_reach import OutOfReachError, reach
from openwork.explore.mass.search import TOLERANCE, Trials, nearest, solved
from openwork.fill.parameters import completed
from openwork.fill.registry import pattern_named
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuned:
    """A spec with one key turned, its ring, and what it weighed before and weighs now, g.

    ``mass_before`` is NaN where the ring could not be made before. ``spec`` holds what the
    pattern chose for itself only where it would choose otherwise now.
    """

    key: str
    before: float
    value: float
    mass_before: float
    mass: float
    spec: Spec
    design: Design
    tried: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """A search for the mass ``aim`` (g): the rings tried, and the value that gives it, if any."""

    trials: Trials
    aim: float
    value: float | None


def tune(
    spec: Spec, mass: float | tuple[float, float] | None = None, *, key: str = "web.rib"
) -> Tuned:
    """Return *spec* with *key* turned until the ring weighs *mass* (g), by default its goal.

    A band (least, most) is aimed at in its middle; a ring already inside it is left as it is.
    What the pattern chose for itself stays as it is meanwhile, so that the look stays. Raises
    SpecError without a mass or for a key that cannot be turned, OutOfReachError, a RuleError, with
    the masses that can be reached, what limits them and what would help, where the mass cannot.
    """
    wanted = spec.goal.mass if mass is None else mass
    if wanted is None:
        raise SpecError("goal.mass: missing; goal.mass = 100.0, or the band [97.0, 103.0], works")
    return _result(spec, attempted(spec, wanted, key=key))


def tuned(
    spec: Spec, target: float, *, key: str = "web.rib", tolerance: float = TOLERANCE
) -> Tuned:
    """Return *spec* as ``tune`` does, the mass within *tolerance* of *target*, g."""
    trials, start = begun(spec, key)
    value = solved(trials, start, target, tolerance)
    return _result(spec, Attempt(trials=trials, aim=target, value=value))


def attempted(
    spec: Spec,
    wanted: float | tuple[float, float],
    *,
    key: str = "web.rib",
) -> Attempt:
    """Return the search for the mass *wanted* (g) or one inside a band; raises as ``begun``."""
    trials, start = begun(spec, key)
    low, high = wanted if isinstance(wanted, tuple) else (wanted, wanted)
    middle, half = (low + high) / 2, max((high - low) / 2, TOLERANCE)
    value = nearest(trials, middle, half)
    if value is None:
        value = solved(trials, start, middle, TOLERANCE)
    if value is None:
        value = nearest(trials, middle, half)
    return Attempt(trials=trials, aim=middle, value=value)


def begun(spec: Spec, key: str) -> tuple[Trials, float]:
    """Return trials of *key* from *spec* with its pattern settled, and the value to start from.

    That is the spec's own, or the nearest of the range where a ring can be made. Raises SpecError
    for a key that cannot be turned, RuleError where no value of it makes a ring.
    """
    limits = key_range(spec, key)
    try:
        ring = design(spec)
    except RuleError as error:
        return _begun_elsewhere(spec, key, limits, error)
    trials = Trials(settled(ring), key, limits)
    table, _, name = key.partition(".")
    source: Any = ring.pattern if table == "pattern" else getattr(spec, table)
    value = float(getattr(source, name))
    trials.take(value, ring)
    return trials, value


def _begun_elsewhere(
    spec: Spec, key: str, limits: tuple[float, float], error: RuleError
) -> tuple[Trials, float]:
    """Return trials of *key*, begun at the value nearest the spec's own where there is a ring."""
    loose = Trials(spec, key, limits)
    own = _given(spec, key)
    for value in sorted(loose.spread(), key=lambda value: abs(value - own)):
        if math.isfinite(loose.mass(value)):
            trials = Trials(settled(loose.rings[value]), key, limits)
            trials.masses[own], trials.reasons[own] = math.nan, str(error)
            trials.take(value, loose.rings[value])
            return trials, value
    raise error


def _given(spec: Spec, key: str) -> float:
    """Return the value of *key* in *spec*, or its default."""
    table, _, name = key.partition(".")
    if table != "pattern":
        return float(getattr(getattr(spec, table), name))
    fields = {one.name: one.default for one in dataclasses.fields(pattern_named(spec.pattern.name))}
    return float(spec.pattern.parameters.get(name, fields[name]))


def _result(spec: Spec, attempt: Attempt) -> Tuned:
    trials, value = attempt.trials, attempt.value
    if value is None:
        raise OutOfReachError(reach(trials, attempt.aim), attempt.aim)
    ring, first = trials.rings[value], next(iter(trials.masses))
    return Tuned(
        key=trials.key,
        before=first,
        value=value,
        mass_before=trials.masses[first],
        mass=trials.masses[value],
        spec=_plainest(spec, trials.key, value, ring),
        design=ring,
        tried=len(trials.masses),
    )


def _plainest(spec: Spec, key: str, value: float, ring: Design) -> Spec:
    """Return *spec* with *key* at *value*, and what it takes for it to make *ring* again."""
    plain = changed(spec, {key: value})
    chosen = completed(plain.pattern.name, plain.pattern.parameters, ring.site)
    return plain if chosen == ring.pattern else ring.spec


def settled(ring: Design) -> Spec:
    """Return the spec of *ring* with every parameter its pattern chose for itself written down."""
    chosen = dataclasses.asdict(ring.pattern)
    table = {"name": ring.spec.pattern.name, "seed": ring.spec.pattern.seed, **chosen}
    return changed(ring.spec, {"pattern": table})


def key_range(spec: Spec, key: str) -> tuple[float, float]:
    """Return the least and the greatest value that *key* may take.

    Keys are the plate's thickness, and every number of web and pattern that is not a count.
    Raises SpecError for others.
    """
    table, _, name = key.partition(".")
    if table == "pattern":
        fields = {one.name: one for one in dataclasses.fields(pattern_named(spec.pattern.name))}
        if name in fields and isinstance(fields[name].default, float):
            return fields[name].metadata["low"], fields[name].metadata["high"]
    elif table == "web" or key == "ring.plate":
        known = type(getattr(spec, table)).model_fields
        if name in known:
            bounds = known[name].metadata
            (low,) = (one.ge for one in bounds if hasattr(one, "ge"))
            (high,) = (one.le for one in bounds if hasattr(one, "le"))
            return float(low), float(high)
    raise SpecError(f"--by {key}: not a number that can be turned; web.rib or ring.plate works")

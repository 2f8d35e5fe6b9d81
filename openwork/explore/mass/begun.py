"""Where the search for the mass begins: the key to turn, its range, a ring with all settled."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from openwork.errors import RuleError, SpecError
from openwork.explore.mass.search import Trials
from openwork.fill.parameters import completed
from openwork.fill.registry import pattern_named
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed
from openwork.tables.wording import bounds

RIB = "web.rib"


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


def settled(ring: Design) -> Spec:
    """Return the spec of *ring* with every parameter its pattern chose for itself written down."""
    return _with_pattern(ring.spec, ring)


def plainest(spec: Spec, ring: Design) -> Spec:
    """Return *spec*, with what the pattern of *ring* has where it would choose otherwise.

    So what was held while something else was turned is written down, and nothing more.
    """
    chosen = completed(spec.pattern.name, spec.pattern.parameters, ring.site)
    return spec if chosen == ring.pattern else _with_pattern(spec, ring)


def _with_pattern(spec: Spec, ring: Design) -> Spec:
    chosen = dataclasses.asdict(ring.pattern)
    table = {"name": ring.spec.pattern.name, "seed": ring.spec.pattern.seed, **chosen}
    return changed(spec, {"pattern": table})


def key_range(spec: Spec, key: str) -> tuple[float, float]:
    """Return the least and the greatest value that *key* may take.

    Keys are the thickness of plate and of floors, every number of web and pattern but counts; the
    rib goes no lower than asked for. Raises SpecError for others.
    """
    table, _, name = key.partition(".")
    if table == "pattern":
        fields = {one.name: one for one in dataclasses.fields(pattern_named(spec.pattern.name))}
        if name in fields and isinstance(fields[name].default, float):
            return fields[name].metadata["low"], fields[name].metadata["high"]
    elif table == "web" or key in {"ring.plate", "pocket.floor"}:
        known = type(getattr(spec, table)).model_fields
        own = getattr(getattr(spec, table), name, 0.0)
        if isinstance(own, tuple):
            raise SpecError(
                f"--by {key}: is {list(own)}, and one number alone can be turned; "
                f"--set {key}={own[0]:g} works"
            )
        if name in known:
            limits = bounds(known[name])
            (low,) = (one.ge for one in limits if hasattr(one, "ge"))
            (high,) = (one.le for one in limits if hasattr(one, "le"))
            return least_rib(spec) if key == RIB else float(low), float(high)
    raise SpecError(f"--by {key}: not a number that can be turned; web.rib or ring.plate works")


def level_key(ring: Design) -> str:
    """Return the key by which the pattern of *ring* is brought on a mass; "" if by its ribs.

    Such a pattern states the name of the parameter as ``LEVEL``.
    """
    name = getattr(type(ring.pattern), "LEVEL", "")
    return name and f"pattern.{name}"


def least_rib(spec: Spec) -> float:
    """Return the rib, mm, below which nothing is drawn unless the maker says so."""
    return spec.web.rib if spec.goal.least_rib is None else spec.goal.least_rib

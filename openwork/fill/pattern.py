"""What a pattern is: a frozen dataclass of parameters that proposes one of four kinds of filling.

A pattern *proposes* and enforces nothing: the finisher clips, leaves the ribs, rounds for the
cutter and fills fragments. Whatever it returns is one symmetry class each: the finisher repeats
everything ``site.fold`` times about the centre.
"""

from __future__ import annotations

import dataclasses
import difflib
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Any, ClassVar, Protocol, TypeAlias, TypeVar

import numpy as np

from openwork.errors import RuleError, SpecError
from openwork.fill.site import Site
from openwork.shape.contour import Contour, Floats, Points

Value: TypeAlias = int | float | str
Choose: TypeAlias = Callable[[Site, Mapping[str, Any]], Value]


@dataclass(frozen=True, slots=True)
class Cells:
    """Polygons (k, 2) that tile the web and may touch; ribs are cut from their borders."""

    polygons: Sequence[Points]


@dataclass(frozen=True, slots=True)
class Net:
    """Centre lines (k, 2) of ribs; ``widths`` multiplies the rib, curve by curve."""

    curves: Sequence[Points]
    widths: Sequence[float] = ()


@dataclass(frozen=True, slots=True)
class Shapes:
    """Closed pockets, disjoint, placed as they are meant to be cut."""

    contours: Sequence[Contour]


@dataclass(frozen=True, slots=True)
class Field:
    """A function of radius and angle (arrays alike) that is above ``level`` inside the openings."""

    value: Callable[[Floats, Floats], Floats]
    level: float
    spacing: float = 0.25


Filling: TypeAlias = Cells | Net | Shapes | Field


class Pattern(Protocol):
    """A frozen dataclass of parameters that is called to propose a filling.

    All randomness comes from ``rng``; the same site and seed give the same filling.
    """

    __dataclass_fields__: ClassVar[dict[str, Any]]

    def __call__(self, site: Site, rng: np.random.Generator) -> Filling:
        """Return the filling of one symmetry sector of *site*."""
        ...


PATTERNS: dict[str, type[Pattern]] = {}
P = TypeVar("P", bound=Pattern)


def pattern(cls: type[P]) -> type[P]:
    """Register *cls* under the name of the module that holds it."""
    name = cls.__module__.rpartition(".")[2]
    if name in PATTERNS:
        raise RuntimeError(f"two patterns are called {name!r}: {PATTERNS[name]}, {cls}")
    PATTERNS[name] = cls
    return cls


def param(
    default: Value,
    *,
    help: str,
    low: float = -math.inf,
    high: float = math.inf,
    choices: tuple[str, ...] = (),
    per_bolt: bool = False,
    choose: Choose | None = None,
) -> Any:
    """Declare a parameter: its default, range and help, and how a site chooses it when left out.

    ``per_bolt`` asks for a multiple of the symmetry order. ``choose(site, others)`` sees every
    parameter given and those chosen so far, in the order of the class.
    """
    metadata = {
        "help": help, "low": low, "high": high, "choices": choices,
        "per_bolt": per_bolt, "choose": choose,
    }  # fmt: skip
    return dataclasses.field(default=default, metadata=metadata)


GROUP = "openwork.patterns"  # entry points of other packages that add families

_broken: dict[str, str] = {}


def families() -> Mapping[str, type[Pattern]]:
    """Return all pattern classes by name, ours and then those of plug-ins; loads every one."""
    _load()
    order = sorted(PATTERNS, key=lambda name: (name not in _ours(), name))
    return {name: PATTERNS[name] for name in order}


def broken() -> Mapping[str, str]:
    """Return the plug-ins that could not be loaded, and why."""
    _load()
    return _broken


@cache
def _ours() -> frozenset[str]:
    return frozenset(import_module("openwork.patterns").NAMES)


@cache
def _load() -> None:
    from importlib.metadata import entry_points  # noqa: PLC0415 (slow to import)

    for name in sorted(_ours()):
        known(name)
    for plugin in entry_points(group=GROUP):
        try:
            plugin.load()
        except Exception as error:  # whatever a stranger's module does, the rest goes on
            _broken[plugin.name] = f"{type(error).__name__}: {error}"


def known(name: str) -> type[Pattern] | None:
    """Return the pattern class called *name*, None where there is none.

    One of ours is loaded alone: the others import much that it does not need.
    """
    if name not in PATTERNS and name in _ours():
        import_module(f"openwork.patterns.{name}")
    elif name not in PATTERNS:
        _load()
    return PATTERNS.get(name)


def family(name: str) -> type[Pattern]:
    """Return the pattern class called *name*; raises SpecError naming the nearest."""
    if found := known(name):
        return found
    names = sorted(families())
    near = difflib.get_close_matches(name, names, n=1)
    hint = f"did you mean {near[0]!r}? " if near else ""
    if name in _broken:
        hint = f"the plug-in of that name failed to load ({_broken[name]}); "
    raise SpecError(f"pattern.name {name!r}: unknown; {hint}there are {', '.join(names)}")


def parameter_faults(name: str, given: Mapping[str, Any]) -> list[str]:
    """Return one message for each parameter of *given* that family *name* cannot take."""
    fields = {field.name: field for field in dataclasses.fields(family(name))}
    faults = []
    for key, value in given.items():
        if key not in fields:
            near = difflib.get_close_matches(key, fields, n=1)
            hint = f"did you mean {near[0]!r}? " if near else ""
            faults.append(
                f"pattern.{key}: {name} has no such parameter; {hint}it has {', '.join(fields)}"
            )
        elif fault := _value_fault(fields[key], value):
            faults.append(f"pattern.{key} = {value!r}: must be {fault}")
    return faults


def _value_fault(field: dataclasses.Field[Any], value: object) -> str:
    meta = field.metadata
    if isinstance(field.default, str):
        if value in meta["choices"]:
            return ""
        near = difflib.get_close_matches(str(value), meta["choices"], n=1)
        return f"one of {', '.join(meta['choices'])}" + (f"; nearest is {near[0]}" if near else "")
    wanted = "a whole number" if isinstance(field.default, int) else "a number"
    allowed = int if isinstance(field.default, int) else (int, float)
    if isinstance(value, bool) or not isinstance(value, allowed) or not math.isfinite(value):
        return f"{wanted} from {meta['low']:g} to {meta['high']:g}; {field.default} works"
    if not meta["low"] <= value <= meta["high"]:
        nearest = min(max(value, meta["low"]), meta["high"])
        return f"{wanted} from {meta['low']:g} to {meta['high']:g}; {nearest:g} works"
    return ""


def completed(name: str, given: Mapping[str, Any], site: Site) -> Pattern:
    """Return family *name* with *given* parameters and the rest chosen for *site*.

    Raises SpecError for a parameter or value it cannot take, RuleError where a count does not
    suit the bolts.
    """
    if faults := parameter_faults(name, given):
        raise SpecError(*faults)
    values: dict[str, Any] = {}
    for field in dataclasses.fields(family(name)):
        choose = field.metadata["choose"]
        if field.name in given:
            value = given[field.name]
            values[field.name] = float(value) if isinstance(field.default, float) else value
        else:
            default: Any = field.default
            if field.metadata["per_bolt"]:
                default = max(1, round(default / site.fold)) * site.fold
            values[field.name] = choose(site, {**given, **values}) if choose else default
        if field.metadata["per_bolt"] and values[field.name] % site.fold:
            raise RuleError(_multiple_fault(field, values[field.name], site.fold))
    return family(name)(**values)


def _multiple_fault(field: dataclasses.Field[Any], value: int, fold: int) -> str:
    low, high = field.metadata["low"], field.metadata["high"]
    below, above = value - value % fold, value - value % fold + fold
    works = " or ".join(str(count) for count in (below, above) if low <= count <= high)
    return (
        f"pattern.{field.name} = {value}: must be a multiple of {fold}, the symmetry the bolts "
        f"leave; {works} works"
    )

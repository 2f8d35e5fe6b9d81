"""The parameters of a pattern: declared, checked, and chosen to suit a site where left out."""

from __future__ import annotations

import dataclasses
import difflib
import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any, TypeAlias

from openwork.errors import RuleError, SpecError
from openwork.fill.registry import Pattern, Suiting, is_suited, pattern_named
from openwork.fill.site import Site

Value: TypeAlias = int | float | str


def param(  # noqa: PLR0913 (one for each thing that is said)
    default: Value,
    *,
    help: str,
    low: float = -math.inf,
    high: float = math.inf,
    choices: tuple[str, ...] = (),
    per_bolt: bool = False,
    suited: bool = False,
    was: str = "",
) -> Any:
    """Declare a parameter: its default, range and help.

    ``per_bolt`` asks for a multiple of the symmetry order. A ``suited`` one that is left out is
    chosen by the pattern's class method of that name, all of them at once. ``was`` is a name it
    once had, told to whoever still gives that.
    """
    metadata = {
        "help": help, "low": low, "high": high, "choices": choices,
        "per_bolt": per_bolt, "suited": suited, "was": was, "text": None,
    }  # fmt: skip
    return dataclasses.field(default=default, metadata=metadata)


def text_param(default: str, *, fault: Callable[[str], str], help: str) -> Any:
    """Declare a parameter that is a long text; *fault* tells what is wrong with one, or ""."""
    declared = param(default, help=help)
    return dataclasses.field(default=default, metadata={**declared.metadata, "text": fault})


def parameter_faults(name: str, given: Mapping[str, Any]) -> list[str]:
    """Return one message for each parameter of *given* that pattern *name* cannot take."""
    fields = {field.name: field for field in dataclasses.fields(pattern_named(name))}
    faults = []
    for key, value in given.items():
        if key not in fields:
            faults.append(_unknown(name, key, fields))
        elif fields[key].metadata["text"]:
            if fault := _text_fault(fields[key], value):
                faults.append(f"pattern.{key}: {fault}")
        elif fault := _value_fault(fields[key], value):
            faults.append(f"pattern.{key} = {value!r}: must be {fault}")
    return faults


def _text_fault(field: dataclasses.Field[Any], value: object) -> str:
    if not isinstance(value, str):
        return "must be a text"
    return str(field.metadata["text"](value))


def _unknown(name: str, key: str, fields: Mapping[str, dataclasses.Field[Any]]) -> str:
    for field in fields.values():
        if key == field.metadata["was"]:
            return f"pattern.{key}: is called pattern.{field.name}"
    near = difflib.get_close_matches(key, fields, n=1)
    hint = f"did you mean {near[0]!r}? " if near else ""
    return f"pattern.{key}: {name} has no such parameter; {hint}it has {', '.join(fields)}"


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
    """Return pattern *name* with *given* parameters and the rest chosen for *site*.

    Raises SpecError for a parameter or value it cannot take, RuleError where a count does not
    suit the bolts.
    """
    if faults := parameter_faults(name, given):
        raise SpecError(*faults)
    cls = pattern_named(name)
    values = dict(_settled(cls, given, site))
    return cls.suited(site, values) if issubclass(cls, Suiting) else cls(**values)


def _settled(
    cls: type[Pattern], given: Mapping[str, Any], site: Site
) -> Iterator[tuple[str, Value]]:
    """Yield what is *given*, and the defaults of what is not to be suited to *site*."""
    for field in dataclasses.fields(cls):
        if field.name not in given and is_suited(field):
            continue
        value: Any = given.get(field.name, field.default)
        if field.metadata["per_bolt"]:
            if field.name not in given:
                value = max(1, round(value / site.fold)) * site.fold
            if value % site.fold:
                raise RuleError(_multiple_fault(field, value, site.fold))
        yield field.name, float(value) if isinstance(field.default, float) else value


def _multiple_fault(field: dataclasses.Field[Any], value: int, fold: int) -> str:
    low, high = field.metadata["low"], field.metadata["high"]
    below, above = value - value % fold, value - value % fold + fold
    works = " or ".join(str(count) for count in (below, above) if low <= count <= high)
    return (
        f"pattern.{field.name} = {value}: must be a multiple of {fold}, the symmetry the bolts "
        f"leave; {works} works"
    )
